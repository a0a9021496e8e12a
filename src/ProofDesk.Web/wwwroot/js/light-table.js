// The light table: films on and off, aside by slider or by their tab, what they lie on, and where the loupe stands.
// Without this file the same is done by the form above the table.
const table = document.querySelector("svg.table");
const words = document.getElementById("table-words");
const sheets = [...table.querySelectorAll(".sheet")];
const rows = new Map([...document.querySelectorAll("[data-film]")].map((row) => [row.dataset.film, row]));
const on = (screen) => rows.get(screen).querySelector("[name=on]");
const aside = (screen) => rows.get(screen).querySelector("[name=aside]");
const name = (screen) => rows.get(screen).querySelector("b").textContent;
const lay = () => document.querySelector("[name=lay]:checked").value;

const show = () => {
  const lying = [];
  for (const sheet of sheets) {
    const { screen } = sheet.dataset;
    const slid = Number(aside(screen).value);
    sheet.setAttribute("visibility", on(screen).checked ? "visible" : "hidden");
    sheet.setAttribute("transform", `translate(${((table.dataset.sheet * slid) / 100).toFixed(2)} 0)`);
    if (on(screen).checked) lying.push(name(screen) + (slid > 0 ? " (slid aside)" : ""));
  }
  const ground = lay() === "cloth" ? "the colour of the cloth" : "the light";
  words.textContent =
    lying.length === 0
      ? "No film lies on the table."
      : `${lying.length} ${lying.length === 1 ? "film" : "films"} on ${ground}: ${lying.join(", ")}.`;
};

for (const row of rows.values())
  for (const input of row.querySelectorAll("[name=on], [name=aside]")) input.addEventListener("input", show);

for (const button of document.querySelectorAll("[name=show]"))
  button.addEventListener("click", (event) => {
    event.preventDefault();
    const [how, last] = button.value.split("-");
    for (const screen of rows.keys()) {
      const runs = rows.get(screen).dataset.runs === "true";
      on(screen).checked = how === "alone" ? screen === last : runs && (how === "all" || Number(screen) <= Number(last));
      aside(screen).value = 0;
    }
    show();
  });

for (const radio of document.querySelectorAll("[name=lay]"))
  radio.addEventListener("change", () => {
    for (const kind of ["light", "black", "cloth", "against"]) table.classList.toggle(`lay-${kind}`, kind === lay());
    for (const sheet of sheets) {
      const before = sheet.querySelector(".before");
      if (before && lay() === "against") before.setAttribute("href", before.dataset.href);
      const image = sheet.querySelector(".now");
      image.setAttribute("href", image.getAttribute("href").replace(/lay=\w+$/, `lay=${lay()}`));
    }
    for (const hint of document.querySelectorAll("[data-says]")) hint.hidden = hint.dataset.says !== lay();
    show();
  });

// Where on the print a pointer is, mm.
export const at = (event) => {
  const to = table.getScreenCTM().inverse();
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(to);
};

// A film follows the finger that holds its tab.
for (const sheet of sheets) {
  const tab = sheet.querySelector(".tab");
  let from = null;
  tab.addEventListener("pointerdown", (event) => {
    from = at(event).x - (table.dataset.sheet * aside(sheet.dataset.screen).value) / 100;
    tab.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  tab.addEventListener("pointermove", (event) => {
    if (from === null) return;
    const slid = (100 * (at(event).x - from)) / table.dataset.sheet;
    aside(sheet.dataset.screen).value = Math.min(Math.max(slid, 0), 100);
    show();
  });
  for (const end of ["pointerup", "pointercancel"]) tab.addEventListener(end, () => (from = null));
}

// The loupe.
const fields = ["x", "y", "mm"].map((id) => document.getElementById(id));
const spot = table.querySelector("[data-spot]");
const look = () => {
  const [x, y, mm] = fields.map((field) => Number(field.value));
  if (!(mm >= Number(fields[2].min) && mm <= Number(fields[2].max))) return;
  const [square, ring] = spot.children;
  for (const [key, value] of Object.entries({ x: x - mm / 2, y: y - mm / 2, width: mm, height: mm }))
    square.setAttribute(key, value);
  ring.setAttribute("cx", x);
  ring.setAttribute("cy", y);
  for (const image of document.querySelectorAll("[data-loupe]")) {
    const address = new URL(image.getAttribute("src"), location.href);
    for (const [key, value] of Object.entries({ x, y, mm })) address.searchParams.set(key, value);
    image.src = address.pathname + address.search;
  }
};
for (const field of fields) field.addEventListener("change", look);
// The form is for pages without script: what it asks for has happened here already.
document.getElementById("table-form").addEventListener("submit", (event) => {
  event.preventDefault();
  look();
});
table.addEventListener("click", (event) => {
  if (event.target.closest(".tab") || table.classList.contains("is-drawing")) return;
  const { x, y } = at(event);
  const { width, height } = table.dataset;
  fields[0].value = Math.min(Math.max(x, 0), width).toFixed(1);
  fields[1].value = Math.min(Math.max(y, 0), height).toFixed(1);
  look();
});
