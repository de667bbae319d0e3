// The page of the day without a network: what the worker shows in the place of a job's own page, from what this device
// keeps. Its parts are templates of the page; its forms are those of the job's page, and the worker takes them.
import { actions, element, word } from "./page.js";
import { ago } from "../rest.js";
import { missingSeconds, nextPlace, placed, restedAt, shortfall } from "./method.js";
import { dayOf, hour, project } from "./project.js";
import { present, thing } from "./store.js";

const JOB = /^\/jobs\/([0-9a-f]{8}-[0-9a-f-]{27})/;
const ANY_JOB = "00000000-0000-0000-0000-000000000000";
const ANY_PHASE = "00000000-0000-0000-0000-000000000001";
const FILLING = ["inject", "pit-fill", "cure"];
const LOOK_EVERY_MS = 10_000;
const READING_HOLDS_S = 3600;

export async function day(main) {
  const who = await present();
  const kept = who && (await thing(who, "kit"));
  const id = JOB.exec(location.pathname)?.[1];
  if (!kept) {
    return;
  }
  const { aheadMs } = (await thing(who, "clock")) ?? { aheadMs: 0 };
  const { day } = kept;
  const waiting = await actions();
  const views = day.jobs.map((packed) => project(packed, waiting, day, aheadMs));
  const atWork = location.pathname === "/jobs/run" ? views.find((view) => view.state === "under-way") : undefined;
  const shown = id ? views.find((view) => view.id === id) : atWork;
  if (shown) {
    main.replaceChildren(...page(main, shown, day, aheadMs));
  } else if (id) {
    main.prepend(element("p", "no-network", "No network, and this job is none of those that this device keeps for today."));
  } else if (location.pathname !== "/jobs/today" || waiting.length > 0) {
    main.querySelector("[data-jobs]")?.replaceChildren(...views.map(line));
  }
  if (location.pathname !== "/jobs/today") {
    backToTheService(main);
  }
}

/** As soon as nothing waits and the service answers, its own page takes over; not under somebody's hands. */
function backToTheService(main) {
  let touched = false;
  main.addEventListener("input", () => (touched = true));
  const look = async () => {
    const queue = (await actions()).filter((action) => action.state !== "sent");
    if (queue.some((action) => location.pathname.includes(action.subject))) {
      return;
    }
    const answer = await fetch("/api/v1/me/device", { cache: "no-store" }).catch(() => null);
    if (answer?.ok && !touched) {
      location.reload();
    } else if (answer?.ok && !main.querySelector("[data-again]")) {
      const again = element("p", "no-network", "The network is back. ");
      again.dataset.again = "";
      const link = element("a", "", "Show the page of the service");
      link.href = location.pathname;
      again.append(link);
      main.prepend(again);
    }
  };
  setInterval(look, LOOK_EVERY_MS);
  window.addEventListener("online", look);
  document.addEventListener("kept", ({ detail }) => {
    if (detail.left === 0) {
      look();
    } else if (!touched && (detail.dropped || detail.renewed)) {
      location.reload();
    }
  });
}

function line(view) {
  const item = element("li", "split");
  const link = element("a", "plate", view.job.registration);
  link.href = `/jobs/${view.id}${view.state === "under-way" || view.state === "inspected" ? "/run" : ""}`;
  item.append(link, element("span", "", `Job ${view.job.number}, ${view.job.depotName}`), element("span", "", word(view.state)));
  return item;
}

