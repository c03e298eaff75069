//! The moving figure on the patient's page: started and stopped by one button, in a box that keeps its size; and the
//! page at night.

use crate::checks;
use crate::home::Open;
use browser::driver::{Browser, key};
use serde_json::{Value, json};

/// What the reader has asked of the machine, until this is dropped. Chromium alone has a command for it.
pub struct Emulated<'b> {
    browser: &'b Browser,
}

impl<'b> Emulated<'b> {
    pub fn new(browser: &'b Browser, feature: &str, value: &str) -> Emulated<'b> {
        let emulated = Emulated { browser };
        emulated.set(json!({"features": [{"name": feature, "value": value}]}));
        emulated
    }

    fn set(&self, wanted: Value) {
        self.browser.devtools("Emulation.setEmulatedMedia", wanted).expect("emulated");
    }
}

impl Drop for Emulated<'_> {
    fn drop(&mut self) {
        let _ = self.browser.devtools("Emulation.setEmulatedMedia", json!({"media": "", "features": []}));
    }
}

/// What stands on the button, and whether it has the focus.
fn button(browser: &Browser) -> String {
    browser
        .text(
            "const b = document.querySelector('.moving button');
             return b.textContent + (document.activeElement === b ? ', in focus' : '')",
        )
        .expect("a button")
}

/// For so many seconds, at each repaint: how many pictures there are, and where box, picture, button and the dose
/// below are. Gives the places that differ and how many different pictures were seen.
fn watched(browser: &Browser, seconds: u32) -> Value {
    let body = format!(
        "const done = arguments[arguments.length - 1], places = new Set(), pictures = new Set(), end = performance.now() + {seconds}000;
         const step = () => {{
           const place = (what) => [...document.querySelectorAll('#view ' + what)].map((e) => {{
             const r = e.getBoundingClientRect();
             return what + ' ' + [r.left, r.top, r.width, r.height].map((v) => v.toFixed(2)).join(' ') }}).join(', ');
           places.add(['.figure', '.frames', '.frames svg', '.moving button', '.doses'].map(place).join('; '));
           pictures.add(document.querySelector('.frames').innerHTML);
           if (performance.now() < end) requestAnimationFrame(step);
           else done({{places: [...places], pictures: pictures.size}}) }};
         requestAnimationFrame(step)"
    );
    browser.script_async(&body).expect("watched")
}

fn one_button_starts_and_stops_the_picture(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    assert_eq!(watched(browser, 1)["pictures"], 1, "nothing moves by itself");
    let tall = "const b = document.querySelector('.moving button').getBoundingClientRect();
                return String(48 <= b.height && b.bottom <= innerHeight)";
    assert_eq!(browser.text(tall).expect("a size"), "true", "it is seen at once, and large");
    browser.script("document.querySelector('.moving button').focus()").expect("focus");
    browser.press(&[key::ENTER]).expect("a key");
    open.wait("told", "return document.getElementById('told').textContent === 'The picture moves.'");
    assert_eq!(button(browser), "Stop the picture, in focus");
    assert!(4 < watched(browser, 3)["pictures"].as_u64().expect("a number"));
    browser.press(&[" "]).expect("a key");
    open.wait("told", "return document.getElementById('told').textContent === 'The picture stands still.'");
    assert_eq!(button(browser), "Show how it moves, in focus");
    assert_eq!(watched(browser, 1)["pictures"], 1);
}

fn the_picture_keeps_its_box_in_every_instant(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    let before =
        browser.text("return String(document.querySelector('.moving button').getBoundingClientRect().top)");
    let before = before.expect("a place");
    open.press("move yes");
    // More than a cycle: a stay, 2 s, a hold of 5 s, 2 s.
    let seen = watched(browser, 12);
    assert!(12 < seen["pictures"].as_u64().expect("a number"), "{seen}");
    let places = seen["places"].as_array().expect("a list");
    assert_eq!(places.len(), 1, "{seen}");
    let place = places[0].as_str().expect("text");
    assert_eq!(place.matches(".frames svg").count(), 1, "{place}");
    let after =
        browser.text("return String(document.querySelector('.moving button').getBoundingClientRect().top)");
    assert_eq!(after.expect("a place"), before, "what was pressed stays where it is");
    browser.look(&format!("moving-{}", browser.engine().name())).expect("a picture");
}

