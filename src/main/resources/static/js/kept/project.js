// A job as it stands on this device: what the service told, and what was done since then.
import { placeOf } from "./method.js";
import { cureSeconds, dewPointCelsius, readiness } from "./readiness.js";

/** Times in ms by the service's clock. What was refused has not happened. */
export function project(packed, actions, day, aheadMs) {
  const { job } = packed;
  const view = {
    ...packed,
    id: job.id,
    state: job.state,
    phases: job.phases.map((phase) => ({ ...phase, startedAt: Date.parse(phase.startedAt), endedAt: ms(phase.endedAt), clear: phase.clearOfAir })),
    reading: job.readings.at(-1) ?? null,
    photos: job.photos.length,
    used: packed.used.map((use) => [use.kind, use.lotNumber, use.amount].filter(Boolean).join(" ")),
    notes: job.notes.map((note) => ({ text: note.text, phase: note.phase })),
    shots: job.photos.map((photo) => photo.phase),
    waiting: 0,
  };
  const reading = view.reading;
  view.answered =
    reading !== null &&
    job.overrides.some((each) => each.gap === "conditions" && Date.parse(each.madeAt) >= Date.parse(reading.arrivedAt));
  for (const action of actions) {
    if (action.subject === job.id && action.state !== "refused") {
      apply(view, action, action.doneAt - (action.aheadMs ?? aheadMs), day);
      view.waiting += action.state === "waiting" ? 1 : 0;
    }
  }
  view.phases.sort((one, other) => one.startedAt - other.startedAt);
  view.running = view.phases.findLast((phase) => phase.endedAt === null) ?? null;
  return view;
}

function apply(view, action, atMs, day) {
  const { fields } = action;
  const { job } = view;
  const waits = action.state === "waiting";
  switch (action.verb) {
    case "start": {
      view.state = "under-way";
      const chosen = day.methods.find((each) => each.id === fields.method);
      view.method = chosen ? chosen.method : view.method;
      break;
    }
    case "phases":
      if (!view.phases.some((phase) => phase.id === fields.phase)) {
        view.phases.push({
          id: fields.phase,
          kind: fields.kind,
          startedAt: atMs,
          endedAt: null,
          backReason: fields.reason,
          requiredSeconds: fields.kind === "cure" ? required(view, fields, day) : null,
          waits,
        });
      }
      break;
    case "phases/…/end": {
      const id = action.path.split("/").at(-2);
      const phase = view.phases.find((each) => each.id === id);
      if (phase && phase.endedAt === null) {
        phase.endedAt = atMs;
        phase.reading = fields.reading || phase.reading;
        phase.clear = fields.clearOfAir ? fields.clearOfAir === "true" : null;
        phase.waits = waits;
      }
      break;
    }
    case "conditions":
      view.reading = read(view, fields, atMs);
      view.answered = false;
      break;
    case "photos":
      view.photos++;
      view.shots.push(fields.duringPhase);
      break;
    case "notes":
      view.notes.push({ text: fields.text, phase: fields.duringPhase });
      break;
    case "materials": {
      const lot = day.lots.find((each) => each.id === fields.lot);
      view.used.push([lot?.kind, lot?.number, fields.amount].filter(Boolean).join(" "));
      break;
    }
    case "inspect":
      view.state = fields.passed === "true" ? "inspected" : "under-way";
      view.toBeJudged = waits && view.state === "inspected" && job.asked.length > 0;
      break;
    case "close":
      view.state = "closed";
      break;
    case "abandon":
      view.state = "abandoned";
      break;
    default: // measured, calibrated: nothing of the page depends on it
  }
}

function required(view, fields, day) {
  const lamp = day.lamps.find((each) => each.id === fields.lamp);
  const at = placeOf(view.method, view.phases, "cure");
  return cureSeconds(view.method, lamp, number(fields.lampDistanceMm), fields.side, at);
}

/** Null where a figure is none: the service will say so. */
function read(view, fields, atMs) {
  const conditions = {
    airCelsius: number(fields.airCelsius),
    glassCelsius: number(fields.glassCelsius),
    relativeHumidityPercent: number(fields.relativeHumidityPercent),
    light: fields.light,
    rain: fields.rain === "true",
    glassDry: fields.glassDry === "true",
    bearingDegrees: number(fields.bearingDegrees),
  };
  const { airCelsius, glassCelsius, relativeHumidityPercent } = conditions;
  if (airCelsius === null || glassCelsius === null || !(relativeHumidityPercent >= 1 && relativeHumidityPercent <= 100)) {
    return null;
  }
  return {
    ...readiness(conditions, view.method.limits, view, atMs, (at) => hour(at, view.job.zone)),
    conditions,
    dewPointCelsius: dewPointCelsius(airCelsius, relativeHumidityPercent),
    readAt: new Date(atMs).toISOString(),
    onDevice: true,
  };
}

/** As the service reads what people type: a decimal comma is as good as a point. */
export function number(typed) {
  const text = (typed ?? "").trim().replace(",", ".").replace("−", "-");
  return text === "" || !Number.isFinite(Number(text)) ? null : Number(text);
}

export function hour(atMs, zone) {
  return new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: zone }).format(atMs);
}

export function dayOf(atMs, zone) {
  return new Intl.DateTimeFormat("en-GB", { dateStyle: "short", timeZone: zone }).format(atMs);
}

function ms(time) {
  return time === null ? null : Date.parse(time);
}
