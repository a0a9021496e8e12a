// Counts the seconds in which a sending can be taken back, then shows what became of it.
const note = document.querySelector("[data-undo]");
if (note) {
  const shown = note.querySelector("[data-undo-seconds]");
  const end = performance.now() + Number(note.dataset.undo) * 1000;
  const tick = () => {
    const left = Math.ceil((end - performance.now()) / 1000);
    if (left <= 0) {
      clearInterval(timer);
      // The outbox looks each second.
      setTimeout(() => location.replace(location.pathname), 1500);
      return;
    }
    shown.textContent = String(left);
  };
  const timer = setInterval(tick, 250);
}
