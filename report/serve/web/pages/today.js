// The feeding-day page: what is stored, what is missing, and the trays as they stand on the bench.

import { Batches } from "./batch.js";
import { byID, capital, counted, el, ended, fill, ml, Refused, sentence, verdicts, views } from "./common.js";
import { load, nextStep, recall, state } from "./day.js";
import { changeFeeding, enterFeeding } from "./feeding.js";
import { Sender } from "./sender.js";
import { PhotoSheet } from "./sheet.js";

const sender = new Sender(show, handedOver, refresh);
const sheet = new PhotoSheet(sender, refresh, act, photograph);
const batches = new Batches(sender, sheet, refresh);
history.replaceState(null, "", location.pathname); // a code that was not needed may stand there

// ——— what the server knows

let trouble = null; // what the server refused

async function refresh() {
  try {
    await load();
    sender.reached = true;
    trouble = null;
  } catch (e) {
    trouble = e instanceof Refused ? e : null;
    sender.reached = e instanceof Refused;
    await recall();
  }
  show();
}

const reload = (status) => el("button", { class: "main", onclick: () => location.reload() }, status === 401 ? "Enter a code" : "Reload the page"); // it leads there

// ——— showing

function show() {
  showStored();
  showQueue();
  const { day } = state;
  if (day === null) {
    fill(byID("notes"), trouble && refusal());
    return;
  }
  byID("title").textContent = day.title;
  fill(byID("day"), `Day ${day.day}`, el("small", {}, day.date));
  fill(byID("notes"), trouble && refusal(), day.gone && el("p", { class: "problem" }, day.gone), ...day.notes.map((n) => el("p", { class: "note" }, n)));
  showOpen();
  showMissing();
  showMixes();
  fill(byID("trays"), ...day.trays.map(trayCard));
  batches.redraw();
  showNext();
}

const refusal = () => el("div", { class: "problem", role: "alert" }, el("p", {}, sentence(trouble.message)),
  ended(trouble.status) && sender.waiting.length > 0 && el("p", {}, kept), ended(trouble.status) && reload(trouble.status));
const kept = "Photos and feedings on this phone are kept. They will be sent when the phone is paired again.";

// showStored says what is safe on the server and what is on this phone alone, and what it waits for.
function showStored() {
  const at = byID("stored");
  const photos = sender.waiting.filter((t) => t.kind === "photo").length;
  const feedings = sender.waiting.length - photos;
  const words = [photos > 0 && counted(photos, "photo"), feedings > 0 && counted(feedings, "feeding")].filter(Boolean).join(" and ");
  const refused = sender.waiting.filter((t) => t.problem !== undefined).length;
  const lost = sender.waiting.some((t) => t.kept === false) ? " Do not close this page." : "";
  const asOf = state.at > 0 ? ` Shown as of ${new Date(state.at).toTimeString().slice(0, 5)}.` : "";
  at.className = "stored";
  at.classList.toggle("away", words !== "" || !sender.reached);
  if (words === "") {
    at.textContent = sender.reached ? "Everything is stored." : `No connection. Everything so far is stored.${asOf}`;
  } else if (refused === sender.waiting.length) {
    at.textContent = `Not stored: ${words}. See below.`;
  } else if (!sender.reached) {
    at.textContent = `No connection. Only on this phone: ${words}. They will be sent when you are back online.${lost}`;
  } else {
    at.textContent = `Only on this phone: ${words}. ${sender.why === "" ? "Sending…" : `Waiting: ${sender.why}.`}${lost}`;
  }
}

// showQueue lists what was refused, with what to do about it. That the session has ended is said once.
function showQueue() {
  const refused = sender.waiting.filter((t) => t.problem !== undefined);
  const out = refused.filter((t) => ended(t.status));
  fill(byID("queue"),
    out.length > 0 && trouble === null && el("div", { class: "problem", role: "alert" }, el("p", {}, sentence(out[0].problem)), el("p", {}, kept), reload(out[0].status)),
    ...refused.filter((t) => !ended(t.status)).map((t) => {
      const fed = t.kind === "feeding";
      const yes = { more: "It was fed again: save this too", amount: "The amount is right: save it" }[t.ask] ?? "Send again";
      const what = fed ? `Feeding of tray ${t.body.tray}` : `Photo${t.tray ? ` of tray ${t.tray}` : ""}`;
      return el("div", { class: "problem", role: "alert" },
        el("p", {}, sentence(`${what} not stored: ${t.problem}`)),
        el("p", { class: "row" },
          el("button", { onclick: () => sender.again(t, (x) => Object.assign(x.body ?? {}, { more: { more: true }, amount: { sure: true } }[t.ask])) }, yes),
          el("button", { onclick: () => sender.drop(t) }, fed ? "Discard this feeding" : "Discard this photo")));
    }));
}

