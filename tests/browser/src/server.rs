//! A static server on loopback: enough to look at the pages and to count what they ask for.

use std::io::{BufRead, BufReader, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Serves one folder until it is stopped or the process ends.
pub struct Server {
    address: SocketAddr,
    seen: Arc<Mutex<Vec<String>>>,
    accepted: Arc<AtomicUsize>,
    stopped: Arc<AtomicBool>,
}

impl Server {
    /// Listens on `port` of 127.0.0.1 (0 takes any free one) and serves `folder` in the background.
    pub fn start(folder: PathBuf, port: u16) -> std::io::Result<Server> {
        let listener = TcpListener::bind(("127.0.0.1", port))?;
        let address = listener.local_addr()?;
        let seen = Arc::new(Mutex::new(Vec::new()));
        let (accepted, stopped) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicBool::new(false)));
        let (log, count, stop) = (Arc::clone(&seen), Arc::clone(&accepted), Arc::clone(&stopped));
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if stop.load(Ordering::SeqCst) {
                    return;
                }
                count.fetch_add(1, Ordering::SeqCst);
                let (folder, log) = (folder.clone(), Arc::clone(&log));
                std::thread::spawn(move || answer(&stream, &folder, &log));
            }
        });
        Ok(Server { address, seen, accepted, stopped })
    }

    pub fn address(&self) -> String {
        format!("http://{}/", self.address)
    }

    /// Every request so far, in order, by its first line.
    pub fn requests(&self) -> Vec<String> {
        let seen = self.seen.lock().map(|seen| seen.clone()).unwrap_or_default();
        seen.into_iter().filter(|line| !line.is_empty()).collect()
    }

    /// How many connections were opened so far, whether anything was asked on them or not.
    pub fn accepted(&self) -> usize {
        self.accepted.load(Ordering::SeqCst)
    }

    /// Listens no longer: whoever connects from now on is refused.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::SeqCst);
        // The listener waits for one more connection, sees that it is to stop and is closed with its thread.
        let _ = TcpStream::connect(self.address);
        let start = Instant::now();
        while TcpStream::connect(self.address).is_ok() && start.elapsed() < Duration::from_secs(5) {
            std::thread::sleep(Duration::from_millis(10));
        }
    }
}

fn answer(stream: &TcpStream, folder: &Path, log: &Mutex<Vec<String>>) {
    // A browser may open a connection and send nothing on it; without a limit the thread would stay.
    let _ = stream.set_read_timeout(Some(Duration::from_secs(10)));
    let mut reader = BufReader::new(stream);
    let mut request = String::new();
    let _ = reader.read_line(&mut request);
    let line = request.trim_end();
    if line.is_empty() {
        // A spare connection on which nothing was asked in time: an answer would be taken for that of a later request.
        return;
    }
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
    fn a_connection_without_a_request_is_counted_and_none_is_taken_after_the_end() {
        let server = Server::start(PathBuf::from("."), 0).expect("a server");
        let silent = TcpStream::connect(server.address).expect("a connection");
        let start = Instant::now();
        while server.accepted() == 0 && start.elapsed() < Duration::from_secs(5) {
            std::thread::sleep(Duration::from_millis(5));
        }
        assert_eq!((server.accepted(), server.requests().len()), (1, 0));
        server.stop();
        assert!(TcpStream::connect(server.address).is_err());
        drop(silent);
    }

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
