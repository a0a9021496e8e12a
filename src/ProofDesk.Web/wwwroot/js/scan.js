// Reads the square code with the camera and asks the server about it. Without camera or script the typed field does the same.
const box = document.querySelector("[data-scan]");
const start = box.querySelector("[data-scan-start]");
const said = box.querySelector("[data-scan-said]");
const view = box.querySelector("[data-scan-view]");
const mostSide = 1280;

if (navigator.mediaDevices?.getUserMedia) {
  box.hidden = false;
  start.addEventListener("click", read);
  if (box.dataset.start === "now") read();
}

async function read() {
  start.disabled = true;
  said.textContent = "Opening the camera.";
  try {
    view.srcObject = await navigator.mediaDevices.getUserMedia({
      video: { facingMode: "environment", width: { ideal: 1280 }, height: { ideal: 720 } },
    });
  } catch (refusal) {
    start.disabled = false;
    said.textContent =
      refusal.name === "NotAllowedError"
        ? "The camera was not allowed. Allow it in the browser, or type the line below."
        : "No camera answers. Type the line below.";
    return;
  }
  view.hidden = false;
  await view.play();
  said.textContent = "Hold the square still, a hand's breadth away.";
  const text = await firstCode(await reader());
  for (const track of view.srcObject.getTracks()) track.stop();
  said.textContent = "Read. Asking the record.";
  location.assign(`/scan?code=${encodeURIComponent(text)}`);
}

// The browser's own reader where there is one; it may exist and not know square codes.
async function reader() {
  if ("BarcodeDetector" in window && (await BarcodeDetector.getSupportedFormats()).includes("qr_code")) {
    const own = new BarcodeDetector({ formats: ["qr_code"] });
    return async (canvas) => (await own.detect(canvas))[0]?.rawValue;
  }
  return async (canvas, pen) => {
    const { data, width, height } = pen.getImageData(0, 0, canvas.width, canvas.height);
    return jsQR(data, width, height)?.data;
  };
}

async function firstCode(look) {
  const canvas = document.createElement("canvas");
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  for (;;) {
    if (view.videoWidth > 0) {
      const scale = Math.min(1, mostSide / Math.max(view.videoWidth, view.videoHeight));
      canvas.width = Math.round(view.videoWidth * scale);
      canvas.height = Math.round(view.videoHeight * scale);
      pen.drawImage(view, 0, 0, canvas.width, canvas.height);
      const text = await look(canvas, pen);
      if (text) return text;
    }
    await new Promise((next) => setTimeout(next, 120));
  }
}
