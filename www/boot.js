// The wasm stands in the page as base64: decode it, start it, nothing more. If that fails, say so in the page.
try {
  const text = atob(document.getElementById("wasm").textContent);
  wasm_bindgen.initSync({ module: Uint8Array.from(text, (c) => c.charCodeAt(0)) });
  wasm_bindgen.open_desk();
} catch (fault) {
  document.getElementById("state").textContent =
    "The desk could not start in this browser; a current one with WebAssembly is needed. " + fault;
  throw fault;
}
