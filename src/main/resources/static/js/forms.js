// A form is sent once: the second press of a thumb in a glove is not a second order.

document.addEventListener("submit", (event) => {
  const form = event.target;
  // A field may be called "method" and stand before the form's own.
  if (event.defaultPrevented || form.getAttribute("method")?.toLowerCase() !== "post" || "again" in form.dataset) {
    return;
  }
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "true";
  // A moment later, so that the pressed button's own value is still sent.
  setTimeout(() => buttons(form).forEach((button) => (button.disabled = true)));
});

// A page from the browser's memory may be sent again.
window.addEventListener("pageshow", () => document.querySelectorAll("form[data-sent]").forEach(release));
document.body.addEventListener("htmx:afterRequest", (event) => {
  const form = event.detail.elt.closest("form");
  if (form) {
    release(form);
  }
});

function release(form) {
  if (form.dataset.sent) {
    delete form.dataset.sent;
    buttons(form).forEach((button) => (button.disabled = false));
  }
}

function buttons(form) {
  return [...form.elements].filter((element) => element.type === "submit");
}

// A button that says why it cannot be pressed keeps its place in the order of the Tab key.
document.addEventListener(
  "click",
  (event) => {
    if (event.target.closest('[aria-disabled="true"]')) {
      event.preventDefault();
      event.stopPropagation();
    }
  },
  true,
);

document.body.addEventListener("htmx:configRequest", (event) => {
  const header = document.querySelector("meta[name=csrf-header]");
  if (header && event.detail.verb !== "get") {
    event.detail.headers[header.content] = document.querySelector("meta[name=csrf-token]").content;
  }
});
