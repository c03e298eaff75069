// In the page, not in its worker: start, nothing more. If that fails, say so in the page.
if (globalThis.document) try {
  start_wasm();
  wasm_bindgen.open_desk();
} catch (fault) {
  if (!load_again(fault)) document.getElementById("state").textContent =
    "The desk could not start in this browser; a current one with WebAssembly is needed. " + fault;
  throw fault;
}
