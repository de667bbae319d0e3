// Drawing a crack on the glass of a form, corner after corner. The corners stand in the textarea "course" of the form, one
// in each line, and the first is the place (xMm, yMm) too. While it is drawn, taps and keys on the picture set corners;
// afterwards they point at the place again. Without this, the corners are typed.

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const MOST_CORNERS = 50;
/** An end so far beyond the edge says that the crack reaches it; the form takes at most 10 mm. */
const BEYOND_MM = 4;

export function glassCourse(fields) {
  const form = fields.closest("form");
  const glass = form?.querySelector("[data-glass-pick]");
  const svg = glass?.matches("svg") ? glass : glass?.querySelector("svg");
  const text = form?.elements.namedItem("course");
  const tools = form?.querySelector("[data-course-tools]");
  const start = fields.querySelector("[data-course-start]");
  const words = fields.querySelector("[data-course-words]");
  if (!svg || !text || !tools || !start) {
    return;
  }
  const outline = svg.querySelector("[data-part=outline]");
  const layer = element("g", {});
  svg.append(layer);
  let drawing = false;
  let mark = null;

  start.hidden = false;
  start.querySelector("button").addEventListener("click", begin);
  tools.querySelector("[data-course-undo]").addEventListener("click", undo);
  tools.querySelector("[data-course-clear]").addEventListener("click", () => save([]));
  tools.querySelector("[data-course-done]").addEventListener("click", end);
  tools.querySelector("[data-course-add]").addEventListener("click", () => mark && add(...mark));
  text.addEventListener("input", show);
  form.addEventListener("change", (event) => {
    if (event.target.name === "kind" && drawing) {
      end();
    }
  });
  // Before the place is set: while a crack is drawn these are its corners.
  svg.addEventListener("click", tapped, true);
  svg.addEventListener("keydown", pressed, true);
  form.addEventListener("click", nudged, true);
  for (const name of ["xMm", "yMm"]) {
    form.elements.namedItem(name)?.addEventListener("change", placed);
  }
  form.addEventListener("input", agree);
  form.addEventListener("change", agree);
  new ResizeObserver(show).observe(svg);
  show();

  function begin() {
    drawing = true;
    tools.hidden = false;
    const corners = read();
    if (corners.length === 0) {
      const x = number(form.elements.namedItem("xMm")?.value);
      const y = number(form.elements.namedItem("yMm")?.value);
      if (x !== null && y !== null) {
        save([[x, y]]);
      }
    }
    show();
    glass.scrollIntoView({ block: "center" });
    svg.focus({ preventScroll: true });
  }

  function end() {
    drawing = false;
    tools.hidden = true;
    mark = null;
    show();
    start.scrollIntoView({ block: "center" });
    start.querySelector("button").focus({ preventScroll: true });
  }

  function undo() {
    save(read().slice(0, -1));
  }

  function tapped(event) {
    if (!drawing) {
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    add(point.x, -point.y);
  }

  function pressed(event) {
    if (!drawing) {
      return;
    }
    const step = ARROWS[event.key];
    if (step) {
      const mm = event.shiftKey ? 1 : 10;
      const [x, y] = mark ?? read().at(-1) ?? middle();
      mark = [x + step[0] * mm, y + step[1] * mm];
      show();
    } else if (event.key === "Enter") {
      add(...(mark ?? read().at(-1) ?? middle()));
    } else if (event.key === "Backspace") {
      undo();
    } else if (event.key === "Escape") {
      end();
    } else {
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
  }

  function nudged(event) {
    const button = event.target.closest("[data-nudge]");
    if (drawing && button) {
      const [right, up] = button.dataset.nudge.split(",").map(Number);
      const [x, y] = mark ?? read().at(-1) ?? middle();
      mark = [x + right, y + up];
      show();
      event.preventDefault();
      event.stopImmediatePropagation();
    }
  }

  /** The place moved, and the crack begins there. */
  function placed() {
    const x = number(form.elements.namedItem("xMm").value);
    const y = number(form.elements.namedItem("yMm").value);
    const corners = read();
    if (x !== null && y !== null && corners.length > 0) {
      text.value = [[x, y], ...corners.slice(1)].map((corner) => corner.join(" ")).join("\n");
      show();
    }
  }

  function middle() {
    const box = svg.viewBox.baseVal;
    return [Math.round(box.x + box.width / 2), Math.round(-(box.y + box.height / 2))];
  }

  function add(x, y) {
    const corners = read();
    if (corners.length < MOST_CORNERS) {
      const corner = onGlass(x, y).map(Math.round);
      const last = corners.at(-1);
      if (!last || last[0] !== corner[0] || last[1] !== corner[1]) {
        save([...corners, corner]);
      }
    }
  }

  /** A place off the glass is drawn to just beyond the edge, where the crack ends. */
  function onGlass(x, y) {
    if (!outline || outline.isPointInFill(new DOMPoint(x, -y))) {
      return [x, y];
    }
    const length = outline.getTotalLength();
    let nearest = null;
    for (let i = 0; i < 2000; i++) {
      const point = outline.getPointAtLength((length * i) / 2000);
      const apart = Math.hypot(point.x - x, -point.y - y);
      if (!nearest || apart < nearest.apart) {
        nearest = { x: point.x, y: -point.y, apart };
      }
    }
    const far = nearest.apart > BEYOND_MM ? BEYOND_MM / nearest.apart : 1;
    return [nearest.x + (x - nearest.x) * far, nearest.y + (y - nearest.y) * far];
  }

  function save(corners) {
    mark = null;
    text.value = corners.map(([x, y]) => `${x} ${y}`).join("\n");
    if (corners.length > 0) {
      for (const [name, value] of [["xMm", corners[0][0]], ["yMm", corners[0][1]]]) {
        const input = form.elements.namedItem(name);
        input.value = value;
        input.dispatchEvent(new Event("input", { bubbles: true }));
      }
    }
    show();
  }

  function read() {
    return text.value
      .split("\n")
      .map((line) => line.trim().split(/\s*[,;/]\s+|\s+/).map(number))
      .filter((corner) => corner.length === 2 && corner.every((value) => value !== null));
  }

  function show() {
    const corners = read();
    const mmPerPx = 1 / (svg.getScreenCTM()?.a || 1);
    layer.replaceChildren();
    const course = mark && drawing ? [...corners, mark] : corners;
    if (course.length > 1) {
      const d = "M" + course.map(([x, y]) => `${x} ${-y}`).join("L");
      for (const name of ["course-line halo", "course-line"]) {
        layer.append(element("path", { class: name, d, "vector-effect": "non-scaling-stroke" }));
      }
    }
    if (drawing) {
      for (const [x, y] of course) {
        layer.append(element("circle", { class: "course-corner", cx: x, cy: -y, r: 6 * mmPerPx, "vector-effect": "non-scaling-stroke" }));
      }
    }
    words.hidden = corners.length < 2;
    words.textContent = `Drawn with ${corners.length} corners, ${Math.round(along(corners))} mm along it, ${Math.round(across(corners))} mm across`;
    agree();
    start.querySelector("button").textContent = corners.length < 2 ? "Draw it on the glass" : "Change the drawing";
    tools.querySelector("[data-course-add]").hidden = !mark;
  }

  /** Says what the service would refuse, for a report may be kept for hours before it gets there. */
  function agree() {
    const isCrack = form.querySelector("input[name=kind]:checked")?.value === "crack";
    const corners = isCrack ? read() : [];
    const size = form.elements.namedItem("diameterMm");
    const length = form.elements.namedItem("longestLegMm");
    differs(size, corners.length > 1 ? drawn(size, across(corners), "across") : "");
    differs(length, corners.length > 1 ? drawn(length, along(corners), "long") : isCrack ? shorter(length, size) : "");
  }

  function drawn(input, mm, how) {
    const typed = number(input?.value);
    if (typed === null || Math.abs(mm - typed) <= tolerance(typed)) {
      return "";
    }
    const digits = Number.isInteger(typed) ? 0 : 1;
    return `The line drawn is ${mm.toFixed(digits)} mm ${how}, you say ${typed}. Draw it anew, or leave this empty`;
  }

  function shorter(length, size) {
    const [long, wide] = [number(length?.value), number(size?.value)];
    return long === null || wide === null || long >= wide
      ? ""
      : `The crack is ${wide} mm across, so it is at least as long; you say ${long}`;
  }

  /** As ShapeCheck has it, with what the service takes where nobody says how sure a length is. */
  function tolerance(mm) {
    const given = number(form.elements.namedItem("uncertaintyMm")?.value);
    const source = form.querySelector("input[name=source]:checked")?.value ?? "eye";
    const usual = { eye: Math.max(2, 0.15 * mm), gauge: 0.3, photo: Math.max(0.5, 0.05 * mm) }[source];
    return 2 * Math.hypot(given ?? usual, Math.SQRT2);
  }
}

/** Shows or takes away what is wrong, beside the field. */
function differs(input, message) {
  if (!input) {
    return;
  }
  input.setCustomValidity(message);
  const id = `${input.id}-drawn`;
  let shown = document.getElementById(id);
  if (!shown && message) {
    shown = Object.assign(document.createElement("span"), { id, className: "error" });
    shown.setAttribute("role", "status");
    input.closest(".box").before(shown);
    input.setAttribute("aria-describedby", `${input.getAttribute("aria-describedby") ?? ""} ${id}`.trim());
  }
  if (shown) {
    shown.textContent = message;
    shown.hidden = !message;
    input.closest(".field").classList.toggle("wrong", Boolean(message));
  }
}

function along(corners) {
  return corners.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - corners[i][0], y - corners[i][1]), 0);
}

