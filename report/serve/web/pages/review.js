import { ask, byID, el, fill, marks, pause, Refused, sentence, verdicts } from "./common.js";
import { Stage } from "./stage.js";

let looking = { photos: [], hidden: false, problems: [] };
let filter = "all";
let current = ""; // the photo's id
let photo = null; // what is known of it, once it is measured

const stage = new Stage(byID("stage"), choose, () => {
  byID("moving").hidden = stage.grid === null;
  document.body.classList.toggle("moves", stage.grid !== null);
  byID("toggle").setAttribute("aria-pressed", stage.overlayOn);
});
const who = byID("who");
try {
  who.value = localStorage.getItem("who") ?? "";
} catch { /* asked for each time */ }
who.addEventListener("change", () => {
  try {
    localStorage.setItem("who", who.value);
  } catch { /* as above */ }
});

const say = (words) => { byID("said").textContent = words; };

// attempt does what the server is asked for and says what went wrong.
async function attempt(act) {
  try {
    return await act();
  } catch (e) {
    say(e instanceof Refused ? sentence(`That did not work: ${e.message}`) : "That did not work: the server could not be reached.");
    return null;
  }
}

// On a phone either the list is in view or one photo, and the way back is the phone's own.
const narrow = matchMedia("(max-width: 900px)");

function showAt(at) {
  document.body.dataset.at = at;
  byID("head").textContent = at === "photo" && narrow.matches && photo !== null ? nameOf(photo) : "Review photos";
  closeMenu();
}

function closeMenu() {
  byID("tools").classList.remove("open");
  byID("menu").setAttribute("aria-expanded", "false");
}

let scrolled = 0; // how far the list was

function toPhoto() {
  if (narrow.matches && document.body.dataset.at === "list") {
    scrolled = scrollY;
    history.pushState({ at: "photo" }, "");
  }
  showAt("photo");
  if (narrow.matches) {
    scrollTo(0, 0);
  }
}

addEventListener("popstate", () => {
  showAt("list");
  scrollTo(0, scrolled);
});
byID("to-list").addEventListener("click", () => history.back());
byID("menu").addEventListener("click", () => {
  const open = byID("tools").classList.toggle("open");
  byID("menu").setAttribute("aria-expanded", String(open));
});

// ——— the list

async function refresh() {
  const got = await attempt(() => ask("GET", "/api/photos"));
  if (got === null) {
    return;
  }
  looking = got;
  showBlind();
  showList();
  clearTimeout(later);
  if (looking.measuring > 0) {
    later = setTimeout(refresh, 4000);
  }
}
let later = 0;

function showBlind() {
  const at = byID("blind");
  at.className = looking.hidden ? "blind on" : "blind";
  at.textContent = looking.hidden ? "Treatment names are hidden" : looking.blind.split(":")[0]; // "Blind", "Partly blind"
  at.title = looking.blind;
  byID("hide").textContent = looking.hidden ? "Corrections done: show names" : "Hide treatment names";
  fill(byID("problems"), looking.problems.map((p) => el("p", { class: "problem" }, sentence(p))));
  byID("report").disabled = looking.hidden;
  byID("to-day").hidden = looking.hidden; // it names them
}

const filtered = () => looking.photos.filter((p) => filter === "all" || (filter === "corrected" ? p.corrected > 0 : p.open || p.gone || p.verdict !== "good"));

const nameOf = (p) => {
  const number = looking.photos.indexOf(looking.photos.find((q) => q.id === p.id)) + 1;
  const view = { roots: "roots", shoots: "leaves" }[p.view] ?? "";
  const day = p.day === null ? "" : `day ${p.day}`;
  return [p.tray ? `Tray ${p.tray}` : `Photo ${number}`, view, day].filter((w) => w !== "").join(", ");
};

