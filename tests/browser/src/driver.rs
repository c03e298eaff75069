//! A WebDriver client of the few commands that the tests need (W3C WebDriver, classic).

use crate::engine::{Engine, Process, Screen};
use base64::Engine as _;
use serde_json::{Value, json};
use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

/// The key under which WebDriver hands over an element (W3C WebDriver, 12.2).
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// WebDriver's own words for an element that is gone from the page, or has moved from where it was to be pressed.
const MOVED: [&str; 3] = ["stale element reference", "element not interactable", "element click intercepted"];

/// Keys that are no characters (W3C WebDriver, 17.4.2).
pub mod key {
    pub const ENTER: &str = "\u{e007}";
    pub const TAB: &str = "\u{e004}";
    pub const ESCAPE: &str = "\u{e00c}";
    pub const CONTROL: &str = "\u{e009}";
    pub const ALT: &str = "\u{e00a}";
    pub const SHIFT: &str = "\u{e008}";
    pub const DOWN: &str = "\u{e015}";
    pub const UP: &str = "\u{e013}";
    pub const END: &str = "\u{e010}";
    pub const HOME: &str = "\u{e011}";
    pub const BACKSPACE: &str = "\u{e003}";
}

/// One browser with one window and a profile of its own; all its processes end when this is dropped.
pub struct Browser {
    engine: Engine,
    session: String,
    agent: ureq::Agent,
    // Dropped in this order: the driver before the screen that its browser is shown on.
    driver: Process,
    _screen: Option<Screen>,
    profile: PathBuf,
    /// What the window had beside the page when it was last sized: width and height.
    beside: Cell<(u64, u64)>,
}

/// What went wrong, in words that name the command.
pub type Fault = String;

impl Browser {
    /// Starts a browser by its driver; [`Engine`] says where both are looked for.
    pub fn start(engine: Engine) -> Result<Browser, Fault> {
        let profile = fresh_profile()?;
        let screen = if engine == Engine::WebKit { Some(Screen::start()?) } else { None };
        let display = screen.as_ref().map(|screen| screen.name.as_str());
        let (driver, port) = engine.driver(&profile, display)?;
        let config = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .timeout_global(Some(Duration::from_secs(90)))
            .build();
        let mut browser = Browser {
            engine,
            session: String::new(),
            agent: config.into(),
            driver,
            _screen: screen,
            profile,
            beside: Cell::new((0, 0)),
        };
        let base = format!("http://127.0.0.1:{port}/session");
        let wanted = json!({"capabilities": {"alwaysMatch": engine.wanted(&browser.profile)}});
        let answer = browser.call("POST", &base, Some(wanted)).map_err(|e| format!("{engine:?}: {e}"))?;
        let id = answer["sessionId"].as_str().ok_or("the driver gave no session")?;
        browser.session = format!("{base}/{id}");
        Ok(browser)
    }

    pub fn engine(&self) -> Engine {
        self.engine
    }

    pub fn open(&self, address: &str) -> Result<(), Fault> {
        self.post("/url", json!({ "url": address })).map(drop)
    }

    /// Leaves the page and what it kept, for the next one.
    pub fn forget(&self) -> Result<(), Fault> {
        self.script(
            "try { localStorage.clear(); sessionStorage.clear() } catch { /* a page without storage */ }",
        )?;
        self.open("about:blank")?;
        self.log().map(drop)
    }

    pub fn reload(&self) -> Result<(), Fault> {
        self.post("/refresh", json!({})).map(drop)
    }

    /// Goes back in the window's history, and waits until the page there has come.
    pub fn back(&self) -> Result<(), Fault> {
        self.post("/back", json!({})).map(drop)
    }

    /// Opens a second window of the same browser, which shares its storage, and goes on in it. Gives the one before.
    pub fn second_window(&self) -> Result<String, Fault> {
        let first = self.window()?;
        let second = self.post("/window/new", json!({"type": "window"}))?;
        self.to_window(second["handle"].as_str().ok_or("the driver gave no window")?)?;
        Ok(first)
    }

