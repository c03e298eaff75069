//! Several prescriptions: kept and opened again, in two windows, torn, without room, by files and by keys alone.

use crate::accessible::findings;
use crate::checks;
use crate::page::{Desk, watch};
use browser::driver::{Browser, key};
use serde_json::json;

/// What the list says, one row a line: name, and what stands beside it.
const ROWS: &str = "return [...document.querySelectorAll('#shelf .leaf')].map((row) =>
    (row.querySelector('.called') ?? row).textContent + (row.querySelector('.open') ? ' *' : '')).join('\\n')";

fn rows(desk: &Desk) -> Vec<String> {
    let mut rows: Vec<String> = desk.text(ROWS).lines().map(str::to_string).collect();
    rows.sort();
    rows
}

/// A desk with keeping chosen, the list open, and one prescription.
fn kept<'b>(browser: &'b Browser, text: &str) -> Desk<'b> {
    let desk = Desk::served(browser);
    browser
        .script("document.getElementById('keep').click(); document.getElementById('shelved').open = true")
        .expect("keeping is chosen");
    write(&desk, text);
    desk
}

/// Writes a text and waits until it is kept, wherever that is.
fn write(desk: &Desk, text: &str) {
    desk.write(text);
    desk.wait(
        "kept",
        "return [...document.querySelectorAll('#shelf .leaf')].some((row) => row.querySelector('.open'))",
    );
    // Once more around: what was typed last is kept a frame later.
    desk.browser
        .script_async("const done = arguments[arguments.length - 1]; setTimeout(() => done(null), 120)")
        .expect("a moment");
}

fn begin(desk: &Desk, text: &str) {
    desk.browser.click("#new").expect("a new one");
    desk.wait("a new one", "return document.getElementById('text').value.startsWith('# \\n')");
    write(desk, text);
}

/// Presses a button of the row with that name.
fn press(desk: &Desk, name: &str, word: &str) {
    let found = desk.browser.script_with(
        "const row = [...document.querySelectorAll('#shelf .leaf, #shelf .gone')].find((row) => row.textContent.includes(arguments[0]));
         const button = [...(row?.querySelectorAll('button') ?? [])].find((b) => b.textContent.startsWith(arguments[1]));
         button?.focus(); button?.click();
         return button ? '' : document.getElementById('shelf').innerText",
        json!([name, word]),
    );
    assert_eq!(found.expect("pressed"), "", "{word} of {name}");
}

fn said(desk: &Desk, words: &str) {
    desk.wait(
        "the sentence",
        &format!("return document.getElementById('said').textContent.includes({words:?})"),
    );
}

/// Has the page keep what it hands over as files, instead of saving it.
const CATCH: &str = "window.files = [];
    const make = URL.createObjectURL;
    URL.createObjectURL = (blob) => { window.files.push(blob); return make.call(URL, blob) };
    HTMLAnchorElement.prototype.click = function () { window.named = this.download }";

/// The last file that was handed over.
fn file(browser: &Browser) -> String {
    let text = browser.script_async(
        "const done = arguments[arguments.length - 1];
         window.files.at(-1).text().then((text) => done(window.named + '\\n' + text))",
    );
    text.expect("a file").as_str().expect("text").to_string()
}

/// Chooses a file with this text.
fn choose(desk: &Desk, id: &str, name: &str, text: &str) {
    let body = "const input = document.getElementById(arguments[0]), list = new DataTransfer();
        list.items.add(new File([arguments[2]], arguments[1]));
        input.files = list.files;
        input.dispatchEvent(new Event('change', {bubbles: true}))";
    desk.browser.script_with(body, json!([id, name, text])).expect("chosen");
}

/// Deletes everything, and says yes to the question.
fn forget(desk: &Desk) {
    desk.browser.click("#forget").expect("asked for");
    desk.browser.click("[data-shelf=\"forget yes\"]").expect("yes");
    said(desk, "is deleted");
}

