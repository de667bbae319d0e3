// A list whose order the user gives: its rows hold hidden inputs, sent in the order they stand in.
// Rows have two submit buttons, up and down, which work by themselves. Here they move the row at once, the arrow keys do
// the same on the row's grip, and the grip can be dragged. A "change" event on the list says that the order is new, and
// data-unkept what is not true any more until it is kept.

export function reorder(list) {
  list.classList.add("ready");
  const live = document.createElement("p");
  live.className = "away-from-sight";
  live.setAttribute("role", "status");
  list.after(live);

  for (const grip of list.querySelectorAll(".grip")) {
    grip.removeAttribute("aria-hidden");
    grip.tabIndex = 0;
    grip.setAttribute("role", "button");
    grip.setAttribute("aria-label", `Move ${nameOf(grip.closest("li"))} with the arrow keys`);
  }

  list.addEventListener("click", (event) => {
    const button = event.target.closest("button[name=up], button[name=down]");
    if (button) {
      event.preventDefault();
      move(button.closest("li"), button.name === "up" ? -1 : 1);
      button.focus();
    }
  });

  list.addEventListener("keydown", (event) => {
    const step = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (step && event.target.closest(".grip")) {
      event.preventDefault();
      move(event.target.closest("li"), step);
      event.target.focus();
    }
  });

  list.addEventListener("pointerdown", (event) => {
    const grip = event.target.closest(".grip");
    if (!grip) {
      return;
    }
    event.preventDefault();
    const row = grip.closest("li");
    const before = rows().indexOf(row);
    row.classList.add("moving");
    grip.setPointerCapture(event.pointerId);
    const follow = (at) => {
      const other = rows().find((each) => {
        const box = each.getBoundingClientRect();
        return each !== row && at.clientY >= box.top && at.clientY <= box.bottom;
      });
      if (other) {
        const down = rows().indexOf(other) > rows().indexOf(row);
        other[down ? "after" : "before"](row);
        grip.setPointerCapture(event.pointerId);
      }
    };
    const stop = () => {
      grip.removeEventListener("pointermove", follow);
      row.classList.remove("moving");
      if (rows().indexOf(row) !== before) {
        told(row);
      }
    };
    grip.addEventListener("pointermove", follow);
    grip.addEventListener("pointerup", stop, { once: true });
    grip.addEventListener("pointercancel", stop, { once: true });
  });

  function move(row, step) {
    const other = rows()[rows().indexOf(row) + step];
    if (other) {
      other[step < 0 ? "before" : "after"](row);
      told(row);
    }
  }

  function told(row) {
    list.classList.add("unkept");
    live.textContent = `${nameOf(row)}: ${rows().indexOf(row) + 1} of ${rows().length}. ${list.dataset.unkept ?? ""}`;
    list.dispatchEvent(new Event("change", { bubbles: true }));
  }

  function rows() {
    return [...list.children];
  }

  function nameOf(row) {
    return row.querySelector(".what")?.textContent.trim() ?? "row";
  }
}
