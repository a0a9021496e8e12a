// The new-order page: shows inches beside millimetres, names the dropped file, opens one garment line at a time.
// The page works without this file; it only saves steps.
for (const input of document.querySelectorAll("[data-inches]")) {
  const output = document.querySelector(`output[for="${input.id}"]`);
  const show = () => {
    const mm = Number(input.value);
    output.textContent = Number.isFinite(mm) ? `${(mm / 25.4).toFixed(2)} in` : "";
  };
  input.addEventListener("input", show);
}

const usual = {
  Front: [75, 0, 280],
  Back: [95, 0, 280],
  LeftChest: [85, 105, 90],
  RightChest: [85, -105, 90],
  LeftSleeve: [30, 0, 80],
  RightSleeve: [30, 0, 80],
  Nape: [25, 0, 80],
  InsideNeck: [20, 0, 55],
};
const place = document.getElementById("Place");
place?.addEventListener("change", () => {
  const [seam, centre, width] = usual[place.value];
  for (const [id, mm] of [
    ["FromSeamMm", seam],
    ["FromCentreMm", centre],
    ["WidthMm", width],
  ]) {
    const input = document.getElementById(id);
    input.value = mm;
    input.dispatchEvent(new Event("input"));
  }
});

const drop = document.querySelector("[data-drop]");
if (drop) {
  const input = drop.querySelector("input[type=file]");
  const name = drop.querySelector("[data-drop-name]");
  const show = () => {
    const file = input.files[0];
    name.textContent = file ? `${file.name}, ${(file.size / 1e6).toFixed(2)} MB` : "";
    const title = document.getElementById("Title");
    if (file && title.value === "") title.value = file.name.replace(/\.[^.]+$/, "").replace(/[-_]+/g, " ");
  };
  input.addEventListener("change", show);
  for (const kind of ["dragover", "dragleave", "drop"])
    drop.addEventListener(kind, () => drop.classList.toggle("over", kind === "dragover"));
}

const clients = new Map([...document.querySelectorAll("#clients option")].map((o) => [o.value, o.textContent]));
const client = document.getElementById("ClientName");
client?.addEventListener("input", () => {
  const email = document.getElementById("ClientEmail");
  if (clients.has(client.value) && email.value === "") email.value = clients.get(client.value);
});

const lines = [...document.querySelectorAll("[data-line]")];
const add = document.querySelector("[data-add-line]");
const filled = (line) => [...line.querySelectorAll("input[type=number]")].some((i) => i.value !== "");
const hideRest = () => {
  for (const line of lines.slice(1)) line.hidden = !filled(line);
  add.hidden = lines.every((line) => !line.hidden);
};
if (add && lines.length > 1) {
  hideRest();
  add.addEventListener("click", () => {
    const next = lines.find((line) => line.hidden);
    next.hidden = false;
    next.querySelector("select").focus();
    add.hidden = lines.every((line) => !line.hidden);
  });
}

// Only the inks of the chosen method are shown; what was ticked in the other list is let go.
const methods = [...document.querySelectorAll("input[name=Method]")];
const showInks = () => {
  const chosen = methods.find((m) => m.checked)?.value;
  for (const list of document.querySelectorAll("[data-inks-of]")) {
    list.hidden = list.dataset.inksOf !== chosen;
    if (list.hidden) for (const tick of list.querySelectorAll("input")) tick.checked = false;
  }
  for (const list of document.querySelectorAll("[data-rules-of]")) {
    list.hidden = !list.dataset.rulesOf.split(" ").includes(chosen);
    if (list.hidden) for (const said of list.querySelectorAll("select, input[type=number]")) said.value = "";
  }
};
// Flat colours are a question of painted methods only.
const flatAreas = document.querySelector("[data-flat-areas-of]");
const showFlatAreas = () => {
  const chosen = methods.find((m) => m.checked)?.value;
  flatAreas.hidden = !flatAreas.dataset.flatAreasOf.split(" ").includes(chosen);
  if (flatAreas.hidden) document.getElementById("FlatAreas").checked = true;
};
if (flatAreas) {
  for (const method of methods) method.addEventListener("change", showFlatAreas);
  showFlatAreas();
}
for (const method of methods) method.addEventListener("change", showInks);
showInks();