fn loading_again_brings_back_the_one_that_was_open(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    assert_eq!(rows(&desk), ["Hip *", "Knee"]);
    press(&desk, "Knee", "Open");
    said(&desk, "“Knee” is on the page");
    assert_eq!(desk.value(), "# Knee\nbridge: 3 x 10\n");
    // What is undone is this one's alone.
    browser.press(&[key::CONTROL, "z"]).expect("a key");
    assert_eq!(desk.value(), "# Knee\nbridge: 3 x 10\n");
    desk.quiet();
    browser.reload().expect("again");
    desk.wait("the text", "return document.getElementById('text').value.startsWith('# Knee')");
    watch(browser);
    browser.click("#shelved-name").expect("unfolded");
    desk.wait("the list", "return document.querySelectorAll('#shelf .leaf').length === 2");
    assert_eq!(rows(&desk), ["Hip", "Knee *"]);
    let title = desk.text("return document.title + location.href");
    assert!(!title.contains("Knee") && !title.contains("Hip"), "{title}");
    desk.quiet();
}

fn two_windows_never_overwrite_each_other(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    let address = desk.text("return location.href");
    let first = browser.second_window().expect("a second window");
    browser.size(1024, 800).expect("a size");
    browser.open(&address).expect("the desk");
    desk.wait("the text", "return document.getElementById('text').value === '# Knee\\nbridge: 3 x 10\\n'");
    watch(browser);
    let second = browser.window().expect("a window");
    browser.click("#shelved-name").expect("unfolded");
    write(&desk, "# Knee\nbridge: 3 x 10\n// second\n");
    desk.quiet();
    browser.to_window(&first).expect("the first");
    said(&desk, "Another window has written");
    write(&desk, "# Knee\nbridge: 3 x 10\n// first\n");
    said(&desk, "Nothing was overwritten");
    desk.wait("both", "return document.querySelectorAll('#shelf .leaf').length === 2");
    let list = rows(&desk);
    assert!(
        list[0] == "Knee" && list[1].starts_with("Knee (this window") && list[1].ends_with('*'),
        "{list:?}"
    );
    // Each goes on with its own.
    write(&desk, "# Knee\nbridge: 3 x 10\n// first again\n");
    browser.to_window(&second).expect("the second");
    desk.wait("both", "return document.querySelectorAll('#shelf .leaf').length === 2");
    write(&desk, "# Knee\nbridge: 3 x 10\n// second again\n");
    assert_eq!(rows(&desk).len(), 2);
    let all = desk.text("return Object.values(localStorage).join()");
    assert!(all.contains("// first again") && all.contains("// second again"));
    // All is forgotten in one: the other may not bring it back.
    forget(&desk);
    browser.to_window(&first).expect("the first");
    said(&desk, "has switched off keeping");
    desk.write("# Knee\n// after\n");
    desk.wait("listed", "return document.querySelectorAll('#shelf .leaf').length === 1");
    assert_eq!(desk.number("return localStorage.length + sessionStorage.length"), 0);
    desk.quiet();
    browser.to_window(&second).expect("the second");
    browser.close_window(&first).expect("closed");
}

fn a_torn_version_costs_no_more_than_itself(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    write(&desk, "# Knee\nbridge: 3 x 10\n// last\n");
    // The last one is noted once more, so it comes back whole; one that nobody noted is left as it is, and told.
    let torn = desk.number(
        "const all = Object.keys(localStorage).filter((k) => k.includes('prescription'));
         const last = all.find((k) => localStorage[k].includes('// last'));
         localStorage[last] = localStorage[last].slice(0, 40);
         localStorage['layfigure desk prescription other 1 window'] = localStorage[last];
         return all.length",
    );
    assert_eq!(torn, 2, "two versions stay");
    browser.reload().expect("again");
    desk.wait("the last version", "return document.getElementById('text').value.endsWith('// last\\n')");
    watch(browser);
    browser.click("#shelved-name").expect("unfolded");
    desk.wait("said", "return document.querySelector('#shelf .unread')");
    write(&desk, "# Knee\nbridge: 3 x 10\n// anew\n");
    let kept = desk.number("return Object.values(localStorage).filter((v) => v.length === 40).length");
    assert_eq!(kept, 1, "it was left as it is");
    desk.quiet();
}

fn torn_choices_hide_no_prescription(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    browser
        .script("const key = 'layfigure desk choices'; localStorage[key] = localStorage[key].slice(0, 9)")
        .expect("torn");
    browser.reload().expect("again");
    said(&desk, "2 prescriptions are kept as before");
    watch(browser);
    browser.click("#shelved-name").expect("unfolded");
    desk.wait("the list", "return document.querySelectorAll('#shelf .leaf').length === 2");
    assert_eq!(rows(&desk), ["Hip *", "Knee"]);
    desk.quiet();
}

