//! A WebDriver client of the few commands that the tests need (W3C WebDriver, classic).

use base64::Engine;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The key under which WebDriver hands over an element (W3C WebDriver, 12.2).
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

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

/// One browser with one window and a profile of its own; both processes end when this is dropped.
pub struct Browser {
    driver: Child,
    session: String,
    agent: ureq::Agent,
    profile: PathBuf,
}

/// What went wrong, in words that name the command.
pub type Fault = String;

impl Browser {
    /// Starts Chromium by chromedriver. `CHROMEDRIVER` and `CHROMIUM` say where they are, if not in the usual place.
    pub fn chromium() -> Result<Browser, Fault> {
        let program = std::env::var("CHROMEDRIVER").unwrap_or_else(|_| "/usr/bin/chromedriver".into());
        let binary = std::env::var("CHROMIUM").unwrap_or_else(|_| "/usr/bin/chromium".into());
        let mut driver = Command::new(&program)
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|e| format!("{program} did not start ({e}); scripts/test installs it"))?;
        let Some(port) = driver.stdout.take().and_then(announced_port) else {
            let _ = driver.kill();
            let _ = driver.wait();
            return Err(format!("{program} did not say on which port it listens"));
        };
        let profile = crate::root().join(format!("target/profiles/{}-{port}", std::process::id()));
        let config = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .timeout_global(Some(Duration::from_secs(90)))
            .build();
        let mut browser = Browser { driver, session: String::new(), agent: config.into(), profile };
        let base = format!("http://127.0.0.1:{port}/session");
        let wanted = json!({"capabilities": {"alwaysMatch": {
            "unhandledPromptBehavior": "ignore",
            "timeouts": {"script": 60_000, "pageLoad": 60_000},
            "goog:loggingPrefs": {"browser": "ALL"},
            "goog:chromeOptions": {"binary": binary, "args": [
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                "--disable-background-networking", "--disable-component-update", "--disable-sync",
                "--disable-dev-shm-usage", "--hide-scrollbars", "--force-color-profile=srgb",
                format!("--user-data-dir={}", browser.profile.display())]}}}});
        let answer = browser.call("POST", &base, Some(wanted))?;
        let id = answer["sessionId"].as_str().ok_or("the driver gave no session")?;
        browser.session = format!("{base}/{id}");
        Ok(browser)
    }

    pub fn open(&self, address: &str) -> Result<(), Fault> {
        self.post("/url", json!({ "url": address })).map(drop)
    }

    pub fn reload(&self) -> Result<(), Fault> {
        self.post("/refresh", json!({})).map(drop)
    }

    /// Sets the size of the page's viewport in CSS pixels.
    pub fn size(&self, width: u32, height: u32) -> Result<(), Fault> {
        let metrics = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
        self.devtools("Emulation.setDeviceMetricsOverride", metrics)
    }

    /// Speaks to Chromium's own protocol, for what WebDriver has no command for.
    pub fn devtools(&self, command: &str, parameters: Value) -> Result<(), Fault> {
        self.post("/goog/cdp/execute", json!({"cmd": command, "params": parameters})).map(drop)
    }

    /// Runs a function body in the page and returns what it returns.
    pub fn script(&self, body: &str) -> Result<Value, Fault> {
        self.script_with(body, json!([]))
    }

    pub fn script_with(&self, body: &str, arguments: Value) -> Result<Value, Fault> {
        self.post("/execute/sync", json!({"script": body, "args": arguments}))
    }

    /// Like [`Browser::script`], but the body calls its last argument with the answer.
    pub fn script_async(&self, body: &str) -> Result<Value, Fault> {
        self.post("/execute/async", json!({"script": body, "args": []}))
    }

    /// Runs a script that gives text.
    pub fn text(&self, body: &str) -> Result<String, Fault> {
        let value = self.script(body)?;
        value
            .as_str()
            .map(str::to_string)
            .ok_or_else(|| format!("text was expected, came {value}, from: {body}"))
    }

    /// Waits until a script's answer is truthy, at most ten seconds.
    pub fn wait(&self, what: &str, body: &str) -> Result<(), Fault> {
        let start = Instant::now();
        loop {
            let value = self.script(body)?;
            let truthy = match &value {
                Value::Null => false,
                Value::Bool(b) => *b,
                Value::Number(n) => n.as_f64() != Some(0.0),
                Value::String(s) => !s.is_empty(),
                _ => true,
            };
            if truthy {
                return Ok(());
            }
            if Duration::from_secs(10) < start.elapsed() {
                let log = self.log().unwrap_or_default().join("\n");
                return Err(format!(
                    "waited ten seconds in vain for {what} ({body}); the console says: {log}"
                ));
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    pub fn click(&self, selector: &str) -> Result<(), Fault> {
        let element = self.element(selector)?;
        self.post(&format!("/element/{element}/click"), json!({})).map(drop)
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

    /// The viewport as PNG.
    pub fn screenshot(&self) -> Result<Vec<u8>, Fault> {
        decoded(&self.call("GET", &format!("{}/screenshot", self.session), None)?)
    }

    /// Writes what the viewport shows to `target/look/NAME.png`, for the eye.
    pub fn look(&self, name: &str) -> Result<(), Fault> {
        let folder = crate::root().join("target/look");
        std::fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
        std::fs::write(folder.join(format!("{name}.png")), self.screenshot()?).map_err(|e| e.to_string())
    }

    /// The page printed by its own print rules, as PDF. Sizes in centimetres: Chromium takes Letter otherwise.
    pub fn print(&self, width_cm: f64, height_cm: f64) -> Result<Vec<u8>, Fault> {
        decoded(&self.post(
            "/print",
            json!({"page": {"width": width_cm, "height": height_cm}, "background": true, "shrinkToFit": false,
                   "margin": {"top": 0, "bottom": 0, "left": 0, "right": 0}}),
        )?)
    }

    /// Messages of the page's console since the last call, worst included.
    pub fn log(&self) -> Result<Vec<String>, Fault> {
        let entries = self.post("/se/log", json!({"type": "browser"}))?;
        let text = |e: &Value| {
            format!("{}: {}", e["level"].as_str().unwrap_or(""), e["message"].as_str().unwrap_or(""))
        };
        Ok(entries.as_array().map(|list| list.iter().map(text).collect()).unwrap_or_default())
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
        let words = value["message"].as_str().unwrap_or(&text).lines().next().unwrap_or("").to_string();
        Err(format!("{method} {}: {words}", address.rsplit('/').next().unwrap_or("")))
    }
}

impl Drop for Browser {
    /// A client that goes without ending its session would leave a whole browser behind.
    fn drop(&mut self) {
        if !self.session.is_empty() {
            let _ = self.call("DELETE", &self.session.clone(), None);
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        let _ = std::fs::remove_dir_all(&self.profile);
    }
}

fn decoded(value: &Value) -> Result<Vec<u8>, Fault> {
    let text = value.as_str().ok_or("the driver gave no picture")?;
    base64::engine::general_purpose::STANDARD.decode(text).map_err(|e| e.to_string())
}

/// Chromedriver says "… started successfully on port N." once it listens. The rest of what it says is read
/// and dropped in the background: a full pipe would stop it.
fn announced_port(stdout: std::process::ChildStdout) -> Option<u16> {
    let mut lines = BufReader::new(stdout).lines();
    let port = lines.by_ref().map_while(Result::ok).find_map(|line| {
        line.split("successfully on port ")
            .nth(1)
            .and_then(|rest| rest.trim_end_matches('.').trim().parse().ok())
    });
    std::thread::spawn(move || lines.map_while(Result::ok).for_each(drop));
    port
}

/// A `file:` address of a path.
pub fn file_address(path: &Path) -> String {
    format!("file://{}", path.display())
}
