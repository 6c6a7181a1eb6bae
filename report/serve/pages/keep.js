// What this phone has not handed over yet is kept in the browser's own database, so that a page that is closed, or that the
// camera pushed out of memory, loses nothing.

const open = new Promise((done) => {
  try {
    const request = indexedDB.open("traygauge", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("waiting", { keyPath: "id" });
    request.onsuccess = () => done(request.result);
    request.onerror = () => done(null);
    request.onblocked = () => done(null);
  } catch {
    done(null);
  }
});

const inStore = async (mode, act) => {
  const db = await open;
  if (db === null) {
    return null;
  }
  return new Promise((done, fail) => {
    const change = db.transaction("waiting", mode);
    const request = act(change.objectStore("waiting"));
    change.oncomplete = () => done(request.result);
    change.onerror = () => fail(change.error);
    change.onabort = () => fail(change.error);
  });
};

// put keeps a thing and tells whether it will outlast the page.
export async function put(thing) {
  try {
    return (await inStore("readwrite", (s) => s.put(thing))) !== null;
  } catch {
    return false; // no room, or a private window
  }
}

export async function drop(id) {
  try {
    await inStore("readwrite", (s) => s.delete(id));
  } catch { /* it is handed over again, and stored once */ }
}

export async function all() {
  try {
    return (await inStore("readonly", (s) => s.getAll())) ?? [];
  } catch {
    return [];
  }
}
