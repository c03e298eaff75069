//! A static server on loopback: enough to look at the pages, to count what they ask for, and to answer otherwise than
//! a good server would.

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// What comes in place of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Lines of a head, then a body, then the end.
    Whole { head: String, body: Vec<u8> },
    /// The same without an end: nothing more comes, and the connection stays. Without a head nothing comes at all.
    Stalled { head: String, body: Vec<u8> },
    /// The connection ends without a word.
    Nothing,
}

impl Answer {
    /// A whole answer that says how long it is.
    pub fn of(status: &str, kind: &str, body: impl Into<Vec<u8>>) -> Answer {
        let body = body.into();
        let head = format!("HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}", body.len());
        Answer::Whole { head, body }
    }
}

/// Answers in place of files, by the path that is asked for.
type Instead = Arc<Mutex<BTreeMap<String, Answer>>>;

/// Serves one folder until it is stopped or the process ends.
pub struct Server {
    address: SocketAddr,
    seen: Arc<Mutex<Vec<String>>>,
    accepted: Arc<AtomicUsize>,
    stopped: Arc<AtomicBool>,
    instead: Instead,
}

impl Server {
    /// Listens on `port` of 127.0.0.1 (0 takes any free one) and serves `folder` in the background.
    pub fn start(folder: PathBuf, port: u16) -> std::io::Result<Server> {
        let listener = TcpListener::bind(("127.0.0.1", port))?;
        let address = listener.local_addr()?;
        let seen = Arc::new(Mutex::new(Vec::new()));
        let (accepted, stopped) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicBool::new(false)));
        let (log, count, stop) = (Arc::clone(&seen), Arc::clone(&accepted), Arc::clone(&stopped));
        let instead = Instead::default();
        let others = Arc::clone(&instead);
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if stop.load(Ordering::SeqCst) {
                    return;
                }
                count.fetch_add(1, Ordering::SeqCst);
                let (folder, log, others) = (folder.clone(), Arc::clone(&log), Arc::clone(&others));
                std::thread::spawn(move || answer(&stream, &folder, &log, &others));
            }
        });
        Ok(Server { address, seen, accepted, stopped, instead })
    }

    /// Has this come from now on in place of the file of this path, like `/home.html`; without an answer, the file again.
    pub fn answer(&self, path: &str, answer: Option<Answer>) {
        if let Ok(mut instead) = self.instead.lock() {
            match answer {
                Some(answer) => instead.insert(path.into(), answer),
                None => instead.remove(path),
            };
        }
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

fn answer(stream: &TcpStream, folder: &Path, log: &Mutex<Vec<String>>, instead: &Instead) {
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
    let path = target.split('?').next().unwrap_or("");
    let other = || instead.lock().ok().and_then(|all| all.get(path).cloned());
    if let Some(answer) = other() {
        let mut out = stream;
        if let Answer::Whole { head, body } | Answer::Stalled { head, body } = &answer
            && !head.is_empty()
        {
            let _ = out.write_all(
                format!("{head}\r\nCache-Control: no-store\r\nConnection: close\r\n\r\n").as_bytes(),
            );
            let _ = out.write_all(body);
        }
        // Until something else is answered; the browser may go before.
        while matches!(answer, Answer::Stalled { .. }) && other().as_ref() == Some(&answer) {
            std::thread::sleep(Duration::from_millis(50));
        }
        return;
    }
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
