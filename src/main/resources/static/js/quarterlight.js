// Everything here is a comfort: each page works without it.
import "./keys.js";
import "./forms.js";
import "./dialogs.js";
import "./round.js";
import { reorder } from "./reorder.js";
import { glassKeys } from "./glass-keys.js";
import { glassPick } from "./glass-pick.js";
import { glassCourse } from "./glass-course.js";
import { glassLegs } from "./glass-legs.js";
import { glassTrace } from "./glass-trace.js";
import { progress } from "./progress.js";
import { files } from "./files.js";
import { filtersMenu } from "./filters.js";
import { board, gestures } from "./board.js";
import { clock } from "./clock.js";
import { reading, rest } from "./rest.js";
import "./kept/page.js";
import { day } from "./kept/runner.js";
import { reports } from "./kept/reports.js";
import { scan } from "./scan.js";
import { keep } from "./keep.js";

function ready(within) {
  const all = (selector) => [...(within.matches?.(selector) ? [within] : []), ...within.querySelectorAll(selector)];
  all("[data-reorder]").forEach(once("reorder", reorder));
  all("[data-glass-pick]").forEach(once("glassPick", glassPick));
  all("svg.whole").forEach(once("glassKeys", glassKeys));
  all("[data-course]").forEach(once("glassCourse", glassCourse));
  all("[data-legs]").forEach(once("glassLegs", glassLegs));
  all("[data-glass-trace]").forEach(once("glassTrace", glassTrace));
  all("[data-progress-events]").forEach(once("progress", progress));
  all("[data-files]").forEach(once("files", files));
  all("[data-board]").forEach(once("board", board));
  all("[data-clock]").forEach(once("clock", clock));
  all("[data-rest]").forEach(once("rest", rest));
  all("[data-reading]").forEach(once("reading", reading));
  all("[data-day]").forEach(once("day", day));
  all("[data-reports]").forEach(once("reports", reports));
  all("[data-scan]").forEach(once("scan", scan));
  all("form[data-keep]").forEach(once("keep", keep));
  all("[data-gestures]").forEach(once("gestures", gestures));
  all("details.filters-menu").forEach(once("filters", filtersMenu));
}

const started = new WeakMap();
function once(name, start) {
  return (element) => {
    const names = started.get(element) ?? new Set();
    if (!names.has(name)) {
      started.set(element, names.add(name));
      start(element);
    }
  };
}

ready(document.body);
document.body.addEventListener("htmx:load", (event) => ready(event.detail.elt));
