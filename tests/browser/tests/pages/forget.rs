//! Forgetting everything: in every window, in the history of each, and by the worker script.

use crate::home::{Open, fragment};
use browser::driver::{Browser, file_address};
use serde_json::json;

crate::checks! {
    Nothing: every_window_closes_the_plan_and_none_writes_it_anew going_back_opens_nothing
        going_back_on_a_file_opens_nothing;
    Once: a_page_that_missed_it_writes_nothing a_window_that_keeps_nothing_closes_too
        what_an_earlier_page_kept_is_shown_with_its_ticks;
    Devtools: the_worker_is_told_though_it_does_not_answer_for_the_page;
}

const OURS: &str = "return Object.keys(localStorage).filter((k) => k.startsWith('layfigure home')).length";

fn forget(open: &Open) {
    open.press("go phone");
    open.press("forget");
    open.press("forget yes");
    open.wait("nothing", "return document.getElementById('link')");
}

/// Nothing of the plan is on the page or in its address.
fn shows_nothing(open: &Open, when: &str) {
    open.wait(&format!("nothing {when}"), "return document.getElementById('link') && location.hash === ''");
    let said = open.browser.text("return document.documentElement.textContent").expect("text");
    assert!(!said.contains("T. B.") && !said.contains("Heel slide, "), "{when}: {said}");
}

fn every_window_closes_the_plan_and_none_writes_it_anew(browser: &Browser) {
    let open = Open::new(browser);
    open.press("all ");
    // A sheet laid out for the printer is of the plan too.
    browser.script("dispatchEvent(new Event('beforeprint'))").expect("laid");
    let first = browser.second_window().expect("a second window");
    open.go("");
    open.wait("the plan", "return document.getElementById('view')?.textContent.includes('T. B.')");
    forget(&open);
    let second = browser.window().expect("a window");
    browser.to_window(&first).expect("the first");
    shows_nothing(&open, "in the first window");
    assert!(open.says("view").contains("not kept on this phone any more"), "{}", open.says("view"));
    assert_eq!(open.says("handout"), "");
    assert_eq!(browser.script(OURS).expect("a number"), json!(0));
    open.wait("its history emptied", "return history.state === '1 1 today'");
    browser.close_window(&second).expect("closed");
}

/// No event tells a page of what happened while it was put by.
fn a_page_that_missed_it_writes_nothing(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    browser.script("localStorage.clear()").expect("gone, and nobody was told");
    open.press(&format!("tick {} morning", open.today));
    shows_nothing(&open, "after a tick");
    assert_eq!(browser.script(OURS).expect("a number"), json!(0));
    // The link opens it again, for whoever wants it.
    open.visit(&fragment(&open.plan));
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    assert!(!open.says("view").contains("not kept on this phone any more"));
}

fn a_window_that_keeps_nothing_closes_too(browser: &Browser) {
    let open = Open::new(browser);
    let first = browser.second_window().expect("a second window");
    browser.open("about:blank").expect("a blank page");
    let file = file_address(&browser::out().join("home.html"));
    browser.open(&format!("{file}#{}", fragment(&open.plan))).expect("the page");
    open.wait("the plan", "return document.getElementById('view')?.textContent.includes('T. B.')");
    let second = browser.second_window().expect("a third window");
    browser.open(&format!("{file}#{}", fragment(&open.plan))).expect("the page");
    open.wait("the plan", "return document.getElementById('view')?.textContent.includes('T. B.')");
    forget(&open);
    browser.close_window(&second).expect("closed");
    shows_nothing(&open, "in a window that kept nothing");
    browser.close_window(&first).expect("closed");
    assert!(open.says("view").contains("T. B."), "files and served pages keep apart");
}

fn going_back_opens_nothing(browser: &Browser) {
    let open = Open::new(browser);
    for act in ["go week 0", "go today", "go phone", "go sheet"] {
        open.press(act);
    }
    browser.script("history.back()").expect("back");
    open.wait("the phone's view", "return document.querySelector('[data-do=forget]')");
    open.press("forget");
    open.press("forget yes");
    open.wait("nothing", "return document.getElementById('link')");
    assert!(open.says("view").contains("history"), "{}", open.says("view"));
    goes_nowhere(&open);
}

