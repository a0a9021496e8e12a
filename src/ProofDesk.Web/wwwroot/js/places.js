// Places of findings on the art: pressing one goes close to it. Without this file the same links lead to the cut-outs below.
const drawing = document.querySelector("[data-places]");
if (drawing) {
  const whole = drawing.getAttribute("viewBox");
  const back = document.querySelector("[data-whole-art]");
  const width = (box) => Number(box.split(" ")[2]);
  const tags = [...drawing.querySelectorAll("[data-tag]")];
  const look = (box) => {
    drawing.setAttribute("viewBox", box);
    // Letters keep their size on the screen: each shrinks towards its own corner.
    const scale = width(box) / width(whole);
    for (const tag of tags) {
      const rect = tag.querySelector("rect");
      const [x, y] = [Number(rect.getAttribute("x")), Number(rect.getAttribute("y")) + Number(rect.getAttribute("height"))];
      tag.setAttribute("transform", `translate(${x} ${y}) scale(${scale}) translate(${-x} ${-y})`);
    }
    back.hidden = box === whole;
  };
  for (const link of document.querySelectorAll("[data-place]"))
    link.addEventListener("click", (event) => {
      event.preventDefault();
      for (const other of document.querySelectorAll("[data-place][aria-current]")) other.removeAttribute("aria-current");
      for (const same of document.querySelectorAll(`[data-place="${link.dataset.place}"]`)) same.setAttribute("aria-current", "true");
      look(link.dataset.place);
      drawing.scrollIntoView({ block: "nearest" });
    });
  back.addEventListener("click", () => {
    look(whole);
    drawing.querySelector("a")?.focus();
  });
}
