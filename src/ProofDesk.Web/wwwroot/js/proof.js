// The proof page: zoom on tiles of the bound picture, and the loupe. Without this file both still work as pictures and a form.
const zoom = document.getElementById("zoom");
const bar = document.querySelector(".zoom-bar");
if (zoom && window.OpenSeadragon) {
  const { tiles, width, height, tile } = zoom.dataset;
  const viewer = window.OpenSeadragon({
    element: zoom,
    drawer: "canvas",
    showNavigationControl: false,
    crossOriginPolicy: false,
    gestureSettingsMouse: { scrollToZoom: true, clickToZoom: false },
    imageSmoothingEnabled: true,
    maxZoomPixelRatio: 8,
    tileSources: {
      width: Number(width),
      height: Number(height),
      tileSize: Number(tile),
      tileOverlap: 0,
      getTileUrl: (level, x, y) => `${tiles}${level}/${x}_${y}.png`,
    },
  });
  bar.hidden = false;
  const acts = {
    in: () => viewer.viewport.zoomBy(1.6),
    out: () => viewer.viewport.zoomBy(1 / 1.6),
    fit: () => viewer.viewport.goHome(),
    true: () => viewer.viewport.zoomTo(viewer.viewport.imageToViewportZoom(1 / window.devicePixelRatio)),
  };
  for (const button of bar.querySelectorAll("[data-zoom]"))
    button.addEventListener("click", () => acts[button.dataset.zoom]());
}

const pick = document.getElementById("loupe-pick");
if (pick) {
  const seen = document.getElementById("loupe-seen");
  const form = document.getElementById("loupe-form");
  const look = (x, y) => {
    form.elements.x.value = x.toFixed(1);
    form.elements.y.value = y.toFixed(1);
    const address = new URL(zoom.dataset.loupe, location.href);
    address.searchParams.set("x", x.toFixed(2));
    address.searchParams.set("y", y.toFixed(2));
    seen.src = address.pathname + address.search;
  };
  pick.addEventListener("click", (event) => {
    const box = pick.getBoundingClientRect();
    const margin = Number(pick.dataset.marginMm);
    const wide = Number(pick.dataset.widthMm);
    const high = Number(pick.dataset.heightMm);
    const x = ((event.clientX - box.left) / box.width) * (wide + 2 * margin) - margin;
    const y = ((event.clientY - box.top) / box.height) * (high + 2 * margin) - margin;
    look(Math.min(Math.max(x, 0), wide), Math.min(Math.max(y, 0), high));
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    look(Number(form.elements.x.value), Number(form.elements.y.value));
  });
}
