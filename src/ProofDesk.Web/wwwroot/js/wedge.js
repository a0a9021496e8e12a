// The wedge of a film: the curve follows the fields, and a pulled point fills them. Geometry as in WedgeDrawing.cs.
const blank = 41;
const full = 3;
const y = (percent) => blank - ((blank - full) * percent) / 100;

for (const wedge of document.querySelectorAll("[data-wedge]")) {
  const curve = wedge.querySelector("svg");
  const fields = [...wedge.querySelectorAll("input[data-step]")];
  const line = curve.querySelector(".wedge-line");
  const handles = [...curve.querySelectorAll("circle")];
  const prints = curve.querySelector(".wedge-prints");
  const printed = [...wedge.querySelectorAll("[data-printed]")];
  const reading = wedge.dataset.wedge.split(" ").map(Number);
  // Straight lines between the steps that were read.
  const printsAs = (percent) => {
    const place = (percent / 100) * (reading.length - 1);
    const below = Math.min(Math.floor(place), reading.length - 2);
    return reading[below] + (place - below) * (reading[below + 1] - reading[below]);
  };
  const patches = [...curve.querySelectorAll("[data-patch]")];

  const value = (field, step) => {
    const typed = field.value.trim().replace(",", ".");
    const percent = Number(typed);
    return typed === "" || !Number.isFinite(percent) ? 10 * step : Math.min(Math.max(percent, 0), 100);
  };
  const draw = () => {
    const steps = fields.map(value);
    const points = (percents) => percents.map((percent, step) => `${5 + 10 * step},${y(percent).toFixed(2)}`).join(" ");
    line.setAttribute("points", points(steps));
    prints?.setAttribute("points", points(steps.map(printsAs)));
    for (const place of printed) place.textContent = Math.round(printsAs(steps[place.dataset.printed]));
    steps.forEach((percent, step) => {
      handles[step].setAttribute("cy", y(percent).toFixed(2));
      patches[step].setAttribute("fill-opacity", (percent / 100).toFixed(3));
      fields[step].classList.toggle("is-changed", Math.abs(percent - 10 * step) > 0.001);
    });
  };

  fields.forEach((field, step) => {
    field.addEventListener("input", draw);
    // Up and down as in a number field; a text field keeps whatever was typed.
    field.addEventListener("keydown", (event) => {
      const by = { ArrowUp: 1, ArrowDown: -1, PageUp: 5, PageDown: -5 }[event.key];
      if (by === undefined) return;
      event.preventDefault();
      field.value = Math.min(Math.max(Math.round(value(field, step)) + by, 0), 100);
      draw();
    });
  });

  // A pulled point takes its neighbours along where the wedge would fall.
  let held = null;
  const pull = (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(curve.getScreenCTM().inverse());
    const percent = Math.round(Math.min(Math.max((100 * (blank - at.y)) / (blank - full), 0), 100));
    fields[held].value = percent;
    fields.forEach((field, step) => {
      if (step < held && value(field, step) > percent) field.value = percent;
      if (step > held && value(field, step) < percent) field.value = percent;
    });
    draw();
  };
  curve.addEventListener("pointerdown", (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(curve.getScreenCTM().inverse());
    if (at.y > blank + 2) return;
    held = Math.min(Math.max(Math.round((at.x - 5) / 10), 0), fields.length - 1);
    curve.setPointerCapture(event.pointerId);
    event.preventDefault();
    pull(event);
  });
  curve.addEventListener("pointermove", (event) => held !== null && pull(event));
  for (const end of ["pointerup", "pointercancel"]) curve.addEventListener(end, () => (held = null));
  draw();
}
