//! A desk that is open in a browser.

use browser::driver::{Browser, file_address, key};
use browser::server::Server;
use serde_json::json;

pub struct Desk<'b> {
    pub browser: &'b Browser,
    pub server: Option<Server>,
}

impl<'b> Desk<'b> {
    pub fn from_disk(browser: &'b Browser) -> Desk<'b> {
        Desk::open(browser, None, &file_address(&browser::out().join("desk.html")))
    }

    pub fn served(browser: &'b Browser) -> Desk<'b> {
        let server = Server::start(browser::out(), 0).expect("a server");
        let address = format!("{}desk.html", server.address());
        Desk::open(browser, Some(server), &address)
    }

    fn open(browser: &'b Browser, server: Option<Server>, address: &str) -> Desk<'b> {
        browser.size(1440, 1000).expect("a size");
        browser.open(address).expect("the desk");
        let desk = Desk { browser, server };
        desk.wait("the desk", "return document.getElementById('mirror').children.length");
        watch(browser);
        desk
    }

    pub fn wait(&self, what: &str, body: &str) {
        if let Err(words) = self.browser.wait(what, body) {
            let _ = self.browser.look(&format!(
                "failed-{}-{}",
                self.browser.engine().name(),
                what.replace(' ', "-")
            ));
            let notes = self.text("return document.getElementById('beside').textContent");
            panic!("{words}\nnotices: {notes}");
        }
    }

    pub fn text(&self, body: &str) -> String {
        self.browser.text(body).expect("text")
    }

    /// Unfolds a strip's controls. A press that falls into the moment when the strip is drawn anew, because its figure
    /// has come, is lost: one presses again, as a hand would.
    pub fn unfold(&self, summary: &str) {
        let is_open = format!("return document.querySelector('{summary}')?.parentElement.open === true");
        for _ in 0..4 {
            self.browser.click(summary).expect(summary);
            let pressed = std::time::Instant::now();
            while pressed.elapsed() < std::time::Duration::from_millis(700) {
                if self.browser.script(&is_open).expect("asked") == true {
                    return;
                }
                std::thread::sleep(std::time::Duration::from_millis(20));
            }
        }
        panic!("{summary} doesn't unfold");
    }

    pub fn number(&self, body: &str) -> u64 {
        self.browser.script(body).expect("an answer").as_u64().expect("a number")
    }

    /// What stands in the text area, line ends as typed.
    pub fn value(&self) -> String {
        self.text("return document.getElementById('text').value")
    }

    /// Puts a text in place of the whole, as pasting does.
    pub fn write(&self, text: &str) {
        let body = "const t = document.getElementById('text'); t.focus(); t.value = arguments[0];
             t.setSelectionRange(t.value.length, t.value.length);
             t.dispatchEvent(new InputEvent('input', {inputType: 'insertFromPaste'}))";
        self.browser.script_with(body, json!([text])).expect("written");
    }

    /// Types where the cursor is, key by key.
    pub fn type_text(&self, text: &str) {
        for c in text.chars() {
            let one = c.to_string();
            self.browser.press(&[if c == '\n' { key::ENTER } else { &one }]).expect("a key");
        }
    }

    pub fn press_alt(&self, digit: &str) {
        self.browser.press(&[key::ALT, digit]).expect("keys");
    }

    pub fn press_alt_shift(&self, digit: &str) {
        self.browser.press(&[key::ALT, key::SHIFT, digit]).expect("keys");
    }

    /// Nothing went wrong that only the console knows of.
    pub fn quiet(&self) {
        quiet(self.browser);
    }
}

/// Has the page keep what goes wrong from now on, in every engine: what nobody caught, what the policy stopped
/// and what was written to the console as a warning or worse.
pub fn watch(browser: &Browser) {
    browser
        .script(
            "const faults = window.faults = [];
             addEventListener('error', (e) => faults.push('error: ' + e.message));
             addEventListener('unhandledrejection', (e) => faults.push('rejection: ' + e.reason));
             document.addEventListener('securitypolicyviolation',
               (e) => faults.push('policy: ' + e.violatedDirective + ' ' + e.blockedURI));
             for (const level of ['warn', 'error', 'assert']) {
               const say = console[level];
               console[level] = (...words) => { faults.push(level + ': ' + words.join(' ')); say.apply(console, words) };
             }",
        )
        .expect("watched");
}

/// Nothing has gone wrong since [`watch`]; in Chromium, not even while the page loaded.
pub fn quiet(browser: &Browser) {
    let log = browser.log().expect("a log");
    assert!(log.is_empty(), "{}", log.join("\n"));
    let faults = browser.text("return window.faults.join('\\n')").expect("watched");
    assert!(faults.is_empty(), "{faults}");
}
