// What comes next by a method, from what was done: phases with kind, startedAt, endedAt (ms) and requiredSeconds.

const FILLS = ["inject", "pit-fill"];

/** Null where everything was done. What was done last may have to be done again. */
export function next(method, phases) {
  if (method.steps.length === 0) {
    return null;
  }
  if (phases.length === 0) {
    return method.steps[0].kind;
  }
  const done = [...phases].sort((one, other) => one.startedAt - other.startedAt);
  const last = done.at(-1).kind;
  if (last === "vacuum" && cycles(done) < method.leastCycles) {
    return "pressure";
  }
  if (last === "cure" && curedSeconds(done) < leastCure(method, done)) {
    return "cure";
  }
  return method.steps[place(method, last) + 1]?.kind ?? null;
}

export function place(method, kind) {
  return method.steps.findIndex((step) => step.kind === kind);
}

function cycles(done) {
  let count = 0;
  let pressed = false;
  for (const { kind } of done) {
    if (kind === "vacuum" && pressed) {
      count++;
    }
    pressed = kind === "pressure" || (pressed && kind !== "vacuum");
  }
  return count;
}

/** Of what came in last. */
function cures(done) {
  const lastFill = Math.max(-Infinity, ...done.filter(({ kind }) => FILLS.includes(kind)).map((phase) => phase.startedAt));
  return done.filter((phase) => phase.kind === "cure" && phase.startedAt >= lastFill);
}

/** What two phases tell of the same minutes counts once. */
function curedSeconds(done) {
  let lit = 0;
  let until = -Infinity;
  for (const { startedAt, endedAt } of cures(done)) {
    if (endedAt !== null && endedAt > until) {
      lit += endedAt - Math.max(startedAt, until);
      until = endedAt;
    }
  }
  return lit / 1000;
}

function leastCure(method, done) {
  const least = method.steps.find((step) => step.kind === "cure")?.leastSeconds ?? 0;
  return Math.max(least, ...cures(done).map((phase) => phase.requiredSeconds ?? 0));
}
