import { ask, byID, el, fill, ml, pause, Refused, verdicts } from "./common.js";
import { Sender } from "./sender.js";

let day = null; // as the server told it last
let ahead = 0; // ms that the server's clock is ahead of the phone's
const views = { roots: "Roots", shoots: "Leaves" };

const sender = new Sender(show, handedOver, refresh);

// ——— what the server knows

async function refresh() {
  try {
    day = await ask("GET", "/api/today", undefined, 20);
    ahead = Date.parse(day.now) - Date.now();
    sender.reached = true;
  } catch (e) {
    if (e instanceof Refused) {
      byID("notes").replaceChildren(el("div", { class: "problem", role: "alert" }, el("p", {}, `${capital(e.message)}.`), ended(e.status) && reload()));
      return;
    }
    sender.reached = false;
  }
  show();
}

// ended tells whether the server no longer knows this page; what waits is kept and sent by the page loaded anew.
const ended = (status) => status === 401 || status === 403;
const reload = () => el("button", { class: "main", onclick: () => location.reload() }, "Load the page again");

// ——— showing

function show() {
  showStored();
  showQueue();
  if (day === null) {
    return;
  }
  byID("title").textContent = day.title;
  byID("day").replaceChildren(`Day ${day.day}`, el("small", {}, day.date));
  byID("notes").replaceChildren(...day.notes.map((n) => el("p", { class: "note" }, n)));
  showMissing();
  showMixes();
  byID("trays").replaceChildren(...day.trays.map(trayCard));
  byID("strays").replaceChildren(...(day.strays.length === 0 ? [] : [
    el("h2", {}, "Photos of no known tray"),
    ...day.strays.map((s) => el("button", { class: "shot", onclick: () => openVerdict(s.photo) }, `${s.photo}: ${s.why || s.verdict}`)),
  ]));
  showNext();
}

// showStored says what is safe on the server and what is on this phone alone.
function showStored() {
  const at = byID("stored");
  const photos = sender.waiting.filter((t) => t.kind === "photo").length;
  const feedings = sender.waiting.length - photos;
  const parts = [];
  if (photos > 0) {
    parts.push(photos === 1 ? "1 photo" : `${photos} photos`);
  }
  if (feedings > 0) {
    parts.push(feedings === 1 ? "1 feeding" : `${feedings} feedings`);
  }
  const words = parts.join(" and ");
  const refused = sender.waiting.filter((t) => t.problem !== undefined).length;
  const lost = sender.waiting.some((t) => t.kept === false) ? " Do not close this page." : "";
  at.className = "stored";
  if (words === "") {
    at.classList.toggle("away", !sender.reached);
    at.textContent = sender.reached ? "Everything is stored." : "No connection. Everything up to now is stored.";
  } else if (refused === sender.waiting.length) {
    at.classList.add("away");
    at.textContent = `Not stored: ${words}. See below.`;
  } else {
    at.classList.add("away");
    at.textContent = (sender.reached ? `On this phone only: ${words}. Sending…` : `No connection. On this phone only: ${words}; sent as soon as it is back.`) + lost;
  }
}

// showQueue lists what was refused, with what to do about it.
function showQueue() {
  byID("queue").replaceChildren(...sender.waiting.filter((t) => t.problem !== undefined).map((t) => {
    const fed = t.kind === "feeding";
    const buttons = [];
    if (ended(t.status)) {
      return el("div", { class: "problem", role: "alert" }, el("p", {}, `${fed ? "Feeding" : "Photo"} not stored yet: ${t.problem}.`), reload());
    }
    if (fed && t.status === 409) {
      buttons.push(el("button", { onclick: () => sender.again(t, (x) => { x.body.more = true; }) }, "It was given more: enter it too"));
    } else {
      buttons.push(el("button", { onclick: () => sender.again(t) }, "Send again"));
    }
    buttons.push(el("button", { onclick: () => sender.drop(t) }, fed ? "Do not enter it" : "Drop this photo"));
    const what = fed ? `Feeding of tray ${t.body.tray}` : `Photo${t.tray ? ` of tray ${t.tray}` : ""}`;
    return el("div", { class: "problem", role: "alert" }, el("p", {}, `${what} not stored: ${t.problem}.`), el("p", { class: "row" }, buttons));
  }));
}

