// On pages of those who work where there is no network: the worker is put in, and a line says what waits to be sent.
import { actions, CAB, change, drop, waiting } from "./store.js";

const SOONEST_MS = 5_000;
const LATEST_MS = 60_000;

const VERBS = {
  start: "Start of the work",
  "phases/…/end": "Stop the clock",
  conditions: "Air and glass",
  materials: "Material",
  calibrate: "Calibration",
  notes: "Note",
  photos: "Photo",
  measurements: "Measured again",
  inspect: "Look over",
  close: "Close the job",
  abandon: "Abandon the repair",
  report: "Report of a damage",
};

const who = document.querySelector("meta[name=kept-for]")?.content;
let waitMs = SOONEST_MS;
let timer;
let reached = true;
let signedIn = true;
let hadSome = false;

if (who && "serviceWorker" in navigator) {
  begin().catch(() => {}); // a browser that cannot keep anything shows the page all the same
}

async function begin() {
  renewKeys();
  document.addEventListener("submit", askBeforeSignOut, true);
  const channel = new BroadcastChannel("kept");
  channel.addEventListener("message", ({ data }) => heard(data));
  await show();
  await navigator.serviceWorker.register("/worker.js", { type: "module" });
  const { active } = await navigator.serviceWorker.ready;
  active.postMessage({ type: "pack", who, page: location.pathname + location.search });
  navigator.storage?.persist?.();
  send();
  window.addEventListener("online", sendSoon);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && sendSoon());
}

/** A page that was kept holds the key that it came with, and would be taken for the form that was sent from it before. */
function renewKeys() {
  for (const field of document.querySelectorAll("input[name=idempotencyKey], input[name=phase][type=hidden]")) {
    field.value = crypto.randomUUID();
  }
}

function sendSoon() {
  waitMs = SOONEST_MS;
  send();
}

async function send() {
  clearTimeout(timer);
  const queue = await waiting();
  if (queue.some((action) => action.state === "waiting")) {
    const { active } = await navigator.serviceWorker.ready;
    active.postMessage({ type: "send" });
    timer = setTimeout(send, waitMs);
    waitMs = Math.min(LATEST_MS, waitMs * 2);
  }
}

async function heard(news) {
  reached = news.reached ?? reached;
  signedIn = news.signedIn ?? signedIn;
  const left = await show();
  document.dispatchEvent(new CustomEvent("kept", { detail: { left, ...news } }));
}

/** Answers how much is left. */
async function show() {
  const place = document.querySelector("[data-outbox]");
  const queue = await waiting();
  if (!place) {
    return queue.length;
  }
  const waits = queue.filter((action) => action.state === "waiting");
  const refused = queue.filter((action) => action.state === "refused");
  const parts = [];
  if (waits.length > 0) {
    const first = refused.length > 0 && waits.every((action) => refused.some((each) => each.subject === action.subject));
    const why = !signedIn && who !== CAB ? " Sign in to send." : first ? " What was refused comes first." : reached ? "" : " No network now.";
    const line = element("div", "no-network");
    line.append(element("p", "", `${count(waits.length)} to be sent.${why}`));
    parts.push(line, list(waits));
  } else if (hadSome && refused.length === 0) {
    parts.push(element("p", "no-network", "Sent."));
  }
  parts.unshift(...refused.map(conflict));
  hadSome ||= queue.length > 0;
  place.setAttribute("role", "status");
  place.replaceChildren(...parts);
  return queue.length;
}

function count(number) {
  return number === 1 ? "1 action waits" : `${number} actions wait`;
}

function list(queue) {
  const details = element("details", "more");
  details.append(element("summary", "", "What waits"));
  const lines = element("ul", "lines");
  lines.append(...queue.map((action) => element("li", "", named(action))));
  details.append(lines);
  return details;
}

export function named(action) {
  const hour = new Date(action.doneAt).toTimeString().slice(0, 5);
  const what = action.verb === "phases" ? `Start: ${word(action.fields.kind)}` : (VERBS[action.verb] ?? action.verb);
  return `${what}, ${hour}`;
}

export function word(kebab) {
  const spoken = kebab.replaceAll("-", " ");
  return spoken.charAt(0).toUpperCase() + spoken.slice(1);
}

/** What the service refused: its words, and what can be done about it. */
function conflict(action) {
  const box = element("div", "error-summary");
  box.dataset.refused = action.verb;
  box.append(element("h2", "", `Not taken: ${named(action)}`));
  box.append(...words(action).map((sentence) => element("p", "", sentence)));
  const choices = element("p", "actions");
  choices.append(
    button("Send it again", async () => {
      await change({ ...action, state: "waiting", refusal: null });
      await show();
      sendSoon();
    }),
    button("Drop it", () => choices.replaceChildren(...sure(action))),
  );
  if (action.verb !== "report") {
    const link = element("a", "button", "Open the page");
    link.href = `${action.page}?online`;
    choices.append(link);
  }
  box.append(choices);
  return box;
}

function sure(action) {
  return [
    element("span", "", "It will not be in the record. Drop it for good?"),
    button("Drop it for good", async () => {
      await drop(action.place);
      await heard({ dropped: true });
      sendSoon();
    }),
    button("Keep it", show),
  ];
}

/** The page that refused it says why at its head. */
function words({ refusal, status }) {
  const page = new DOMParser().parseFromString(refusal ?? "", "text/html");
  const told = page.querySelectorAll("main .error-summary li, main .notice.failed p, .notices .notice.failed p");
  const sentences = [...told].map((each) => each.textContent.trim()).filter(Boolean);
  const main = page.querySelector("main")?.textContent.replace(/\s+/g, " ").trim().slice(0, 300);
  return sentences.length > 0 ? sentences : [main || `The service answered ${status}.`];
}

/** What waits would be gone: whoever signs out has to know. */
function askBeforeSignOut(event) {
  const form = event.target;
  if (!form.matches?.("form.sign-out") || form.dataset.sure || !place()?.querySelector(".no-network, .error-summary")) {
    return;
  }
  event.preventDefault();
  event.stopImmediatePropagation();
  waiting().then((queue) => {
    const lost = `${count(queue.length)} to be sent and will be lost. Sign out all the same?`;
    if (queue.length === 0 || window.confirm(lost)) {
      form.dataset.sure = "true";
      form.requestSubmit();
    }
  });
}

function place() {
  return document.querySelector("[data-outbox]");
}

export function element(name, style, text) {
  const made = document.createElement(name);
  if (style) {
    made.className = style;
  }
  if (text) {
    made.textContent = text;
  }
  return made;
}

function button(label, press) {
  const made = element("button", "button", label);
  made.type = "button";
  made.addEventListener("click", press);
  return made;
}

export { actions };
