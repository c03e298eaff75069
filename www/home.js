// In the page, not in its worker: start, nothing more. If that fails, say so in the page.
if (globalThis.document) try {
  start_wasm();
  wasm_bindgen.open_home();
} catch (fault) {
  if (!load_again(fault)) document.getElementById("told").textContent =
    "This page could not start here. Try a newer phone or browser, or use your paper sheet. " + fault;
  throw fault;
}
