// What waits and what ages while a page stays open, by the server's times.

/** The rest between pressure and vacuum, counted down; the button of the next phase waits for it. */
export function rest(element) {
  const leftBefore = Date.parse(element.dataset.until) - Date.parse(element.dataset.now);
  const loadedAt = Date.now();
  const main = element.closest("main");
  const button = main.querySelector("button[data-resting]");
  const shown = element.querySelector("[data-left]");
  const left = () => leftBefore - (Date.now() - loadedAt);

  button?.form?.addEventListener("submit", (event) => left() > 0 && event.submitter === button && event.preventDefault());

  function show() {
    const seconds = Math.max(0, Math.ceil(left() / 1000));
    const two = (number) => String(number).padStart(2, "0");
    shown.textContent = `${two(Math.floor(seconds / 60))}:${two(seconds % 60)}`;
    if (seconds === 0) {
      clearInterval(timer);
      element.textContent = "It has rested.";
      if (button?.getAttribute("aria-describedby") === "rest") {
        button.removeAttribute("aria-disabled");
        button.removeAttribute("aria-describedby");
      }
    }
  }

  const timer = setInterval(show, 500);
  show();
}

/** How old a reading of air and glass is; grey once it counts no longer. */
export function reading(element) {
  const before = Date.parse(element.dataset.now) - Date.parse(element.dataset.at);
  const loadedAt = Date.now();

  function show() {
    const seconds = (before + Date.now() - loadedAt) / 1000;
    element.querySelector("[data-age]").textContent = ago(seconds);
    const old = seconds > Number(element.dataset.holds);
    element.classList.toggle("aged", old);
    element.querySelector("[data-too-old]").hidden = !old;
  }

  setInterval(show, 10_000);
  show();
}

export function ago(seconds) {
  const minutes = Math.floor(seconds / 60);
  if (minutes < 1) {
    return "just now";
  }
  return minutes < 60 ? `${minutes} min ago` : `${Math.floor(minutes / 60)} h ${minutes % 60} min ago`;
}
