// The feeding day as the server told it last, and what is to be done next.

import { ask, views } from "./common.js";
import * as keep from "./keep.js";

export const state = {
  day: null, // as the server told it
  at: 0, // when, by the phone's clock
  ahead: 0, // ms that the server's clock is ahead of the phone's
};

// load asks the server for the day.
export async function load() {
  state.day = await ask("GET", "/api/today", undefined, 20);
  state.at = Date.now();
  state.ahead = Date.parse(state.day.now) - state.at;
  keep.remember("day", { ...state });
}

// recall takes the day from this phone, when the server cannot be reached.
export async function recall() {
  const before = await keep.recall("day");
  if (state.day === null && before !== undefined) {
    Object.assign(state, before);
  }
  return state.day !== null;
}

export const now = () => new Date(Date.now() + state.ahead);

// missingOf returns what is still missing of a tray: views, and "feeding". What waits on this phone is not.
export function missingOf(t, waiting) {
  const list = [];
  for (const view of state.day.review ? ["roots", "shoots"] : []) {
    const onWay = waiting.some((w) => w.kind === "photo" && w.tray === t.tray && w.view === view && w.problem === undefined);
    const usable = t[view] !== null && ["good", "doubt"].includes(t[view].verdict);
    if (!usable && !onWay) {
      list.push(view);
    }
  }
  if (t.due && !waiting.some((w) => w.kind === "feeding" && w.body.tray === t.tray)) {
    list.push("feeding");
  }
  return list;
}

// nextStep is what is to be done next: what is missing of the tray in hand, else of the next one on the bench; null for nothing.
export function nextStep(waiting, inHand = 0) {
  const { trays } = state.day;
  const from = Math.max(0, trays.findIndex((t) => t.tray === inHand));
  for (const t of [...trays.slice(from), ...trays.slice(0, from)]) {
    const [what] = missingOf(t, waiting);
    if (what === "feeding") {
      return { tray: t, words: `Feed tray ${t.tray}…` };
    }
    if (what !== undefined) {
      return { tray: t, view: what, words: `Photograph tray ${t.tray}: ${views[what].toLowerCase()}${t[what] !== null ? " again" : ""}` };
    }
  }
  return null;
}
