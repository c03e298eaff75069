//! The three engines: where each and its driver are, how a driver is started, and what it is asked for.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A browser engine. Environment variables say where its driver and the browser are, if not in the usual place:
/// `CHROMEDRIVER` and `CHROMIUM`; `GECKODRIVER` and `FIREFOX`; `WEBKITDRIVER` and `MINIBROWSER`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    Chromium,
    Firefox,
    WebKit,
}

impl Engine {
    pub const ALL: [Engine; 3] = [Engine::Chromium, Engine::Firefox, Engine::WebKit];

    pub fn name(self) -> &'static str {
        match self {
            Engine::Chromium => "chromium",
            Engine::Firefox => "firefox",
            Engine::WebKit => "webkit",
        }
    }

    /// Whether its driver can print to a PDF (W3C WebDriver, 19); WebKitGTK's has no such command.
    pub fn prints(self) -> bool {
        self != Engine::WebKit
    }

    /// What a session is asked for beside the defaults.
    pub(crate) fn wanted(self, profile: &Path) -> Value {
        let mut wanted = json!({"timeouts": {"script": 60_000, "pageLoad": 60_000}});
        match self {
            Engine::Chromium => {
                wanted["unhandledPromptBehavior"] = "ignore".into();
                wanted["goog:loggingPrefs"] = json!({"browser": "ALL"});
                wanted["goog:chromeOptions"] = json!({
                    "binary": place("CHROMIUM", "/usr/bin/chromium".into()),
                    "args": ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                        "--disable-background-networking", "--disable-component-update", "--disable-sync",
                        "--disable-dev-shm-usage", "--hide-scrollbars", "--force-color-profile=srgb",
                        format!("--user-data-dir={}", profile.display())]});
            }
            // No pre-loading of its own: what is asked for while a test listens is the page's doing.
            Engine::Firefox => {
                wanted["unhandledPromptBehavior"] = "ignore".into();
                wanted["moz:firefoxOptions"] = json!({
                    "binary": place("FIREFOX", "/usr/bin/firefox-esr".into()),
                    "args": ["-headless"]});
            }
            Engine::WebKit => {
                wanted["webkitgtk:browserOptions"] = json!({
                    "binary": place("MINIBROWSER", mini_browser()), "args": ["--automation"]});
            }
        }
        wanted
    }

    /// Starts the driver and waits until it listens.
    pub(crate) fn driver(self, profile: &Path, display: Option<&str>) -> Result<(Process, u16), String> {
        let program = match self {
            Engine::Chromium => place("CHROMEDRIVER", "/usr/bin/chromedriver".into()),
            Engine::Firefox => place("GECKODRIVER", crate::root().join("target/tools/bin/geckodriver")),
            Engine::WebKit => place("WEBKITDRIVER", "/usr/bin/WebKitWebDriver".into()),
        };
        let mut last = String::new();
        // Another process may take the port between its choice and its use: then another one does as well.
        for _ in 0..3 {
            let port = free_port()?;
            let mut command = Command::new(&program);
            command.arg(format!("--port={port}")).stdin(Stdio::null()).stdout(Stdio::null());
            // Whatever a browser keeps for itself goes with the profile.
            command.stderr(Stdio::null()).env("TMPDIR", profile);
            if self == Engine::Firefox {
                command.arg("--websocket-port=0");
            }
            if self == Engine::WebKit {
                command.env("HOME", profile).env("XDG_RUNTIME_DIR", profile).env_remove("WAYLAND_DISPLAY");
                command.env_remove("DBUS_SESSION_BUS_ADDRESS").env("GDK_BACKEND", "x11");
            }
            if let Some(display) = display {
                command.env("DISPLAY", display);
            }
            let child = command.spawn().map_err(|e| {
                format!("{} did not start ({e}); scripts/test installs it", program.display())
            })?;
            let mut process = Process { child };
            match process.listens(port) {
                Ok(()) => return Ok((process, port)),
                Err(words) => last = format!("{}: {words}", program.display()),
            }
        }
        Err(last)
    }
}

/// A program of ours that ends when this is dropped.
pub(crate) struct Process {
    child: Child,
}

impl Process {
    /// Waits until something listens on the port, while the program lives.
    fn listens(&mut self, port: u16) -> Result<(), String> {
        let start = Instant::now();
        while start.elapsed() < Duration::from_secs(30) {
            if let Ok(Some(status)) = self.child.try_wait() {
                return Err(format!("it ended at once with {status}"));
            }
            if TcpStream::connect(("127.0.0.1", port)).is_ok() {
                return Ok(());
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        Err(format!("it does not listen on port {port}"))
    }

    pub(crate) fn end(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        self.end();
    }
}

/// A screen in memory: WebKit has no way to run without one.
pub(crate) struct Screen {
    pub(crate) name: String,
    _process: Process,
}

impl Screen {
    pub(crate) fn start() -> Result<Screen, String> {
        let program = place("XVFB", "/usr/bin/Xvfb".into());
        // It chooses a free display itself and writes its number once it is ready.
        let mut child = Command::new(&program)
            .args(["-displayfd", "1", "-screen", "0", "2000x1600x24", "-nolisten", "tcp"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|e| format!("{} did not start ({e}); scripts/test installs it", program.display()))?;
        let out = child.stdout.take();
        let process = Process { child };
        let mut line = String::new();
        if let Some(out) = out {
            let _ = BufReader::new(out).read_line(&mut line);
        }
        match line.trim().parse::<u32>() {
            Ok(number) => Ok(Screen { name: format!(":{number}"), _process: process }),
            Err(_) => Err(format!("{} gave no display", program.display())),
        }
    }
}

fn place(variable: &str, usual: PathBuf) -> PathBuf {
    std::env::var_os(variable).map_or(usual, PathBuf::from)
}

/// WebKitGTK's own small browser stands in a folder that is named after the machine.
fn mini_browser() -> PathBuf {
    let folders = std::fs::read_dir("/usr/lib").into_iter().flatten().flatten();
    let mut found: Vec<PathBuf> = folders
        .flat_map(|entry| {
            ["webkit2gtk-4.1", "webkitgtk-6.0", "webkit2gtk-4.0"]
                .map(|version| entry.path().join(version).join("MiniBrowser"))
        })
        .filter(|path| path.is_file())
        .collect();
    found.sort();
    found.pop().unwrap_or_else(|| "/usr/lib/webkit2gtk-4.1/MiniBrowser".into())
}

fn free_port() -> Result<u16, String> {
    let free = TcpListener::bind(("127.0.0.1", 0)).and_then(|listener| listener.local_addr());
    free.map(|address| address.port()).map_err(|e| format!("no free port: {e}"))
}