    /// The window that commands go to.
    pub fn window(&self) -> Result<String, Fault> {
        let name = self.call("GET", &format!("{}/window", self.session), None)?;
        name.as_str().map(str::to_string).ok_or_else(|| "the driver named no window".into())
    }

    pub fn to_window(&self, name: &str) -> Result<(), Fault> {
        self.post("/window", json!({"handle": name})).map(drop)
    }

    /// Closes the window at hand and goes on in another.
    pub fn close_window(&self, other: &str) -> Result<(), Fault> {
        self.call("DELETE", &format!("{}/window", self.session), None)?;
        self.to_window(other)
    }

    /// Sets the size of the page's viewport in CSS pixels, and says how wide it became: no window of Firefox
    /// is narrower than 450 pixels or so.
    pub fn size(&self, width: u32, height: u32) -> Result<u32, Fault> {
        if self.engine == Engine::Chromium {
            let metrics = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
            self.devtools("Emulation.setDeviceMetricsOverride", metrics)?;
            return Ok(width);
        }
        let inside = || -> Result<(u64, u64), Fault> {
            let size = self.script("return [innerWidth, innerHeight]")?;
            Ok((size[0].as_u64().unwrap_or(0), size[1].as_u64().unwrap_or(0)))
        };
        let (width, height) = (u64::from(width), u64::from(height));
        if inside()? == (width, height) {
            return u32::try_from(width).map_err(|e| e.to_string());
        }
        // What the window has beside the page is only known once it has been sized.
        let beside = self.beside.get();
        let (mut outer_width, mut outer_height) = (width + beside.0, height + beside.1);
        for _ in 0..3 {
            self.post("/window/rect", json!({"width": outer_width, "height": outer_height}))?;
            let start = Instant::now();
            let mut now = inside()?;
            while now != (width, height) && start.elapsed() < Duration::from_millis(300) {
                std::thread::sleep(Duration::from_millis(20));
                now = inside()?;
            }
            if now == (width, height) {
                self.beside.set((outer_width.saturating_sub(width), outer_height.saturating_sub(height)));
                break;
            }
            outer_width = (outer_width + width).saturating_sub(now.0).max(1);
            outer_height = (outer_height + height).saturating_sub(now.1).max(1);
        }
        u32::try_from(inside()?.0).map_err(|e| e.to_string())
    }

    /// Speaks to Chromium's own protocol, for what WebDriver has no command for.
    pub fn devtools(&self, command: &str, parameters: Value) -> Result<Value, Fault> {
        self.post("/goog/cdp/execute", json!({"cmd": command, "params": parameters}))
    }

    /// Runs a function body in the page and returns what it returns.
    pub fn script(&self, body: &str) -> Result<Value, Fault> {
        self.script_with(body, json!([]))
    }

    pub fn script_with(&self, body: &str, arguments: Value) -> Result<Value, Fault> {
        self.post("/execute/sync", json!({"script": body, "args": arguments}))
    }

