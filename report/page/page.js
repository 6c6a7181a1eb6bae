"use strict";
// The filter and printing. Everything is on the page without them.
(function () {
  const form = document.getElementById("filter");
  const said = document.getElementById("filtered");
  const filtered = [...document.querySelectorAll("[data-day],[data-treatment],[data-quantity]")].filter((el) => !el.closest("#answer"));
  form.hidden = false;

  function fits(el, want) {
    const is = el.dataset;
    return !(want.day && is.day !== undefined && is.day !== want.day ||
      want.treatment && is.treatment !== undefined && is.treatment !== want.treatment && is.control !== want.treatment ||
      want.quantity && is.quantity !== undefined && is.quantity !== want.quantity);
  }

  function show() {
    const want = Object.fromEntries(new FormData(form));
    for (const el of filtered) el.hidden = !fits(el, want);
    for (const el of document.querySelectorAll("#intervals .group,.growth")) {
      if (!el.hidden) el.hidden = !el.querySelector(".row:not([hidden]),.panel:not([hidden])");
    }
    if (want.day) for (const el of document.querySelectorAll("details.day:not([hidden])")) el.open = true;
    if (want.quantity) for (const el of document.querySelectorAll("details.others")) el.open = true;
    const n = document.querySelectorAll(".day:not([hidden]) .group:not([hidden]) .row:not([hidden])").length;
    said.textContent = want.day || want.treatment || want.quantity ? n + (n === 1 ? " comparison" : " comparisons") : "";
  }
  form.addEventListener("change", show);
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("reset", () => setTimeout(show));

  // A link leads into what is folded, or filtered away.
  function reveal() {
    const at = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!at) return;
    if (at.hidden || at.closest("[hidden]")) { form.reset(); }
    for (let el = at; el; el = el.parentElement) if (el.tagName === "DETAILS") el.open = true;
    setTimeout(() => at.scrollIntoView());
  }
  addEventListener("hashchange", reveal);
  reveal();

  // Paper cannot be unfolded: days and figures are printed open, pictures of what was counted are not.
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll(".growth details.how:not([open])")];
    for (const el of opened) el.open = true;
  });
  addEventListener("afterprint", () => { for (const el of opened) el.open = false; });
})();
