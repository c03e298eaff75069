//! A desk that is open in a browser of its own.

use browser::driver::{Browser, file_address, key};
use browser::server::Server;
use serde_json::json;

pub struct Desk {
    pub browser: Browser,
    #[allow(dead_code, reason = "not every test file asks it")]
    pub server: Option<Server>,
}

#[allow(dead_code, reason = "each test file uses some of these")]
impl Desk {
    pub fn from_disk() -> Desk {
        Desk::open(None, &file_address(&browser::out().join("desk.html")))
    }

    pub fn served() -> Desk {
        let server = Server::start(browser::out(), 0).expect("a server");
        let address = format!("{}desk.html", server.address());
        Desk::open(Some(server), &address)
    }

    fn open(server: Option<Server>, address: &str) -> Desk {
        let browser = Browser::chromium().expect("a browser");
        browser.size(1440, 1000).expect("a size");
        browser.open(address).expect("the desk");
        let desk = Desk { browser, server };
        desk.wait("the desk", "return document.getElementById('mirror').children.length");
        desk
    }

    pub fn wait(&self, what: &str, body: &str) {
        if let Err(words) = self.browser.wait(what, body) {
            let _ = self.browser.look(&format!("failed-{}", what.replace(' ', "-")));
            let notes = self.text("return document.getElementById('beside').textContent");
            panic!("{words}\nnotices: {notes}");
        }
    }

    pub fn text(&self, body: &str) -> String {
        self.browser.text(body).expect("text")
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
        let log = self.browser.log().expect("a log");
        assert!(log.is_empty(), "{}", log.join("\n"));
    }
}
