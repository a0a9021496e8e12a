// Rectangles that a base keeps out of: drawn on the picture as they are typed, and typed as they are drawn.
const table = document.querySelector("svg.table");
const layer = document.createElementNS(table.namespaceURI, "g");
layer.setAttribute("class", "boxes");
table.append(layer);
const lists = [...document.querySelectorAll("[data-keep-out]")];
const number = (input) => (input.value.trim() === "" ? NaN : Number(input.value.replace(",", ".")));
const inputs = (box) => ["left", "top", "width", "height"].map((side) => box.querySelector(`[data-side=${side}]`));

const draw = () => {
  layer.replaceChildren();
  for (const list of lists)
    [...list.querySelectorAll("[data-box]")].forEach((box, at) => {
      const [left, top, width, height] = inputs(box).map(number);
      if (!(width > 0 && height > 0) || Number.isNaN(left) || Number.isNaN(top)) return;
      const shape = document.createElementNS(table.namespaceURI, "rect");
      for (const [key, value] of Object.entries({ x: left, y: top, width, height })) shape.setAttribute(key, value);
      const words = document.createElementNS(table.namespaceURI, "title");
      words.textContent = `Film ${list.dataset.keepOut} keeps out of rectangle ${at + 1}`;
      shape.append(words);
      layer.append(shape);
    });
};

// The first empty row; a further one is made from the last when all are filled.
const emptyRow = (list) => {
  const boxes = [...list.querySelectorAll("[data-box]")];
  const free = boxes.find((box) => inputs(box).every((input) => input.value.trim() === ""));
  if (free) return free;
  const last = boxes.at(-1);
  const next = last.cloneNode(true);
  const at = boxes.length;
  next.setAttribute("aria-label", last.getAttribute("aria-label").replace(/\d+/, at + 1));
  for (const part of next.querySelectorAll("input, label, button")) {
    for (const key of ["id", "name", "for"])
      if (part.hasAttribute(key))
        part.setAttribute(
          key,
          part.getAttribute(key).replace(`KeepOut[${at - 1}]`, `KeepOut[${at}]`).replace(`KeepOut_${at - 1}__`, `KeepOut_${at}__`),
        );
    if (part.matches("input")) part.value = "";
    if (part.matches("button")) part.setAttribute("aria-label", part.getAttribute("aria-label").replace(/\d+/, at + 1));
  }
  last.after(next);
  wire(next);
  return next;
};

function wire(box) {
  for (const input of inputs(box)) input.addEventListener("input", draw);
  box.querySelector("[data-clear]").addEventListener("click", () => {
    for (const input of inputs(box)) input.value = "";
    draw();
    inputs(box)[0].focus();
  });
}
for (const box of document.querySelectorAll("[data-box]")) wire(box);
draw();

const at = (event) => {
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(table.getScreenCTM().inverse());
  return [Math.min(Math.max(x, 0), table.dataset.width), Math.min(Math.max(y, 0), table.dataset.height)];
};
let drawing = null; // the list a rectangle is drawn for
let corner = null;
let row = null;
const stop = () => {
  for (const list of lists) list.querySelector("[data-draw]").setAttribute("aria-pressed", "false");
  // The click that ends a pull belongs to it.
  setTimeout(() => table.classList.remove("is-drawing"));
  drawing = corner = row = null;
};
for (const list of lists)
  list.querySelector("[data-draw]").addEventListener("click", (event) => {
    const was = drawing;
    stop();
    if (was === list) return;
    drawing = list;
    setTimeout(() => table.classList.add("is-drawing"));
    event.target.setAttribute("aria-pressed", "true");
    table.scrollIntoView({ block: "nearest" });
  });
table.addEventListener("pointerdown", (event) => {
  if (!drawing) return;
  corner = at(event);
  row = emptyRow(drawing);
  table.setPointerCapture(event.pointerId);
  event.preventDefault();
});
table.addEventListener("pointermove", (event) => {
  if (!corner) return;
  const to = at(event);
  const [left, top] = [Math.min(corner[0], to[0]), Math.min(corner[1], to[1])];
  const sides = [left, top, Math.abs(to[0] - corner[0]), Math.abs(to[1] - corner[1])];
  inputs(row).forEach((input, i) => (input.value = sides[i].toFixed(1)));
  draw();
});
table.addEventListener("pointerup", () => corner && stop());
table.addEventListener("pointercancel", () => corner && stop());
document.addEventListener("keydown", (event) => event.key === "Escape" && drawing && stop());
