//! One exercise over the whole page: its keys, its count, and that it says nothing of the patient.

use crate::accessible::findings;
use crate::checks;
use crate::moving::Emulated;
use crate::page::Desk;
use browser::driver::{Browser, key};

const TEXT: &str = "# Secret title
by: M. Adeyemi, 01632 960 417
patient: Quentin Zeller, 61
start: 2026-11-30
aim: private wish
limit: left knee flexion 0-80
// private remark
heel slide, left: 2 x 3, tempo 3-1-2-0, daily
  why: so private you
  note: private note
calf stretch, both: 3 x 30 s, daily
sit to stand: 2 x 10, 3/week
";

const ESCAPE: &str = "\u{e00c}";
const RIGHT: &str = "\u{e014}";
const LEFT: &str = "\u{e012}";
const PAGE_DOWN: &str = "\u{e00f}";
const PAGE_UP: &str = "\u{e00e}";

/// A desk with that text, and the view open on its first exercise.
fn opened(browser: &Browser) -> Desk<'_> {
    let desk = Desk::served(browser);
    desk.write(TEXT);
    desk.wait("the strips", "return document.querySelectorAll('#strips .strip').length === 3");
    // By the first strip's own button: the stage has one too, of whichever exercise the cursor stands in.
    desk.unfold("#strips .strip .tune summary");
    browser
        .script("document.querySelector('#strips [data-show=\"0\"]').focus()")
        .expect("the first exercise");
    browser.press(&[key::ENTER]).expect("a key");
    desk.wait("the view", "return document.querySelector('#show[open] svg')");
    desk
}

fn name(desk: &Desk) -> String {
    desk.text("return document.getElementById('show-name').textContent")
}

fn keys_lead_through_it_and_out_again(browser: &Browser) {
    let desk = opened(browser);
    let mut seen = vec![name(&desk)];
    for keys in [RIGHT, PAGE_DOWN, RIGHT, PAGE_UP, LEFT] {
        browser.press(&[keys]).expect("a key");
        seen.push(name(&desk));
    }
    let (slide, stretch, stand) = ("Heel slide LEFT", "Calf stretch EACH SIDE", "Sit to stand");
    assert_eq!(seen, [slide, stretch, stand, stand, stretch, slide]);
    let before = desk.value();
    // The desk's own keys sleep meanwhile.
    desk.press_alt("1");
    assert_eq!(desk.value(), before);
    browser.press(&[" "]).expect("a key");
    desk.wait("the count", "return document.querySelector('#show .clock')");
    browser.press(&[" "]).expect("a key");
    desk.wait("none", "return !document.querySelector('#show .clock')");
    // Every button is reached, and the focus stays inside.
    let buttons = desk.number("return document.querySelectorAll('#show button').length");
    let mut words = std::collections::BTreeSet::new();
    for _ in 0..buttons + 3 {
        browser.press(&[key::TAB]).expect("a key");
        words.insert(desk.text("return document.activeElement.closest('#show button')?.textContent ?? ''"));
    }
    words.remove("");
    assert_eq!(words.len() as u64, buttons, "{words:?}");
    browser.press(&[ESCAPE]).expect("a key");
    desk.wait("gone", "return !document.querySelector('#show[open]')");
    assert!(
        desk.browser.script("return document.activeElement.hasAttribute('data-show')").expect("asked")
            == true,
        "the focus is where it was"
    );
    assert_eq!(desk.text("return document.getElementById('show-view').textContent"), "");
    desk.quiet();
}

fn nothing_of_the_patient_is_in_sight(browser: &Browser) {
    let desk = opened(browser);
    for _ in 0..3 {
        let words = desk
            .text("return document.title + location.href + document.getElementById('show').innerHTML")
            .to_lowercase();
        assert!(words.contains("<svg") && words.contains("class=\"dose\""));
        for private in ["secret", "private", "quentin", "zeller", "adeyemi", "01632", "2026", "80°"] {
            assert!(!words.contains(private), "{private}: {words}");
        }
        browser.press(&[RIGHT]).expect("a key");
    }
    // Nothing shows at its edges, and nothing below it can be pressed.
    let covered =
        "return [[1, 1], [innerWidth - 2, innerHeight - 2], [innerWidth / 2, 2], [2, innerHeight / 2]]
        .every(([x, y]) => document.elementFromPoint(x, y)?.closest('#show'))";
    for width in [390, 1024, 1440] {
        browser.size(width, 800).expect("a size");
        assert!(browser.script(covered).expect("asked") == true, "{width}");
    }
    desk.quiet();
}

