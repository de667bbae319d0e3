// <a href="#take-off" data-dialog="take-off"> opens <dialog id="take-off"> over the page. Without this file the link leads
// to the dialog, which then stands in its place on the page.

document.addEventListener("click", (event) => {
  const opener = event.target.closest("[data-dialog]");
  const dialog = opener && document.getElementById(opener.dataset.dialog);
  if (dialog?.showModal) {
    event.preventDefault();
    dialog.showModal();
    return;
  }
  const closer = event.target.closest("[data-dialog-close]");
  if (closer) {
    event.preventDefault();
    const open = closer.closest("dialog");
    if (open?.open) {
      open.close();
    } else {
      history.replaceState(null, "", location.pathname + location.search);
      location.hash = "";
    }
  }
});