function page(main, view, day, aheadMs) {
  const part = (name) => filled(main, name, view);
  const parts = [];
  if (!navigator.onLine || location.pathname !== "/jobs/today") {
    parts.push(element("p", "no-network", "From this device. What you do is kept here and sent as soon as there is a network."));
  }
  const repairs = view.job.work === "repair";
  view.placed = repairs ? placed(view.method, view.phases) : [];
  view.nowMs = Date.now() - aheadMs;
  const at = view.running || view.state !== "under-way" ? null : following(view);
  const next = at === null ? null : view.method.steps[at].kind;
  const shown = view.running?.kind ?? next;
  const place = view.running ? (view.placed.find((phase) => phase.id === view.running.id)?.place ?? -1) : (at ?? -1);
  parts.push(head(view, shown, place));
  if (view.state === "approved" || view.state === "planned") {
    parts.push(about(view), start(part("start"), view, day));
    return parts;
  }
  if (view.state !== "under-way" && view.state !== "inspected") {
    parts.push(element("p", "say", `${word(view.state)}. It counts once it is sent.`), about(view));
    return parts;
  }
  if (view.running) {
    parts.push(...clock(part("end"), view, place, aheadMs));
  } else if (next) {
    parts.push(...begin(part("begin"), view, at, day, aheadMs));
  }
  parts.push(about(view));
  if (view.job.work === "repair") {
    parts.push(conditions(view));
    if (view.state === "under-way") {
      const form = part("conditions");
      const more = element("details", "more");
      more.open = view.reading?.outcome !== "go";
      more.append(element("summary", "", view.reading ? "Read them again" : "Read them"), form);
      parts.push(more);
    }
  }
  parts.push(phases(view));
  if (!view.running && view.state === "under-way") {
    parts.push(part("another"));
  }
  const photo = part("photo");
  photo.querySelector(".note").textContent = view.photos === 1 ? "1 photo so far" : `${view.photos} photos so far`;
  parts.push(photo, part("note"), materials(part("material"), view, shown, day));
  if (view.job.work === "replacement") {
    parts.push(part("calibrate"));
  }
  if (view.missing.length > 0) {
    const missing = part("missing");
    missing.querySelector("ul").append(...view.missing.map((gap) => element("li", "", gap.sentence)));
    parts.push(missing);
  }
  if (view.state === "under-way") {
    parts.push(...view.job.brief.damages.map((damage) => measure(part("measure"), damage)));
    if (!view.running) {
      parts.push(passable(lookOver(part("look-over"), main, view), view));
    }
    parts.push(part("abandon"));
  } else {
    const close = part(view.job.work === "repair" ? "close" : "close-replacement");
    const lots = close.querySelector("select[name=resinLot]");
    lots?.replaceChildren(option("", view.used.length > 0 ? "as written above" : "choose"), ...resins(day));
    if (view.toBeJudged) {
      parts.push(element("p", "say", "What you found is judged once it is sent. If it is not good enough, the work goes on."));
    }
    parts.push(close, part("again"));
  }
  return parts;
}

/** A template of the page with this job's address, and keys of its own in its forms. */
function filled(main, name, view) {
  templates ??= new Map([...main.querySelectorAll("template[data-part]")].map((each) => [each.dataset.part, each]));
  const made = templates.get(name).content.cloneNode(true).firstElementChild;
  const forms = made.matches("form") ? [made] : [...made.querySelectorAll("form")];
  for (const form of forms) {
    form.setAttribute("action", form.getAttribute("action").replace(ANY_JOB, view.id).replace(ANY_PHASE, view.running?.id ?? ""));
    for (const key of form.querySelectorAll("input[name=idempotencyKey], input[name=phase]")) {
      key.value = crypto.randomUUID();
    }
    for (const during of form.querySelectorAll("input[name=duringPhase]")) {
      during.value = (view.running ?? view.phases.at(-1))?.id ?? "";
    }
  }
  return made;
}
let templates;

/** The place of what comes next; null where nothing does. */
function following(view) {
  return view.job.work === "repair" ? nextPlace(view.method, view.phases) : view.phases.length === 0 ? 0 : null;
}

function head(view, shown, place) {
  const made = element("div", "phase-head");
  const title = shown ? word(shown) : view.state === "under-way" ? "Look over" : word(view.state);
  const of = shown && place >= 0 && view.job.work === "repair" ? `${place + 1} of ${view.method.steps.length}` : "";
  made.append(element("h1", "phase", title), element("span", "of", of));
  return made;
}

/** Nothing is passed that is not whole. */
function passable(part, view) {
  if (view.job.work === "repair") {
    const done = new Set(view.placed.map((phase) => phase.place));
    const missing = view.method.steps.filter((step, at) => step.required && !done.has(at)).map((step) => word(step.kind));
    const answered = view.job.overrides.some((each) => each.gap === "phases");
    if (missing.length > 0 && !answered) {
      part.querySelector("button[value=true]").replaceWith(element("span", "note", `Passed comes after: ${[...new Set(missing)].join(", ")}.`));
    }
  }
  return part;
}

