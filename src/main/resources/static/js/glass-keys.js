// A drawing of a glass by keys: arrows walk its damages, + and - go nearer and back, 0 shows the whole glass. Where one
// points at a place, arrows move the marker instead.

const NEAREST = 8;
const STEP = 1.6;

export function glassKeys(svg) {
  const asDrawn = svg.getAttribute("viewBox");
  const whole = box(svg);
  const damages = [...svg.querySelectorAll("a[data-damage]")].sort((one, other) => number(one) - number(other));
  const walks = damages.length > 0 && !svg.hasAttribute("data-glass-pick");
  svg.setAttribute("aria-keyshortcuts", walks ? "ArrowRight ArrowLeft + - 0" : "+ - 0");
  if (damages.length === 0) {
    svg.setAttribute("tabindex", "0");
  }
  svg.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) {
      return;
    }
    const done =
      event.key === "+" || event.key === "="
        ? zoom(STEP)
        : event.key === "-"
          ? zoom(1 / STEP)
          : event.key === "0"
            ? show(whole)
            : walks && (event.key === "ArrowRight" || event.key === "ArrowDown")
              ? walk(1)
              : walks && (event.key === "ArrowLeft" || event.key === "ArrowUp")
                ? walk(-1)
                : false;
    if (done) {
      event.preventDefault();
    }
  });

  function walk(by) {
    const at = damages.indexOf(document.activeElement);
    const next = damages[(at + by + damages.length) % damages.length];
    next.focus();
    if (box(svg).width < whole.width) {
      show(around(middleOf(next), box(svg).width));
    }
    return true;
  }

  function zoom(by) {
    const width = Math.min(whole.width, Math.max(whole.width / NEAREST, box(svg).width / by));
    return show(width === whole.width ? whole : around(middle(), width));
  }

  function middle() {
    const focused = damages.includes(document.activeElement) ? document.activeElement : null;
    const marker = svg.querySelector(".pick-marker:not([hidden])");
    const now = box(svg);
    return focused || marker ? middleOf(focused ?? marker) : { x: now.x + now.width / 2, y: now.y + now.height / 2 };
  }

  function middleOf(element) {
    const rectangle = element.getBoundingClientRect();
    const point = new DOMPoint(rectangle.x + rectangle.width / 2, rectangle.y + rectangle.height / 2);
    return point.matrixTransform(svg.getScreenCTM().inverse());
  }

  function around(point, width) {
    const height = (width * whole.height) / whole.width;
    return {
      x: within(point.x - width / 2, whole.x, whole.x + whole.width - width),
      y: within(point.y - height / 2, whole.y, whole.y + whole.height - height),
      width,
      height,
    };
  }

  function show(part) {
    const { x, y, width, height } = part;
    svg.setAttribute("viewBox", part === whole ? asDrawn : `${x} ${y} ${width} ${height}`);
    return true;
  }
}

function box(svg) {
  const { x, y, width, height } = svg.viewBox.baseVal;
  return { x, y, width, height };
}

function number(element) {
  return Number(element.dataset.damage);
}

function within(value, least, most) {
  return Math.min(most, Math.max(least, value));
}
