// Keeps what was ticked and typed in a form while its page is left for another, in this tab alone, until the form is sent.
// A line keeps its answers by the thing it is about, since lines move when one is added.

const prefix = "kept ";

export function keep(form) {
  const key = prefix + form.dataset.keep;
  const kept = JSON.parse(sessionStorage.getItem(key) ?? "{}");
  for (const field of fields(form)) {
    const value = kept[name(field)];
    if (value === undefined) {
      continue;
    }
    if (field.type === "radio" || field.type === "checkbox") {
      field.checked = value === field.value;
    } else {
      field.value = value;
    }
  }
  form.addEventListener("input", () => {
    const now = {};
    for (const field of fields(form)) {
      if ((field.type !== "radio" && field.type !== "checkbox") || field.checked) {
        now[name(field)] = field.value;
      }
    }
    sessionStorage.setItem(key, JSON.stringify(now));
  });
  form.addEventListener("submit", () => sessionStorage.removeItem(key));
}

function fields(form) {
  return [...form.elements].filter((field) => field.name && !["hidden", "file", "submit", "password"].includes(field.type));
}

function name(field) {
  const about = field.closest("[data-about]");
  return about ? about.dataset.about + field.name.replace(/^[^.]*/, "") : field.name;
}
