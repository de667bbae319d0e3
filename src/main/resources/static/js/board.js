// The day board's comforts: a stop is chosen by its block in the picture, and the chosen stop obeys keys while its part of
// the page has the focus. What a key does is what the button beside it does.

export function board(picture) {
  // Where the picture is wider than its place, it is opened at the present hour.
  const now = picture.querySelector(".now-mark");
  const place = picture.parentElement;
  if (now && place.scrollWidth > place.clientWidth) {
    place.scrollLeft += now.getBoundingClientRect().left - place.getBoundingClientRect().left - place.clientWidth / 2;
  }
  picture.addEventListener("click", (event) => {
    const block = event.target.closest("[data-stop]");
    if (block) {
      document.querySelector(`[data-stop-link="${CSS.escape(block.dataset.stop)}"]`)?.click();
    }
  });
}

export function gestures(part) {
  part.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey || event.target.closest("select, input")) {
      return;
    }
    const button = part.querySelector(`button[data-key="${CSS.escape(event.key)}"]`);
    if (button) {
      event.preventDefault();
      button.click();
    }
  });
}