function showMissing() {
  const at = byID("missing");
  if (day.missing.length === 0) {
    const nothingDue = !day.review && day.trays.every((t) => t.fed === null);
    at.replaceChildren(el("p", { class: "all-done" }, nothingDue ? "Nothing is due today." : "✓ Nothing is missing today."));
    return;
  }
  at.replaceChildren(el("h2", {}, "Still missing"), el("ul", {}, day.missing.map((m) => el("li", {}, m))));
}

function showMixes() {
  byID("mixing").hidden = day.mixes.length === 0;
  byID("mixes").replaceChildren(
    ...day.mixes.map((m) => el("div", { class: "mix" },
      el("h2", { class: "treatment" }, m.treatment),
      el("p", {}, `${m.trays.length === 1 ? "tray" : "trays"} ${m.trays.join(", ")}`, m.total_ml > 0 ? `: ${ml(m.total_ml)} together` : ""),
      m.doses.length === 0 ? el("p", {}, "water only") : el("ul", {}, m.doses.map((d) => el("li", {}, doseWords(d)))))),
    ...day.caution.map((c) => el("p", { class: "quiet" }, c)));
}

const doseWords = (d) => (d.ml > 0 ? `${ml(d.ml)} ${d.product}` : d.product) + ` (${Number(d.ml_per_l.toFixed(3))} mL/L)`;

function trayCard(t) {
  const waits = sender.waiting.some((w) => w.kind === "feeding" && w.body.tray === t.tray && w.problem === undefined);
  const gets = t.gets.length === 0 ? "water" : t.gets.map(doseWords).join(", ");
  const volume = t.mix_ml > 0 ? `${ml(t.mix_ml)} ${t.gets.length === 0 ? "" : "with "}` : "";
  return el("li", { class: "tray", id: `tray-${t.tray}` },
    el("p", { class: "tag" }, el("span", { class: "of" }, "Tray"), el("b", {}, String(t.tray)), t.place > 0 && el("span", { class: "of" }, `place ${t.place}`)),
    el("div", { class: "what" },
      el("h2", { class: "treatment" }, t.treatment),
      el("p", {}, volume + gets)),
    el("p", { class: "row" }, shotButton(t, "roots"), shotButton(t, "shoots")),
    t.fed !== null
      ? el("p", { class: "fed good" }, `✓ Fed at ${t.fed.at}`, t.fed.words && el("small", {}, t.fed.words))
      : waits
        ? el("p", { class: "fed away" }, "Fed: on this phone only so far")
        : el("button", { class: t.due ? "feed due" : "feed", onclick: () => openFeeding(t) }, t.due ? "Mark as fed…" : "Fed, though not due…"));
}

function shotButton(t, view) {
  const onWay = sender.waiting.findLast((w) => w.kind === "photo" && w.tray === t.tray && w.view === view && w.problem === undefined);
  const shot = t[view];
  const name = views[view];
  const begin = () => photograph(t.tray, view);
  if (onWay !== undefined) {
    return el("button", { class: "shot away", onclick: () => openSending(onWay) }, el("b", {}, name), el("span", {}, sendingWords(onWay)));
  }
  if (shot === null) {
    return el("button", { class: day.review ? "shot due" : "shot", onclick: begin }, el("b", {}, name), el("span", {}, day.review ? "photograph" : "not due"));
  }
  const v = verdicts[shot.verdict];
  return el("button", { class: `shot ${v.tone}`, onclick: () => openVerdict(shot.photo) }, el("b", {}, name), el("span", {}, `${v.mark} ${v.short}`));
}

const sendingWords = (t) => (t.sent > 0 ? `sending, ${Math.floor(100 * t.sent / t.blob.size)} %` : "waiting to be sent");

