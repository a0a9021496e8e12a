// A picture close up: zoom on tiles of the bound file, true size once a card was held against the screen, the loupe where one
// presses. Without this file the picture is a link to its file and the loupe a form.
const zoom = document.getElementById("zoom");
const bar = document.querySelector(".zoom-bar");
const kept = "proofdesk.screen-px-per-mm";
const cardMm = 53.98; // short side of ISO/IEC 7810 ID-1

// Kept in pixels of the screen, so that it survives the browser's own zoom.
const cssPerMm = () => {
  const perMm = Number(read());
  return perMm > 0 ? perMm / window.devicePixelRatio : null;
};
function read() {
  try {
    return localStorage.getItem(kept);
  } catch {
    return null;
  }
}
const keep = (value) => {
  try {
    if (value === null) localStorage.removeItem(kept);
    else localStorage.setItem(kept, value);
  } catch {
    // A browser that keeps nothing asks again next time.
  }
};

let viewer = null;
const perMm = Number(zoom?.dataset.perMm) || null;
const scale = document.getElementById("scale");
const trueSize = bar?.querySelector("[data-zoom=true]");

const sayScale = () => {
  const here = cssPerMm();
  if (trueSize) trueSize.disabled = !(here && perMm);
  if (!here || !perMm || !viewer?.viewport) {
    scale.textContent = scale.dataset.none;
    return;
  }
  // A CSS pixel of the screen shows so many pixels of the picture.
  const shown = viewer.viewport.viewportToImageZoom(viewer.viewport.getZoom(true));
  const clothMm = (10 * here) / shown / perMm;
  const number = new Intl.NumberFormat(document.documentElement.lang, { maximumFractionDigits: 1 });
  scale.textContent = scale.dataset.scale.replace("{0}", "10 mm").replace("{1}", `${number.format(clothMm)} mm`);
};

if (zoom && window.OpenSeadragon) {
  const { tiles, width, height, tile, label } = zoom.dataset;
  zoom.replaceChildren();
  viewer = window.OpenSeadragon({
    element: zoom,
    drawer: "canvas",
    showNavigationControl: false,
    crossOriginPolicy: false,
    gestureSettingsMouse: { scrollToZoom: false, clickToZoom: false, dblClickToZoom: true },
    gestureSettingsTouch: { clickToZoom: false, dblClickToZoom: true },
    immediateRender: matchMedia("(prefers-reduced-motion: reduce)").matches,
    animationTime: matchMedia("(prefers-reduced-motion: reduce)").matches ? 0 : 0.6,
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
  const face = viewer.canvas;
  face.setAttribute("role", "application");
  face.setAttribute("aria-label", label);
  bar.hidden = false;
  let atHome = true;
  for (const moved of ["canvas-drag", "canvas-pinch", "canvas-scroll", "canvas-double-click", "canvas-key"])
    viewer.addHandler(moved, () => (atHome = false));
  const pixels = (perCss) => viewer.viewport.zoomTo(viewer.viewport.imageToViewportZoom(perCss));
  const acts = {
    in: () => viewer.viewport.zoomBy(1.6),
    out: () => viewer.viewport.zoomBy(1 / 1.6),
    fit: () => viewer.viewport.goHome(),
    pixel: () => pixels(1 / window.devicePixelRatio),
    true: () => cssPerMm() && pixels(cssPerMm() / perMm),
  };
  for (const button of bar.querySelectorAll("[data-zoom]"))
    button.addEventListener("click", () => {
      atHome = button.dataset.zoom === "fit";
      acts[button.dataset.zoom]();
    });
  viewer.addHandler("open", sayScale);
  viewer.addHandler("animation", sayScale);
  // Turned or widened, a picture that was whole stays whole.
  viewer.addHandler("resize", () => {
    if (viewer.viewport && atHome) viewer.viewport.goHome(true);
    sayScale();
  });
  if (zoom.dataset.loupe)
    viewer.addHandler("canvas-click", (press) => {
      if (!press.quick) return;
      const at = viewer.viewport.viewportToImageCoordinates(viewer.viewport.pointFromPixel(press.position));
      const margin = Number(zoom.dataset.marginMm);
      look(at.x / perMm - margin, at.y / perMm - margin);
    });
}

const form = document.getElementById("loupe-form");
function look(x, y) {
  const inside = (input, value) => Math.min(Math.max(value, 0), Number(input.max));
  const left = inside(form.elements.x, x);
  const top = inside(form.elements.y, y);
  form.elements.x.value = left.toFixed(1);
  form.elements.y.value = top.toFixed(1);
  const seen = document.getElementById("loupe-seen");
  const address = new URL(zoom.dataset.loupe, location.href);
  address.searchParams.set("x", left.toFixed(2));
  address.searchParams.set("y", top.toFixed(2));
  seen.src = address.pathname + address.search;
  seen.closest("figure").hidden = false;
}
form?.addEventListener("submit", (event) => {
  event.preventDefault();
  look(Number(form.elements.x.value), Number(form.elements.y.value));
});

const box = document.getElementById("true-size");
if (box && viewer) {
  const width = document.getElementById("card-width");
  const card = document.getElementById("card");
  const said = document.getElementById("card-said");
  const draw = () => {
    card.style.width = `${width.value}px`;
    card.style.height = `${(width.value * 85.6) / cardMm}px`;
  };
  if (cssPerMm()) width.value = cssPerMm() * cardMm;
  width.addEventListener("input", draw);
  document.getElementById("card-fits").addEventListener("click", () => {
    keep((Number(width.value) / cardMm) * window.devicePixelRatio);
    said.textContent = said.dataset.kept;
    sayScale();
  });
  document.getElementById("card-forget").addEventListener("click", () => {
    keep(null);
    said.textContent = said.dataset.gone;
    sayScale();
  });
  box.hidden = false;
  draw();
}
if (scale) sayScale();
