// Follows a render: one stream, resumed by the browser with Last-Event-ID; reloads the page when it has ended.
const card = document.querySelector("[data-render]");
if (card) {
  const stage = card.querySelector("[data-stage]");
  const percent = card.querySelector("[data-percent]");
  let announced = 0;
  const stream = new EventSource(card.dataset.render);
  stream.addEventListener("progress", (event) => {
    const now = JSON.parse(event.data);
    percent.value = now.percent;
    // Screen readers hear at most one sentence in ten seconds.
    if (now.stage !== stage.textContent && Date.now() - announced > 10_000) {
      stage.setAttribute("role", "status");
      announced = Date.now();
    } else {
      stage.removeAttribute("role");
    }
    stage.textContent = `${now.stage}, ${now.percent} %`;
  });
  stream.addEventListener("ended", () => {
    stream.close();
    location.reload();
  });
}
