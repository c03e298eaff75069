// The wasm stands in the page as base64: decode it, start it, nothing more.
const text = atob(document.getElementById("wasm").textContent);
wasm_bindgen.initSync({ module: Uint8Array.from(text, (c) => c.charCodeAt(0)) });
wasm_bindgen.open_desk();
