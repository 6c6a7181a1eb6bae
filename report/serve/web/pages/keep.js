// What this phone has not handed over yet is kept in the browser's own database, so that a page that is closed, or that the
// camera pushed out of memory, loses nothing. Each trial has a database of its own: another trial may be served at the same address.

const trial = document.querySelector("meta[name=trial]")?.content ?? "";

const open = new Promise((done) => {
  try {
    const request = indexedDB.open(`traygauge-${trial}`, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("waiting", { keyPath: "id" }); // photos and feedings to hand over
      request.result.createObjectStore("known"); // what the server said last, and what came of batches
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => done(null);
    request.onblocked = () => done(null);
  } catch {
    done(null);
  }
});

const inStore = async (name, mode, act) => {
  const db = await open;
  if (db === null) {
    return null;
  }
  return new Promise((done, fail) => {
    const change = db.transaction(name, mode);
    const request = act(change.objectStore(name));
    change.oncomplete = () => done(request.result);
    change.onerror = () => fail(change.error);
    change.onabort = () => fail(change.error);
  });
};

// put keeps a thing and reports whether it will outlast the page.
export async function put(thing) {
  try {
    return (await inStore("waiting", "readwrite", (s) => s.put(thing))) !== null;
  } catch {
    return false; // no room, or a private window
  }
}

export async function drop(id) {
  try {
    await inStore("waiting", "readwrite", (s) => s.delete(id));
  } catch { /* it is handed over again, and stored once */ }
}

export async function all() {
  try {
    return (await inStore("waiting", "readonly", (s) => s.getAll())) ?? [];
  } catch {
    return [];
  }
}

// remember keeps something under a name, in place of what was there; recall returns it, or undefined.
export async function remember(name, value) {
  try {
    await inStore("known", "readwrite", (s) => s.put(value, name));
  } catch { /* it is asked for again */ }
}

export async function recall(name) {
  try {
    return (await inStore("known", "readonly", (s) => s.get(name))) ?? undefined;
  } catch {
    return undefined;
  }
}
