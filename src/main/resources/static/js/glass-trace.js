// Tracing a glass over a picture. The form's textarea "corners" has a corner in each line, mm in the glass frame; the lengths
// acrossMm and upMm between the ends acrossFromX … upToY on the picture give the scale, and originX, originY where the frame
// begins there. Here corners and ends are dragged or moved by keys. Corners stay where they are on the picture while
// the scale changes. Without this, the numbers are typed.

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const MOST_CORNERS = 200;
const ENDS = { acrossFrom: "Left end of the level length", acrossTo: "Right end of the level length", upFrom: "Lower end of the upright length", upTo: "Upper end of the upright length" };

export function glassTrace(form) {
  const svg = form.querySelector("[data-trace-picture]");
  if (!svg) {
    return;
  }
  const field = (name) => form.elements.namedItem(name);
  const text = field("corners");
  const words = form.querySelector("[data-trace-words]");
  const box = svg.viewBox.baseVal;
  const outlines = svg.querySelectorAll(".trace-outline");
  const layer = svg.appendChild(element("g", {}));
  let corners = fromText() ?? [];
  let pressed = null;
  let pressedAt = null;

  text.addEventListener("input", () => {
    corners = fromText() ?? corners;
    show();
  });
  for (const name of ["acrossMm", "upMm", ...Object.keys(ENDS).flatMap((end) => [`${end}X`, `${end}Y`])]) {
    field(name).addEventListener("input", scaled);
  }
  svg.addEventListener("pointerdown", down);
  svg.addEventListener("pointermove", move);
  svg.addEventListener("pointerup", up);
  svg.addEventListener("pointercancel", () => (pressed = null));
  svg.addEventListener("keydown", key);
  new ResizeObserver(sizes).observe(svg);
  show();

  /** Millimetres and back, as the service reckons; nothing while the lengths give no scale. */
  function scale() {
    const [fromX, fromY, toX, toY] = line("across");
    const [lowX, lowY, highX, highY] = line("up");
    const across = number(field("acrossMm").value);
    const high = number(field("upMm").value);
    const turned = toX < fromX ? -1 : 1;
    const upright = highY > lowY ? -1 : 1;
    const a = [turned * (toX - fromX), turned * (fromY - toY)];
    const b = [upright * (highX - lowX), upright * (lowY - highY)];
    const determinant = a[0] * b[1] - a[1] * b[0];
    const origin = [number(field("originX").value) ?? 0, number(field("originY").value) ?? 0];
    if (!(across > 0 && high > 0 && determinant > 0)) {
      return null;
    }
    return {
      toGlass([px, py]) {
        const x = px - origin[0];
        const y = origin[1] - py;
        return [(across * (b[1] * x - b[0] * y)) / determinant, (high * (a[0] * y - a[1] * x)) / determinant];
      },
      toPicture([x, y]) {
        const right = x / across;
        const tall = y / high;
        return [origin[0] + a[0] * right + b[0] * tall, origin[1] - a[1] * right - b[1] * tall];
      },
      pxPerMm: Math.hypot(...a) / across,
    };
  }

  function line(name) {
    return ["FromX", "FromY", "ToX", "ToY"].map((end) => number(field(name + end).value) ?? 0);
  }

  function fromText() {
    const glass = scale();
    const read = text.value
      .split("\n")
      .map((each) => each.trim().split(/\s*[,;/]\s+|\s+/).map(number))
      .filter((corner) => corner.length === 2 && corner.every((value) => value !== null));
    return glass ? read.map(glass.toPicture) : null;
  }

  /** Writes the corners in millimetres; the frame begins below their middle, at the height of the lowest. */
  function save() {
    const glass = scale();
    if (glass && corners.length > 0) {
      const mm = corners.map(glass.toGlass);
      const middle = (Math.min(...mm.map(([x]) => x)) + Math.max(...mm.map(([x]) => x))) / 2;
      const lowest = Math.min(...mm.map(([, y]) => y));
      const [x, y] = glass.toPicture([middle, lowest]);
      field("originX").value = Math.round(x * 100) / 100;
      field("originY").value = Math.round(y * 100) / 100;
      text.value = mm.map((corner) => `${tenth(corner[0] - middle)} ${tenth(corner[1] - lowest)}`).join("\n");
    }
    show();
  }

  function scaled() {
    if (corners.length === 0) {
      corners = fromText() ?? [];
    }
    save();
  }

  function at(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [clamp(point.x, 0, box.width), clamp(point.y, 0, box.height)];
  }

  function down(event) {
    pressedAt = [event.clientX, event.clientY];
    pressed = event.target.closest("[data-mark]")?.dataset.mark ?? null;
    if (pressed) {
      event.preventDefault();
      svg.setPointerCapture(event.pointerId);
      mark(pressed)?.focus();
    }
  }

  function move(event) {
    if (pressed) {
      put(pressed, at(event));
      paint();
    }
  }

  function up(event) {
    const still = pressedAt && Math.hypot(event.clientX - pressedAt[0], event.clientY - pressedAt[1]) < 4;
    if (pressed) {
      const moved = pressed;
      pressed = null;
      if (!still) {
        put(moved, at(event));
        save();
        mark(moved)?.focus();
      }
    } else if (still) {
      add(at(event));
    }
    pressedAt = null;
  }

  function key(event) {
    const name = event.target.closest("[data-mark]")?.dataset.mark;
    if (!name) {
      return;
    }
    const step = ARROWS[event.key];
    const corner = /^\d+$/.test(name) ? Number(name) : -1;
    if (step) {
      const px = (event.shiftKey ? 10 : 1) * (scale()?.pxPerMm ?? 1);
      const [x, y] = place(name);
      put(name, [clamp(x + step[0] * px, 0, box.width), clamp(y + step[1] * px, 0, box.height)]);
      save();
      mark(name)?.focus();
    } else if (corner >= 0 && (event.key === "Delete" || event.key === "Backspace") && corners.length > 3) {
      corners.splice(corner, 1);
      save();
      mark(String(Math.min(corner, corners.length - 1)))?.focus();
    } else if (corner >= 0 && event.key === "Enter" && corners.length < MOST_CORNERS) {
      const next = corners[(corner + 1) % corners.length];
      corners.splice(corner + 1, 0, [(corners[corner][0] + next[0]) / 2, (corners[corner][1] + next[1]) / 2]);
      save();
      mark(String(corner + 1))?.focus();
    } else {
      return;
    }
    event.preventDefault();
  }

  /** Into the side that it lies nearest to. */
  function add(point) {
    if (corners.length >= MOST_CORNERS) {
      return;
    }
    let best = corners.length;
    let nearest = Infinity;
    corners.forEach((corner, i) => {
      const apart = toSide(point, corner, corners[(i + 1) % corners.length]);
      if (apart < nearest) {
        nearest = apart;
        best = i + 1;
      }
    });
    corners.splice(best, 0, point);
    save();
    mark(String(best))?.focus();
  }

  function place(name) {
    return name in ENDS ? [number(field(`${name}X`).value) ?? 0, number(field(`${name}Y`).value) ?? 0] : corners[Number(name)];
  }

  function put(name, [x, y]) {
    if (name in ENDS) {
      field(`${name}X`).value = tenth(x);
      field(`${name}Y`).value = tenth(y);
    } else {
      corners[Number(name)] = [x, y];
    }
  }

  function mark(name) {
    return layer.querySelector(`[data-mark="${name}"]`);
  }

  function show() {
    const names = [...Object.keys(ENDS), ...corners.map((corner, i) => String(i))];
    if (layer.children.length !== names.length) {
      layer.replaceChildren(
        ...names.map((name) => {
          const made = element("g", { "data-mark": name, class: name in ENDS ? "trace-mark end" : "trace-mark", tabindex: "0", role: "button", "aria-describedby": "trace-keys" });
          made.append(element("circle", { class: "reach" }), element("circle", { class: "dot" }));
          return made;
        }),
      );
      sizes();
    }
    paint();
  }

  function sizes() {
    const px = 1 / (svg.getScreenCTM()?.a || 1);
    layer.querySelectorAll(".reach").forEach((each) => each.setAttribute("r", 14 * px));
    layer.querySelectorAll(".dot").forEach((each) => each.setAttribute("r", 5 * px));
  }

  function paint() {
    const glass = scale();
    outlines.forEach((each) => each.setAttribute("points", corners.map((corner) => corner.map(tenth).join(",")).join(" ")));
    for (const name of ["across", "up"]) {
      const [fromX, fromY, toX, toY] = line(name);
      const shown = svg.querySelector(`[data-trace-${name}]`);
      for (const each of [shown, shown.previousElementSibling]) {
        each.setAttribute("d", `M${fromX} ${fromY}L${toX} ${toY}`);
      }
    }
    for (const each of layer.children) {
      const name = each.dataset.mark;
      const [x, y] = place(name);
      each.setAttribute("transform", `translate(${x} ${y})`);
      const mm = glass && !(name in ENDS) ? glass.toGlass([x, y]).map(Math.round) : null;
      each.setAttribute("aria-label", ENDS[name] ?? `Corner ${Number(name) + 1}${mm ? `, ${mm[0]} mm across, ${mm[1]} mm up` : ""}`);
    }
    if (glass && corners.length > 0) {
      const mm = corners.map(glass.toGlass);
      const span = (part) => Math.round(Math.max(...mm.map((each) => each[part])) - Math.min(...mm.map((each) => each[part])));
      words.textContent = `${corners.length} corners, ${span(0)} mm wide, ${span(1)} mm high`;
    } else {
      words.textContent = "The two lengths give no scale: lay one level and one upright.";
    }
  }
}

function toSide([x, y], [fromX, fromY], [toX, toY]) {
  const long = (toX - fromX) ** 2 + (toY - fromY) ** 2;
  const share = long === 0 ? 0 : clamp(((x - fromX) * (toX - fromX) + (y - fromY) * (toY - fromY)) / long, 0, 1);
  return Math.hypot(x - fromX - share * (toX - fromX), y - fromY - share * (toY - fromY));
}

function number(value) {
  const typed = (value ?? "").trim().replace(",", ".").replace("−", "-");
  return typed === "" || Number.isNaN(Number(typed)) ? null : Number(typed);
}

function tenth(value) {
  return Math.round(value * 10) / 10 + 0;
}

function clamp(value, least, most) {
  return Math.min(Math.max(value, least), most);
}

function element(name, attributes) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  Object.entries(attributes).forEach(([key, value]) => made.setAttribute(key, value));
  return made;
}
