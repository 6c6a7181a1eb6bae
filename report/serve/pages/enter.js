// A code that came with the QR code stands behind "#" and was sent to nobody; it is sent once, from here.
const code = location.hash.slice(1);
if (/^[0-9A-Za-z-]{8,9}$/.test(code)) {
  history.replaceState(null, "", "/enter");
  document.getElementById("code").value = code;
  document.querySelector("form").submit();
}
