//! What a page meets that nobody meant: input methods, huge pastes, spoilt storage, addresses made up by chance.

use crate::checks;
use crate::page::{Desk, quiet, watch};
use browser::driver::{Browser, file_address};
use serde_json::json;

/// Counts how often the page sets the text itself, and lets the check set it as an input method would.
const LISTEN: &str = "
    const text = document.getElementById('text'), proto = HTMLTextAreaElement.prototype;
    const own = Object.getOwnPropertyDescriptor(proto, 'value');
    window.sets = 0;
    window.put = (value) => { own.set.call(text, value); text.setSelectionRange(value.length, value.length) };
    Object.defineProperty(text, 'value', {get: () => own.get.call(text), set: (v) => { window.sets++; own.set.call(text, v) }});
    text.setRangeText = function (...words) { window.sets++; proto.setRangeText.apply(text, words) };
    text.focus()";

fn composing_is_never_disturbed(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("limt: right knee flexion 0-90\n");
    desk.wait("a suggestion", "return document.querySelector('#notes [data-edit]')");
    desk.browser.script(LISTEN).expect("listening");
    let during = desk.browser.script(
        "const text = document.getElementById('text'), start = text.value;
         text.dispatchEvent(new CompositionEvent('compositionstart', {bubbles: true, data: ''}));
         for (const typed of ['h', 'he', 'へ', 'へい', '平']) {
           text.dispatchEvent(new CompositionEvent('compositionupdate', {bubbles: true, data: typed}));
           text.dispatchEvent(new InputEvent('beforeinput', {bubbles: true, inputType: 'insertCompositionText', data: typed, isComposing: true}));
           window.put(start + typed);
           text.dispatchEvent(new InputEvent('input', {bubbles: true, inputType: 'insertCompositionText', data: typed, isComposing: true}));
           // Whatever else would change the text has to wait: a suggestion by key and by pointer, undo, tidy.
           text.dispatchEvent(new KeyboardEvent('keydown', {bubbles: true, altKey: true, key: '1', code: 'Digit1', isComposing: true}));
           text.dispatchEvent(new KeyboardEvent('keydown', {bubbles: true, ctrlKey: true, key: 'z', code: 'KeyZ', isComposing: true}));
           document.querySelector('#notes [data-edit]')?.click();
           document.getElementById('tidy').click();
         }
         return [window.sets, text.value === start + '平', document.activeElement === text || document.activeElement.tagName]",
    );
    let during = during.expect("composed");
    assert_eq!((during[0].as_u64(), during[1].as_bool()), (Some(0), Some(true)), "while composing: {during}");
    let after = desk.browser.script(
        "const text = document.getElementById('text');
         text.dispatchEvent(new CompositionEvent('compositionend', {bubbles: true, data: '平'}));
         text.dispatchEvent(new InputEvent('input', {bubbles: true, inputType: 'insertFromComposition', data: '平'}));
         const composed = text.value;
         text.dispatchEvent(new KeyboardEvent('keydown', {bubbles: true, altKey: true, key: '1', code: 'Digit1'}));
         return [composed, text.value, window.sets]",
    );
    let after = after.expect("composed");
    assert_eq!(after[0].as_str(), Some("limt: right knee flexion 0-90\n平"));
    assert_eq!(
        after[1].as_str(),
        Some("limit: right knee flexion 0-90\n平"),
        "the suggestion is taken again"
    );
    desk.quiet();
}

/// The same with a real input method, as far as a browser can be told to have one.
fn a_real_input_method_writes_what_is_meant(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("bridge: 3 x 10\n");
    desk.browser.script(LISTEN).expect("listening");
    for typed in ["ㄱ", "가", "각"] {
        let parameters = json!({"text": typed, "selectionStart": 1, "selectionEnd": 1});
        browser.devtools("Input.imeSetComposition", parameters).expect("composing");
    }
    assert_eq!(desk.number("return window.sets"), 0);
    browser.devtools("Input.insertText", json!({"text": "각"})).expect("composed");
    assert_eq!(desk.value(), "bridge: 3 x 10\n각");
    assert_eq!(desk.number("return window.sets"), 0);
    desk.wait("the line", "return document.getElementById('mirror').textContent.includes('각')");
    desk.quiet();
}

fn a_megabyte_is_pasted_and_kept(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let lines = "heel slide, right: 2 x 10, hold 5 s, daily, and more words than anyone needs in a line\n"
        .repeat(12_000);
    assert!(1_000_000 < lines.len());
    desk.write(&lines);
    let same = "return document.getElementById('text').value === arguments[0]";
    let same = desk.browser.script_with(same, json!([lines])).expect("compared");
    assert_eq!(same.as_bool(), Some(true), "nothing pasted is lost");
    let state = desk.text("return document.getElementById('state').textContent");
    assert!(!state.contains("fault"), "{state}");
    // The page still answers.
    desk.write("bridge: 3 x 10\n");
    desk.wait("a strip", "return document.querySelectorAll('#strips .strip').length === 1");
    desk.quiet();
}

