"use strict";
// Playing the days, pictures by a row of the drawing, the filter, links into what is folded, and printing. Everything is on the page without them.
(function () {
  const days = [...document.querySelectorAll(".days input")];
  const play = document.getElementById("play");
  if (play) {
    let timer = 0;
    const stop = () => { clearInterval(timer); timer = 0; play.firstChild.data = "▶"; play.lastChild.textContent = " play"; };
    const next = () => {
      const i = days.findIndex((d) => d.checked) + 1;
      if (i >= days.length) { stop(); return; }
      days[i].checked = true;
      if (i === days.length - 1) stop();
    };
    play.hidden = false;
    play.addEventListener("click", () => {
      if (timer) { stop(); return; }
      days[0].checked = true;
      play.firstChild.data = "◼";
      play.lastChild.textContent = " stop";
      timer = setInterval(next, 1200);
    });
    for (const d of days) d.addEventListener("change", stop);
  }

  // A row of the drawing at the top shows its two treatments, where both are in view.
  for (const row of matchMedia("(min-width:64rem)").matches ? document.querySelectorAll("#answer .row") : []) {
    const pair = [...document.querySelectorAll(".pairs input")].find((i) => i.value === row.dataset.pair);
    if (!pair) continue;
    row.classList.add("shows");
    row.addEventListener("click", () => { pair.checked = true; });
  }

  const filter = document.getElementById("filter");
  const said = document.getElementById("filtered");
  const filtered = [...document.querySelectorAll("#intervals [data-day],#intervals [data-treatment],#intervals [data-quantity]")];
  filter.hidden = false;

  function fits(el, want) {
    const is = el.dataset;
    return !(want.day && is.day !== undefined && is.day !== want.day ||
      want.treatment && is.treatment !== undefined && is.treatment !== want.treatment && is.control !== want.treatment ||
      want.quantity && is.quantity !== undefined && is.quantity !== want.quantity);
  }

  function show() {
    const want = Object.fromEntries([...filter.querySelectorAll("select")].map((s) => [s.name, s.value]));
    for (const el of filtered) el.hidden = !fits(el, want);
    for (const el of document.querySelectorAll("#intervals .group")) {
      if (!el.hidden) el.hidden = !el.querySelector(".row:not([hidden])"); // days and quantities are theirs
    }
    if (want.day) for (const el of document.querySelectorAll("#intervals details.day:not([hidden])")) el.open = true;
    if (want.quantity) for (const el of document.querySelectorAll("details.others")) el.open = true;
    const n = document.querySelectorAll("#intervals .day:not([hidden]) .group:not([hidden]) .row:not([hidden])").length;
    said.textContent = want.day || want.treatment || want.quantity ? n + (n === 1 ? " comparison" : " comparisons") : "";
  }
  filter.addEventListener("change", show);
  function showAll() {
    for (const s of filter.querySelectorAll("select")) s.value = "";
    show();
  }
  document.getElementById("all").addEventListener("click", showAll);

  // A link leads into what is folded, or filtered away.
  function reveal() {
    const at = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!at) return;
    if (at.hidden || at.closest("[hidden]")) showAll();
    for (let el = at; el; el = el.parentElement) if (el.tagName === "DETAILS") el.open = true;
    setTimeout(() => at.scrollIntoView());
  }
  addEventListener("hashchange", reveal);
  reveal();

  // Paper cannot be unfolded: it shows what is folded, but for other days' comparisons, typical plugs, whose pictures are beside the page,
  // and pictures of what was counted.
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll("details.fold:not([open]),.growth details.how:not([open])")].filter((el) => el.id !== "plugs");
    for (const el of opened) el.open = true;
  });
  addEventListener("afterprint", () => { for (const el of opened) el.open = false; });
})();