    /// Like [`Browser::script`], but the body calls its last argument with the answer, within a minute. The page keeps
    /// the answer and is asked for it: WebKit's driver loses one of a waiting script now and then.
    pub fn script_async(&self, body: &str) -> Result<Value, Fault> {
        let start = Instant::now();
        self.script(&format!(
            "delete window.answered; (function () {{ {body} }})((value) => {{ window.answered = {{value: value ?? null}} }})"
        ))?;
        loop {
            if let Some(answer) = self.script("return window.answered ?? null")?.as_object_mut() {
                return Ok(answer.remove("value").unwrap_or_default());
            }
            if Duration::from_secs(60) < start.elapsed() {
                return Err(format!("waited a minute in vain for the answer of {body}"));
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Runs a script that gives text.
    pub fn text(&self, body: &str) -> Result<String, Fault> {
        let value = self.script(body)?;
        value
            .as_str()
            .map(str::to_string)
            .ok_or_else(|| format!("text was expected, came {value}, from: {body}"))
    }

    /// Waits until a script's answer is truthy, at most 30 seconds.
    pub fn wait(&self, what: &str, body: &str) -> Result<(), Fault> {
        let start = Instant::now();
        loop {
            // Only whether: an element that is drawn anew meanwhile has no handle to be given.
            let truthy = self.script(&format!("return Boolean((() => {{ {body} }})())"))?;
            if truthy.as_bool() == Some(true) {
                return Ok(());
            }
            if Duration::from_secs(30) < start.elapsed() {
                let log = self.log().unwrap_or_default().join("\n");
                return Err(format!(
                    "waited 30 seconds in vain for {what} ({body}); the console says: {log}"
                ));
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Clicks what stands still, as a person does: a driver that scrolls and then clicks misses what moves meanwhile.
    pub fn click(&self, selector: &str) -> Result<(), Fault> {
        let top = || {
            let body = "const e = document.querySelector(arguments[0]); return e && e.getBoundingClientRect().top + scrollY";
            self.script_with(body, json!([selector]))
        };
        let (start, mut before) = (Instant::now(), top()?);
        while start.elapsed() < Duration::from_secs(2) {
            std::thread::sleep(Duration::from_millis(30));
            let now = top()?;
            if now == before {
                break;
            }
            before = now;
        }
        // What was drawn anew or pushed out of view between finding and pressing is found again, as a hand would.
        let into_view = "document.querySelector(arguments[0])?.scrollIntoView({block: 'center'})";
        loop {
            let element = self.element(selector)?;
            let moved = |fault: &Fault| MOVED.iter().any(|word| fault.contains(word));
            match self.post(&format!("/element/{element}/click"), json!({})) {
                Err(fault) if moved(&fault) && start.elapsed() < Duration::from_secs(4) => {
                    std::thread::sleep(Duration::from_millis(100));
                    self.script_with(into_view, json!([selector]))?;
                }
                answer => return answer.map(drop),
            }
        }
    }

    /// Types into the element, key by key, as a person would.
    pub fn type_into(&self, selector: &str, text: &str) -> Result<(), Fault> {
        let element = self.element(selector)?;
        self.post(&format!("/element/{element}/value"), json!({ "text": text })).map(drop)
    }

    /// Presses keys together where the focus is: held ones first, then the last is struck.
    pub fn press(&self, keys: &[&str]) -> Result<(), Fault> {
        let down = keys.iter().map(|k| json!({"type": "keyDown", "value": k}));
        let up = keys.iter().rev().map(|k| json!({"type": "keyUp", "value": k}));
        let actions: Vec<Value> = down.chain(up).collect();
        self.post("/actions", json!({"actions": [{"type": "key", "id": "keys", "actions": actions}]}))
            .map(drop)
    }

    /// Drags from one point of the viewport to another by the engine's own input, as a `mouse` or a finger (`touch`)
    /// would: down, half the way, the whole way, up. Points in CSS pixels.
    pub fn drag(&self, pointer: &str, from: (i64, i64), to: (i64, i64)) -> Result<(), Fault> {
        let at = |(x, y): (i64, i64), ms: u64| json!({"type": "pointerMove", "duration": ms, "x": x, "y": y});
        let half = ((from.0 + to.0) / 2, (from.1 + to.1) / 2);
        let actions = json!([
            at(from, 0),
            {"type": "pointerDown", "button": 0},
            at(half, 50),
            at(to, 50),
            {"type": "pointerUp", "button": 0},
        ]);
        let hand = json!({"type": "pointer", "id": pointer, "parameters": {"pointerType": pointer}, "actions": actions});
        self.post("/actions", json!({"actions": [hand]})).map(drop)
    }

    /// The viewport as PNG.
    pub fn screenshot(&self) -> Result<Vec<u8>, Fault> {
        Browser::decoded(&self.call("GET", &format!("{}/screenshot", self.session), None)?)
    }

    /// Writes what the viewport shows to `target/look/NAME.png`, for the eye.
    pub fn look(&self, name: &str) -> Result<(), Fault> {
        let folder = crate::root().join("target/look");
        std::fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
        std::fs::write(folder.join(format!("{name}.png")), self.screenshot()?).map_err(|e| e.to_string())
    }

    /// The page printed by its own print rules, as PDF; not by WebKit, whose driver has no such command. Sizes
    /// in centimetres: Chromium takes Letter otherwise.
    pub fn print(&self, width_cm: f64, height_cm: f64) -> Result<Vec<u8>, Fault> {
        Browser::decoded(&self.post(
            "/print",
            json!({"page": {"width": width_cm, "height": height_cm}, "background": true, "shrinkToFit": false,
                   "margin": {"top": 0, "bottom": 0, "left": 0, "right": 0}}),
        )?)
    }

    /// Messages of the page's console since the last call, worst included. Only Chromium's driver has them.
    pub fn log(&self) -> Result<Vec<String>, Fault> {
        if self.engine != Engine::Chromium {
            return Ok(Vec::new());
        }
        let entries = self.post("/se/log", json!({"type": "browser"}))?;
        let text = |e: &Value| {
            format!("{}: {}", e["level"].as_str().unwrap_or(""), e["message"].as_str().unwrap_or(""))
        };
        Ok(entries.as_array().map(|list| list.iter().map(text).collect()).unwrap_or_default())
    }

    /// A picture or a print as a driver hands it over.
    pub fn decoded(value: &Value) -> Result<Vec<u8>, Fault> {
        let text = value.as_str().ok_or("the driver gave no picture")?;
        base64::engine::general_purpose::STANDARD.decode(text).map_err(|e| e.to_string())
    }

    fn element(&self, selector: &str) -> Result<String, Fault> {
        let found = self.post("/element", json!({"using": "css selector", "value": selector}))?;
        found[ELEMENT].as_str().map(str::to_string).ok_or_else(|| format!("nothing matches {selector}"))
    }

    fn post(&self, command: &str, body: Value) -> Result<Value, Fault> {
        self.call("POST", &format!("{}{command}", self.session), Some(body))
    }

    fn call(&self, method: &str, address: &str, body: Option<Value>) -> Result<Value, Fault> {
        let told = |e: ureq::Error| format!("{method} {address}: {e}");
        let mut response = match (method, body) {
            ("POST", Some(body)) => self.agent.post(address).send_json(body).map_err(told)?,
            ("DELETE", _) => self.agent.delete(address).call().map_err(told)?,
            _ => self.agent.get(address).call().map_err(told)?,
        };
        let status = response.status();
        let text = response
            .body_mut()
            .with_config()
            .limit(256 * 1024 * 1024)
            .read_to_string()
            .map_err(|e| format!("{method} {address}: {e}"))?;
        let mut answer: Value =
            serde_json::from_str(&text).map_err(|e| format!("{method} {address}: {e}: {text}"))?;
        let value = answer["value"].take();
        if status.is_success() {
            return Ok(value);
        }
        // WebKit's driver leaves the message empty: the kind of error is all that it says.
        let kind = value["error"].as_str().unwrap_or("an error without a name");
        let words = value["message"].as_str().unwrap_or(&text).lines().next().unwrap_or("");
        Err(format!("{method} {}: {kind}: {words}", address.rsplit('/').next().unwrap_or("")))
    }
}

impl Drop for Browser {
    /// A client that goes without ending its session would leave a whole browser behind.
    fn drop(&mut self) {
        if !self.session.is_empty() {
            let _ = self.call("DELETE", &self.session.clone(), None);
        }
        self.driver.end();
        let _ = std::fs::remove_dir_all(&self.profile);
    }
}

/// A folder that no other browser of this or another run has.
fn fresh_profile() -> Result<PathBuf, Fault> {
    static NEXT: AtomicU32 = AtomicU32::new(1);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    let folder = crate::root().join(format!("target/profiles/{}-{number}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    Ok(folder)
}

/// A `file:` address of a path.
pub fn file_address(path: &Path) -> String {
    format!("file://{}", path.display())
}
