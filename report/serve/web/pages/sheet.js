// The sheet about one photo: while it is sent, while it is measured, and what came of it.

import { ask, byID, capital, el, ended, fill, marks, pause, Refused, sentence, views } from "./common.js";
import { nextStep } from "./day.js";

export class PhotoSheet {
  // refresh asks the server for the day; act does the next step; photograph opens the camera for a tray and a view.
  constructor(sender, refresh, act, photograph) {
    Object.assign(this, { sender, refresh, act, photograph });
    this.at = byID("sheet");
    this.shown = null; // the photo, or what waits, that the sheet is about
    this.back = null; // what to show when it is closed
    this.at.addEventListener("close", () => { // comes late: the sheet may be open for another photo by then
      if (!this.at.open) {
        this.shown = null;
      }
    });
  }

  fill(...children) {
    fill(this.at, ...children);
    if (!this.at.open) {
      this.at.showModal();
    }
  }

  close() {
    this.shown = null;
    const { back } = this;
    this.back = null;
    if (back !== null) {
      back();
    } else {
      this.at.close();
    }
  }

  // leave closes the sheet for something else to do.
  leave() {
    this.back = null;
    this.close();
  }

  shows(thing) {
    return this.at.open && this.shown === thing;
  }

  redraw() {
    if (this.shown !== null && typeof this.shown === "object" && this.at.open && this.sender.waiting.includes(this.shown)) {
      this.sending(this.shown);
    }
  }

  continueButton() {
    return el("footer", {}, el("button", { class: "main", onclick: () => this.close() }, "Continue"));
  }

  // sending is about a photo that is not stored yet.
  sending(thing) {
    this.shown = thing;
    const { sender } = this;
    const of = thing.tray ? `Tray ${thing.tray}, ${views[thing.view].toLowerCase()}` : "Tray read from its tag";
    const waits = sender.why !== "" && sender.waiting[0] === thing ? `Waiting: ${sender.why}.` : "";
    const words = thing.problem !== undefined ? "Not stored." : sender.reached ? "Sending…" : "Not sent yet.";
    const more = thing.problem ? sentence(thing.problem) : sender.reached ? waits : "No connection. The photo will be sent when the phone is back online.";
    this.fill(
      el("div", { class: "large away" }, el("p", {}, of), el("h2", { id: "sheet-large" }, words)),
      more !== "" && el("p", { class: "remedy" }, more),
      thing.problem === undefined && el("progress", { max: thing.blob.size, value: thing.sent ?? 0, "aria-label": "sent" }),
      el("p", {}, thing.problem !== undefined ? "It is still on this phone. Send it again or discard it at the top of the page."
        : thing.kept !== false ? "The photo is kept on this phone until it is stored." : "Keep this page open until the photo is stored."),
      this.continueButton());
  }

  measuring(why) {
    this.fill(el("div", { class: "large away" }, el("p", {}, "Stored."), el("h2", { id: "sheet-large" }, "Measuring…")),
      why !== "" && el("p", { class: "remedy" }, why),
      el("progress", { "aria-label": "measuring" }),
      this.continueButton());
  }

  // judged has a photo measured and returns what is said of it, null where it cannot be; while it lasts it calls waits with why.
  async judged(photo, asked = {}, waits = () => {}) {
    for (let wait = 500; ;) {
      try {
        const v = await ask("GET", `/api/verdict?photo=${encodeURIComponent(photo)}&tray=${asked.tray ?? 0}&view=${asked.view ?? ""}`);
        if (v.ready) {
          return v;
        }
        waits(v.why);
        await pause(300);
      } catch (e) {
        if (e instanceof Refused && e.status !== 503) {
          waits("", e);
          return null;
        }
        waits(e instanceof Refused ? sentence(e.message) : "No connection. The verdict will appear when the phone is back online.");
        await pause(wait);
        wait = Math.min(2 * wait, 8000);
      }
    }
  }

  // verdict shows what is said of a photo, which was taken for a tray and a view, if anybody said so.
  async verdict(photo, asked = {}, back = null) {
    this.shown = photo;
    this.back = back;
    this.measuring("");
    const v = await this.judged(photo, asked, (why, refused) => {
      if (this.shown !== photo) {
        return;
      }
      if (refused === undefined) {
        this.measuring(why);
      } else {
        this.refused(refused);
      }
    });
    await this.refresh();
    if (v !== null && this.shown === photo) {
      this.draw(v, asked);
    }
  }

  refused(e) {
    this.fill(el("div", { class: "large retake" }, el("h2", { id: "sheet-large" }, ended(e.status) ? "Stored." : "Stored, not measured")),
      el("p", { class: "problem", role: "alert" }, sentence(e.message)),
      el("footer", {}, el("button", { class: "main", onclick: () => this.close() }, "Close")));
  }

