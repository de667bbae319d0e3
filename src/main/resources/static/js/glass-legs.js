// Drawing the legs of a star break, leg after leg, in a close up of its impact: a tap says where a leg ends. Each stands in
// a row of the table beside it, by its length and the hour it points to, and may be typed there instead.

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const NEAR_MM = 40;
const FAR_MM = 160;
const DEGREES_AN_HOUR = 30;

export function glassLegs(part) {
  const rows = [...part.querySelectorAll("tbody tr")].map((row) => [...row.querySelectorAll("input")]);
  const box = part.querySelector("[data-legs-draw]");
  const svg = box?.querySelector("svg");
  if (!svg || rows.length === 0) {
    return;
  }
  const rings = svg.appendChild(element("g", { class: "legs-rings" }));
  const layer = svg.appendChild(element("g", {}));
  const words = box.querySelector("[data-legs-words]");
  const wider = box.querySelector("[data-legs-wider]");
  let reach = NEAR_MM;
  let mark = null;

  box.hidden = false;
  svg.addEventListener("click", (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    add(point.x, -point.y);
  });
  svg.addEventListener("keydown", pressed);
  box.querySelector("[data-legs-undo]").addEventListener("click", undo);
  wider.addEventListener("click", () => {
    reach = reach === NEAR_MM ? FAR_MM : NEAR_MM;
    show();
  });
  rows.flat().forEach((input) => input.addEventListener("input", show));
  show();

  function pressed(event) {
    const step = ARROWS[event.key];
    if (step) {
      const mm = event.shiftKey ? 5 : 1;
      mark = [(mark?.[0] ?? 0) + step[0] * mm, (mark?.[1] ?? 0) + step[1] * mm];
      show();
    } else if (event.key === "Enter") {
      if (mark) {
        add(...mark);
      }
    } else if (event.key === "Backspace") {
      undo();
    } else {
      return;
    }
    event.preventDefault();
  }

  function add(x, y) {
    const long = Math.hypot(x, y);
    const free = rows.find((row) => row.every((input) => input.value.trim() === ""));
    if (long < 0.5 || !free) {
      return;
    }
    const degrees = (Math.atan2(x, y) * 180) / Math.PI;
    const hour = Math.round((((degrees + 360) % 360) / DEGREES_AN_HOUR) * 10) / 10;
    free[0].value = Math.round(long);
    free[1].value = hour === 0 ? 12 : hour;
    mark = null;
    changed(free);
  }

  function undo() {
    const last = rows.findLast((row) => row.some((input) => input.value.trim() !== ""));
    if (last) {
      last.forEach((input) => (input.value = ""));
      changed(last);
    }
  }

  function changed(row) {
    row.forEach((input) => input.dispatchEvent(new Event("input", { bubbles: true })));
  }

  function show() {
    svg.setAttribute("viewBox", `${-reach} ${-reach} ${2 * reach} ${2 * reach}`);
    rings.replaceChildren();
    for (let i = 1; i <= 4; i++) {
      rings.append(element("circle", { r: (i * reach) / 4, "vector-effect": "non-scaling-stroke" }));
    }
    const legs = rows
      .map((row) => row.map((input) => number(input.value)))
      .filter(([long, hour]) => long !== null && hour !== null)
      .map(([long, hour]) => {
        const angle = (hour * DEGREES_AN_HOUR * Math.PI) / 180;
        return [Math.sin(angle) * long, Math.cos(angle) * long];
      });
    layer.replaceChildren();
    for (const [x, y] of legs) {
      layer.append(element("path", { class: "course-line", d: `M0 0L${x} ${-y}`, "vector-effect": "non-scaling-stroke" }));
    }
    layer.append(element("circle", { class: "legs-impact", r: reach / 40 }));
    if (mark) {
      layer.append(element("circle", { class: "course-corner", cx: mark[0], cy: -mark[1], r: reach / 20, "vector-effect": "non-scaling-stroke" }));
    }
    words.textContent =
      (legs.length === 0 ? "No leg yet" : legs.length === 1 ? "1 leg" : `${legs.length} legs`) + `; from ring to ring ${reach / 4} mm`;
    wider.textContent = reach === NEAR_MM ? "Show more around it" : "Show it nearer";
  }
}

function number(value) {
  const typed = (value ?? "").trim().replace(",", ".");
  return typed === "" || Number.isNaN(Number(typed)) ? null : Number(typed);
}

function element(name, attributes) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  Object.entries(attributes).forEach(([key, value]) => made.setAttribute(key, value));
  return made;
}