fn it_counts_with_the_time(browser: &Browser) {
    let desk = opened(browser);
    browser.press(&[" "]).expect("a key");
    let mut seen = Vec::new();
    for word in ["Get ready", "Up", "Hold", "Down"] {
        desk.wait(word, &format!("return document.querySelector('#show .now')?.textContent === '{word}'"));
        seen.push(desk.text("return document.querySelector('#show .clock').innerText.replace(/\\s+/g, ' ')"));
        if word == "Up" {
            let first = "const picture = document.querySelector('#show .frames').innerHTML, done = arguments[arguments.length - 1];
                setTimeout(() => done(picture !== document.querySelector('#show .frames').innerHTML), 700)";
            assert!(browser.script_async(first).expect("watched") == true, "the figure goes along");
            browser.look(&format!("show-counts-{}", browser.engine().name())).expect("a picture");
        }
    }
    assert!(seen[1].contains("Set 1 of 2, 1 of 3"), "{seen:?}");
    let left = "return Number(document.querySelector('#show .left').textContent)";
    let before = desk.number(left);
    desk.wait(
        "less",
        &format!("return Number(document.querySelector('#show .left')?.textContent ?? 0) < {before}"),
    );
    // Another exercise begins without.
    browser.press(&[RIGHT]).expect("a key");
    assert!(browser.script("return !document.querySelector('#show .clock')").expect("asked") == true);
    desk.quiet();
}

/// Voices as a browser may have them, and what they are given to say.
const VOICES: &str = "window.spoken = [];
    window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text } };
    const voice = (name, lang, localService) => ({name, lang, localService, default: !localService, voiceURI: name});
    window.here = [voice('elsewhere', 'en-GB', false), voice('ici', 'fr-FR', true), voice('here', 'en-US', true)];
    Object.defineProperty(window, 'speechSynthesis', {configurable: true, value: {
      getVoices: () => window.here, cancel() {}, speak(words) { window.spoken.push(words.voice.name + ': ' + words.text) }}})";

fn it_speaks_by_a_voice_of_this_device_alone(browser: &Browser) {
    let desk = opened(browser);
    browser.script(VOICES).expect("voices");
    // Silent until it is asked for.
    browser.press(&[" "]).expect("a key");
    desk.wait("a phase", "return document.querySelector('#show .now')?.textContent === 'Up'");
    assert_eq!(desk.number("return window.spoken.length"), 0);
    browser.press(&[" "]).expect("a key");
    browser.click("[data-large=aloud]").expect("aloud");
    // The focus is back where keys are meant for the view.
    browser.press(&[" "]).expect("a key");
    desk.wait("the count", "return window.spoken.includes('here: Hold')");
    let spoken = desk.text("return window.spoken.join(', ')");
    assert!(
        spoken.starts_with("here: Get ready, here: 3, here: 2, here: 1, here: Up, here: 2, here: Hold"),
        "{spoken}"
    );
    // With no voice of its own it is not one from elsewhere that speaks; tones do.
    browser.script("window.here = window.here.slice(0, 1); window.spoken = []").expect("fewer");
    desk.wait("on it goes", "return document.querySelector('#show .now')?.textContent === 'Down'");
    assert_eq!(desk.text("return window.spoken.join()"), "");
    desk.quiet();
}

fn it_is_fit_for_the_widths_of_a_call(browser: &Browser) {
    let desk = opened(browser);
    for (counts, width, height) in [
        (false, 1440, 900),
        (true, 1440, 900),
        (false, 1024, 768),
        (true, 1024, 768),
        (false, 390, 844),
        (true, 390, 844),
    ] {
        let width = browser.size(width, height).expect("a size");
        if counts {
            browser.press(&[" "]).expect("a key");
            desk.wait("a phase", "return document.querySelector('#show .now')?.textContent === 'Up'");
        }
        let over = desk.text(
            "const d = document.getElementById('show'); return String(d.scrollWidth <= innerWidth) + String(d.scrollHeight <= innerHeight)",
        );
        assert!(
            over.starts_with("true") && (width < 768 || over == "truetrue"),
            "{width} x {height}: {over}"
        );
        browser.look(&format!("show-{}-{width}-{counts}", browser.engine().name())).expect("a picture");
        let found = findings(browser);
        assert!(found.is_empty(), "at {width} px:\n{}", found.join("\n"));
        if counts {
            browser.press(&[" "]).expect("a key");
        }
    }
}

fn where_motion_is_unwanted_it_stands_until_asked(browser: &Browser) {
    let still = Emulated::new(browser, "prefers-reduced-motion", "reduce");
    let desk = opened(browser);
    let changes = "const picture = document.querySelector('#show .frames').innerHTML, done = arguments[arguments.length - 1];
        setTimeout(() => done(picture !== document.querySelector('#show .frames').innerHTML), 1500)";
    assert!(browser.script_async(changes).expect("watched") == false);
    browser.click("[data-large=move]").expect("moved");
    let seen = browser.script_async(
        "const done = arguments[arguments.length - 1], seen = new Set(), end = performance.now() + 11000;
         const step = () => { seen.add(document.querySelector('#show .frames').innerHTML);
           if (performance.now() < end) requestAnimationFrame(step); else done(seen.size) };
         step()",
    );
    assert_eq!(seen.expect("watched"), 2, "key pose after key pose");
    desk.quiet();
    drop(still);
}

checks! {
    Nothing: keys_lead_through_it_and_out_again nothing_of_the_patient_is_in_sight it_counts_with_the_time
        it_speaks_by_a_voice_of_this_device_alone it_is_fit_for_the_widths_of_a_call;
    Devtools: where_motion_is_unwanted_it_stands_until_asked;
}
