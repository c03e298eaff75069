// The wasm stands in the page as base64: decode it, start it, nothing more. If that fails, say so in the page.
try {
  const text = atob(document.getElementById("wasm").textContent);
  wasm_bindgen.initSync({ module: Uint8Array.from(text, (c) => c.charCodeAt(0)) });
  wasm_bindgen.open_home();
} catch (fault) {
  document.getElementById("told").textContent =
    "This page could not start here. Try a newer phone or browser, or use your paper sheet. " + fault;
  throw fault;
}