/// Leaves not one character of room.
const FILL: &str = "let n = 0, piece = 'x'.repeat(1 << 20);
    while (piece) { try { localStorage.setItem('fill ' + n++, piece) } catch { piece = piece.slice(0, piece.length >> 1) } }";

fn without_room_it_says_so_and_offers_a_file(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    browser.script(CATCH).expect("caught");
    browser.script(FILL).expect("filled");
    browser.script("document.getElementById('shelved').open = false").expect("folded");
    desk.write(&format!("# Hip\nbridge: 2 x 10\n{}", "// more\n".repeat(300)));
    said(&desk, "storage is full");
    desk.wait(
        "the button",
        "return document.querySelector('#shelf .lasts [data-shelf=save]')?.checkVisibility()",
    );
    browser.look(&format!("shelf-full-{}", browser.engine().name())).expect("a picture");
    // It stays on the page, whatever is pressed.
    press(&desk, "Knee", "Open");
    said(&desk, "could not be kept, so it stays");
    browser.click("#new").expect("pressed");
    assert!(desk.value().contains("// more"));
    browser.click("#shelf [data-shelf=save]").expect("saved");
    let saved = file(browser);
    assert!(saved.starts_with("prescription.txt\n# Hip") && saved.contains("// more"), "{saved}");
    // What was kept before is there.
    let all = desk.text("return Object.values(localStorage).filter((v) => !v.startsWith('x')).join()");
    assert!(all.contains("# Hip") && all.contains("# Knee"));
    // With room again it goes on.
    browser
        .script("for (const k of Object.keys(localStorage)) if (k.startsWith('fill ')) localStorage.removeItem(k)")
        .expect("room");
    desk.write(&format!("# Hip\nbridge: 2 x 10\n{}y", "// more\n".repeat(300)));
    desk.wait("kept", "return Object.values(localStorage).some((v) => v.includes('// more'))");
    desk.wait("said no more", "return !document.querySelector('#shelf .grave')");
    said(&desk, "It can be kept again");
    desk.quiet();
}

fn where_it_is_forbidden_it_says_so_and_offers_a_file(browser: &Browser) {
    let desk = Desk::served(browser);
    browser.script(CATCH).expect("caught");
    browser
        .script(
            "Storage.prototype.setItem = () => { throw new DOMException('no', 'SecurityError') };
             document.getElementById('keep').click()",
        )
        .expect("forbidden");
    said(&desk, "forbids keeping");
    assert_eq!(desk.browser.script("return document.getElementById('keep').checked").expect("asked"), false);
    // The list works in the page.
    browser.script("document.getElementById('shelved').open = true").expect("unfolded");
    write(&desk, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    assert_eq!(rows(&desk), ["Hip *", "Knee"]);
    browser.click("[data-shelf=all]").expect("saved");
    let saved = file(browser);
    assert!(saved.starts_with("prescriptions.json\n") && saved.contains("# Hip") && saved.contains("# Knee"));
    assert_eq!(desk.number("return localStorage.length + sessionStorage.length"), 0);
    desk.quiet();
}

fn a_file_takes_all_of_it_to_a_clean_browser(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "patient: <b>T. B.\nbridge: 2 x 10\n");
    press(&desk, "Untitled", "Rename");
    desk.wait("the field", "return document.activeElement.id === 'name-of'");
    browser.press(&[key::CONTROL, "a"]).expect("a key");
    desk.type_text("Shoulder & neck");
    browser.press(&[key::ENTER]).expect("a key");
    said(&desk, "“Shoulder & neck” now");
    press(&desk, "Knee", "Duplicate");
    said(&desk, "“Knee (copy)” stands");
    // A copy has the same words, so that it is changed before it goes.
    press(&desk, "Knee (copy)", "Open");
    write(&desk, "# Knee\nbridge: 4 x 10\n");
    let before = rows(&desk);
    assert_eq!(before, ["Knee", "Knee (copy) *", "Shoulder & neck"]);
    browser.script(CATCH).expect("caught");
    browser.click("[data-shelf=all]").expect("saved");
    let saved = file(browser);
    let (name, json) = saved.split_once('\n').expect("a file");
    assert_eq!(name, "prescriptions.json");
    // A clean browser, in which nothing is to be kept.
    browser.script("localStorage.clear(); sessionStorage.clear()").expect("cleared");
    browser.reload().expect("again");
    desk.wait("the desk", "return document.getElementById('mirror').children.length");
    watch(browser);
    browser.click("#shelved-name").expect("unfolded");
    choose(&desk, "bring", "any.json", json);
    said(&desk, "3 brought in.");
    let bare = |rows: Vec<String>| rows.into_iter().map(|r| r.replace(" *", "")).collect::<Vec<_>>();
    assert_eq!(bare(rows(&desk)), bare(before));
    choose(&desk, "bring", "any.json", json);
    said(&desk, "0 brought in. 3 of the file stood here already");
    choose(&desk, "bring", "a.txt", "# Elbow\r\nbridge: 1 x 5\r\n");
    said(&desk, "1 brought in.");
    choose(&desk, "bring", "b.txt", "  ");
    said(&desk, "nothing in that file");
    press(&desk, "Elbow", "Open");
    assert_eq!(desk.value(), "# Elbow\nbridge: 1 x 5\n");
    // A file that is opened comes beside it.
    choose(&desk, "file", "c.txt", "# Wrist\nbridge: 1 x 6\n");
    said(&desk, "The file is on the page");
    assert_eq!(rows(&desk).len(), 5);
    assert_eq!(desk.number("return localStorage.length + sessionStorage.length"), 0);
    desk.quiet();
}

