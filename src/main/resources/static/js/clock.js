// The clock of a running phase. It counts from the server's times: what the device's own clock says does not matter, only how
// it goes on. Locked, reloaded or switched on again, it shows the same.

export function clock(element) {
  const startedBefore = Date.parse(element.dataset.now) - Date.parse(element.dataset.since);
  const loadedAt = Date.now();
  const bar = element.parentElement.querySelector("[data-run]");

  function show() {
    const seconds = Math.max(0, Math.floor((startedBefore + Date.now() - loadedAt) / 1000));
    const two = (number) => String(number).padStart(2, "0");
    element.textContent = `${two(Math.floor(seconds / 60))}:${two(seconds % 60)}`;
    bar?.setAttribute("width", Math.min(317, (317 * seconds) / Number(bar.dataset.run)));
  }

  show();
  setInterval(show, 500);
}