function about(view) {
  const made = element("details", "more");
  made.append(element("summary", "", `${view.job.registration}, job ${view.job.number}, ${view.job.brief.fleet}`));
  const drawing = element("div", "drawn");
  drawing.append(document.importNode(new DOMParser().parseFromString(view.drawing, "text/html").body.firstElementChild, true));
  const lines = element("ul", "lines");
  lines.append(
    ...view.job.brief.damages.map((damage) =>
      element("li", "", `${damage.number} · ${word(damage.kind)}, ${damage.diameterMm} mm. ${damage.sentence}`),
    ),
    element("li", "", `${view.job.brief.depot.name}, ${view.job.brief.depot.address}. ${view.job.brief.depot.contact}`),
    ...view.cautions.map((caution) => element("li", "", caution)),
  );
  const pictures = element("ul", "previews");
  for (const name of view.job.brief.damages.flatMap((damage) => damage.photos)) {
    const picture = document.createElement("img");
    picture.src = `/api/v1/jobs/${view.id}/brief-photos/${name}?size=small`;
    picture.alt = "Photo of the damage";
    const item = element("li");
    item.append(picture);
    pictures.append(item);
  }
  made.append(drawing, lines, pictures);
  return made;
}

function start(form, view, day) {
  const methods = form.querySelector("select[name=method]");
  methods.replaceChildren(...day.methods.map((each) => option(each.id, each.method.name)));
  form.querySelector("[data-methods]").hidden = view.job.work !== "repair" || day.methods.length < 2;
  return form;
}

function clock(form, view, place, aheadMs) {
  const phase = view.running;
  const shown = element("p", "clock");
  shown.setAttribute("role", "timer");
  const before = shortfall(view.method, view.phases.filter((each) => each.endedAt !== null));
  const asked = Math.max(view.method.steps[place]?.leastSeconds ?? 0, phase.requiredSeconds ?? 0);
  const least = phase.kind === "cure" && before?.kind === "cure" ? before.missing : asked;
  const tick = () => (shown.textContent = minutes((Date.now() - aheadMs - phase.startedAt) / 1000));
  tick();
  setInterval(tick, 500);
  const words = least > 0 && view.job.work === "repair" ? [element("p", "say", `At least ${minutes(least)}.`)] : [];
  if (phase.kind === "cure") {
    words.push(filled(document, "goggles-on", view));
    if (view.method.cureDoseJPerCm2 !== null) {
      words.push(filled(document, "dose", view));
    }
  }
  if (phase.kind !== "vacuum") {
    form.querySelector("[data-clear]").remove();
  }
  return [shown, ...words, form];
}

function begin(form, view, at, day, aheadMs) {
  const repairs = view.job.work === "repair";
  const { kind, required } = view.method.steps[at];
  const after = view.method.steps[at + 1];
  const words = filled(document, `say-${kind}`, view);
  const lacks = repairs ? shortfall(view.method, view.phases) : null;
  const button = form.querySelector("button[name=kind]");
  button.value = kind;
  button.textContent = `${!lacks ? "Start" : lacks.addsUp ? "Go on" : "Again"}: ${word(kind)}`;
  if (kind === "cure" && repairs) {
    lamps(form.querySelector("[data-cure]"), view, day);
  } else {
    form.querySelector("[data-cure]").remove();
  }
  const said = [];
  if (lacks) {
    const box = element("div", "shortfall");
    box.setAttribute("role", "status");
    box.append(
      element("p", "say", `${word(lacks.kind)}: ${minutes(lacks.done)} of ${minutes(lacks.required)}: ${minutes(lacks.missing)} are missing.`),
      element("p", "note", lacks.addsUp ? "Under the lamp times add up: put it on again." : "Done once more, long enough, it counts."),
    );
    said.push(box);
  }
  const until = repairs ? restedAt(view.method, view.phases, kind) : null;
  if (until !== null && until > view.nowMs) {
    said.push(resting(button, until, aheadMs));
  }
  said.push(words);
  if (repairs && FILLING.includes(kind)) {
    const old = view.reading && readSeconds(view) > READING_HOLDS_S;
    if (!view.reading || old) {
      said.push(element("p", "say", old ? "Read air and glass again: the last reading is over an hour old." : "Read air and glass first."));
    } else if (view.reading.outcome !== "go" && !view.answered) {
      said.push(element("p", "say", "The conditions speak against it: " + view.reading.objections[0]?.reason));
      button.setAttribute("aria-disabled", "true");
    }
  }
  if (repairs && after && (lacks ? after.kind !== "cure" : !required)) {
    const skip = filled(document, "begin", view);
    skip.querySelector("[data-cure]").remove();
    const other = skip.querySelector("button[name=kind]");
    other.value = after.kind;
    other.classList.remove("main");
    other.textContent = `${lacks ? "Leave it short." : "Not needed here."} Start: ${word(after.kind)}`;
    return [...said, form, skip];
  }
  return [...said, form];
}

