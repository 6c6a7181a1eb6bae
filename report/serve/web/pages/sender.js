// Hands photos and feedings over, one after the other, again and again until the server says that it has them.

import { ask, pause, Refused } from "./common.js";
import { digestOf } from "./sha256.js";
import * as keep from "./keep.js";

const chunk = 256 << 10; // what a bad connection carries in a few seconds

export class Sender {
  // changed is called whenever something about what waits has changed; done with each thing that was handed over; refused when one
  // was not taken.
  constructor(changed, done, refused) {
    this.changed = changed;
    this.done = done;
    this.refused = refused;
    this.waiting = [];
    this.reached = true;
    this.why = ""; // what the server says that it waits for
    this.busy = false;
    this.wake = () => {};
    this.keeping = new Map(); // by thing: when the browser's database has it
    addEventListener("online", () => this.hurry());
  }

  // load takes up what the page of before left; run goes on with it.
  async load() {
    const before = (await keep.all()).filter((t) => this.waiting.every((w) => w.id !== t.id)); // something may have been added meanwhile
    for (const t of before) {
      t.kept = true;
    }
    this.waiting = [...before, ...this.waiting].sort((a, b) => a.made - b.made);
    this.changed();
  }

  // add takes a photo {kind: "photo", blob, tray, view, changed} or a feeding {kind: "feeding", path, body}.
  async add(thing) {
    thing.id = crypto.getRandomValues(new Uint32Array(4)).join("-");
    thing.made = Date.now();
    this.waiting.push(thing);
    this.changed();
    this.keeping.set(thing, keep.put({ ...thing }));
    thing.kept = await this.keeping.get(thing);
    this.changed();
    this.run();
  }

  async drop(thing) {
    this.waiting = this.waiting.filter((t) => t !== thing);
    await this.keeping.get(thing); // or it would be put there after it was dropped
    this.keeping.delete(thing);
    await keep.drop(thing.id);
    this.changed();
  }

  // again sends what was refused once more, after change.
  async again(thing, change = () => {}) {
    change(thing);
    thing.problem = undefined;
    await keep.put({ ...thing });
    this.changed();
    this.run();
  }

  hurry() {
    this.wake();
    this.run();
  }

  async run() {
    if (this.busy) {
      return;
    }
    this.busy = true;
    let wait = 500;
    for (let thing; (thing = this.waiting.find((t) => t.problem === undefined)) !== undefined;) {
      try {
        const got = thing.kind === "photo" ? await this.photo(thing) : await ask("POST", thing.path, thing.body, 20);
        this.reached = true;
        this.why = "";
        wait = 500;
        await this.drop(thing);
        this.done(thing, got);
      } catch (e) {
        if (e instanceof Refused && e.status !== 503) {
          this.reached = true;
          this.why = "";
          Object.assign(thing, { problem: e.message, status: e.status, ask: e.body?.ask });
          this.changed();
          this.refused();
          continue;
        }
        this.reached = e instanceof Refused;
        this.why = e instanceof Refused ? e.message : "";
        this.changed();
        await Promise.race([pause(wait), new Promise((done) => { this.wake = done; })]);
        wait = Math.min(2 * wait, 15000);
      }
    }
    this.busy = false;
    this.changed();
  }

  // photo sends what the server does not have of a photo yet, part by part, and returns its name in the trial.
  async photo(thing) {
    thing.sha ??= await digestOf(thing.blob);
    const { blob } = thing;
    const which = (offset) => `/api/upload?sha=${thing.sha}&size=${blob.size}&offset=${offset}&tray=${thing.tray ?? 0}&view=${thing.view ?? ""}&changed=${thing.changed ?? 0}`;
    let got = await ask("GET", which(0), undefined, 20);
    for (let damaged = 0; got.photo === undefined;) {
      thing.sent = got.have;
      this.reached = true;
      this.changed();
      try {
        got = await ask("PUT", which(got.have), blob.slice(got.have, got.have + chunk), 60);
        this.why = "";
      } catch (e) {
        if (!(e instanceof Refused)) {
          throw e;
        }
        if (e.status === 409) {
          got = e.body; // another phone sends the same photo, or the answer to a part was lost
        } else if (e.status === 422 && ++damaged < 3) {
          got = { have: 0 };
        } else {
          throw e;
        }
      }
    }
    return got;
  }
}