// showOpen lists the photos with something to settle, before all else.
function showOpen() {
  const { open } = state.day;
  fill(byID("open"), open.length > 0 && el("h2", {}, "Questions"),
    ...open.map((o) => el("button", { class: "shot ask wide", onclick: () => sheet.verdict(o.photo) }, el("b", {}, capital(o.of)), el("span", {}, o.words))));
}

function showMissing() {
  const { day } = state;
  const at = byID("missing");
  if (day.missing.length === 0) {
    if (day.trays.some((t) => t.roots?.gone || t.shoots?.gone)) {
      fill(at, el("p", {}, "Nothing else is due today, but files of today’s photos are missing: see above."));
      return;
    }
    const nothingDue = !day.review && day.trays.every((t) => t.fed.length === 0);
    fill(at, el("p", { class: "all-done" }, nothingDue ? "Nothing is due today." : "✓ Everything for today is done."));
    return;
  }
  fill(at, el("h2", {}, "Still missing"), el("ul", {}, day.missing.map((m) => el("li", {}, m))));
}

function showMixes() {
  const { day } = state;
  byID("mixing").hidden = day.mixes.length === 0;
  fill(byID("mixes"),
    ...day.mixes.map((m) => el("div", { class: "mix" },
      el("h2", { class: "treatment" }, m.treatment),
      el("p", {}, `${m.trays.length === 1 ? "tray" : "trays"} ${m.trays.join(", ")}`, m.total_ml > 0 ? `: ${ml(m.total_ml)} in total` : ""),
      m.doses.length === 0 ? el("p", {}, "water only") : el("ul", {}, m.doses.map((d) => el("li", {}, doseWords(d)))))),
    ...day.caution.map((c) => el("p", { class: "quiet" }, c)));
}

const doseWords = (d) => (d.ml > 0 ? `${ml(d.ml)} ${d.product}, ${d.written}` : `${d.product}, ${d.written}`);

// ——— a tray

function trayCard(t) {
  const waits = sender.waiting.filter((w) => w.kind === "feeding" && w.body.tray === t.tray && w.problem === undefined);
  const mix = [t.mix_ml > 0 && ml(t.mix_ml), t.gets.length === 0 ? "water" : t.mix_ml > 0 ? "with" : ""].filter(Boolean).join(" ");
  return el("li", { class: "tray", id: `tray-${t.tray}` },
    el("p", { class: "tag" }, el("span", { class: "of" }, "Tray"), el("b", {}, String(t.tray)), t.position > 0 && el("span", { class: "of" }, `position ${t.position}`)),
    el("div", { class: "what" },
      el("h2", { class: "treatment" }, t.treatment),
      (t.due || t.fed.length > 0) && el("p", {}, mix),
      (t.due || t.fed.length > 0) && t.gets.length > 0 && el("ul", { class: "doses" }, t.gets.map((d) => el("li", {}, doseWords(d))))),
    el("p", { class: "row" }, shotButton(t, "roots"), shotButton(t, "shoots")),
    ...t.withdrawn.map((w) => el("p", { class: "withdrawn" }, w.words)),
    ...t.fed.map((f) => el("div", { class: "fed good" },
      el("p", {}, `✓ Fed at ${f.clock}`, f.words && el("small", {}, f.words)),
      !f.for_all && el("button", { onclick: () => changeFeeding(sender, t, f), "aria-label": `Change the feeding of tray ${t.tray} at ${f.clock}` }, "Change"))),
    ...waits.map((w) => el("div", { class: "fed away" },
      el("p", {}, w.path === "/api/withdraw" ? "Withdrawn, but so far only on this phone" : "Fed, but so far only on this phone"),
      el("button", { onclick: () => sender.drop(w) }, "Undo"))),
    t.fed.length === 0 && waits.length === 0 && el("button", { class: t.due ? "feed due" : "feed", onclick: () => enterFeeding(sender, t) }, t.due ? "Mark as fed…" : "Record an extra feed…", ofTray(t)));
}