function showList() {
  document.querySelectorAll("[data-filter]").forEach((b) => b.setAttribute("aria-pressed", b.dataset.filter === filter));
  const list = filtered();
  byID("list").replaceChildren(...list.map((p) => {
    const v = p.gone ? { mark: marks.gone, tone: "ask" } : p.open ? { mark: "?", tone: "ask" } : verdicts[p.verdict] ?? { mark: "…", tone: "" };
    return el("li", {}, el("button", { "data-id": p.id, "aria-current": p.id === current, title: [p.label, p.verdict || "not measured yet", p.gone && "its file is gone"].filter(Boolean).join(", "), onclick: () => { toPhoto(); open(p.id); } },
      el("span", { class: `mark ${v.tone}` }, v.mark), el("span", {}, nameOf(p)), p.corrected > 0 && el("span", { class: "count", title: "corrections" }, String(p.corrected)),
      el("small", {}, p.gone && el("b", {}, "file gone "), p.treatment || p.label || "")));
  }));
  if (list.length === 0) {
    byID("list").append(el("li", {}, el("p", { class: "quiet empty" }, looking.photos.length === 0 ? "There are no photos yet." : "None of these.")));
  }
}

function step(by) {
  const list = filtered();
  const at = list.findIndex((p) => p.id === current);
  const to = list[Math.min(list.length - 1, Math.max(0, at + by))];
  if (to !== undefined && to.id !== current) {
    open(to.id);
  }
}

// ——— one photo

async function open(id, keepView = false) {
  current = id;
  showList();
  document.querySelector(`[data-id="${id}"]`)?.scrollIntoView({ block: "nearest" });
  if (!keepView) {
    say("");
    photo = null;
    byID("facts").replaceChildren();
    stage.say("Measuring…");
  }
  let got = null;
  while (got === null || !got.ready) {
    got = await attempt(() => ask("GET", `/api/photo?id=${id}`));
    if (current !== id) {
      return;
    }
    if (got === null) {
      stage.say(byID("said").textContent);
      return;
    }
    if (!got.ready) {
      stage.say(`Measuring… ${got.why}`);
      await pause(300);
    }
  }
  photo = got;
  showAt(document.body.dataset.at);
  if (looking.photos.find((p) => p.id === id)?.verdict === "") {
    refresh(); // it has one now
  }
  if (stage.indexOf(stage.plug) === null) {
    stage.plug = "";
  }
  if (photo.width > 0) {
    stage.show(photo, keepView);
  } else {
    stage.say("This file cannot be shown.");
  }
  showFacts();
}

function choose(plug) {
  stage.choose(plug);
  document.querySelectorAll("#facts tbody tr").forEach((row) => {
    const on = row.dataset.plug === plug;
    row.classList.toggle("chosen", on);
    row.setAttribute("aria-selected", on);
    if (on && !narrow.matches) { // on a phone the photo stays in view
      row.scrollIntoView({ block: "nearest" });
    }
  });
  document.querySelectorAll("#facts .of-plug").forEach((b) => { b.disabled = plug === ""; });
  const p = photo?.plugs.find((q) => q.plug === plug);
  byID("chosen").textContent = p ? `${plug}: ${p.state}${areaOf(p)}${p.flags.length > 0 ? ` (${p.flags.join(", ")})` : ""}`
    : photo === null || photo.plugs.length === 0 ? "" : narrow.matches ? "Tap a plug: it comes near, with its figures." : "No plug chosen";
}

// areaOf says how much was counted on a plug, which on a phone nobody should have to look for in the table.
const areaOf = (p) => (p.words === "" ? "" : `, ${photo.view === "roots" ? "root" : "leaf"} area ${p.words} mm²`);

const figure = (v, decimals = 1) => (v === null ? "" : v.toFixed(decimals));

