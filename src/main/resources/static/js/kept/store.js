// What this device keeps: actions in the order in which they were done, and things by whose they are and their name. Both
// pages and the worker read and write it. Everything belongs to a person in an organisation, or to the code in a cab.

const DATABASE = "kept";
export const CAB = "cab";

let opened;

function database() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(DATABASE, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("actions", { keyPath: "place", autoIncrement: true });
      request.result.createObjectStore("things", { keyPath: ["who", "name"] });
    };
    request.onsuccess = () => {
      const database = request.result;
      database.onversionchange = () => database.close();
      database.onclose = () => (opened = undefined);
      resolve(database);
    };
    request.onerror = () => reject(request.error);
  });
  opened.catch(() => (opened = undefined));
  return opened;
}

async function within(store, mode, work) {
  const transaction = (await database()).transaction(store, mode, mode === "readwrite" ? { durability: "strict" } : {});
  return new Promise((resolve, reject) => {
    const request = work(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

/** Answers the place it got in the order. */
export function keep(action) {
  return within("actions", "readwrite", (store) => store.add(action));
}

export function change(action) {
  return within("actions", "readwrite", (store) => store.put(action));
}

export function drop(place) {
  return within("actions", "readwrite", (store) => store.delete(place));
}

/** In the order in which they were done. */
export async function actions() {
  return within("actions", "readonly", (store) => store.getAll());
}

/** Those that a service has not heard of yet, or has refused. */
export async function waiting() {
  return (await actions()).filter((action) => action.state !== "sent");
}

export async function thing(who, name) {
  return (await within("things", "readonly", (store) => store.get([who, name])))?.value;
}

export function put(who, name, value) {
  return within("things", "readwrite", (store) => store.put({ who, name, value }));
}

/** Who is signed in on this device, as far as it was told. */
export async function present() {
  return (await thing("", "who")) ?? null;
}

/** Everything goes but what drivers without account have reported. */
export async function forget() {
  const others = (cursor) => {
    cursor.onsuccess = () => {
      if (cursor.result) {
        if (cursor.result.value.who !== CAB) {
          cursor.result.delete();
        }
        cursor.result.continue();
      }
    };
  };
  await within("actions", "readwrite", (store) => others(store.openCursor()));
  await within("things", "readwrite", (store) => others(store.openCursor()));
  for (const name of await caches.keys()) {
    if (name.startsWith("kept-") && name !== pages(CAB)) {
      await caches.delete(name);
    }
  }
}

/** The name of the cache that holds their pages. */
export function pages(who) {
  return `kept-${who}`;
}
