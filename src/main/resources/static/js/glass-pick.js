// Pointing at the glass. The element holds an <svg> whose viewBox is in mm of the glass frame with y turned over (the
// picture's y is minus the frame's), and belongs to a form with the inputs xMm and yMm. A tap sets them, typing moves the
// marker, arrow keys go 1 mm, with Shift 10 mm. data-mirrored: the picture is seen from the seat, x turned over as well.
// Beside it, anywhere in the form: <output data-pick-words>, and <button data-nudge="-10,0">.

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export function glassPick(element) {
  const svg = element.matches("svg") ? element : element.querySelector("svg");
  const form = element.closest("form");
  const x = form?.elements.namedItem(element.dataset.x ?? "xMm");
  const y = form?.elements.namedItem(element.dataset.y ?? "yMm");
  if (!svg || !x || !y) {
    return;
  }
  const mirror = () => ("mirrored" in element.dataset ? -1 : 1);
  const marker = makeMarker();
  svg.append(marker);
  svg.setAttribute("tabindex", "0");

  svg.addEventListener("click", (event) => {
    if (event.target.closest("a")) {
      return;
    }
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    set(point.x * mirror(), -point.y);
  });
  svg.addEventListener("keydown", (event) => {
    const step = ARROWS[event.key];
    if (step) {
      event.preventDefault();
      const mm = event.shiftKey ? 10 : 1;
      nudge(step[0] * mm, step[1] * mm);
    }
  });
  form.addEventListener("click", (event) => {
    const button = event.target.closest("[data-nudge]");
    if (button) {
      event.preventDefault();
      nudge(...button.dataset.nudge.split(",").map(Number));
    }
  });
  x.addEventListener("input", show);
  y.addEventListener("input", show);
  new ResizeObserver(show).observe(svg);
  show();

  function nudge(right, up) {
    const box = svg.viewBox.baseVal;
    set((number(x) ?? (box.x + box.width / 2) * mirror()) + right * mirror(), (number(y) ?? -(box.y + box.height / 2)) + up);
  }

  function set(xMm, yMm) {
    const box = svg.viewBox.baseVal;
    const onPicture = clamp(xMm * mirror(), box.x, box.x + box.width);
    x.value = Math.round(onPicture * mirror());
    y.value = Math.round(clamp(yMm, -(box.y + box.height), -box.y));
    for (const input of [x, y]) {
      input.dispatchEvent(new Event("input", { bubbles: true }));
      input.dispatchEvent(new Event("change", { bubbles: true }));
    }
  }

  function show() {
    const xMm = number(x);
    const yMm = number(y);
    const known = xMm !== null && yMm !== null;
    marker.toggleAttribute("hidden", !known);
    marker.setAttribute("visibility", known ? "visible" : "hidden");
    const words = form.querySelector("[data-pick-words]");
    if (!known) {
      return;
    }
    const mmPerPx = 1 / (svg.getScreenCTM()?.a || 1);
    marker.setAttribute("transform", `translate(${xMm * mirror()} ${-yMm}) scale(${mmPerPx})`);
    if (words) {
      words.textContent = inWords(xMm, yMm);
    }
  }
}

function inWords(xMm, yMm) {
  const across = Math.round(Math.abs(xMm) / 10);
  const side = across === 0 ? "In the middle" : `${across} cm ${xMm < 0 ? "left" : "right"} of the middle`;
  return `${side}, ${Math.round(yMm / 10)} cm up`;
}

function makeMarker() {
  const group = document.createElementNS("http://www.w3.org/2000/svg", "g");
  group.setAttribute("class", "pick-marker");
  for (const name of ["halo", "line"]) {
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("class", name);
    path.setAttribute("d", "M18 0A18 18 0 1 1-18 0 18 18 0 1 1 18 0ZM-33 0h22M11 0h22M0-33v22M0 11v22");
    group.append(path);
  }
  const dot = document.createElementNS("http://www.w3.org/2000/svg", "circle");
  dot.setAttribute("class", "dot");
  dot.setAttribute("r", "2.5");
  group.append(dot);
  return group;
}

function number(input) {
  const value = Number(input.value.trim().replace(",", ".").replace("−", "-"));
  return input.value.trim() === "" || Number.isNaN(value) ? null : value;
}

function clamp(value, least, most) {
  return Math.min(Math.max(value, least), most);
}
