// Pointing at a spot of a print: a press fills the two fields at once, arrow keys move the mark by a millimetre (with Shift by
// ten). Without this file a press sends the form, which comes back with the fields filled.
const NS = "http://www.w3.org/2000/svg";
for (const picture of document.querySelectorAll("input[type=image][data-width-mm]")) {
  const box = picture.closest("details");
  const [right, down] = ["Right", "Down"].map((name) => box.querySelector(`input[name$=".${name}"]`));
  const wide = Number(picture.dataset.widthMm);
  const margin = Number(picture.dataset.marginMm);
  const high = (wide * picture.height) / picture.width;
  const number = (input) => Number(input.value.trim().replace(",", ".")) || 0;

  const mark = document.createElementNS(NS, "svg");
  mark.setAttribute("viewBox", "-12 -12 24 24");
  mark.setAttribute("class", "spot-mark");
  mark.setAttribute("aria-hidden", "true");
  for (const width of [5, 2]) {
    const cross = document.createElementNS(NS, "path");
    cross.setAttribute("d", "M-11 0H-3M3 0H11M0-11V-3M0 3V11");
    cross.setAttribute("stroke-width", width);
    mark.append(cross);
  }
  picture.after(mark);
  const draw = () => {
    mark.toggleAttribute("hidden", right.value.trim() === "" && down.value.trim() === "");
    mark.style.left = `${picture.offsetLeft + ((number(right) + wide / 2) / wide) * picture.width}px`;
    mark.style.top = `${picture.offsetTop + ((number(down) + margin) / high) * picture.height}px`;
  };
  const put = (x, y) => {
    right.value = String(Math.round(Math.min(Math.max(x, -wide / 2), wide / 2) * 10) / 10);
    down.value = String(Math.round(Math.min(Math.max(y, -margin), high - margin) * 10) / 10);
    draw();
  };
  picture.addEventListener("click", (event) => {
    event.preventDefault();
    // Enter and the space bar press in a corner that nobody meant.
    if (event.detail === 0) return box.querySelector("textarea").focus();
    const at = picture.getBoundingClientRect();
    put(((event.clientX - at.left) / at.width) * wide - wide / 2, ((event.clientY - at.top) / at.height) * high - margin);
  });
  picture.addEventListener("keydown", (event) => {
    const step = event.shiftKey ? 10 : 1;
    const way = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (!way) return;
    event.preventDefault();
    put(number(right) + way[0], number(down) + way[1]);
  });
  for (const input of [right, down]) input.addEventListener("input", draw);
  box.addEventListener("toggle", draw);
  draw();
}