function showFacts() {
  const roots = photo.view === "roots";
  const excluded = photo.history.some((h) => h.stands && h.words === "photo excluded");
  const v = verdicts[photo.verdict] ?? { mark: "…" };
  const button = (key, words, act, ofPlug = false) => el("button", { class: ofPlug ? "of-plug" : "", onclick: act }, ...[words].flat(), " ", el("kbd", {}, key));
  const columns = roots
    ? [["area mm²", (p) => figure(p.area)], ["± U", (p) => figure(p.u)], ["cover %", (p) => figure(p.cover_pct)], ["length mm", (p) => figure(p.length_mm, 0)], ["brown %", (p) => figure(p.colour_pct)]]
    : [["area mm²", (p) => figure(p.area)], ["± U", (p) => figure(p.u)], ["yellow %", (p) => figure(p.colour_pct)], ["hue °", (p) => figure(p.hue_deg, 0)]];
  fill(byID("facts"),
    el("h2", { class: "on-desk" }, nameOf(photo)),
    ...photo.questions.map(question),
    photo.treatment && el("p", {}, photo.treatment),
    photo.label && el("p", { class: "quiet name" }, photo.label),
    el("p", { class: "quiet" }, photo.questions.length > 0 ? "? open question" : `${v.mark} ${v.short ?? photo.verdict}${photo.gone ? ", but its file is missing" : ""}`),
    ...photo.reasons.map((r) => el("p", { class: "problem" }, sentence(r.words + (r.remedy ? `: ${r.remedy}` : "")))),
    el("p", { id: "chosen", role: "status", "aria-live": "polite" }),
    el("div", { class: "acts" },
      button("E", "Empty", () => correctPlug("empty"), true),
      button("P", "Planted", () => correctPlug("planted"), true),
      button("X", ["Exclude", el("span", { class: "on-desk" }, " plug")], () => correctPlug("exclude"), true),
      el("span", { class: "more-acts" },
        photo.plugs.some((p) => p.flags.includes("covered")) && button("I", "Include plug", () => correctPlug("include"), true),
        excluded ? null : button("Shift X", "Exclude photo", excludePhoto),
        photo.corners !== null && !photo.gone && button("G", "Move grid", grid),
        !looking.hidden && !photo.gone && button("T", "Tray or day…", assign))),
    corrections(),
    photo.plugs.length > 0 && el("table", { "aria-label": "Plugs" },
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "plug"), columns.map(([head]) => el("th", { scope: "col" }, head)))),
      el("tbody", {}, photo.plugs.map((p) => el("tr", { "data-plug": p.plug, class: p.state === "excluded" ? "out" : "", onclick: () => choose(p.plug) },
        el("th", { scope: "row", class: p.flags.some((f) => f.endsWith("by hand")) ? "by-hand" : "", title: p.flags.join(", ") }, p.plug, p.state !== "planted" && ` ${p.state}`),
        columns.map(([, value]) => el("td", {}, value(p))))))));
  choose(stage.plug);
}

function corrections() {
  if (photo.history.length === 0) {
    return el("p", { class: "quiet" }, "No corrections in this photo.");
  }
  return el("ul", { class: "history", "aria-label": "Corrections to this photo" }, photo.history.toReversed().map((h) => el("li", { class: h.stands ? "" : "undone" },
    `${h.id}: ${h.words}: ${h.why} (${h.who}, ${h.when})`, h.undone_by ? `, undone by ${h.undone_by}` : "",
    h.stands && el("button", { onclick: () => undo(h) }, "Undo"))));
}

// ——— which tray and which day

// question asks what only a person can settle, with the same answers as on the phone.
function question(q) {
  const many = q.choices.length > 3;
  return el("div", { class: "question" }, el("p", {}, el("b", {}, q.large), " ", q.words),
    el("div", { class: many ? "keys-of" : "answers", role: "group", "aria-label": q.large }, q.choices.map((c) => el("button", { "aria-label": c.label, onclick: () => answer(c.label, { tray: c.tray ?? 0, day: c.day ?? null }) }, many ? String(c.tray) : c.label))));
}

// answer keeps an answer; the photo may have another name then.
async function answer(head, what, why = "") {
  const given = who.value === "" ? await askWhy(head, "hide", false) : { who: who.value };
  if (given === null) {
    return;
  }
  say("Storing…");
  const id = current;
  const got = await attempt(() => ask("POST", "/api/settle", { id, ...what, who: given.who, why }, 60));
  if (got === null) {
    return;
  }
  await refresh();
  if (current === id) {
    await open(got.id || id, true);
  }
  say(`Stored: ${got.of}.`);
}

