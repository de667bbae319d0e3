// The worker between pages and network. BUILD and ASSETS stand above, put there by the service.
import { CAB, forget, pages, present, put, thing, waiting } from "/js/kept/store.js";
import { isKept, ownerOf, reach, sendAll, take, tell, told } from "/js/kept/outbox.js";

const FILES = `files-${BUILD}`;
const TODAY = "/jobs/today";
const OFFLINE = "/offline";
const PATIENCE_MS = 8000;
const PACKED_FOR_MS = 600_000;

const FILE = /^\/(css|js|img|fonts|webjars)\//;
/** Named by what it holds, so it never changes. */
const NAMED_BY_CONTENT = /-[0-9a-f]{32}\.\w+$|^\/(fonts|webjars)\//;
const PICTURE = /^\/api\/v1\/jobs\/[^/]+\/brief-photos\//;
const JOB_PAGE = /^\/jobs\/([0-9a-f]{8}-[0-9a-f-]{27})(\/run)?$/;
const DAY_PAGE = /^\/(jobs\/(today|run))?$/;
const KEPT_PAGE = /^\/(jobs\/today|report(\/kept)?|r\/[^/]+(\/kept)?)$/;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(FILES)
      // Without credentials: what is kept here belongs to nobody.
      .then((files) => files.addAll([...ASSETS, OFFLINE].map((path) => new Request(path, { cache: "reload", credentials: "omit" })))),
  );
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith("files-") && name !== FILES) {
          await caches.delete(name);
        }
      }
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (address.origin !== self.location.origin) {
    return;
  }
  if (request.mode === "navigate" && request.method === "POST") {
    if (address.pathname === "/sign-out") {
      event.respondWith(signOut(request));
    } else if (isKept(address.pathname)) {
      event.respondWith(form(request, address));
    }
  } else if (request.mode === "navigate" && request.method === "GET") {
    event.respondWith(page(request, address));
  } else if (request.method === "GET" && FILE.test(address.pathname)) {
    event.respondWith(file(request, address));
  } else if (request.method === "GET" && PICTURE.test(address.pathname)) {
    event.respondWith(picture(request));
  }
});

self.addEventListener("sync", (event) => {
  if (event.tag === "outbox") {
    event.waitUntil(
      send().then((all) => {
        if (!all) {
          throw new Error("not all of it could be sent"); // the browser tries again later
        }
      }),
    );
  }
});

self.addEventListener("message", (event) => {
  if (event.data.type === "send") {
    event.waitUntil(send());
  } else if (event.data.type === "pack") {
    event.waitUntil(pack(event.data.who, event.data.page).catch(() => {}));
  }
});

async function send() {
  const all = await sendAll();
  const who = await present();
  if (who && all) {
    await kit(who).catch(() => {});
    tell({ renewed: true });
  }
  return all;
}

async function form(request, address) {
  const who = await ownerOf(address.pathname);
  return who ? take(request, address.pathname, who) : fetch(request);
}

async function page(request, address) {
  const who = await ownerOf(address.pathname);
  const job = JOB_PAGE.exec(address.pathname)?.[1];
  if (job && who && !address.searchParams.has("online")) {
    // What the service shows of this job is behind what was done: the device's own page is not.
    if ((await waiting()).some((action) => action.subject === job)) {
      const own = await keptPage(who, TODAY);
      if (own) {
        return own;
      }
    }
  }
  try {
    const answer = await patiently(fetch(request), () => substitute(who, address));
    if (answer.status === 502 || answer.status === 503 || answer.status === 504) {
      return (await substitute(who, address)) ?? answer;
    }
    await notice(answer, address);
    return answer;
  } catch {
    return (await substitute(who, address)) ?? (await caches.match(OFFLINE, { cacheName: FILES })) ?? Response.error();
  }
}

/** A network that neither answers nor fails is none, where there is something to show instead. */
async function patiently(answer, instead) {
  const tired = new Promise((resolve) => setTimeout(resolve, PATIENCE_MS));
  const first = await Promise.race([answer, tired]);
  return first ?? (await instead()) ?? answer;
}

