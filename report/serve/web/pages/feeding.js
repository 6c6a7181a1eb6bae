// The sheet for what a tray was given: entered, changed, or withdrawn.

import { byID, el, fill, ml } from "./common.js";
import { now, state } from "./day.js";

const sheet = byID("feeding");
const farTimes = 4; // from how many times the plan's amount on it is asked about

const number = (input) => (input.value === "" ? null : Number(input.value));

function amount(value, label) {
  const input = el("input", { type: "number", inputmode: "decimal", min: "0", max: "100000", step: "any", value: value ?? "" });
  return { input, row: el("label", {}, el("span", {}, label), el("span", { class: "unit" }, input, "mL")) };
}

const rounded = (v) => (v > 0 ? Number(v.toFixed(2)) : "");

// fields are those of a feeding: all that was given, and the products in it. Less of the same mix holds less of each.
function fields(t, water, products) {
  const all = amount(water, products.length === 0 ? "Water given" : "Mix given, in total");
  const rows = products.map((p) => ({ product: p.product, ...amount(p.ml, `including ${p.product}`) }));
  all.input.addEventListener("input", () => {
    if (t.mix_ml > 0 && all.input.value !== "") {
      for (const row of rows) {
        const planned = t.gets.find((d) => d.product === row.product);
        if (planned !== undefined) {
          row.input.value = rounded(planned.ml_per_l * Number(all.input.value) / 1000);
        }
      }
    }
  });
  const note = el("input", { type: "text", maxlength: "200", placeholder: "only if something was unusual" });
  return {
    rows: [all.row, ...rows.map((r) => r.row), el("label", {}, el("span", {}, "Note"), note)],
    note,
    given: () => ({ water_ml: number(all.input), note: note.value, given: rows.map((r) => ({ product: r.product, ml: number(r.input) })) }),
  };
}

// unusual says which amount is far from the plan's, as the server does when it hears of it.
function unusual(t, body) {
  const far = (given, planned) => given > 0 && planned > 0 && (given > farTimes * planned || given * farTimes < planned);
  const words = (given, planned, what) => `${ml(given)}${what} is ${given > planned ? "" : "only "}${Number((given / planned).toPrecision(2))} times the ${ml(planned)} in the plan.`;
  if (far(body.water_ml, t.mix_ml)) {
    return words(body.water_ml, t.mix_ml, "");
  }
  for (const d of t.gets) {
    const planned = d.ml_per_l * (body.water_ml ?? t.mix_ml) / 1000;
    const given = body.given.find((g) => g.product === d.product)?.ml ?? 0;
    if (far(given, planned)) {
      return words(given, planned, ` ${d.product}`);
    }
  }
  return "";
}

// enter hands a feeding over, after asking about an amount that is far from the plan's.
function enter(sender, t, form, body) {
  const words = unusual(t, body);
  const send = () => {
    sheet.close();
    sender.add({ kind: "feeding", path: "/api/fed", body });
  };
  if (words === "") {
    send();
    return;
  }
  const question = el("div", { class: "problem", role: "alert" },
    el("p", { class: "remedy" }, words),
    el("p", { class: "row" },
      el("button", { type: "button", onclick: () => question.remove() }, "Change it"),
      el("button", { type: "button", onclick: () => { body.sure = true; send(); } }, "The amount is right: save it")));
  form.querySelector(".problem")?.remove();
  form.querySelector("footer").before(question);
  question.scrollIntoView({ block: "nearest" });
  question.querySelector("button").focus();
}

function show(head, words, rows, footer, onsubmit) {
  const form = el("form", { method: "dialog", class: "plain", onsubmit: (e) => { e.preventDefault(); onsubmit(form); } },
    el("h2", { id: "feeding-head" }, head), el("p", {}, words), rows, el("footer", {}, footer));
  fill(sheet, form);
  sheet.showModal();
  sheet.scrollTop = 0;
}

// momentFor returns the moment of a new feeding of a tray: now, but not one by which another of its feedings is known.
function momentFor(t) {
  const second = (time) => Math.floor(new Date(time).getTime() / 1000);
  const known = [...t.fed, ...t.withdrawn].map((f) => second(f.at));
  let at = second(now());
  while (known.includes(at)) {
    at++;
  }
  return new Date(1000 * at).toISOString();
}

// enterFeeding asks what a tray was given. Its moment is fixed once, so that it is entered once however often it is sent.
export function enterFeeding(sender, t) {
  const f = fields(t, rounded(t.mix_ml), t.gets.map((d) => ({ product: d.product, ml: rounded(d.ml) })));
  show(`Tray ${t.tray}, ${t.treatment}`, "Enter what the tray really got.", f.rows,
    [el("button", { class: "main" }, "Save feeding"), el("button", { type: "button", class: "side", onclick: () => sheet.close() }, "Cancel")],
    (form) => enter(sender, t, form, { tray: t.tray, at: momentFor(t), more: t.fed.length > 0, ...f.given() }));
}

// changeFeeding corrects what was entered: other amounts, another tray, or not fed at all. The log keeps what was there before.
export function changeFeeding(sender, t, fed) {
  const f = fields(t, fed.water_ml, fed.given);
  f.note.value = fed.note;
  const trays = el("select", {}, state.day.trays.map((o) => el("option", { value: o.tray, selected: o.tray === t.tray }, `Tray ${o.tray}, ${o.treatment}`)));
  const why = el("input", { type: "text", maxlength: "200", placeholder: "for example: wrong tray" });
  const instead = { tray: t.tray, at: fed.at };
  show(`Tray ${t.tray}, fed at ${fed.clock}`, "Correct this entry. The log keeps both versions.",
    [el("label", {}, el("span", {}, "Tray"), trays), ...f.rows, el("label", {}, el("span", {}, "Reason for the change"), why)],
    [el("button", { class: "main" }, "Save the change"),
      el("button", { type: "button", class: "side", onclick: () => {
        sheet.close();
        sender.add({ kind: "feeding", path: "/api/withdraw", body: { ...instead, why: why.value } });
      } }, "It was not fed"),
      el("button", { type: "button", class: "side", onclick: () => sheet.close() }, "Cancel")],
    (form) => {
      const to = state.day.trays.find((o) => o.tray === Number(trays.value)) ?? t;
      enter(sender, to, form, { tray: to.tray, at: fed.at, more: true, instead, why: why.value, ...f.given() });
    });
}
