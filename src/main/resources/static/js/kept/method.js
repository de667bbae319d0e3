// What comes next by a method, from what was done: phases with kind, startedAt, endedAt (ms), requiredSeconds and clear. A
// kind may stand more than once in the order, so each phase is first put at its place, as the service does.

const FILLS = ["inject", "pit-fill"];

/** The place in the order; null where everything was done. What was done last may have to be done again. */
export function nextPlace(method, phases) {
  if (method.steps.length === 0) {
    return null;
  }
  if (phases.length === 0) {
    return 0;
  }
  const done = placed(method, phases);
  const last = done.at(-1);
  if (lacks(method, done)) {
    return last.place;
  }
  if (last.kind === "vacuum" && (cycles(method, done) < method.leastCycles || last.clear === false)) {
    const press = placeAfter(method, last.place, "pressure", []);
    if (press >= 0) {
      return press;
    }
  }
  const following = reached(done) + 1;
  return following < method.steps.length ? following : null;
}

export function next(method, phases) {
  const at = nextPlace(method, phases);
  return at === null ? null : method.steps[at].kind;
}

/** Where a phase of this kind would stand after these; −1 where the method has none of its kind. */
export function placeOf(method, phases, kind) {
  const done = placed(method, phases);
  return placeAfter(method, reached(done), kind, done.map((phase) => phase.place));
}

/** What the phase that ended last lacks: kind, done, required and missing in seconds, addsUp; null where it lacks nothing. */
export function shortfall(method, phases) {
  return phases.length === 0 ? null : lacks(method, placed(method, phases));
}

/** How many seconds a phase at its place is short of what is asked for; 0 for a cure, of which several add up. */
export function missingSeconds(method, at, phase) {
  const asks = at >= 0 && phase.kind !== "cure" && phase.endedAt !== null;
  return asks ? Math.max(0, (method.steps[at].leastSeconds ?? 0) - seconds(phase)) : 0;
}

/** When the rest before this kind of phase is over, in ms; null where there is none to wait for. */
export function restedAt(method, phases, kind) {
  const last = [...phases].sort((one, other) => one.startedAt - other.startedAt).at(-1);
  const turns = last && ((last.kind === "pressure" && kind === "vacuum") || (last.kind === "vacuum" && kind === "pressure"));
  return turns && last.endedAt !== null && method.restSeconds > 0 ? last.endedAt + 1000 * method.restSeconds : null;
}

/** The phases in the order in which they began, each with its place. */
export function placed(method, phases) {
  const done = [];
  let at = -1;
  for (const phase of [...phases].sort((one, other) => one.startedAt - other.startedAt)) {
    const place = placeAfter(method, at, phase.kind, done.map((each) => each.place));
    done.push({ ...phase, place });
    at = place < 0 ? at : place;
  }
  return done;
}

function reached(done) {
  return done.findLast((phase) => phase.place >= 0)?.place ?? -1;
}

/** At the same place, or ahead as far as nothing required is passed over, or else behind. */
function placeAfter(method, at, kind, done) {
  const places = placesOf(method, kind);
  if (places.length === 0 || places.includes(at)) {
    return places.length === 0 ? -1 : at;
  }
  const ahead = places.find((place) => place > at);
  const behind = places.findLast((place) => place < at);
  if (ahead === undefined || behind === undefined) {
    return ahead ?? places.at(-1);
  }
  const passesOver = method.steps.some((step, place) => place > at && place < ahead && step.required !== false && !done.includes(place));
  return passesOver ? behind : ahead;
}

function placesOf(method, kind) {
  return method.steps.map((step, place) => (step.kind === kind ? place : -1)).filter((place) => place >= 0);
}

function lacks(method, done) {
  const last = done.at(-1);
  if (last.endedAt === null || last.place < 0) {
    return null;
  }
  if (last.kind === "cure") {
    return cureAt(method, done, last.place);
  }
  const missing = missingSeconds(method, last.place, last);
  const required = method.steps[last.place].leastSeconds;
  return missing > 0 ? { kind: last.kind, done: seconds(last), required, missing, addsUp: false } : null;
}

/** Pressure, the rest after it and the vacuum, each as long as the method asks for. */
function cycles(method, done) {
  let count = 0;
  let pressed = null;
  for (const phase of done) {
    const longEnough = missingSeconds(method, phase.place, phase) === 0;
    if (phase.kind === "vacuum") {
      if (pressed && longEnough && rested(method, pressed, phase)) {
        count++;
      }
      pressed = longEnough ? null : pressed;
    } else if (phase.kind === "pressure" && longEnough) {
      pressed = phase;
    }
  }
  return count;
}

function rested(method, before, after) {
  return before.endedAt === null || (after.startedAt - before.endedAt) / 1000 >= (method.restSeconds ?? 0);
}

/** The last cure of the order counts for whatever was filled in before it, each other one for what comes before it there. */
function cureAt(method, done, at) {
  const isLast = at === placesOf(method, "cure").at(-1);
  const fills = done.filter((phase) => FILLS.includes(phase.kind) && (isLast || phase.place < at));
  const lastFill = Math.max(-Infinity, ...fills.map((phase) => phase.startedAt));
  const cures = done.filter((phase) => phase.kind === "cure" && (isLast || phase.place === at) && phase.startedAt >= lastFill);
  const cured = curedSeconds(cures);
  const required = Math.max(method.steps[at].leastSeconds ?? 0, ...cures.map((phase) => phase.requiredSeconds ?? 0));
  return cured < required ? { kind: "cure", done: cured, required, missing: required - cured, addsUp: true } : null;
}

/** What two phases tell of the same minutes counts once. */
function curedSeconds(cures) {
  let lit = 0;
  let until = -Infinity;
  for (const { startedAt, endedAt } of cures) {
    if (endedAt !== null && endedAt > until) {
      lit += endedAt - Math.max(startedAt, until);
      until = endedAt;
    }
  }
  return lit / 1000;
}

function seconds(phase) {
  return Math.max(0, (phase.endedAt ?? phase.startedAt) - phase.startedAt) / 1000;
}