fn what_is_deleted_can_be_brought_back_until_all_is_forgotten(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    press(&desk, "Hip", "Delete");
    said(&desk, "“Hip” is deleted");
    desk.wait("a blank page", "return document.getElementById('text').value.startsWith('# \\n')");
    assert!(!desk.text("return Object.values(localStorage).join()").contains("Hip"), "gone from the storage");
    assert_eq!(
        desk.text("return document.activeElement.textContent.slice(0, 13)"),
        "Bring it back",
        "the way back is at hand"
    );
    browser.press(&[key::ENTER]).expect("a key");
    said(&desk, "“Hip” stands in the list again");
    press(&desk, "Hip", "Open");
    assert_eq!(desk.value(), "# Hip\nbridge: 2 x 10\n");
    press(&desk, "Knee", "Delete");
    forget(&desk);
    desk.wait("nothing to bring back", "return !document.querySelector('#shelf .gone')");
    assert_eq!(desk.number("return localStorage.length + sessionStorage.length"), 0);
    desk.quiet();
}

/// Unticking the box takes everything from the computer, not from the clinician.
fn keeping_no_more_leaves_all_in_the_page(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    browser.script("document.getElementById('keep').click()").expect("no more");
    said(&desk, "2 prescriptions stay in this page");
    assert_eq!(desk.number("return localStorage.length + sessionStorage.length"), 0);
    desk.wait("the list", "return document.querySelectorAll('#shelf .leaf').length === 2");
    assert_eq!(rows(&desk), ["Hip *", "Knee"]);
    browser.script("document.getElementById('keep').click()").expect("again");
    said(&desk, "From now on");
    let all = desk.text("return Object.values(localStorage).join()");
    assert!(all.contains("# Hip") && all.contains("# Knee"));
    desk.quiet();
}

fn what_an_earlier_page_kept_is_taken_over(browser: &Browser) {
    let desk = Desk::served(browser);
    let earlier = json!({"text": "# Knee\nbridge: 3 x 10\n", "by": "M. A.", "paper": "letter", "print": "large",
        "emergency": "999", "home": "https://clinic.example/home.html", "naming": "initials", "sealed": true});
    let put = "localStorage.setItem('layfigure desk', arguments[0])";
    browser.script_with(put, json!([earlier.to_string()])).expect("as an earlier page left it");
    browser.reload().expect("again");
    desk.wait("the text", "return document.getElementById('text').value === '# Knee\\nbridge: 3 x 10\\n'");
    watch(browser);
    browser.click("#shelved-name").expect("unfolded");
    desk.wait("the list", "return document.querySelectorAll('#shelf .leaf').length === 1");
    assert_eq!(rows(&desk), ["Knee *"]);
    let controls = desk.text(
        "return ['paper', 'printed', 'emergency', 'home', 'naming'].map((id) => document.getElementById(id).value).join()
           + ['sealed', 'keep'].map((id) => document.getElementById(id).checked).join()",
    );
    assert_eq!(controls, "letter,large,999,https://clinic.example/home.html,initialstrue,true");
    assert_eq!(
        desk.browser.script("return localStorage.getItem('layfigure desk')").expect("asked"),
        json!(null)
    );
    desk.quiet();
}

