// Reads a code with the camera where the browser can, writes it into a field and sends its form. Elsewhere the button stays
// hidden, and a scanner types into the field like a keyboard.

const every = 250;

export async function scan(button) {
  if (!("BarcodeDetector" in window) || !navigator.mediaDevices?.getUserMedia) {
    return;
  }
  const formats = await window.BarcodeDetector.getSupportedFormats();
  if (!formats.includes("qr_code")) {
    return;
  }
  button.hidden = false;
  button.addEventListener("click", () => look(button, new window.BarcodeDetector({ formats: ["qr_code"] })));
}

async function look(button, detector) {
  const field = document.getElementById(button.dataset.scan);
  const dialog = document.createElement("dialog");
  dialog.className = "scan";
  dialog.setAttribute("aria-label", "Hold the cab code before the camera");
  const video = document.createElement("video");
  video.playsInline = true;
  video.muted = true;
  const leave = document.createElement("button");
  leave.type = "button";
  leave.className = "button";
  leave.textContent = "Leave it";
  const words = document.createElement("p");
  words.setAttribute("role", "status");
  words.textContent = "Hold the cab code before the camera";
  dialog.append(video, words, leave);
  document.body.append(dialog);
  dialog.showModal();
  leave.addEventListener("click", () => dialog.close());
  let stream = null;
  dialog.addEventListener("close", () => {
    stream?.getTracks().forEach((track) => track.stop());
    dialog.remove();
    button.focus();
  });
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    words.textContent = "The camera may not be used here. Type the plate instead.";
    return;
  }
  if (!dialog.open) {
    stream.getTracks().forEach((track) => track.stop());
    return;
  }
  video.srcObject = stream;
  await video.play();
  const timer = setInterval(async () => {
    if (!dialog.open) {
      clearInterval(timer);
      return;
    }
    const [found] = await detector.detect(video).catch(() => []);
    if (found && dialog.open) {
      clearInterval(timer);
      field.value = found.rawValue;
      dialog.close();
      field.form.requestSubmit();
    }
  }, every);
}
