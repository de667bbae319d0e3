// Shows what was picked before it is sent, and takes files that are dropped.

export function files(element) {
  const input = element.querySelector("input[type=file]");
  const previews = element.querySelector("[data-previews]");
  let shown = [];

  input.addEventListener("change", show);
  element.addEventListener("dragover", (event) => {
    event.preventDefault();
    element.classList.add("over");
  });
  element.addEventListener("dragleave", () => element.classList.remove("over"));
  element.addEventListener("drop", (event) => {
    event.preventDefault();
    element.classList.remove("over");
    if (event.dataTransfer.files.length > 0) {
      input.files = event.dataTransfer.files;
      input.dispatchEvent(new Event("change", { bubbles: true }));
    }
  });

  function show() {
    shown.forEach(URL.revokeObjectURL);
    shown = [];
    previews?.replaceChildren(...[...input.files].map(figure));
  }

  function figure(file) {
    const made = document.createElement("figure");
    if (file.type.startsWith("image/")) {
      const picture = document.createElement("img");
      picture.src = URL.createObjectURL(file);
      picture.alt = "";
      shown.push(picture.src);
      made.append(picture);
    }
    const caption = document.createElement("figcaption");
    caption.textContent = `${file.name}, ${size(file.size)}`;
    made.append(caption);
    return made;
  }

  function size(bytes) {
    return bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
  }
}