  draw(v, asked) {
    this.shown = v.photo;
    const want = asked.tray > 0 ? asked : { tray: v.tray, view: v.view };
    const again = v.tone === "retake" || v.missed !== "";
    const next = nextStep(this.sender.waiting, want.tray);
    const take = (words, kind) => want.tray > 0 && want.view !== "" && want.view !== undefined && el("button", { class: kind, onclick: () => { this.leave(); this.photograph(want.tray, want.view); } }, words);
    const takeWords = v.missed !== "" ? `Take the ${views[want.view].toLowerCase()} of tray ${want.tray}` : "Retake";
    this.fill(
      el("div", { class: `large ${v.tone}` }, el("p", {}, capital(v.of)), el("h2", { id: "sheet-large", tabindex: "-1" }, `${marks[v.tone]} ${v.large}`)),
      v.missed !== "" && el("p", { class: "remedy" }, v.missed),
      ...v.questions.map((q) => this.question(v, q, asked)),
      ...v.reasons.map((r) => el("div", { class: "reason" },
        el("p", { class: v.tone === "retake" ? "remedy" : "" }, sentence(v.tone === "retake" ? r.remedy : r.words)),
        el("p", { class: "quiet" }, v.tone === "retake" ? sentence(r.words) : r.remedy && `For a better photo: ${r.remedy}.`))),
      v.figures.length > 0 && v.tone !== "ask" && figures(v),
      v.overlay && overlay(v),
      v.note !== "" && v.tone !== "ask" && el("p", { class: "quiet" }, v.note),
      el("footer", {},
        again ? take(takeWords, "main") : next !== null && el("button", { class: "main", onclick: () => { this.leave(); this.act(next); } }, next.words),
        !again && v.questions.length === 0 && take("Take another", "side"),
        v.questions.length > 0 && el("button", { class: "side", onclick: () => this.settle(v, asked, { leave_out: true }) }, "Leave it out"),
        el("button", { class: "side", onclick: () => this.close() }, this.back === null ? "Close" : "Back")));
    this.at.scrollTop = 0;
    byID("sheet-large").focus();
  }

  // question asks what only a person can settle. Many answers are laid out like keys.
  question(v, q, asked) {
    const many = q.choices.length > 3;
    return el("div", { class: "question" }, el("p", { class: "remedy" }, q.words),
      el("div", { class: many ? "keys-of" : "answers", role: "group", "aria-label": q.large }, q.choices.map((c) => el("button", {
        class: "answer", "aria-label": c.label, onclick: () => this.settle(v, asked, { tray: c.tray ?? 0, day: c.day ?? null }),
      }, many ? String(c.tray) : c.label))));
  }

  // settle keeps an answer and shows what is said of the photo then.
  async settle(v, asked, what) {
    const { back } = this;
    this.shown = v.photo;
    this.fill(el("div", { class: "large away" }, el("p", {}, capital(v.of)), el("h2", { id: "sheet-large" }, "Storing…")), el("progress", { "aria-label": "storing" }));
    let said = null;
    try {
      said = await ask("POST", "/api/settle", { id: v.id, ...what, asked_tray: asked.tray ?? 0, asked_view: asked.view ?? "" }, 60);
    } catch (e) {
      this.draw(v, asked);
      byID("sheet-large").after(el("p", { class: "problem", role: "alert" }, e instanceof Refused ? sentence(`Not stored: ${e.message}`) : "Not stored: no connection. Try again when it is back."));
      return;
    }
    await this.refresh();
    this.back = back;
    if (said.ready) {
      this.draw(said, asked);
    } else {
      await this.verdict(said.photo, asked, back);
    }
  }
}

// overlay shows what was counted and leads to the photo in review.
function overlay(v) {
  const img = el("img", { src: `/overlay?id=${v.id}`, alt: `Counted areas of ${v.of}` });
  return el("a", { href: `/review#${v.id}`, class: "overlay" }, img, el("span", {}, "Look closer or correct it"));
}

// figureOf sets a value large and its error bar beside it.
function figureOf(words) {
  const [value, u] = words.split(" ± ");
  return value === "" ? ["–"] : [el("b", {}, value), " ", el("span", { class: "unit" }, `${u === undefined ? "" : `± ${u} `}mm²`)];
}

// figures sets the tray's figure beside its controls'.
function figures(v) {
  return el("div", { class: "figures" },
    el("dl", {}, v.figures.map((f) => el("div", {},
      el("dt", {}, f.who),
      el("dd", {}, ...figureOf(f.words), el("small", {}, f.detail))))));
}