function shotButton(t, view) {
  const onWay = sender.waiting.findLast((w) => w.kind === "photo" && w.tray === t.tray && w.view === view && w.problem === undefined);
  const shot = t[view];
  const { review } = state.day;
  if (onWay !== undefined) {
    return el("button", { class: "shot away", onclick: () => sheet.sending(onWay) }, el("b", {}, views[view]), el("span", {}, onWay.sent > 0 ? `sending, ${Math.floor(100 * onWay.sent / onWay.blob.size)} %` : "waiting to be sent"), ofTray(t));
  }
  if (shot === null) {
    return el("button", { class: review ? "shot due" : "shot", onclick: () => photograph(t.tray, view) }, el("b", {}, views[view]), el("span", {}, review ? "photograph" : "not due"), ofTray(t));
  }
  const v = shot.gone ? { mark: "!", short: `${verdicts[shot.verdict].short}, but its file is missing`, tone: "gone" } : verdicts[shot.verdict];
  return el("button", { class: `shot ${v.tone}`, onclick: () => sheet.verdict(shot.photo, { tray: t.tray, view }) }, el("b", {}, views[view]), el("span", {}, `${v.mark} ${v.short}`), ofTray(t));
}

// ofTray tells those who hear the page which of many buttons alike one is; the others see the card that it is in.
const ofTray = (t) => el("span", { class: "unseen" }, `, tray ${t.tray}`);

// ——— what is next

function act(step) {
  if (step.view === undefined) {
    enterFeeding(sender, step.tray);
  } else {
    photograph(step.tray.tray, step.view);
  }
}

function showNext() {
  const next = nextStep(sender.waiting);
  const button = byID("next");
  button.hidden = next === null;
  if (next !== null) {
    button.textContent = next.words;
    button.onclick = () => act(next);
  }
}

// ——— photographs

const camera = byID("camera");
let wanted = {};

function photograph(tray, view) {
  wanted = { tray, view };
  camera.value = "";
  camera.click();
}

camera.addEventListener("change", () => {
  const { tray, view } = wanted;
  for (const file of camera.files) {
    const thing = { kind: "photo", blob: file, tray, view, changed: file.lastModified };
    sheet.sending(thing); // before it is sent, so that its verdict finds the sheet open
    sender.add(thing);
  }
});

// Photos that the phone took before are distinguished by the tags in them; their verdicts come as one list.
const pick = byID("pick");
byID("album").addEventListener("click", () => {
  pick.value = "";
  pick.click();
});
pick.addEventListener("change", () => batches.begin([...pick.files]));

async function handedOver(thing, got) {
  if (thing.kind === "feeding") {
    await refresh();
  } else if (thing.batch !== undefined) {
    batches.stored(thing, got.photo);
  } else if (sheet.shows(thing)) {
    await sheet.verdict(got.photo, thing);
  } else if ((await sheet.judged(got.photo, thing)) !== null) {
    await refresh();
  }
}

// ——— beginning

let drawing = false;
const changed = sender.changed;
sender.changed = () => {
  changed();
  if (drawing) {
    return;
  }
  drawing = true;
  setTimeout(() => { // not at every part of a photo
    drawing = false;
    sheet.redraw();
  }, 150);
};
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) {
    sender.hurry();
    refresh();
  }
});
addEventListener("beforeunload", (e) => {
  if (sender.waiting.some((t) => t.kept === false)) {
    e.preventDefault();
  }
});
setInterval(refresh, 30000);
if (isSecureContext && "serviceWorker" in navigator) { // over an encrypted link the page opens without a connection, too
  navigator.serviceWorker.register("/offline.js").catch(() => {});
  navigator.storage?.persist?.();
}
await recall();
await sender.load();
await batches.recall();
await refresh();
sender.run();