function lamps(cure, view, day) {
  const named = (lamp) => {
    const [reading] = lamp.readings;
    const read = reading ? ` · ${reading.irradianceMwPerCm2} mW/cm² at ${reading.distanceMm} mm` : " · never read";
    return option(lamp.id, lamp.name + read + (lamp.readingDue ? " · reading due" : ""));
  };
  cure.querySelector("select[name=lamp]").append(...day.lamps.map(named));
  const lines = element("ul", "lines");
  const bare = day.lamps.filter((lamp) => lamp.secondsWithoutGoggles !== null);
  lines.append(
    ...bare.map(({ name, secondsWithoutGoggles }) => {
      const longest = secondsWithoutGoggles >= 28_800 ? "a working day" : `${Math.round(secondsWithoutGoggles)} s in a day`;
      return element("li", "", `${name}: without goggles no longer than ${longest} at its distance (2006/25/EC)`);
    }),
  );
  cure.querySelector(".choice:has([name=goggles])").before(lines);
}

/** Counts down; the button waits for it. */
function resting(button, until, aheadMs) {
  const said = element("p", "say");
  said.id = "rest";
  const left = () => Math.max(0, Math.ceil((until - (Date.now() - aheadMs)) / 1000));
  const show = () => {
    said.textContent = left() > 0 ? `Let it rest: ${minutes(left())} more` : "It has rested.";
    if (left() === 0) {
      clearInterval(timer);
      button.removeAttribute("aria-disabled");
    }
  };
  button.setAttribute("aria-disabled", "true");
  button.form.addEventListener("submit", (event) => left() > 0 && event.submitter === button && event.preventDefault());
  const timer = setInterval(show, 500);
  show();
  return said;
}

function readSeconds(view) {
  return (view.nowMs - Date.parse(view.reading.readAt)) / 1000;
}

function conditions(view) {
  const { reading } = view;
  const made = element("section", "part");
  made.id = "conditions";
  made.append(element("h2", "", "Air and glass"));
  if (!reading) {
    return made;
  }
  const old = readSeconds(view) > READING_HOLDS_S;
  const signal = element("div", `signal ${reading.outcome === "stop" ? "wait stop" : reading.outcome}${old ? " aged" : ""}`);
  const header = element("header");
  header.append(element("h3", "", word(reading.outcome)), element("span", "age", ago(readSeconds(view))));
  const inside = element("div", "inside");
  if (old) {
    inside.append(element("p", "say", "Too old: it counts for an hour. Read air and glass again."));
  }
  inside.append(...reading.objections.map((each) => element("p", "", `${each.reason} ${each.change}`)));
  inside.append(...reading.cautions.map((caution) => element("p", "", caution)));
  const read = reading.conditions;
  const sun = (view.sun.find((each) => each.bearingDegrees === read.bearingDegrees)?.windows ?? []).filter(
    (window) => dayOf(Date.parse(window.from), view.job.zone) === dayOf(view.nowMs, view.job.zone),
  );
  const figures = element("dl", "readings");
  const figure = (name, value) => {
    const row = element("div");
    row.append(element("dt", "", name), element("dd", "", value));
    figures.append(row);
  };
  figure("Glass", `${read.glassCelsius} °C`);
  figure("Air", `${read.airCelsius} °C, ${read.relativeHumidityPercent} %`);
  figure("Dew point", `${reading.dewPointCelsius.toFixed(1)} °C`);
  if (sun.length > 0) {
    const span = (window) => `${hour(Date.parse(window.from), view.job.zone)} to ${hour(Date.parse(window.to), view.job.zone)}`;
    figure("Sun on this glass today", sun.map(span).join(", "));
  }
  figure("Read", hour(Date.parse(reading.readAt), view.job.zone));
  inside.append(figures);
  if (reading.onDevice) {
    inside.append(element("p", "note", "Worked out on this device; the service works it out again."));
  }
  signal.append(header, inside);
  made.append(signal);
  return made;
}

