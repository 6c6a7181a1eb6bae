"use strict";
// Playing the days, pictures by a row of the drawing, one treatment's comparisons, links into what is folded, and printing. Everything is on the page without them.
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

  // The choice of a treatment shows its comparisons alone, unfolded, on the days that are open.
  const filter = document.getElementById("filter");
  const wanted = filter && filter.querySelector("select");
  function show() {
    const only = wanted.value;
    for (const el of document.querySelectorAll("#intervals [data-treatment]")) el.hidden = only !== "" && el.dataset.treatment !== only && el.dataset.control !== only;
    let n = 0;
    for (const group of document.querySelectorAll("#intervals .group:not(.several)")) {
      const fits = group.querySelectorAll("[data-treatment]:not([hidden])").length;
      group.hidden = fits === 0;
      group.open = only !== "" && fits > 0;
      if (group.classList.contains("main")) continue; // at the top they are drawn
      n += fits;
    }
    document.getElementById("filtered").textContent = only === "" ? "" : n + (n === 1 ? " comparison" : " comparisons");
  }
  function showAll() {
    if (!wanted) return;
    wanted.value = "";
    show();
  }
  if (filter) {
    filter.hidden = false;
    filter.addEventListener("change", show);
  }

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
    opened = [...document.querySelectorAll("details.fold:not([open]),.growth details.how:not([open]),#intervals>.group:not([open]),details.day[open] .group:not([open])")].filter((el) => el.id !== "plugs");
    for (const el of opened) el.open = true;
  });
  addEventListener("afterprint", () => { for (const el of opened) el.open = false; });
})();