async function substitute(who, address) {
  if (!who) {
    return undefined;
  }
  const ofDay = JOB_PAGE.test(address.pathname) || DAY_PAGE.test(address.pathname);
  return ofDay ? keptPage(who, TODAY) : keptPage(who, address.pathname + address.search);
}

async function keptPage(who, path) {
  return caches.match(path, { cacheName: pages(who) });
}

async function notice(answer, address) {
  const owner = answer.headers.get("Kept-For");
  if (!owner) {
    return;
  }
  await belongs(owner);
  if (owner !== "-" && answer.ok && !answer.redirected && KEPT_PAGE.test(address.pathname)) {
    const kept = await caches.open(pages(owner));
    await kept.put(address.pathname + address.search, answer.clone());
  }
}

/** Another person on this device: what was kept for the one before goes. Their other organisation is still theirs. */
async function belongs(owner) {
  if (owner === CAB) {
    return;
  }
  const before = await present();
  if (before && before.split(".")[0] !== owner.split(".")[0]) {
    await forget();
    tell();
  }
  if (owner !== "-" && owner !== before) {
    await put("", "who", owner);
  }
}

async function signOut(request) {
  await forget();
  tell();
  try {
    return await fetch(request);
  } catch {
    return (await caches.match(OFFLINE, { cacheName: FILES })) ?? Response.error();
  }
}

async function file(request, address) {
  const files = await caches.open(FILES);
  const kept = await files.match(address.pathname);
  if (kept && NAMED_BY_CONTENT.test(address.pathname)) {
    return kept;
  }
  try {
    const answer = await patiently(fetch(request), () => kept);
    if (answer !== kept && answer.ok && NAMED_BY_CONTENT.test(address.pathname)) {
      await files.put(address.pathname, answer.clone());
    }
    return answer;
  } catch {
    return kept ?? Response.error();
  }
}

async function picture(request) {
  const who = await present();
  const kept = who && (await caches.match(request.url, { cacheName: pages(who) }));
  return kept ?? fetch(request);
}

/** Takes along what the day needs. */
async function pack(who, path) {
  await belongs(who);
  if (KEPT_PAGE.test(path.split("?")[0])) {
    await fetchPage(who, path);
  }
  if (who === CAB) {
    await fetchPage(who, `${path.replace(/\/kept$/, "")}/kept`);
    return;
  }
  await reach();
  const packed = await kit(who);
  const before = (await thing(who, "packed")) ?? 0;
  if (Date.now() - before < PACKED_FOR_MS && (await keptPage(who, TODAY))) {
    return;
  }
  await fetchPage(who, "/report/kept");
  if (packed) {
    await fetchPage(who, TODAY);
    for (const { job } of packed.jobs) {
      if (who.endsWith(job.fleet)) {
        await fetchPage(who, `/report?vehicle=${job.vehicle}`);
      }
      for (const name of job.brief.damages.flatMap((damage) => damage.photos)) {
        await fetchPicture(who, `/api/v1/jobs/${job.id}/brief-photos/${name}?size=small`);
      }
    }
  }
  await put(who, "packed", Date.now());
}

/** The day's jobs as the service has them; null for whoever has none. */
async function kit(who) {
  const asked = Date.now();
  const before = await thing(who, "kit");
  const answer = await fetch("/api/v1/me/day-kit", {
    cache: "no-store",
    headers: { "Kept-For": who, ...(before && { "If-None-Match": before.version }) },
  });
  if (answer.status !== 304 && !answer.ok) {
    return null;
  }
  const present = answer.status === 304 ? before.day : await answer.json();
  await put(who, "kit", { day: present, version: answer.headers.get("ETag") ?? before?.version });
  await told(who, asked);
  return present;
}

async function fetchPage(who, path) {
  const answer = await fetch(path, { headers: { Accept: "text/html", "Kept-For": who } });
  if (answer.ok && !answer.redirected && answer.headers.get("Kept-For") === who) {
    const kept = await caches.open(pages(who));
    await kept.put(path, answer);
  }
}

async function fetchPicture(who, path) {
  const kept = await caches.open(pages(who));
  if (!(await kept.match(path))) {
    const answer = await fetch(path);
    if (answer.ok) {
      await kept.put(path, answer);
    }
  }
}
