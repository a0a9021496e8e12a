// A large picture and its stops: the range with a slider, the run of the press with previous, next and arrow keys. Without this
// file every stop is a link that shows the same.
for (const stage of document.querySelectorAll("[data-stage]")) {
  const picture = stage.querySelector("[data-stage-picture]");
  const words = stage.querySelector("[data-stage-words]");
  const stops = [...stage.querySelectorAll("[data-frame]")];
  const steps = [...stage.querySelectorAll("[data-step]")];
  const slide = stage.querySelector("[data-stage-slide]");
  const slider = slide?.querySelector("input");
  let at = Math.max(0, stops.findIndex((stop) => stop.hasAttribute("aria-current")));

  const show = (wanted) => {
    const to = Math.min(Math.max(wanted, 0), stops.length - 1);
    if (to === at) return;
    at = to;
    picture.src = stops[at].dataset.frame;
    picture.alt = `The print. ${stops[at].dataset.words}`;
    words.textContent = stops[at].dataset.words;
    stops.forEach((stop, i) => (i === at ? stop.setAttribute("aria-current", "true") : stop.removeAttribute("aria-current")));
    for (const step of steps) {
      const next = at + Number(step.dataset.step);
      if (next < 0 || next >= stops.length) step.setAttribute("aria-disabled", "true");
      else {
        step.removeAttribute("aria-disabled");
        step.href = stops[next].href;
      }
    }
    if (slider) {
      slider.value = at;
      slider.setAttribute("aria-valuetext", stops[at].dataset.name);
    }
    history.replaceState(null, "", stops[at].href);
  };

  // The other pictures come when somebody is about to ask for them.
  const fetchAll = () => stops.forEach((stop) => (new Image().src = stop.dataset.frame));
  stage.addEventListener("pointerenter", fetchAll, { once: true });
  stage.addEventListener("focusin", fetchAll, { once: true });

  stops.forEach((stop, i) =>
    stop.addEventListener("click", (event) => {
      event.preventDefault();
      show(i);
    }),
  );
  for (const step of steps)
    step.addEventListener("click", (event) => {
      event.preventDefault();
      show(at + Number(step.dataset.step));
    });
  if (slider) {
    slide.hidden = false;
    slider.addEventListener("input", () => show(Number(slider.value)));
  }
  if (stage.hasAttribute("data-stage-arrows"))
    stage.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      if (!way || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      show(at + way);
    });
}
