// <div class="progress" data-progress-events="/imports/…/events"> holds the bar of marks.html and a <p class="live">.
// The server sends "progress" with {"done": 134, "total": 212, "secondsLeft": 8} and, once, "end" with
// {"location": "/imports/…"} or nothing, which loads the page anew. A screen reader hears the count every 5 s at most.

const SAY_EVERY_MS = 5000;

export function progress(element) {
  const bar = element.querySelector("[role=progressbar]");
  const live = element.querySelector(".live");
  const source = new EventSource(element.dataset.progressEvents);
  const said = document.createElement("p");
  said.className = "away-from-sight";
  said.setAttribute("role", "status");
  element.append(said);
  let words = live?.querySelector("[data-words]");
  if (live && !words) {
    words = live.firstChild;
  }
  let lastSaid = 0;

  source.addEventListener("progress", (event) => {
    const { done, total, secondsLeft } = JSON.parse(event.data);
    const part = total > 0 ? Math.min(done / total, 1) : 0;
    bar.setAttribute("aria-valuemax", total);
    bar.setAttribute("aria-valuenow", done);
    bar.querySelector(".done-part").setAttribute("width", 420 * part);
    bar.querySelector(".front").setAttribute("x", 417 * part);
    const sentence = secondsLeft == null ? `${done} done` : `${done} done · about ${secondsLeft} s left`;
    if (words) {
      words.textContent = words.nodeType === Node.TEXT_NODE && words.nextSibling ? `${sentence} · ` : sentence;
    }
    if (Date.now() - lastSaid >= SAY_EVERY_MS) {
      lastSaid = Date.now();
      said.textContent = sentence;
    }
  });

  source.addEventListener("end", (event) => {
    source.close();
    const location = event.data ? JSON.parse(event.data).location : null;
    if (location) {
      window.location.assign(location);
    } else {
      window.location.reload();
    }
  });

  window.addEventListener("pagehide", () => source.close());
}