// assign says which tray a photo shows, or of which day it is, where nothing asks for it.
async function assign() {
  if (photo === null || looking.hidden || gone()) {
    return;
  }
  const dialog = byID("ask");
  const tray = el("select", {}, el("option", { value: "0" }, "as it is"), photo.trays.map((n) => el("option", { value: n }, `tray ${n}`)));
  const day = el("input", { type: "number", min: "0", max: "9999", step: "1", placeholder: "as it is" });
  const why = el("input", { required: true, maxlength: "300", autocomplete: "off" });
  const name = el("input", { required: true, maxlength: "60", value: who.value, autocomplete: "nickname" });
  let done = false;
  const form = el("form", { method: "dialog", onsubmit: () => { done = true; } },
    el("h2", { id: "ask-head" }, "Set tray or day"),
    el("label", {}, el("span", {}, "Tray"), tray),
    el("label", {}, el("span", {}, "Day after sowing"), day),
    el("label", {}, el("span", {}, "Why"), why),
    el("label", {}, el("span", {}, "Your name"), name),
    el("p", { class: "row" }, el("button", { class: "main" }, "Apply"), el("button", { type: "button", onclick: () => dialog.close() }, "Cancel")));
  dialog.onclose = () => {
    byID("stage").focus();
    const what = { tray: Number(tray.value), day: day.value === "" ? null : Number(day.value) };
    if (done && (what.tray > 0 || what.day !== null)) {
      who.value = name.value;
      who.dispatchEvent(new Event("change"));
      answer("", what, why.value);
    }
  };
  dialog.replaceChildren(form);
  dialog.showModal();
}

// ——— correcting

const reasons = { exclude: ["eaten by slugs", "damaged when turned over", "a drop of water on it"], empty: ["algae, no plant", "no plug there"], planted: ["a seedling under its neighbour"], include: ["nothing covers it", "broken, but all of it is in view"], move: ["the card had slipped"], undo: ["wrong plug", "it was right before"], hide: [] };

// askWhy asks for a reason, and for who corrects where that is not known; null when it is left.
function askWhy(head, kind, why = true) {
  const dialog = byID("ask");
  const reason = el("input", { required: why, maxlength: "300", autocomplete: "off" });
  const name = el("input", { required: true, maxlength: "60", value: who.value, autocomplete: "nickname" });
  return new Promise((done) => {
    const form = el("form", { method: "dialog" },
      el("h2", { id: "ask-head" }, head),
      why && el("label", {}, el("span", {}, "Why"), reason),
      why && el("p", { class: "suggest" }, reasons[kind].map((r) => el("button", { type: "button", onclick: () => { reason.value = r; reason.focus(); } }, r))),
      el("label", {}, el("span", {}, "Your name"), name),
      el("p", { class: "row" }, el("button", { class: "main" }, "Apply"), el("button", { type: "button", onclick: () => dialog.close() }, "Cancel")));
    let result = null;
    form.addEventListener("submit", () => {
      who.value = name.value;
      who.dispatchEvent(new Event("change"));
      result = { why: reason.value, who: name.value };
    });
    dialog.onclose = () => {
      byID("stage").focus();
      done(result);
    };
    dialog.replaceChildren(form);
    dialog.showModal();
    (why ? reason : name).focus();
  });
}

// correct asks why, has it kept, and shows the photo as it is then.
async function correct(head, what, rest = {}) {
  const given = await askWhy(head, what);
  if (given === null) {
    return false;
  }
  const id = current;
  say("Storing…");
  const got = await attempt(() => ask("POST", "/api/correct", { id, what, ...given, ...rest }));
  if (got === null) {
    return false;
  }
  say(got.made.length > 0 ? `Stored as correction ${got.made.join(", ")}.` : "This correction already exists; nothing was added.");
  await refresh();
  if (current === id) {
    await open(id, true);
  }
  return true;
}

