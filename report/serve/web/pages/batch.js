// Photos chosen from the album, and their verdicts as one list: all good first, or what is to be looked at.

import { byID, capital, counted, el, fill, marks, marksInList } from "./common.js";
import * as keep from "./keep.js";

const atOnce = 2; // verdicts that are asked for at the same time

export class Batches {
  constructor(sender, sheet, refresh) {
    Object.assign(this, { sender, sheet, refresh });
    this.list = [];
    this.asking = 0;
  }

  // recall goes on with the batches of before the page was loaded.
  async recall() {
    this.list = (await keep.recall("batches")) ?? [];
    for (const batch of this.list) {
      for (const item of batch.items) {
        item.asked = false;
      }
    }
    this.ask();
    this.show();
  }

  keep() {
    return keep.remember("batches", this.list);
  }

  async begin(files) {
    const id = crypto.getRandomValues(new Uint32Array(2)).join("-");
    const batch = { id, items: files.map((file, n) => ({ n, name: file.name, photo: "", verdict: null })) };
    this.list.push(batch);
    const kept = this.keep();
    for (const [n, file] of files.entries()) {
      this.sender.add({ kind: "photo", blob: file, tray: 0, view: "", changed: file.lastModified, batch: id, item: n });
    }
    this.open(batch);
    await kept;
  }

  itemOf(thing) {
    return this.list.find((b) => b.id === thing.batch)?.items[thing.item];
  }

  // stored goes on with a photo that the server has now.
  stored(thing, photo) {
    const item = this.itemOf(thing);
    if (item === undefined) {
      this.sheet.judged(photo).then(() => this.refresh());
      return;
    }
    item.photo = photo;
    this.keep();
    this.ask();
    this.redraw();
  }

  // ask has the stored photos measured, few at a time.
  async ask() {
    const item = this.list.flatMap((b) => b.items).find((i) => i.photo !== "" && i.verdict === null && !i.asked);
    if (item === undefined || this.asking >= atOnce) {
      return;
    }
    item.asked = true;
    this.asking++;
    this.ask();
    const v = await this.sheet.judged(item.photo);
    this.asking--;
    this.take(item, v);
    this.ask();
    if (this.asking === 0) {
      this.refresh();
    }
  }

  take(item, v) {
    item.verdict = v === null
      ? { tone: "retake", of: item.name, words: "Stored, not measured" }
      : { tone: v.tone, of: v.of, words: [v.tone === "good" ? "" : v.large, ...v.questions.map((q) => q.words), ...v.reasons.map((r) => capital(r.words))].filter(Boolean).join(" ") };
    item.photo = v?.photo ?? item.photo;
    this.keep();
    this.redraw();
  }

  // stateOf counts what became of a batch.
  stateOf(batch) {
    const refused = batch.items.filter((i) => this.sender.waiting.some((t) => t.batch === batch.id && t.item === i.n && t.problem !== undefined));
    const onPhone = batch.items.filter((i) => i.photo === "" && this.sender.waiting.some((t) => t.batch === batch.id && t.item === i.n && t.problem === undefined));
    const measuring = batch.items.filter((i) => i.photo !== "" && i.verdict === null);
    const good = batch.items.filter((i) => i.verdict?.tone === "good");
    const look = batch.items.filter((i) => i.verdict !== null && i.verdict.tone !== "good");
    const all = batch.items.length;
    const dropped = all - refused.length - onPhone.length - measuring.length - good.length - look.length;
    return { all, refused, onPhone, measuring, good, look, dropped, done: onPhone.length + measuring.length === 0 };
  }

  head(s) {
    if (!s.done) {
      const parts = [s.onPhone.length > 0 && `${s.onPhone.length} to send`, s.measuring.length > 0 && `${s.measuring.length} being measured`];
      return parts.filter(Boolean).join(", ");
    }
    if (s.good.length === s.all) {
      return s.all === 1 ? "Good" : `All ${s.all} good`;
    }
    return [s.good.length > 0 && `${s.good.length} good`, s.look.length > 0 && `${s.look.length} to look at`, s.refused.length > 0 && `${s.refused.length} not stored`, s.dropped > 0 && `${s.dropped} dropped`].filter(Boolean).join(", ");
  }

  tone(s) {
    if (!s.done) {
      return "away";
    }
    return s.good.length === s.all ? "good" : "ask";
  }

  // show lists the batches on the page, until they are put away.
  show() {
    fill(byID("batches"), ...this.list.map((b) => {
      const s = this.stateOf(b);
      const tone = this.tone(s);
      return el("button", { class: `shot wide ${tone}`, onclick: () => this.open(b) },
        el("b", {}, `${counted(s.all, "photo")} from the album`), el("span", {}, `${marks[tone]} ${this.head(s)}`.trim()));
    }));
  }

  redraw() {
    const before = this.list.length;
    this.list = this.list.filter((b) => this.stateOf(b).dropped < b.items.length);
    if (this.list.length < before) {
      this.keep();
    }
    this.show();
    const { shown } = this.sheet;
    if (shown !== null && shown.items !== undefined && this.sheet.at.open && this.list.includes(shown)) {
      this.draw(shown);
    }
  }

  open(batch) {
    this.sheet.shown = batch;
    this.draw(batch);
  }

  draw(batch) {
    const s = this.stateOf(batch);
    const tone = this.tone(s);
    const row = (i) => el("li", {}, el("button", { class: `shot wide ${i.verdict.tone}`, onclick: () => this.look(batch, i) },
      el("b", {}, `${marksInList[i.verdict.tone]} ${capital(i.verdict.of)}`), i.verdict.words !== "" && el("span", {}, i.verdict.words)));
    this.sheet.fill(
      el("div", { class: `large ${tone}` }, el("p", {}, `${counted(s.all, "photo")} from the album`), el("h2", { id: "sheet-large", tabindex: "-1" }, `${marks[tone]} ${this.head(s)}`.trim())),
      !s.done && el("progress", { max: 2 * s.all, value: 2 * s.all - 2 * s.onPhone.length - s.measuring.length, "aria-label": "done" }),
      s.look.length > 0 && el("ul", { class: "batch" }, s.look.map(row)),
      s.refused.length > 0 && el("p", { class: "problem" }, `${counted(s.refused.length, "photo")} not stored. The page shows which ones and why.`),
      s.good.length > 0 && el("details", {}, el("summary", {}, s.good.length === s.all ? "Show them" : `${s.good.length} good`), el("ul", { class: "batch" }, s.good.map(row))),
      el("footer", {},
        el("button", { class: "main", onclick: () => this.sheet.leave() }, s.done ? "Close" : "Continue"),
        s.done && el("button", { class: "side", onclick: () => this.putAway(batch) }, "Hide this list")));
  }

  // look shows one photo of a batch, and then the batch again, by what is said of the photo then.
  look(batch, item) {
    this.sheet.verdict(item.photo, {}, async () => {
      this.open(batch);
      this.take(item, await this.sheet.judged(item.photo));
    });
  }

  putAway(batch) {
    this.list = this.list.filter((b) => b !== batch);
    this.keep();
    this.sheet.leave();
    this.show();
  }
}
