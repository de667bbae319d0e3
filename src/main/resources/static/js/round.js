// A round through a yard by keys: each button says which one is its own. Not while somebody types.

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName)) {
    return;
  }
  const button = document.querySelector(`[data-keys] [data-key="${CSS.escape(event.key.toLowerCase())}"]`);
  if (button) {
    event.preventDefault();
    button.click();
  }
});
