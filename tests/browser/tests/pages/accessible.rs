//! axe-core finds nothing, at any of three widths, and the keyboard reaches everything.

use crate::checks;
use crate::moving::Emulated;
use crate::page::Desk;
use crate::patient;
use browser::driver::{Browser, file_address, key};
use serde_json::Value;

/// Runs axe-core over the whole page and gives its findings in words.
pub fn findings(browser: &Browser) -> Vec<String> {
    let path = browser::root().join("tests/browser/node_modules/axe-core/axe.min.js");
    let source = std::fs::read_to_string(&path)
        .unwrap_or_else(|e| panic!("{}: {e}; scripts/test installs it", path.display()));
    browser.script(&format!("{source};window.axe=axe;")).expect("axe-core");
    let run = "const done = arguments[arguments.length - 1];
        axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']})
           .then((r) => done({passes: r.passes.length, violations: r.violations}), (e) => done(String(e)))";
    let result = browser.script_async(run).expect("a run");
    assert!(result["passes"].as_u64().is_some_and(|n| 10 < n), "axe-core ran: {result}");
    let words = |v: &Value| format!("{}: {} {}", v["id"], v["help"], v["nodes"]);
    result["violations"].as_array().expect("a list").iter().map(words).collect()
}

fn axe_finds_nothing(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    for width in [390, 768, 1440] {
        desk.browser.size(width, 1000).expect("a size");
        let found = findings(browser);
        assert!(found.is_empty(), "at {width} px:\n{}", found.join("\n"));
    }
}

fn axe_finds_nothing_beside_notices(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(
        "limt: right knee\nheel slied: 2 x 10\nbrigde: 30 x 10, hold 60 min\nqwert\nlimit: elbow 700\n",
    );
    desk.wait("notices", "return document.querySelector('#notes > li')");
    let found = findings(browser);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// The panels that open in place of the exercise at hand, the offers, and a strip's controls.
fn axe_finds_nothing_on_the_tools(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("# Left knee\nstart: 2026-11-30\n\nheel slide, left: 2 x 10, hold 5 s, daily\n");
    desk.wait("the strip", "return document.querySelector('#strips .tune summary')");
    desk.unfold("#strips .tune summary");
    for (state, begin) in [
        ("finder", "document.querySelector('[data-do=\"panel finder\"]').click()"),
        ("limit", "document.querySelector('[data-do=\"panel limits\"]').click()"),
        (
            "at hand",
            "document.querySelector('[data-do=\"panel none\"]').click(); const t = document.getElementById('text'); t.setSelectionRange(50, 50)",
        ),
    ] {
        browser.script(begin).expect(state);
        for width in [390, 1024, 1440] {
            browser.size(width, 1000).expect("a size");
            let found = findings(browser);
            assert!(found.is_empty(), "{state} at {width} px:\n{}", found.join("\n"));
        }
    }
    desk.browser.script("document.getElementById('text').focus()").expect("there");
    desk.browser.press(&[key::CONTROL, key::END]).expect("to the end");
    desk.type_text("bri");
    desk.wait("offers", "return document.querySelector('#offer-list [role=option]')");
    let found = findings(browser);
    assert!(found.is_empty(), "offers:\n{}", found.join("\n"));
}

/// Opened controls, a link that was made, large print chosen.
fn axe_finds_nothing_beside_a_link(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    patient::link(&desk, "https://clinic.example/home.html");
    let found = findings(browser);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// The sheet itself, shown as it is printed.
fn axe_finds_nothing_on_the_sheet(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.browser
        .script(
            "window.dispatchEvent(new Event('beforeprint'));
             document.getElementById('screen').hidden = true;
             document.getElementById('handout').style.display = 'block'",
        )
        .expect("shown");
    let found = findings(browser);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

fn axe_finds_nothing_on_the_patients_page(browser: &Browser) {
    // Without a plan, then with one in each of its main views.
    browser.open(&file_address(&browser::out().join("home.html"))).expect("the home page");
    browser.wait("words", "return document.getElementById('view').textContent.trim()").expect("said");
    let found = findings(browser);
    assert!(found.is_empty(), "without a plan:\n{}", found.join("\n"));
    let server = patient::opened(browser);
    for view in ["today", "do", "week 0", "sheet", "help", "phone"] {
        if view == "do" {
            browser.click("[data-do^=\"go do \"]").expect("the first exercise");
        } else if view != "today" {
            browser.click(&format!("[data-do=\"go {view}\"]")).expect(view);
        }
        let found = findings(browser);
        assert!(found.is_empty(), "{view}:\n{}", found.join("\n"));
    }
    drop(server);
}

fn axe_finds_nothing_on_the_patients_page_at_night(browser: &Browser) {
    let night = Emulated::new(browser, "prefers-color-scheme", "dark");
    axe_finds_nothing_on_the_patients_page(browser);
    drop(night);
}

fn a_fault_would_be_found(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.browser
        .script(
            "document.getElementById('state').innerHTML = '<input><span style=\"color:#eee\">pale</span>'",
        )
        .expect("a fault put in");
    assert!(!findings(browser).is_empty());
}

fn every_control_is_reached_by_the_keyboard(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    // What comes after a pause is there before it is counted.
    desk.wait("the course", "return document.querySelector('#course summary')");
    let all = desk.number(
        "document.activeElement.blur();
         return [...document.querySelectorAll('#screen :is(a[href], button, input, select, textarea, summary, [tabindex=\"0\"])')]
           .filter((e) => e.checkVisibility()).length",
    );
    let mut seen = std::collections::BTreeSet::new();
    for _ in 0..all + 5 {
        desk.browser.press(&[key::TAB]).expect("a key");
        let place = desk.browser.script(
            "const e = document.activeElement;
             return e === document.body ? -1 : [...document.querySelectorAll('#screen *')].indexOf(e)",
        );
        seen.insert(place.expect("a place").as_i64().unwrap_or(-1));
    }
    seen.remove(&-1);
    assert_eq!(seen.len() as u64, all, "Tab goes through all and is caught nowhere");
}

checks! {
    Nothing: axe_finds_nothing axe_finds_nothing_beside_notices axe_finds_nothing_beside_a_link axe_finds_nothing_on_the_tools
        axe_finds_nothing_on_the_sheet axe_finds_nothing_on_the_patients_page a_fault_would_be_found
        every_control_is_reached_by_the_keyboard;
    Devtools: axe_finds_nothing_on_the_patients_page_at_night;
}
