// What is kept, once more and on the disk at once: engines write localStorage half a minute late or later, and a browser
// that is killed loses that. One text for each prescription, by its identity: key and value of its last version, on two
// lines. Where the browser has no such store, nothing is said: all is kept as without it.
let journal;
let journal_is_busy = false;
const journal_waits = [];
function journal_do(act, done) {
  journal ??= new Promise((good, ill) => {
    const asked = indexedDB.open("layfigure desk", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("journal");
    asked.onsuccess = () => good(asked.result);
    asked.onerror = () => ill(asked.error);
  });
  journal.then((base) => {
    const work = base.transaction("journal", "readwrite", { durability: "strict" });
    const answer = act(work.objectStore("journal"));
    work.oncomplete = () => done(answer?.result);
    work.onabort = () => done();
  }).catch(() => done());
}
function journal_go_on() {
  if (journal_is_busy || !journal_waits.length) return;
  journal_is_busy = true;
  const now = journal_waits.splice(0);
  journal_do((store) => now.forEach((act) => act(store)), () => {
    journal_is_busy = false;
    journal_go_on();
  });
}
function journal_put(id, key, value) {
  journal_waits.push((store) => store.put(key + "\n" + value, id));
  journal_go_on();
}
// Only where it is still that version: another may have come since.
function journal_drop(id, key) {
  journal_waits.push((store) => {
    const was = store.get(id);
    was.onsuccess = () => was.result?.startsWith(key + "\n") && store.delete(id);
  });
  journal_go_on();
}
function journal_clear() {
  journal_waits.push((store) => store.clear());
  journal_go_on();
}
function journal_all(done) {
  journal_do((store) => store.getAll(), (all) => done(all ?? []));
}