function phases(view) {
  const made = element("ol", "phases");
  made.append(
    ...view.phases.map((phase, at) => {
      const item = element("li");
      const short = view.placed[at] ? missingSeconds(view.method, view.placed[at].place, phase) : 0;
      const what = element("span", "what", word(phase.kind));
      const length = phase.endedAt === null ? "running" : minutes((phase.endedAt - phase.startedAt) / 1000);
      const clear = phase.clear === true ? "clear of air" : phase.clear === false ? "air still seen" : null;
      const notes = [phase.reading, clear, phase.backReason && `back: ${phase.backReason}`, phase.waits && "waits to be sent"];
      what.append(element("span", "note", notes.filter(Boolean).map((note) => ` ${note}`).join(",")));
      if (short > 0) {
        what.append(element("span", "short", `too short: ${minutes(short)} missing`));
      }
      const own = view.notes.filter((note) => note.phase === phase.id).map((note) => note.text);
      const shots = view.shots.filter((shot) => shot === phase.id).length;
      const below = shots > 0 ? [...own, shots === 1 ? "1 photo" : `${shots} photos`] : own;
      what.append(...below.map((text) => element("span", "note of-phase", text)));
      item.append(
        element("span", "place", String(at + 1)),
        what,
        element("span", "", `${hour(phase.startedAt, view.job.zone)} · ${length}`),
      );
      return item;
    }),
  );
  return made;
}

function materials(form, view, shown, day) {
  const fits = day.lots.filter((lot) => goesInto(lot, view, day));
  const now = fits.filter((lot) => kindOf(lot, day)?.phases.includes(shown));
  const group = (label, lots) => {
    const made = element("optgroup");
    made.label = label;
    made.append(...lots.map((lot) => option(lot.id, `${word(lot.kind)} ${lot.number} · ${lot.resin}`)));
    return made;
  };
  const groups = now.length > 0 ? [group(`For: ${word(shown)}`, now)] : [];
  form.querySelector("select[name=lot]").append(...groups, group(now.length > 0 ? "Other" : "In stock", fits.filter((lot) => !now.includes(lot))));
  const places = day.places ?? [];
  form.querySelector("select[name=place]").append(...places.map((place) => option(place.id, place.name)));
  form.querySelector("[data-places]").hidden = places.length === 0;
  const used = form.querySelector("[data-used]");
  used.replaceChildren(...view.used.map((use) => element("li", "", word(use))));
  return form;
}

function goesInto(lot, view, day) {
  return kindOf(lot, day)?.works.includes(view.job.work) ?? true;
}

function kindOf(lot, day) {
  return day.lotKinds?.find((each) => each.kind === lot.kind);
}

function measure(part, damage) {
  part.querySelector("input[name=damage]").value = damage.id;
  part.querySelector("summary").textContent = `Measure it again: ${damage.number} · ${word(damage.kind)}, ${damage.diameterMm} mm by the brief`;
  for (const field of part.querySelectorAll("[id]")) {
    part.querySelector(`label[for="${field.id}"]`)?.setAttribute("for", `${field.id}-${damage.number}`);
    field.id = `${field.id}-${damage.number}`;
  }
  return part;
}

/** The form asks what the sheets of the job's brief read; only the service judges it. */
function lookOver(section, main, view) {
  const here = section.querySelector("[data-found-here]");
  for (const [at, { damage, number, kind, asks }] of view.job.asked.entries()) {
    const found = filled(main, "found", view);
    found.querySelector("legend").textContent = `${number} · ${word(kind)}, finished`;
    found.querySelector("input[type=hidden]").value = damage;
    const asked = { ...asks, anyLength: asks.pit || asks.length || asks.across || asks.place };
    for (const field of found.querySelectorAll("[data-asks]")) {
      if (!asked[field.dataset.asks]) {
        field.remove();
      }
    }
    for (const field of found.querySelectorAll("[name]")) {
      field.name = field.name.replace("[0]", `[${at}]`);
    }
    for (const field of found.querySelectorAll("[id]")) {
      const id = field.id.replace("-0-", `-${at}-`);
      found.querySelector(`label[for="${field.id}"]`)?.setAttribute("for", id);
      field.id = id;
    }
    here.append(found);
  }
  if (view.job.acceptance && view.job.reason) {
    section.querySelector("h2").after(element("p", "say", `Not passed: ${view.job.reason}`));
  }
  return section;
}

function resins(day) {
  return day.lots.filter((lot) => lot.kind === "resin").map((lot) => option(lot.id, `${lot.number} · ${lot.resin}`));
}

function option(value, label) {
  const made = element("option", "", label);
  made.value = value;
  return made;
}

function minutes(seconds) {
  const whole = Math.max(0, Math.floor(seconds));
  const two = (number) => String(number).padStart(2, "0");
  return `${two(Math.floor(whole / 60))}:${two(whole % 60)}`;
}