/** The diameter of the smallest circle round all corners, grown by each that lies outside of it. */
function across(corners) {
  let circle = null;
  corners.forEach((p, i) => {
    if (!holds(circle, p)) {
      circle = [...p, 0];
      corners.slice(0, i).forEach((q, j) => {
        if (!holds(circle, q)) {
          circle = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, Math.hypot(p[0] - q[0], p[1] - q[1]) / 2];
          corners.slice(0, j).forEach((r) => {
            circle = holds(circle, r) ? circle : through(p, q, r) ?? circle;
          });
        }
      });
    }
  });
  return circle ? 2 * circle[2] : 0;
}

function holds(circle, [x, y]) {
  return circle !== null && Math.hypot(x - circle[0], y - circle[1]) <= circle[2] + 1e-6;
}

function through([ax, ay], [bx, by], [cx, cy]) {
  const d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by));
  if (d === 0) {
    return null;
  }
  const [a, b, c] = [ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy];
  const x = (a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d;
  const y = (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d;
  return [x, y, Math.hypot(ax - x, ay - y)];
}

function number(value) {
  const typed = (value ?? "").trim().replace(",", ".").replace("−", "-");
  return typed === "" || Number.isNaN(Number(typed)) ? null : Number(typed);
}

function element(name, attributes) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  Object.entries(attributes).forEach(([key, value]) => made.setAttribute(key, value));
  return made;
}
