// The page of the day without a network: what the worker shows in the place of a job's own page, from what this device
// keeps. Its parts are templates of the page; its forms are those of the job's page, and the worker takes them.
import { actions, element, word } from "./page.js";
import { next as nextPhase, place } from "./method.js";
import { hour, project } from "./project.js";
import { present, thing } from "./store.js";

const JOB = /^\/jobs\/([0-9a-f]{8}-[0-9a-f-]{27})/;
const ANY_JOB = "00000000-0000-0000-0000-000000000000";
const ANY_PHASE = "00000000-0000-0000-0000-000000000001";
const FILLING = ["inject", "pit-fill", "cure"];
const LOOK_EVERY_MS = 10_000;

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
  const following = view.running ? null : view.state === "under-way" ? next(view) : null;
  const shown = view.running?.kind ?? following;
  parts.push(head(view, shown));
  if (view.state === "approved" || view.state === "planned") {
    parts.push(about(view), start(part("start"), view, day));
    return parts;
  }
  if (view.state !== "under-way" && view.state !== "inspected") {
    parts.push(element("p", "say", `${word(view.state)}. It counts once it is sent.`), about(view));
    return parts;
  }
  if (view.running) {
    parts.push(...clock(part("end"), view, aheadMs));
  } else if (following) {
    parts.push(...begin(part("begin"), main, view, following, day));
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
  parts.push(photo, part("note"), materials(part("material"), view, day));
  if (view.job.work === "replacement") {
    parts.push(part("calibrate"));
  }
  if (view.state === "under-way") {
    parts.push(...view.job.brief.damages.map((damage) => measure(part("measure"), damage)));
    if (!view.running) {
      parts.push(lookOver(part("look-over"), main, view));
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
  }
  return made;
}
let templates;

function next(view) {
  return view.job.work === "repair" ? nextPhase(view.method, view.phases) : view.phases.length === 0 ? "prepare" : null;
}

function head(view, shown) {
  const made = element("div", "phase-head");
  const title = shown ? word(shown) : view.state === "under-way" ? "Look over" : word(view.state);
  const of = shown && view.job.work === "repair" ? `${place(view.method, shown) + 1} of ${view.method.steps.length}` : "";
  made.append(element("h1", "phase", title), element("span", "of", of));
  return made;
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

function clock(form, view, aheadMs) {
  const phase = view.running;
  const shown = element("p", "clock");
  shown.setAttribute("role", "timer");
  const least = Math.max(view.method.steps.find((step) => step.kind === phase.kind)?.leastSeconds ?? 0, phase.requiredSeconds ?? 0);
  const tick = () => (shown.textContent = minutes((Date.now() - aheadMs - phase.startedAt) / 1000));
  tick();
  setInterval(tick, 500);
  const words = least > 0 ? [element("p", "say", `At least ${minutes(least)}.`)] : [];
  if (phase.kind === "cure") {
    words.push(filled(document, "goggles-on", view));
    if (view.method.cureDoseJPerCm2 !== null) {
      words.push(filled(document, "dose", view));
    }
  }
  return [shown, ...words, form];
}

function begin(form, main, view, kind, day) {
  const words = filled(main, `say-${kind}`, view);
  const button = form.querySelector("button[name=kind]");
  button.value = kind;
  button.textContent = `Start: ${word(kind)}`;
  const cure = form.querySelector("[data-cure]");
  if (kind === "cure" && view.job.work === "repair") {
    cure.querySelector("select[name=lamp]").append(
      ...day.lamps.map((lamp) => option(lamp.id, lamp.name + (lamp.readings.length === 0 ? " · never read" : lamp.readingDue ? " · reading due" : ""))),
    );
  } else {
    cure.remove();
  }
  const said = [words];
  if (view.job.work === "repair" && FILLING.includes(kind) && (!view.reading || (view.reading.outcome !== "go" && !view.answered))) {
    const why = view.reading ? "The conditions speak against it: " + view.reading.objections[0]?.reason : "Read air and glass first.";
    said.push(element("p", "say", why));
    if (view.reading) {
      button.setAttribute("aria-disabled", "true");
    }
  }
  const step = view.method.steps[place(view.method, kind)];
  const after = view.method.steps[place(view.method, kind) + 1];
  if (view.job.work === "repair" && step && !step.required && after) {
    const skip = filled(main, "begin", view);
    skip.querySelector("[data-cure]").remove();
    const other = skip.querySelector("button[name=kind]");
    other.value = after.kind;
    other.classList.remove("main");
    other.textContent = `Not needed here. Start: ${word(after.kind)}`;
    return [...said, form, skip];
  }
  return [...said, form];
}

function conditions(view) {
  const { reading } = view;
  const made = element("section", "part");
  made.id = "conditions";
  made.append(element("h2", "", "Air and glass"));
  if (!reading) {
    return made;
  }
  const signal = element("div", `signal ${reading.outcome === "stop" ? "wait stop" : reading.outcome}`);
  const header = element("header");
  header.append(element("h3", "", word(reading.outcome)));
  const inside = element("div", "inside");
  inside.append(...reading.objections.map((each) => element("p", "", `${each.reason} ${each.change}`)));
  inside.append(...reading.cautions.map((caution) => element("p", "", caution)));
  const read = reading.conditions;
  const sun = view.sun.find((each) => each.bearingDegrees === read.bearingDegrees)?.windows ?? [];
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
      const what = element("span", "what", word(phase.kind));
      const length = phase.endedAt === null ? "running" : minutes((phase.endedAt - phase.startedAt) / 1000);
      const notes = [phase.reading, phase.backReason && `back: ${phase.backReason}`, phase.waits && "waits to be sent"];
      what.append(element("span", "note", notes.filter(Boolean).map((note) => ` ${note}`).join(",")));
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

function materials(form, view, day) {
  const lots = form.querySelector("select[name=lot]");
  lots.append(...day.lots.map((lot) => option(lot.id, `${word(lot.kind)} ${lot.number} · ${lot.resin}`)));
  const used = form.querySelector("[data-used]");
  used.replaceChildren(...view.used.map((use) => element("li", "", word(use))));
  return form;
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