function correctPlug(what) {
  const plug = stage.plug;
  if (plug === "" || photo === null) {
    say("Choose a plug first: click it, or use the arrow keys.");
    return;
  }
  const head = { empty: `${plug} is empty`, planted: `Something grows in ${plug}`, include: `Nothing covers ${plug}: include its values`, exclude: `Leave ${plug} out of all results` }[what];
  correct(head, what, { plugs: [plug] });
}

function excludePhoto() {
  correct("Leave this photo out of all results", "exclude");
}

function undo(h) {
  correct(`Undo: ${h.words}`, "undo", { undoes: h.id });
}

function undoLast() {
  const last = photo?.history.findLast((h) => h.stands);
  if (last === undefined) {
    say("There is nothing to undo in this photo.");
    return;
  }
  undo(last);
}

// gone reports whether the photo's file is gone, and says so: then nobody can look into it to say where its plugs lie or which tray it is.
function gone() {
  if (photo?.gone) {
    say("The photo file is missing. Put it back into the folder photos first.");
  }
  return photo?.gone === true;
}

function grid() {
  if (gone()) {
    return;
  }
  if (photo === null || photo.corners === null) {
    say("The positions of the plugs are unknown, because no card was found in this photo.");
    return;
  }
  stage.overlayOn = false;
  stage.beginGrid();
  byID("stage").focus();
}

function leaveGrid() {
  stage.overlayOn = true;
  stage.endGrid();
}

function toggle() {
  if (stage.photo !== null && !stage.photo.gone) {
    stage.overlayOn = !stage.overlayOn;
    stage.draw();
  }
}

async function keepGrid() {
  const corners = stage.grid.map(([x, y]) => [Number(x.toFixed(1)), Number(y.toFixed(1))]);
  if (await correct("Use this grid", "move", { corners })) {
    stage.overlayOn = true;
    stage.draw();
  }
}

// ——— names hidden, and the report

byID("hide").addEventListener("click", async () => {
  const given = await askWhy(looking.hidden ? "Corrections are done: show treatment names" : "Hide treatment names until corrections are done", "hide", false);
  if (given === null) {
    return;
  }
  if (await attempt(() => ask("POST", "/api/blind", { hidden: !looking.hidden, who: given.who })) !== null) {
    byID("facts").replaceChildren(); // it may name a treatment
    await refresh();
    say(looking.hidden ? "Treatment names are hidden, and photos are in random order. The report will mention it." : looking.blind);
    if (current !== "") {
      await open(current, true);
    }
  }
});

// forReaders puts the page and the workbook before the tables.
const kinds = { "index.html": "Page", "trial.xlsx": "Workbook", "share.png": "Picture to share" };
const forReaders = (files) => {
  const first = Object.keys(kinds).filter((f) => files.includes(f));
  return [...first, ...files.filter((f) => !first.includes(f))];
};

byID("report").addEventListener("click", async () => {
  say("Writing the report…");
  const got = await attempt(() => ask("POST", "/api/report", {}, 300));
  if (got !== null) {
    fill(byID("said"), "Report written: ", ...forReaders(got.files).map((f) => el("a", { href: `/report/${f}`, target: "_blank", class: "button" }, kinds[f] ?? f)));
  }
});

document.querySelectorAll("[data-filter]").forEach((b) => b.addEventListener("click", () => {
  filter = b.dataset.filter;
  showList();
}));

// ——— keys

