// Sends what was done, in order. An action is kept before it is sent for the first time, and sent to the byte the same until
// the service has answered: the key in its form lets the service do it once. Runs in the worker, one sender at a time.
import { actions, CAB, change, drop, keep, present, put, thing, waiting } from "./store.js";

const LONGEST_MS = 60_000;
/** A network takes seconds; more was done to the clock. */
const CHANGED_MS = 5_000;
const LOCK = "outbox";

const JOB = "[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}";
const OF_JOB = new RegExp(
  `^/jobs/(${JOB})/(start|phases|phases/${JOB}/end|conditions|materials|calibrate|notes|photos|measurements|inspect|close|abandon)$`,
);
const REPORT = /^\/(?:report|r\/[^/]+)$/;

export function isKept(path) {
  return OF_JOB.test(path) || REPORT.test(path);
}

/** Whose forms at this address are. */
export async function ownerOf(path) {
  return path.startsWith("/r/") ? CAB : present();
}

export function tell(what) {
  const channel = new BroadcastChannel("kept");
  channel.postMessage(what ?? {});
  channel.close();
}

async function read(request, path, who) {
  const body = await request.clone().arrayBuffer();
  const fields = {};
  for (const [name, value] of await request.formData()) {
    if (typeof value === "string") {
      fields[name] = value;
    }
  }
  delete fields._csrf;
  const job = OF_JOB.exec(path);
  const clock = await thing(who, "clock");
  return {
    who,
    path,
    fields,
    body,
    type: request.headers.get("Content-Type"),
    verb: job ? job[2].replace(new RegExp(JOB), "…") : "report",
    subject: job ? job[1] : `${path}?${fields.vehicleId ?? ""}`,
    page: job ? `/jobs/${job[1]}/run` : `${path}/kept`,
    doneAt: Date.now(),
    // As far as it is known: a phone that finds its network again sets its clock, perhaps before this is sent.
    aheadMs: clock?.aheadMs ?? null,
    tries: 0,
    state: "waiting",
  };
}

/** A form of a page: sent at once where nothing waits before it, or else later. */
export async function take(request, path, who) {
  const action = await read(request, path, who);
  action.place = await keep(action);
  const answer = await navigator.locks.request(LOCK, { ifAvailable: true }, (free) => (free ? atOnce(action) : null));
  if (answer) {
    return answer;
  }
  tell();
  // Where it can, the browser wakes the worker when there is a network, also after the page was closed.
  await self.registration.sync?.register("outbox").catch(() => {});
  return Response.redirect(action.page, 303);
}

async function atOnce(action) {
  const before = (await waiting()).some((each) => each.subject === action.subject && each.place < action.place);
  if (before) {
    return null;
  }
  const answer = await post(action, {});
  if (!answer || isForLater(answer)) {
    await change({ ...action, tries: 1 });
    return null;
  }
  if (answer.status === 401) {
    return Response.redirect("/sign-in", 303);
  }
  if (isDone(answer)) {
    await done(action);
  } else {
    // The page that says why stands before whoever sent it, with what was typed.
    await drop(action.place);
  }
  return answer;
}

/** Everything that may be sent now. Answers whether all of it is done. */
export function sendAll() {
  return navigator.locks.request(LOCK, async () => {
    const queue = await waiting();
    if (queue.length === 0) {
      return true;
    }
    const service = await reach();
    if (!service) {
      tell({ reached: false });
      return false;
    }
    const held = new Set(queue.filter((action) => action.state === "refused").map((action) => action.subject));
    for (const action of queue) {
      if (held.has(action.subject) || (action.who !== CAB && action.who !== service.keptFor)) {
        continue;
      }
      const answer = await post(action, {
        "Done-At": new Date(action.doneAt).toISOString(),
        ...clockOf(action, service.aheadMs),
      });
      if (!answer) {
        break;
      }
      if (isDone(answer)) {
        await done(action, answer.url);
      } else {
        held.add(action.subject);
        if (answer.status !== 401 && !isForLater(answer)) {
          await change({ ...action, state: "refused", status: answer.status, refusal: await answer.text() });
        }
      }
      tell();
    }
    tell({ reached: true, signedIn: service.keptFor !== null });
    return (await waiting()).length === 0;
  });
}

/**
 * Measured once for all that is sent together. Only a clock that was changed since is another matter: then what was known when
 * it was done counts, unless that would be a time that has not come yet.
 */
function clockOf(action, aheadMs) {
  const changedMs = action.aheadMs == null ? 0 : aheadMs - action.aheadMs;
  if (Math.abs(changedMs) <= CHANGED_MS) {
    return { "Device-Ahead-Ms": String(aheadMs) };
  }
  const possible = action.doneAt - action.aheadMs <= Date.now() - aheadMs + CHANGED_MS;
  return {
    "Device-Ahead-Ms": String(possible ? action.aheadMs : aheadMs),
    "Device-Clock-Changed-Ms": String(changedMs),
  };
}

/** How far this device's clock is ahead, and who is signed in; null without a network. */
export async function reach() {
  try {
    const before = Date.now();
    const answer = await fetch("/api/v1/me/device", { signal: AbortSignal.timeout(LONGEST_MS) });
    const middle = (before + Date.now()) / 2;
    if (answer.status >= 500) {
      return null;
    }
    const device = answer.ok ? await answer.json() : { keptFor: null, now: answer.headers.get("Date") };
    const aheadMs = Math.round(middle - Date.parse(device.now));
    if (device.keptFor) {
      await put(device.keptFor, "clock", { aheadMs });
    }
    return { keptFor: device.keptFor, aheadMs };
  } catch {
    return null;
  }
}

/** Null without a network. A report is followed to its answer; everything else only has to be taken. */
async function post(action, headers) {
  const again = "Done-At" in headers;
  const send = (more) =>
    fetch(action.path, {
      method: "POST",
      body: action.body,
      headers: { "Content-Type": action.type, Accept: "text/html", "Kept-For": action.who, ...headers, ...more },
      redirect: again && action.verb === "report" ? "follow" : "manual",
      signal: AbortSignal.timeout(LONGEST_MS),
    });
  try {
    const answer = await send({});
    // The page's token ends with the browser's session, long before what was done is worth nothing.
    return answer.status === 403 ? await send(await token(action)) : answer;
  } catch {
    return null;
  }
}

async function token(action) {
  const page = await (await fetch(action.verb === "report" ? action.page : "/jobs/today")).text();
  const meta = (name) => new RegExp(`name="${name}" content="([^"]+)"`).exec(page)?.[1];
  return meta("csrf-token") ? { [meta("csrf-header")]: meta("csrf-token") } : {};
}

function isDone(answer) {
  return answer.type === "opaqueredirect" || (answer.redirected && answer.ok);
}

function isForLater(answer) {
  return answer.status >= 500 || answer.status === 408 || answer.status === 429;
}

/** It stays until what the device keeps of the service tells of it. */
async function done(action, address) {
  if (action.verb === "report") {
    const reports = (await thing(action.who, "reports")) ?? [];
    if (address) {
      reports.unshift({ address, doneAt: action.doneAt });
    }
    await put(action.who, "reports", reports.slice(0, 20));
    await drop(action.place);
  } else {
    await change({ ...action, body: null, state: "sent", sentAt: Date.now() });
  }
}

/** What the service told after this moment holds what was sent before it. */
export async function told(who, sinceMs) {
  for (const action of await actions()) {
    if (action.who === who && action.state === "sent" && action.sentAt < sinceMs) {
      await drop(action.place);
    }
  }
}
