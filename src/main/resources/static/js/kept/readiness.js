// Go, wait or stop, and how long to cure, from what was read: the same figures as the service's, for it computes them again
// from what is sent. Where the sun stands is not worked out here: when it falls on a glass came along with the job.

const DEW = { b: 17.62, c: 243.12, safeMarginK: 3 };
const SHOCK = { mpaPerK: (70_000 * 9e-6) / (1 - 0.2), strengthMpa: 45, allowedK: 40 };

/** In °C, of air at this temperature and relative humidity. */
export function dewPointCelsius(airCelsius, relativeHumidityPercent) {
  const gamma = Math.log(relativeHumidityPercent / 100) + (DEW.b * airCelsius) / (DEW.c + airCelsius);
  return (DEW.c * gamma) / (DEW.b - gamma);
}

export function stressMpa(differenceK) {
  return SHOCK.mpaPerK * Math.abs(differenceK);
}

/**
 * Of what was read (air, glass, humidity, light, rain, glassDry, bearingDegrees), the method's limits, and the day at the
 * vehicle: sun for each bearing and daylight, both as windows of ISO times. Words of an hour come from hourOf(ms).
 */
export function readiness(read, limits, day, atMs, hourOf) {
  const waits = [...wetness(read, limits), ...warmth(read, limits), ...sun(read, day, atMs, hourOf)];
  const { stops, cautions } = shock(read, limits);
  const outcome = stops.length > 0 ? "stop" : waits.length > 0 ? "wait" : "go";
  return { outcome, objections: stops.length > 0 ? [...stops, ...waits] : waits, cautions };
}

function* wetness(read, limits) {
  if (read.rain && read.light !== "covered") {
    yield objection("rain", "It rains on the glass.", "Drive it under a roof, or put up a tent and read again.");
  }
  if (!read.glassDry) {
    yield objection("wet-glass", "The glass or the break is wet.", "Dry it slowly, from inside, then read again.");
  }
  const dew = dewPointCelsius(read.airCelsius, read.relativeHumidityPercent);
  const marginK = read.glassCelsius - dew;
  if (marginK < DEW.safeMarginK) {
    yield objection(
      "dew",
      `The glass at ${oneDigit(read.glassCelsius)} °C is ${oneDigit(marginK)} K above the dew point of ${oneDigit(dew)} °C.` +
        " Under 3 K, moisture would be closed in.",
      `Warm the glass to at least ${oneDigit(dew + DEW.safeMarginK)} °C.`,
    );
  }
  const most = limits.mostHumidityPercent;
  if (most != null && read.relativeHumidityPercent > most) {
    yield objection(
      "humidity",
      `The air has ${oneDigit(read.relativeHumidityPercent)} % humidity; the method allows ${oneDigit(most)} %.`,
      "Work in a dry bay, or wait for drier air.",
    );
  }
}

function* warmth(read, limits) {
  const least = limits.leastGlassCelsius;
  const most = limits.mostGlassCelsius;
  if (least != null && read.glassCelsius < least) {
    yield objection(
      "cold-glass",
      `The glass has ${oneDigit(read.glassCelsius)} °C; the method asks for at least ${oneDigit(least)} °C.`,
      "Warm it slowly from inside, never on one spot.",
    );
  }
  if (most != null && read.glassCelsius > most) {
    yield objection(
      "hot-glass",
      `The glass has ${oneDigit(read.glassCelsius)} °C; the method allows ${oneDigit(most)} °C.`,
      "Shade it and let it cool by itself. No cold water, no cold air.",
    );
  }
}

function* sun(read, day, atMs, hourOf) {
  const change = "Turn the vehicle, or shade the glass and read again.";
  const falls = "Direct sun falls on the glass";
  const why = ": resin hardens before it has filled.";
  const bearing = read.bearingDegrees;
  if (read.light === "sun" && bearing == null) {
    yield objection("direct-sun", falls + why, change);
  } else if (read.light === "shade" || read.light === "covered") {
    return;
  } else if (read.light === "open" && !(day.sunKnown && holds(day.sunKnown, atMs))) {
    yield objection("sun-unknown", "The sun is not known here for this day.", "Shade the glass and read again.");
  } else if (bearing == null) {
    if (day.daylight.some((window) => holds(window, atMs))) {
      yield objection(
        "bearing",
        "The sun is up and nobody said which way the vehicle faces.",
        "Give the bearing of its front, or shade the glass.",
      );
    }
  } else {
    const known = day.sun.find((each) => each.bearingDegrees === bearing % 360);
    const lit = known?.windows.find((window) => holds(window, atMs));
    if (lit || read.light === "sun") {
      const until = lit ? Date.parse(lit.to) : null;
      yield objection("direct-sun", `${falls}${until ? `, until ${hourOf(until)}` : ""}${why}`, change, until);
    }
  }
}

function shock(read, limits) {
  let differenceK = Math.abs(read.glassCelsius - read.airCelsius);
  if (limits.leastGlassCelsius != null) {
    differenceK = Math.max(differenceK, limits.leastGlassCelsius - read.glassCelsius);
  }
  const stress = stressMpa(differenceK);
  const words =
    `${oneDigit(differenceK)} K between glass and what meets it can mean ${oneDigit(stress)} MPa; sound annealed glass has a` +
    ` characteristic strength of ${oneDigit(SHOCK.strengthMpa)} MPa (EN 572-1, secondary).`;
  if (stress >= SHOCK.strengthMpa) {
    const change = "Leave the glass alone until both have come closer by themselves.";
    return { stops: [objection("thermal-shock", words, change)], cautions: [] };
  }
  const close = differenceK >= SHOCK.allowedK;
  return { stops: [], cautions: close ? [`${words} A break has less. Neither warm nor cool it quickly.`] : [] };
}

/** Seconds under the lamp: the method's least time, or its dose over the lamp's irradiance there; null where that is unknown. */
export function cureSeconds(method, lamp, distanceMm, side, at = method.steps.findIndex((step) => step.kind === "cure")) {
  if (side === "inside") {
    return null; // refused: most of the light stays in the laminate
  }
  const least = method.steps[at]?.leastSeconds ?? 0;
  const reading = lamp && !lamp.readingDue ? lamp.readings[0] : null;
  if (method.cureDoseJPerCm2 == null) {
    return least;
  }
  if (!reading) {
    return null;
  }
  // As from a point; nearer than it was measured it counts no more than what was measured.
  const ratio = reading.distanceMm / Math.max(distanceMm ?? reading.distanceMm, reading.distanceMm);
  const seconds = (method.cureDoseJPerCm2 * 1000) / (reading.irradianceMwPerCm2 * ratio * ratio);
  return Math.max(least, Math.ceil(seconds - 1e-9));
}

function objection(code, reason, change, betterAt = null) {
  return { code, reason, change, betterAt };
}

function holds(window, atMs) {
  return Date.parse(window.from) <= atMs && atMs < Date.parse(window.to);
}

/** Halves go up, as they are written: 0.35 is 0.4, though no binary number is exactly that. */
export function oneDigit(value) {
  const written = String(Math.abs(value));
  const tenths = Math.round(written.includes("e") ? Math.abs(value) * 10 : Number(`${written}e1`));
  const text = (tenths / 10).toFixed(1);
  return value < 0 && tenths !== 0 ? `−${text}` : text;
}
