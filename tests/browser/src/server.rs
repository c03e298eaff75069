//! A static server on loopback: enough to look at the pages and to count what they ask for.

use std::io::{BufRead, BufReader, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// Serves one folder until the process ends.
pub struct Server {
    address: SocketAddr,
    seen: Arc<Mutex<Vec<String>>>,
}

impl Server {
    /// Listens on `port` of 127.0.0.1 (0 takes any free one) and serves `folder` in the background.
    pub fn start(folder: PathBuf, port: u16) -> std::io::Result<Server> {
        let listener = TcpListener::bind(("127.0.0.1", port))?;
        let address = listener.local_addr()?;
        let seen = Arc::new(Mutex::new(Vec::new()));
        let log = Arc::clone(&seen);
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let (folder, log) = (folder.clone(), Arc::clone(&log));
                std::thread::spawn(move || answer(&stream, &folder, &log));
            }
        });
        Ok(Server { address, seen })
    }

    pub fn address(&self) -> String {
        format!("http://{}/", self.address)
    }

    /// Every request so far, in order, by its first line.
    pub fn requests(&self) -> Vec<String> {
        self.connections().into_iter().filter(|line| !line.is_empty()).collect()
    }

    /// Every connection so far, by its request's first line; empty for one on which nothing was asked.
    pub fn connections(&self) -> Vec<String> {
        self.seen.lock().map(|seen| seen.clone()).unwrap_or_default()
    }
}

fn answer(stream: &TcpStream, folder: &Path, log: &Mutex<Vec<String>>) {
    // A browser may open a connection and send nothing on it; without a limit the thread would stay.
    let _ = stream.set_read_timeout(Some(Duration::from_secs(10)));
    let mut reader = BufReader::new(stream);
    let mut request = String::new();
    let _ = reader.read_line(&mut request);
    let line = request.trim_end();
    if let Ok(mut log) = log.lock() {
        log.push(line.into());
    }
    let mut header = String::new();
    while reader.read_line(&mut header).is_ok_and(|n| 2 < n) {
        header.clear();
    }
    let mut words = line.split(' ');
    let (method, target) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    let (status, kind, body) = match (method, file(folder, target)) {
        ("GET" | "HEAD", Some(path)) => match std::fs::read(&path) {
            Ok(body) => ("200 OK", content_type(&path), body),
            Err(_) => ("404 Not Found", "text/plain; charset=utf-8", b"There is no such page.\n".to_vec()),
        },
        _ => ("400 Bad Request", "text/plain; charset=utf-8", b"Only GET of a page is answered.\n".to_vec()),
    };
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-store\r\n\
         X-Content-Type-Options: nosniff\r\nReferrer-Policy: no-referrer\r\nConnection: close\r\n\r\n",
        body.len()
    );
    let mut out = stream;
    let _ = out.write_all(head.as_bytes());
    if method == "GET" {
        let _ = out.write_all(&body);
    }
}

/// The file that a request target names inside `folder`, if it stays inside.
fn file(folder: &Path, target: &str) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next()?.strip_prefix('/')?;
    let path = if path.is_empty() { "desk.html" } else { path };
    let inside = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    inside.then(|| folder.join(path))
}

fn content_type(path: &Path) -> &'static str {
    match path.extension().and_then(|end| end.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("json") => "application/json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("wasm") => "application/wasm",
        Some("ics") => "text/calendar; charset=utf-8",
        Some("txt") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_outside_the_folder_is_served() {
        let folder = Path::new("/pages");
        assert_eq!(file(folder, "/"), Some("/pages/desk.html".into()));
        assert_eq!(file(folder, "/desk.html?x#y"), Some("/pages/desk.html".into()));
        assert_eq!(file(folder, "/../etc/passwd"), None);
        assert_eq!(file(folder, "//etc/passwd"), None);
        assert_eq!(file(folder, "http://elsewhere/"), None);
    }
}
