// A code that came with a link stands behind "#" and was sent to nobody; it is sent once, from here.
const form = document.querySelector("form");
const button = form.querySelector("button");
const code = location.hash.slice(1);
if (/^[0-9A-Za-z-]{8,40}$/.test(code)) {
  history.replaceState(null, "", "/enter");
  document.getElementById("code").value = code;
  form.submit();
}

// After too many wrong codes the button counts down.
const until = Date.now() + 1000 * Number(form.dataset.wait);
const count = () => {
  const left = Math.ceil((until - Date.now()) / 1000);
  button.disabled = left > 0;
  button.textContent = left > 0 ? `Wait ${left} s` : "Continue";
  if (left > 0) {
    setTimeout(count, 500);
  }
};
count();