fn keys_alone_do_all_of_it(browser: &Browser) {
    let desk = kept(browser, "# Knee\nbridge: 3 x 10\n");
    begin(&desk, "# Hip\nbridge: 2 x 10\n");
    browser.script("document.getElementById('shelved-name').focus()").expect("focus");
    // Folded and unfolded by its name; then every button in turn.
    browser.press(&[key::ENTER]).expect("a key");
    browser.press(&[key::ENTER]).expect("a key");
    let mut words = Vec::new();
    for _ in 0..9 {
        browser.press(&[key::TAB]).expect("a key");
        words
            .push(desk.text("return document.activeElement.textContent.trim() || document.activeElement.id"));
    }
    assert_eq!(
        words,
        [
            "Rename Hip",
            "Duplicate Hip",
            "Delete Hip",
            "Open Knee",
            "Rename Knee",
            "Duplicate Knee",
            "Delete Knee",
            "Save all to a file",
            "bring"
        ]
    );
    for _ in 0..6 {
        browser.press(&[key::SHIFT, key::TAB]).expect("a key");
    }
    assert_eq!(desk.text("return document.activeElement.textContent.trim()"), "Delete Hip");
    for _ in 0..2 {
        browser.press(&[key::TAB]).expect("a key");
    }
    assert_eq!(desk.text("return document.activeElement.textContent.trim()"), "Rename Knee");
    browser.press(&[key::ENTER]).expect("a key");
    desk.wait("the field", "return document.activeElement.id === 'name-of'");
    browser.press(&["\u{e00c}"]).expect("Escape");
    desk.wait("back", "return document.activeElement.textContent.trim() === 'Rename Knee'");
    browser.press(&[key::SHIFT, key::TAB]).expect("a key");
    browser.press(&[key::ENTER]).expect("a key");
    said(&desk, "“Knee” is on the page");
    assert_eq!(desk.text("return document.activeElement.id"), "text", "one can type at once");
    desk.quiet();
}

fn the_list_is_fit_for_four_widths(browser: &Browser) {
    let desk = kept(browser, "# Knee\n## Loosen\nbridge: 3 x 10\n");
    begin(
        &desk,
        "# A title that is long enough to need more than one line where the window is narrow, as titles are\n## Loosen\nbridge: 2 x 10\n",
    );
    begin(&desk, "# Hip\n## Loosen\nbridge: 2 x 10\n");
    press(&desk, "Knee", "Delete");
    press(&desk, "A title", "Rename");
    for width in [390, 768, 1024, 1440] {
        let width = browser.size(width, 900).expect("a size");
        let wide = desk.number("return document.documentElement.scrollWidth");
        assert!(wide <= u64::from(width), "at {width} px the page is {wide} px wide");
        browser.look(&format!("shelf-{}-{width}", browser.engine().name())).expect("a picture");
        let found = findings(browser);
        assert!(found.is_empty(), "at {width} px:\n{}", found.join("\n"));
    }
    desk.quiet();
}

checks! {
    Nothing: loading_again_brings_back_the_one_that_was_open two_windows_never_overwrite_each_other
        without_room_it_says_so_and_offers_a_file where_it_is_forbidden_it_says_so_and_offers_a_file
        a_file_takes_all_of_it_to_a_clean_browser what_an_earlier_page_kept_is_taken_over
        keeping_no_more_leaves_all_in_the_page keys_alone_do_all_of_it the_list_is_fit_for_four_widths;
    Once: a_torn_version_costs_no_more_than_itself torn_choices_hide_no_prescription what_is_deleted_can_be_brought_back_until_all_is_forgotten;
}
