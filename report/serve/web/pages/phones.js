// The computer's own page: the code for the next phone, and the phones that are let in.

import { ask, byID, el, fill, Refused, sentence } from "./common.js";

const svgNS = "http://www.w3.org/2000/svg";

// drawn draws a QR code of dark and light squares.
function drawn(squares) {
  const svg = document.createElementNS(svgNS, "svg");
  svg.setAttribute("viewBox", `0 0 ${squares.length} ${squares.length}`);
  svg.setAttribute("class", "qr");
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", "QR code that pairs one phone");
  const path = document.createElementNS(svgNS, "path");
  path.setAttribute("d", squares.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ""))).join(""));
  svg.append(path);
  return svg;
}

const clock = (time) => {
  const at = new Date(time);
  return `${at.toDateString() === new Date().toDateString() ? "" : `${at.toLocaleDateString("en-GB", { day: "numeric", month: "long" })}, `}${at.toTimeString().slice(0, 5)}`;
};

let before = "";

async function refresh() {
  let got = null;
  try {
    got = await ask("GET", "/api/phones");
  } catch (e) {
    byID("said").textContent = e instanceof Refused ? sentence(e.message) : "The program does not answer. Is it still running?";
    return;
  }
  byID("said").textContent = "";
  const text = JSON.stringify(got);
  if (text === before || document.activeElement?.matches("#in input")) { // somebody is writing
    return;
  }
  before = text;
  showNext(got);
  fill(byID("guessers"), got.guessers.map((g) => el("p", { class: "problem" }, `${g.wrong} wrong codes from ${g.address}, the last at ${clock(g.last)}. Only that address is slowed down.`)));
  fill(byID("in"), got.phones.map(phone));
}

function showNext(got) {
  if (!got.lan) {
    fill(byID("next"), el("p", {}, "Only this computer can open the pages. To pair phones, start the program with --lan."));
    return;
  }
  fill(byID("next"),
    got.qr.length > 0 && drawn(got.qr),
    el("div", {},
      el("p", {}, "Scan this with the next phone. Or open"),
      ...got.links.map((l) => el("p", { class: "link" }, l)),
      el("p", {}, "on the phone and enter"),
      el("p", { class: "code" }, got.code),
      got.trust !== "" && el("p", { class: "problem" }, `On a new phone, open ${got.trust} first: the page explains how to trust this computer.`),
      el("p", { class: "quiet" }, "This code pairs one phone. After that, or after an hour, a new one appears here.")));
}

function phone(p) {
  const name = el("input", { value: p.name, maxlength: "60", "aria-label": `Name of ${p.name}` });
  name.addEventListener("change", async () => {
    await attempt(() => ask("POST", "/api/phones/name", { key: p.key, name: name.value }));
    name.blur();
    refresh();
  });
  return el("li", {},
    name,
    el("p", { class: "quiet" }, p.own ? "this browser" : /^(127\.|::1$)/.test(p.address) ? "a browser on this computer" : p.address, `, since ${clock(p.since)}, last used ${clock(p.used)}`),
    !p.own && el("button", { "aria-label": `Unpair ${p.name}`, onclick: async () => {
      await attempt(() => ask("POST", "/api/phones/out", { key: p.key }));
      await refresh();
    } }, "Unpair"));
}

async function attempt(act) {
  try {
    await act();
  } catch (e) {
    byID("said").textContent = e instanceof Refused ? sentence(`That did not work: ${e.message}`) : "That did not work: the program does not answer.";
  }
}

setInterval(refresh, 3000);
await refresh();