// nextStep is what the big button at the thumb does: the first missing thing, as the trays stand on the bench.
function nextStep() {
  for (const t of day.trays) {
    for (const view of day.review ? ["roots", "shoots"] : []) {
      const onWay = sender.waiting.some((w) => w.kind === "photo" && w.tray === t.tray && w.view === view);
      const usable = t[view] !== null && ["good", "doubt"].includes(t[view].verdict);
      if (!usable && !onWay) {
        const again = t[view] !== null ? " again" : "";
        return { words: `Photograph tray ${t.tray}: ${views[view].toLowerCase()}${again}`, act: () => photograph(t.tray, view) };
      }
    }
    if (t.due && !sender.waiting.some((w) => w.kind === "feeding" && w.body.tray === t.tray)) {
      return { words: `Feed tray ${t.tray}…`, act: () => openFeeding(t) };
    }
  }
  return null;
}

function showNext() {
  const next = nextStep();
  const button = byID("next");
  button.hidden = next === null;
  if (next !== null) {
    button.textContent = next.words;
    button.onclick = next.act;
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
    openSending(thing); // before it is sent, so that its verdict finds the sheet open
    sender.add(thing);
  }
});

// Photos that the phone took before are told apart by the tags in them; their verdicts stand in the list.
const pick = byID("pick");
byID("album").addEventListener("click", () => {
  pick.value = "";
  pick.click();
});
pick.addEventListener("change", () => {
  for (const file of pick.files) {
    sender.add({ kind: "photo", blob: file, tray: 0, view: "", changed: file.lastModified });
  }
});

const sheet = byID("sheet");
let shown = null; // the photo, or what waits, that the sheet is about

function sheetOf(...children) {
  fill(sheet, ...children);
  if (!sheet.open) {
    sheet.showModal();
  }
}

const close = () => {
  shown = null;
  sheet.close();
};
sheet.addEventListener("close", () => { // comes late: the sheet may be open for another photo by then
  if (!sheet.open) {
    shown = null;
  }
});

function openSending(thing) {
  shown = thing;
  drawSending(thing);
}

function drawSending(thing) {
  const of = thing.tray ? `tray ${thing.tray}, ${views[thing.view].toLowerCase()}` : "tray by its tag";
  const words = thing.problem !== undefined ? "Not stored." : sender.reached ? "Sending…" : "Not sent yet.";
  const more = thing.problem ?? (sender.reached ? "" : "There is no connection. The photo is sent as soon as it is back.");
  sheetOf(
    el("div", { class: "large away" }, el("p", {}, of), el("h2", { id: "sheet-large" }, words)),
    more !== "" && el("p", { class: "remedy" }, more),
    el("progress", { max: thing.blob.size, value: thing.sent ?? 0, "aria-label": "sent" }),
    el("p", {}, thing.kept !== false ? "The photo is kept on this phone until it is stored." : "Leave this page open until the photo is stored."),
    el("footer", {}, el("button", { class: "main", onclick: close }, "Go on meanwhile")));
}

async function handedOver(thing, got) {
  if (thing.kind === "feeding") {
    await refresh();
    return;
  }
  const watch = shown === thing;
  const judged = await openVerdict(got.photo, watch);
  if (judged !== null && !watch && judged.verdict !== "good") {
    await refresh();
  }
}

// openVerdict shows what is said of a photo; quietly it only has it measured.
async function openVerdict(photo, loudly = true) {
  if (loudly) {
    shown = photo;
    sheetOf(el("div", { class: "large away" }, el("p", {}, "Stored."), el("h2", { id: "sheet-large" }, "Measuring…")), el("progress", { "aria-label": "measuring" }),
      el("footer", {}, el("button", { class: "main", onclick: close }, "Go on meanwhile")));
  }
  let v = null;
  for (let wait = 500; v === null || !v.ready;) {
    try {
      v = await ask("GET", `/api/verdict?photo=${encodeURIComponent(photo)}`);
    } catch (e) {
      if (e instanceof Refused) {
        if (shown === photo) {
          sheetOf(el("div", { class: "large retake" }, el("h2", { id: "sheet-large" }, "Stored, not measured")), el("p", { class: "problem", role: "alert" }, e.message), el("footer", {}, el("button", { class: "main", onclick: close }, "Close")));
        }
        return null;
      }
      await pause(wait);
      wait = Math.min(2 * wait, 8000);
    }
  }
  await refresh();
  if (shown === photo) {
    drawVerdict(v);
  }
  return v;
}