fn the_picture_stops_when_the_page_is_out_of_sight(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    open.press("move yes");
    assert!(button(browser).starts_with("Stop"));
    browser
        .script(
            "Object.defineProperty(document, 'hidden', {configurable: true, get: () => true});
             document.dispatchEvent(new Event('visibilitychange'));
             delete document.hidden;
             document.dispatchEvent(new Event('visibilitychange'))",
        )
        .expect("hidden and back");
    assert!(button(browser).starts_with("Show"));
    assert_eq!(watched(browser, 1)["pictures"], 1);
    // Another exercise begins at rest.
    open.press("move yes");
    open.press("go do morning 1");
    assert!(button(browser).starts_with("Show"));
    assert_eq!(watched(browser, 1)["pictures"], 1);
}

fn where_motion_is_unwanted_key_poses_are_shown_when_asked(browser: &Browser) {
    let still = Emulated::new(browser, "prefers-reduced-motion", "reduce");
    let open = Open::new(browser);
    open.press("go do morning 0");
    assert_eq!(watched(browser, 1)["pictures"], 1);
    assert_eq!(button(browser), "Show it step by step");
    open.press("move yes");
    let seen = watched(browser, 12);
    assert_eq!(seen["pictures"], 2, "{seen}");
    assert_eq!(seen["places"].as_array().map(Vec::len), Some(1), "{seen}");
    drop(still);
}

fn at_night_the_page_is_dark_and_print_is_light(browser: &Browser) {
    let night = Emulated::new(browser, "prefers-color-scheme", "dark");
    let open = Open::new(browser);
    open.press("go do morning 0");
    let colours = "const of = (e, name) => getComputedStyle(e)[name];
        return [of(document.body, 'backgroundColor'), of(document.querySelector('.figure'), 'backgroundColor'),
          of(document.querySelector('.frames svg'), 'fill'), of(document.querySelector('.frames svg'), 'stroke')].join(' ')";
    assert_eq!(
        browser.text(colours).expect("colours"),
        "rgb(21, 19, 15) rgb(18, 16, 14) rgb(124, 152, 179) rgb(18, 16, 14)"
    );
    browser.script("window.dispatchEvent(new Event('beforeprint'))").expect("laid");
    night.set(json!({"media": "print", "features": [{"name": "prefers-color-scheme", "value": "dark"}]}));
    let printed = "const of = (e, name) => getComputedStyle(e)[name], svg = document.querySelector('#handout svg');
        return [of(document.body, 'backgroundColor'), of(svg, 'fill'), of(svg, 'stroke'), of(document.querySelector('.handout'), 'color')].join(' ')";
    assert_eq!(
        browser.text(printed).expect("colours"),
        "rgb(255, 255, 255) rgb(34, 51, 68) rgb(255, 255, 255) rgb(28, 25, 23)"
    );
    drop(night);
}

/// Text twice as large, as a reader may set it: nothing runs out of the page, and the picture is no smaller.
fn the_page_survives_text_of_twice_the_size(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    let measure = "return JSON.stringify([document.documentElement.scrollWidth - innerWidth,
        document.querySelector('.frames svg').getBoundingClientRect().height])";
    let measured = |text: String| -> [f64; 2] { serde_json::from_str(&text).expect("numbers") };
    for width in [390, 768] {
        browser.size(width, 900).expect("a size");
        let [_, before] = measured(browser.text(measure).expect("measures"));
        browser.script("document.documentElement.style.fontSize = '225%'").expect("larger");
        for moves in ["still", "moving"] {
            if moves == "moving" {
                open.press("move yes");
            }
            let [over, now] = measured(browser.text(measure).expect("measures"));
            assert!(over <= 0.0, "{width} px, {moves}: {over} px too wide");
            assert!(
                before * 0.99 <= now || moves == "moving",
                "{width} px: the picture was {before} and is {now} high"
            );
        }
        browser.look(&format!("large-text-{width}-{}", browser.engine().name())).expect("a picture");
        open.press("move no");
        browser.script("document.documentElement.style.fontSize = ''").expect("as it was");
    }
}

checks! {
    Nothing: one_button_starts_and_stops_the_picture the_picture_keeps_its_box_in_every_instant
        the_picture_stops_when_the_page_is_out_of_sight the_page_survives_text_of_twice_the_size;
    Devtools: where_motion_is_unwanted_key_poses_are_shown_when_asked at_night_the_page_is_dark_and_print_is_light;
}