const keys = [
  ["J K", "next, previous photo", { j: () => step(1), k: () => step(-1) }],
  ["← → ↑ ↓", "choose a plug", { ArrowLeft: () => arrow(-1, 0), ArrowRight: () => arrow(1, 0), ArrowUp: () => arrow(0, -1), ArrowDown: () => arrow(0, 1) }],
  ["O", "overlay on or off", { o: toggle }],
  ["+ −", "zoom in, zoom out", { "+": () => stage.zoom(1.4), "=": () => stage.zoom(1.4), "-": () => stage.zoom(1 / 1.4) }],
  ["F", "fit the photo", { f: () => stage.photo && stage.fit() }],
  ["1", "actual pixels (in the grid: corner 1)", { 1: () => stage.zoom(1 / stage.scale) }],
  ["Z", "zoom to the plug", { z: () => stage.plug && stage.toPlug(stage.plug) }],
  ["E P X", "plug is empty, planted, excluded", { e: () => correctPlug("empty"), p: () => correctPlug("planted"), x: () => correctPlug("exclude") }],
  ["I", "include a plug that was left out because it seemed covered", { i: () => correctPlug("include") }],
  ["Shift X", "exclude the photo", { X: excludePhoto }],
  ["G", "move the grid: 1 to 4 choose a corner, 0 the whole grid; arrows move it by a pixel, with Shift by ten; Enter saves, Esc cancels", { g: grid }],
  ["T", "set tray or day", { t: assign }],
  ["U", "undo the photo’s last correction", { u: undoLast }],
  ["?", "these keys", { "?": () => help() }],
];
const keyed = Object.assign({}, ...keys.map(([, , acts]) => acts));

function arrow(dx, dy) {
  if (photo !== null && photo.corners !== null) {
    choose(stage.neighbour(dx, dy));
  }
}

const inGrid = (e) => {
  const by = e.shiftKey ? 10 : 1;
  const moves = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
  if (e.key in moves) {
    stage.nudge(...moves[e.key]);
  } else if (e.key >= "0" && e.key <= "4" && e.key.length === 1) {
    stage.corner = Number(e.key) - 1;
    stage.draw();
  } else if (e.key === "Enter") {
    keepGrid();
  } else if (e.key === "Escape" || e.key === "g") {
    leaveGrid();
  } else {
    return ["+", "=", "-", "f", "z", "o"].includes(e.key) ? keyed[e.key]() : undefined;
  }
  return null;
};

document.addEventListener("keydown", (e) => {
  const typing = e.target.matches?.("input, textarea, dialog *");
  const pressing = e.target.matches?.("button, a") && (e.key === "Enter" || e.key === " ");
  if (typing || pressing || e.ctrlKey || e.metaKey || e.altKey || document.querySelector("dialog[open]")) {
    return;
  }
  if (stage.photo !== null && stage.grid !== null) {
    if (inGrid(e) !== undefined) {
      e.preventDefault();
    }
    return;
  }
  const act = keyed[e.key] ?? (e.shiftKey ? undefined : keyed[e.key.toLowerCase()]);
  if (act !== undefined) {
    e.preventDefault();
    act();
  }
});

function help() {
  const dialog = byID("help");
  dialog.replaceChildren(el("form", { method: "dialog" },
    el("h2", { id: "help-head" }, "Keys"),
    el("dl", {}, keys.flatMap(([key, words]) => [el("dt", {}, key), el("dd", {}, words)])),
    el("button", { class: "main" }, "Close")));
  dialog.showModal();
}
for (const [id, act] of Object.entries({ keys: help, toggle, "zoom-in": () => stage.zoom(1.4), "zoom-out": () => stage.zoom(1 / 1.4), fit: () => stage.photo && stage.fit(), previous: () => step(-1), following: () => step(1), "keep-grid": keepGrid, "leave-grid": leaveGrid })) {
  byID(id).addEventListener("click", act);
}

// openLinked opens the photo that the page's address names, as a verdict does; the list lies behind it.
async function openLinked() {
  const linked = looking.photos.find((p) => p.id === location.hash.slice(1));
  if (linked === undefined) {
    return false;
  }
  history.replaceState(null, "", location.pathname);
  toPhoto();
  await open(linked.id);
  return true;
}
addEventListener("hashchange", openLinked);

await refresh();
if (looking.photos.length === 0) {
  stage.say("There are no photos yet. Take them on the feeding-day page, or copy them into the folder photos.");
} else if (!(await openLinked()) && !narrow.matches) {
  await open(looking.photos[0].id);
}