function drawVerdict(v) {
  const { tone, mark } = verdicts[v.verdict];
  const again = tone === "retake";
  const next = nextStep();
  sheetOf(
    el("div", { class: `large ${tone}` }, el("p", {}, v.of), el("h2", { id: "sheet-large", tabindex: "-1" }, `${mark} ${v.large}`)),
    ...v.reasons.map((r) => el("div", { class: "reason" }, el("p", { class: "remedy" }, capital(r.remedy)), el("p", { class: "quiet" }, capital(r.words)))),
    v.figures.length > 0 && figures(v),
    v.overlay && el("a", { href: `/overlay?id=${v.id}`, target: "_blank", class: "overlay" }, el("img", { src: `/overlay?id=${v.id}`, alt: `What was counted on ${v.of}` })),
    v.note !== "" && el("p", { class: "quiet" }, v.note),
    el("footer", {},
      again || next === null ? null : el("button", { class: "main", onclick: () => { close(); next.act(); } }, next.words),
      el("button", { class: again ? "main" : "side", onclick: () => { close(); photograph(v.tray, v.view); } }, again ? "Take it again" : "Take another"),
      el("button", { class: "side", onclick: close }, "Close")));
  sheet.scrollTop = 0;
  byID("sheet-large").focus();
}

const capital = (s) => s.charAt(0).toUpperCase() + s.slice(1);

// figures sets the tray's figure beside its controls'.
function figures(v) {
  return el("div", { class: "figures" },
    el("dl", {}, v.figures.map((f) => el("div", {},
      el("dt", {}, f.who),
      el("dd", {}, f.value === null ? "–" : el("b", {}, f.value.toFixed(1)), f.value === null ? "" : " mm²", el("small", {}, f.detail))))));
}

// ——— feeding

const feeding = byID("feeding");

function openFeeding(t) {
  const amount = (value, label) => {
    const input = el("input", { type: "number", inputmode: "decimal", min: "0", max: "100000", step: "any", value: value > 0 ? Number(value.toFixed(2)) : "" });
    return { input, row: el("label", {}, el("span", {}, label), el("span", { class: "unit" }, input, "mL")) };
  };
  const all = amount(t.mix_ml, t.gets.length === 0 ? "Water given" : "Mix given, in all");
  const products = t.gets.map((d) => ({ product: d.product, ...amount(d.ml, `of it ${d.product}`) }));
  all.input.addEventListener("input", () => { // less of the same mix holds less of each
    if (t.mix_ml > 0 && all.input.value !== "") {
      t.gets.forEach((d, i) => { products[i].input.value = Number((d.ml_per_l * Number(all.input.value) / 1000).toFixed(2)); });
    }
  });
  const note = el("input", { type: "text", maxlength: "200", placeholder: "only if something was different" });
  const value = (input) => (input.value === "" ? null : Number(input.value));
  const enter = (e) => {
    e.preventDefault();
    feeding.close();
    sender.add({
      kind: "feeding", body: {
        tray: t.tray, at: new Date(Date.now() + ahead).toISOString(), water_ml: value(all.input), note: note.value, more: false,
        given: products.map((p) => ({ product: p.product, ml: value(p.input) })),
      },
    });
  };
  feeding.replaceChildren(el("form", { method: "dialog", class: "plain", onsubmit: enter },
    el("h2", { id: "feeding-head" }, `Tray ${t.tray}, ${t.treatment}`),
    el("p", {}, "Enter what it really got."),
    all.row, products.map((p) => p.row),
    el("label", {}, el("span", {}, "Note"), note),
    el("footer", {}, el("button", { class: "main" }, "It was fed"), el("button", { type: "button", class: "side", onclick: () => feeding.close() }, "Not yet"))));
  feeding.showModal();
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
    if (shown !== null && typeof shown === "object" && sheet.open && sender.waiting.includes(shown)) {
      drawSending(shown);
    }
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
await refresh();
await sender.begin();
