// Sealing and opening take much memory for a second or more, making a link may take seconds. They are done aside: in a
// worker made of this very script, which is thrown away after one job, so that its memory goes too and the page stays
// answerable. What is returned stops it.
const own_script = globalThis.document?.currentScript?.textContent;
let own_module;
function start_wasm() {
  const text = atob(document.getElementById("wasm").textContent);
  own_module = new WebAssembly.Module(Uint8Array.from(text, (c) => c.charCodeAt(0)));
  wasm_bindgen.initSync({ module: own_module });
}
// WebKitGTK on a busy machine traps in about one start of fifty, with an access out of bounds whatever the memory, and
// not again when the page is loaded anew. So that is done, once; a page that traps twice says so. Nothing has been typed.
function load_again(fault) {
  const trap = globalThis.WebAssembly?.RuntimeError;
  const again = trap && fault instanceof trap && performance.getEntriesByType("navigation")[0]?.type !== "reload";
  if (again) location.reload();
  return again;
}
function run_aside(input, done) {
  const address = URL.createObjectURL(new Blob([own_script], { type: "text/javascript" }));
  const worker = new Worker(address);
  const stop = () => {
    worker.terminate();
    URL.revokeObjectURL(address);
  };
  const end = (answer) => {
    stop();
    done(answer);
  };
  worker.onmessage = ({ data }) => end(data);
  worker.onerror = () => end(undefined);
  worker.postMessage({ module: own_module, input });
  return stop;
}
if (!globalThis.document) {
  onmessage = ({ data }) => {
    wasm_bindgen.initSync({ module: data.module });
    postMessage(wasm_bindgen.work_aside(data.input));
  };
}
