// "/" goes to the search, Escape closes an open menu, and what is to be mended is read first.

document.addEventListener("keydown", (event) => {
  if (event.key === "/" && !event.ctrlKey && !event.metaKey && !event.altKey && !isTyping(event.target)) {
    const field = [...document.querySelectorAll("input[type=search]")].find((input) => input.offsetParent);
    if (field) {
      event.preventDefault();
      field.focus();
      field.select();
    }
  }
  if (event.key === "Escape") {
    const open = document.querySelector(".head details[open]");
    if (open) {
      open.open = false;
      open.querySelector("summary").focus();
    }
  }
});

document.addEventListener("click", (event) => {
  for (const menu of document.querySelectorAll(".head details[open]")) {
    if (!menu.contains(event.target)) {
      menu.open = false;
    }
  }
});

function isTyping(target) {
  return target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName);
}

function readErrors(within) {
  const summary = within.querySelector("[data-error-summary]");
  if (summary) {
    inOrderOfThePage(summary);
    summary.focus();
  }
}

readErrors(document);
document.body.addEventListener("htmx:afterSwap", (event) => readErrors(event.detail.target));

function inOrderOfThePage(summary) {
  const line = (item) => document.getElementById(item.querySelector("a")?.hash.slice(1));
  [...summary.querySelectorAll("li")]
    .map((item) => ({ item, field: line(item) }))
    .filter(({ field }) => field)
    .sort((one, other) => (one.field.compareDocumentPosition(other.field) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1))
    .forEach(({ item }) => item.parentElement.append(item));
}
