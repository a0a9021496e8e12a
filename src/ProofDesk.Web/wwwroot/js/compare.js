// A sheet that is being made: asks for its page now and then and takes over the cells that have changed.
const every = 3000;
const ask = () => {
  const request = new XMLHttpRequest();
  request.open("GET", location.href);
  // The browser reads the page itself; no markup is made from text.
  request.responseType = "document";
  request.addEventListener("load", () => {
    if (request.status === 200 && request.response) take(request.response);
    else setTimeout(ask, every);
  });
  request.addEventListener("error", () => setTimeout(ask, every));
  request.send();
};
const take = (fresh) => {
  for (const cell of fresh.querySelectorAll(".cell")) {
    const shown = document.getElementById(cell.id);
    if (shown && (shown.dataset.state !== cell.dataset.state || cell.dataset.state === "Running"))
      shown.replaceWith(document.importNode(cell, true));
  }
  const standing = fresh.getElementById("standing");
  const before = document.getElementById("standing");
  if (standing && before) {
    // Whoever stands on the button that stops keeps it.
    if (before.contains(document.activeElement)) {
      before.querySelector("[role=status]").textContent = standing.querySelector("[role=status]")?.textContent ?? "";
    } else {
      before.replaceWith(document.importNode(standing, true));
    }
    if (standing.dataset.waiting !== "0") setTimeout(ask, every);
    else location.reload();
  }
};
setTimeout(ask, every);