/// Whatever stands in the storage under a page's own names, the page opens and can be worked with.
fn spoilt_storage_is_survived(browser: &Browser) {
    let desk = Desk::served(browser);
    let address = desk.text("return location.href");
    desk.browser.script("document.getElementById('keep').click()").expect("keeping is chosen");
    desk.write("bridge: 3 x 10\n");
    desk.wait("something kept", "return localStorage.length");
    let long = "x".repeat(200_000);
    let deep = "[".repeat(100_000);
    for spoilt in [
        "",
        "\u{0}{\"text\":5,\"mark\":null}\u{202e}",
        long.as_str(),
        deep.as_str(),
        "<img src=x onerror=\"window.ran=1\">",
    ] {
        let keys = desk.browser.script_with(
            "const keys = Object.keys(localStorage);
             for (const key of keys) localStorage.setItem(key, arguments[0]);
             return keys.length",
            json!([spoilt]),
        );
        assert!(keys.expect("spoilt").as_u64().is_some_and(|n| 0 < n), "something is kept");
        browser.open("about:blank").expect("left");
        browser.open(&address).expect("opened again");
        desk.wait("the desk", "return document.getElementById('mirror').children.length");
        watch(browser);
        let state = desk.text("return document.getElementById('state').textContent");
        assert!(!state.contains("fault") && !state.contains("could not start"), "{state}");
        desk.write("bridge: 3 x 10\n");
        desk.wait("a strip", "return document.querySelectorAll('#strips .strip').length === 1");
        assert!(
            desk.browser.script("return window.ran === undefined").expect("an answer").as_bool()
                == Some(true)
        );
        desk.quiet();
    }
}

/// Fragments by chance, always the same ones: of the letters that links are made of, of anything, and of markup.
fn fragments() -> Vec<String> {
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut next = move |below: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state % below.max(1) as u64) as usize
    };
    let letters: Vec<char> = ('a'..='z').chain('A'..='Z').chain('0'..='9').chain(['-', '_']).collect();
    let odd = [
        "<img src=x onerror=window.ran=1>",
        "javascript:window.ran=1",
        "%00",
        "%ff%fe",
        "%",
        "%F0%9F%99%82",
        "\"",
        "'",
        "&amp;",
        "N",
        "=",
    ];
    (0..100)
        .map(|n| {
            let length = [0, 1, 2, 5, 40, 300, 3000, 40_000][next(8)];
            let mut out = String::new();
            while out.len() < length {
                match n % 4 {
                    0 => out.push(char::from(b'0' + next(10) as u8)),
                    1 | 2 => out.push(letters[next(letters.len())]),
                    _ => out.push_str(odd[next(odd.len())]),
                }
            }
            out
        })
        .collect()
}

fn any_fragment_opens_a_page_that_runs_nothing(browser: &Browser) {
    // The desk takes nothing from its address: a few do.
    for (page, most) in [("desk", 10), ("home", 100)] {
        let address = file_address(&browser::out().join(format!("{page}.html")));
        for (n, fragment) in fragments().iter().take(most).enumerate() {
            // Every tenth opens the page anew; the others change the address of the open one, as following a
            // second link does.
            let anew = n % 10 == 0;
            if anew {
                browser.open("about:blank").expect("left");
            }
            browser.open(&format!("{address}#{fragment}")).expect("opened");
            let said = browser.text(
                "const more = document.querySelectorAll('body img, body script, iframe').length;
                 const words = document.body.innerText.match(/could not start|A fault/) ?? '';
                 return [window.ran ?? '', more, words && document.body.innerText].join()",
            );
            // The wasm and the boot script are all there is.
            assert_eq!(said.expect("an answer"), ",2,", "{page}.html#{fragment}");
            // WebKit loads the page anew for a longer address.
            if browser.script("return window.faults === undefined").expect("an answer").as_bool()
                == Some(true)
            {
                watch(browser);
            } else {
                quiet(browser);
            }
        }
    }
}

/// An engine that traps while it starts is asked once more; a second trap is told, and nothing turns in circles.
fn a_trap_at_the_start_is_tried_once_more_and_then_told(browser: &Browser) {
    let trapped = |only_first: bool| {
        let when = if only_first {
            "performance.getEntriesByType('navigation')[0]?.type !== 'reload'"
        } else {
            "true"
        };
        let source = format!(
            "if ({when}) globalThis.atob = () => {{ throw new WebAssembly.RuntimeError('planted') }}"
        );
        let planted = browser
            .devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source }))
            .expect("planted");
        browser.open(&file_address(&browser::out().join("desk.html"))).expect("the desk");
        planted["identifier"].clone()
    };
    let take_out = |identifier| {
        browser
            .devtools("Page.removeScriptToEvaluateOnNewDocument", json!({ "identifier": identifier }))
            .expect("taken out");
        let _ = browser.log();
    };
    let first = trapped(true);
    browser
        .wait("the desk", "return document.getElementById('mirror')?.children.length")
        .expect("started anew");
    take_out(first);
    let always = trapped(false);
    browser
        .wait(
            "the sentence",
            "return document.getElementById('state')?.textContent.includes('could not start')",
        )
        .expect("told");
    let kind = browser.text("return performance.getEntriesByType('navigation')[0].type").expect("a kind");
    assert_eq!(kind, "reload", "once");
    take_out(always);
}

checks! {
    Nothing: composing_is_never_disturbed a_megabyte_is_pasted_and_kept spoilt_storage_is_survived
        any_fragment_opens_a_page_that_runs_nothing;
    Devtools: a_real_input_method_writes_what_is_meant a_trap_at_the_start_is_tried_once_more_and_then_told;
}