/// Where nothing is kept, the address has the plan in it, in every entry that the page made.
fn going_back_on_a_file_opens_nothing(browser: &Browser) {
    let open = Open::new(browser);
    let file = file_address(&browser::out().join("home.html"));
    browser.open("about:blank").expect("a blank page");
    browser.open(&format!("{file}#{}", fragment(&open.plan))).expect("the page");
    open.wait("today", "return document.getElementById('head')?.textContent === 'Today'");
    for act in ["go week 0", "go today", "go phone", "go sheet"] {
        open.press(act);
    }
    browser.script("history.back()").expect("back");
    open.wait("the phone's view", "return document.querySelector('[data-do=forget]')");
    assert!(browser.text("return location.hash").expect("an address").len() > 20, "it is there until then");
    open.press("forget");
    open.press("forget yes");
    open.wait("nothing", "return document.getElementById('link')");
    goes_nowhere(&open);
    // The link that the patient opens again is opened.
    browser.script_with("location.hash = arguments[0]", json!([fragment(&open.plan)])).expect("followed");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
}

/// Neither back nor ahead, nor by loading anew, nor from another page.
fn goes_nowhere(open: &Open) {
    // The browser is on its way to the first entry.
    open.wait("the first entry", "return /^1 1 /.test(history.state)");
    for step in ["history.forward()", "history.back()"] {
        open.browser.script(step).expect("a step");
        std::thread::sleep(std::time::Duration::from_millis(150));
        shows_nothing(open, step);
    }
    assert_eq!(open.browser.text("return history.state").expect("a state"), "0 1 today");
    open.browser.reload().expect("loaded anew");
    shows_nothing(open, "loaded anew");
    open.browser.open("about:blank").expect("another page");
    open.browser.back().expect("back");
    open.wait("the page", "return document.getElementById('view')?.children.length");
    shows_nothing(open, "from another page");
}

fn the_worker_is_told_though_it_does_not_answer_for_the_page(browser: &Browser) {
    let open = Open::new(browser);
    let ready = "const done = arguments[arguments.length - 1];
        navigator.serviceWorker.ready.then(() => caches.keys()).then((all) => done(all.length))";
    assert_eq!(browser.script_async(ready).expect("a number"), json!(1));
    browser.devtools("Page.reload", json!({"ignoreCache": true})).expect("loaded past the worker");
    open.wait(
        "the page",
        "return document.getElementById('view')?.children.length && !navigator.serviceWorker.controller",
    );
    forget(&open);
    let left = "const done = arguments[arguments.length - 1];
        const look = () => Promise.all([caches.keys(), navigator.serviceWorker.getRegistrations()])
          .then(([kept, known]) => kept.length + known.length ? setTimeout(look, 20) : done('nothing'));
        look()";
    assert_eq!(browser.script_async(left).expect("looked"), json!("nothing"));
}

/// As pages kept it under 64 bits of FNV-1a.
fn what_an_earlier_page_kept_is_shown_with_its_ticks(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    open.press(&format!("tick {} morning", open.today));
    let diary = open.kept();
    let earlier = layfigure::diary::earlier_key(&open.plan.text);
    browser
        .script_with(
            "const [key, link, diary] = arguments;
             localStorage.clear();
             localStorage['layfigure home now'] = key;
             localStorage['layfigure home plan ' + key] = link;
             localStorage['layfigure home diary ' + key] = diary",
            json!([earlier, fragment(&open.plan), diary]),
        )
        .expect("as it was");
    open.visit("");
    open.wait("the tick", "return document.getElementById('view').textContent.includes('1 done')");
    assert_eq!(open.kept(), diary);
    assert_eq!(browser.script(OURS).expect("a number"), json!(3));
}
