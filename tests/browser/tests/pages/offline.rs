//! The worker script under servers that answer wrongly: what was good stays, what is mended comes, and where nothing good
//! is kept, nobody stands between the browser and the server.

use crate::home::{Open, fragment};
use browser::driver::Browser;
use browser::engine::Engine;
use browser::server::{Answer, Server};
use layfigure::diary;
use serde_json::json;
use std::time::{Duration, Instant};

crate::checks! {
    Nothing: no_answer_takes_the_place_of_a_good_page a_later_version_takes_the_place_of_an_earlier
        where_nothing_good_is_kept_the_browser_asks_the_server a_phone_with_an_earlier_worker_gets_well;
}

const PAGE: &str = "/home.html";
const HTML: &str = "text/html; charset=utf-8";
const FOREIGN: &str = "<!doctype html><title>Welcome</title><p id=\"view\">Log in to the hotel's network";

fn built() -> String {
    std::fs::read_to_string(browser::out().join("home.html")).expect("the page is built")
}

fn redirect(status: &str, to: &str) -> Answer {
    Answer::Whole {
        head: format!("HTTP/1.1 {status}\r\nLocation: {to}\r\nContent-Length: 0"),
        body: Vec::new(),
    }
}

/// A page with its end mark. The key of a text is its SHA-256.
fn marked(html: &str) -> String {
    format!("{html}\n<!-- layfigure home sha256 {} -->\n", diary::key(html))
}

/// The page as it may be one day: with another title, and the end mark of what it is then.
fn later() -> String {
    let page = built().replacen("<title>Exercises<", "<title>Exercises, later<", 1);
    marked(page.trim_end().rsplit_once('\n').expect("an end mark").0)
}

/// A page of ours that is loaded in no time, long enough to be cut in the middle.
fn small() -> String {
    marked(&format!(
        "<!doctype html><title>Plan</title><p>The plan of T. B.</p><!--{}-->",
        "Rest. ".repeat(20_000)
    ))
}

/// What may come in place of the page.
fn faults(good: &str, elsewhere: &Server) -> Vec<(&'static str, Answer)> {
    let half = good.as_bytes()[..good.len() / 2].to_vec();
    let told = format!("HTTP/1.1 200 OK\r\nContent-Type: {HTML}\r\nContent-Length: {}", good.len());
    let untold = format!("HTTP/1.1 200 OK\r\nContent-Type: {HTML}");
    let part = format!(
        "HTTP/1.1 206 Partial Content\r\nContent-Type: {HTML}\r\nContent-Range: bytes 0-{}/{}",
        half.len() - 1,
        good.len()
    );
    let desk = std::fs::read(browser::out().join("desk.html")).expect("the desk is built");
    let whole = |head: &str, body: &[u8]| Answer::Whole { head: head.into(), body: body.to_vec() };
    vec![
        ("a foreign page", Answer::of("200 OK", HTML, FOREIGN)),
        ("a redirect to a page beside", redirect("302 Found", "/elsewhere.html")),
        ("a lasting redirect", redirect("308 Permanent Redirect", "/elsewhere.html")),
        (
            "a redirect to another server",
            redirect("302 Found", &format!("{}elsewhere.html", elsewhere.address())),
        ),
        ("a body cut off, its length not told", whole(&untold, &half)),
        ("a body cut off, its length told", whole(&told, &half)),
        ("an empty page", Answer::of("200 OK", HTML, "")),
        ("no content", whole("HTTP/1.1 204 No Content", b"")),
        ("a part", whole(&part, &half)),
        ("another type", Answer::of("200 OK", "text/plain", good)),
        ("not found", Answer::of("404 Not Found", HTML, FOREIGN)),
        ("an error with the page in it", Answer::of("500 Internal Server Error", HTML, good)),
        ("the desk", Answer::of("200 OK", HTML, desk)),
        (
            "the page with a letter changed",
            Answer::of("200 OK", HTML, good.replacen("plan of T. B.", "plan of T. C.", 1)),
        ),
        (
            "the page with something behind",
            Answer::of("200 OK", HTML, format!("{good}<script src=\"x.js\"></script>")),
        ),
        ("no answer", Answer::Nothing),
        ("a body without end", Answer::Stalled { head: told, body: half }),
        ("no beginning", Answer::Stalled { head: String::new(), body: Vec::new() }),
    ]
}

/// The page is registered, and kept.
fn ready(browser: &Browser) {
    let body = "const done = arguments[arguments.length - 1];
        navigator.serviceWorker.ready.then((r) => done(r.scope), (e) => done(String(e)))";
    let scope = browser.script_async(body).expect("a worker");
    assert!(scope.as_str().is_some_and(|s| s.ends_with(PAGE)), "{scope}");
}

/// Has the worker ask for the page anew, and waits until it has looked at what came. A worker that another takes the place
/// of meanwhile answers no more, and a browser may take away one whose answer to a visit was none; the page registers it
/// anew at the next visit. So whoever is registered is asked again, and then the page is visited again.
fn renewed(browser: &Browser) {
    let body = "const done = arguments[arguments.length - 1];
        const { serviceWorker } = navigator;
        const seen = [];
        const ask = () => serviceWorker.getRegistration().then((r) => {
            const state = (w) => w?.state ?? 'none';
            seen.push([r?.active, r?.waiting, r?.installing, serviceWorker.controller].map(state).join(' '));
            (r?.active ?? serviceWorker.controller)?.postMessage('renew');
        }).catch((e) => seen.push(String(e)));
        const again = setInterval(ask, 4000);
        const end = (said) => { clearInterval(again); done(said); };
        serviceWorker.onmessage = ({ data }) => end(data);
        setTimeout(() => end(seen.join(', ')), 14000);
        ask();";
    let mut answers = Vec::new();
    for _ in 0..5 {
        let answer = browser.script_async(body).expect("an answer");
        if answer == json!("renewed") {
            return;
        }
        answers.push(answer.to_string());
        let address = browser.text("return location.href").expect("an address");
        browser.open("about:blank").expect("a blank page");
        let _ = browser.open(&address);
    }
    panic!("no worker answers: {answers:?}");
}

fn sees_the_plan(open: &Open, when: &str) {
    // Not by the driver's reload, which in Firefox goes past the worker.
    open.browser.open("about:blank").expect("a blank page");
    open.browser.open(&open.address()).unwrap_or_else(|e| panic!("{when}: {e}"));
    let seen = "return document.getElementById('head')?.textContent === 'Today'
        && document.getElementById('view').textContent.includes('T. B.')";
    open.browser.wait("the plan", seen).unwrap_or_else(|e| {
        let shown =
            open.browser.text("return location.href + ' ' + document.body?.innerText").unwrap_or_default();
        panic!("{when}: {e}\nshown: {shown}")
    });
}

fn no_answer_takes_the_place_of_a_good_page(browser: &Browser) {
    let (server, elsewhere) = (served(), served());
    let address = format!("{}home.html", server.address());
    // It lets anyone read its answers.
    let head = format!("HTTP/1.1 200 OK\r\nContent-Type: {HTML}\r\nAccess-Control-Allow-Origin: *");
    elsewhere.answer("/elsewhere.html", Some(Answer::Whole { head, body: FOREIGN.into() }));
    server.answer("/elsewhere.html", Some(Answer::of("200 OK", HTML, FOREIGN)));
    let good = Answer::of("200 OK", HTML, small());
    server.answer(PAGE, Some(good.clone()));
    let sees = |when: &str| {
        let start = Instant::now();
        browser.open(&address).unwrap_or_else(|e| panic!("{when}: {e}"));
        assert!(
            shows(browser, "The plan of T. B."),
            "{when}: {:?}",
            browser.text("return document.body?.innerText")
        );
        // The kept page waits for no server.
        assert!(start.elapsed() < Duration::from_secs(20), "{when}: {:?}", start.elapsed());
    };
    sees("at first");
    register(browser, "/home-offline.js");
    for (name, fault) in faults(&small(), &elsewhere) {
        let is_endless = matches!(fault, Answer::Stalled { .. });
        server.answer(PAGE, Some(fault));
        sees(&format!("{name} comes"));
        if !is_endless {
            renewed(browser);
        }
        server.answer(PAGE, Some(Answer::Nothing));
        sees(&format!("offline after {name}"));
        server.answer(PAGE, Some(good.clone()));
        sees(&format!("mended after {name}"));
    }
    // Nobody was asked at an address that only an answer named.
    let asked = server.requests().iter().any(|line| line.contains("elsewhere"));
    assert_eq!((elsewhere.accepted(), asked), (0, false));
}

fn served() -> Server {
    Server::start(browser::out(), 0).expect("a server")
}

/// Registers a worker script for the page at hand, and waits until it has kept what it keeps.
fn register(browser: &Browser, script: &str) {
    let body = format!(
        "const done = arguments[arguments.length - 1];
         navigator.serviceWorker.register('{script}', {{ scope: location.pathname }})
           .then(() => navigator.serviceWorker.ready).then(() => done('ready'), (e) => done(String(e)))"
    );
    assert_eq!(browser.script_async(&body).expect("registered"), json!("ready"));
}

fn a_later_version_takes_the_place_of_an_earlier(browser: &Browser) {
    let open = Open::with_one_exercise(browser);
    ready(browser);
    open.server.answer(PAGE, Some(Answer::of("200 OK", HTML, FOREIGN)));
    renewed(browser);
    sees_the_plan(&open, "a foreign page comes");
    open.server.answer(PAGE, Some(Answer::of("200 OK", HTML, later())));
    sees_the_plan(&open, "a later version comes");
    renewed(browser);
    open.server.answer(PAGE, Some(Answer::Nothing));
    sees_the_plan(&open, "offline");
    assert_eq!(browser.text("return document.title").expect("a title"), "Exercises, later");
}

fn where_nothing_good_is_kept_the_browser_asks_the_server(browser: &Browser) {
    let open = Open::with_one_exercise(browser);
    ready(browser);
    open.server.answer("/elsewhere.html", Some(Answer::of("200 OK", HTML, FOREIGN)));
    let emptied = "const done = arguments[arguments.length - 1];
        caches.keys().then((all) => Promise.all(all.map((name) => caches.delete(name)))).then(() => done('gone'))";
    assert_eq!(browser.script_async(emptied).expect("emptied"), json!("gone"));
    // A page whose worker comes to nothing is a page like any other.
    open.server.answer(PAGE, Some(Answer::of("200 OK", HTML, FOREIGN)));
    open.go("");
    assert!(browser.text("return document.body.innerText").expect("text").contains("Log in"));
    open.server.answer(PAGE, Some(redirect("301 Moved Permanently", "/elsewhere.html")));
    open.go(&fragment(&open.plan));
    // Whoever moves the page takes its patients along, plan and all.
    let address = browser.text("return location.pathname + location.hash").expect("an address");
    assert_eq!(address, format!("/elsewhere.html#{}", fragment(&open.plan)));
    open.server.answer(PAGE, None);
    open.go("");
    sees_the_plan(&open, "mended");
    renewed(browser);
    open.server.answer(PAGE, Some(Answer::Nothing));
    sees_the_plan(&open, "offline");
}

/// A worker script as it was once handed out, under its name.
const EARLIER: &str = include_str!("../../earlier/home-cdf9059f417d.js");
const EARLIER_NAME: &str = "/home-cdf9059f417d.js";

/// Phones have it still. What it keeps is whatever came last, and a redirect it can't even show.
fn a_phone_with_an_earlier_worker_gets_well(browser: &Browser) {
    assert!(EARLIER_NAME.contains(&diary::key(EARLIER)[..12]), "word for word");
    let open = Open::with_one_exercise(browser);
    // Another server, so another phone as far as workers go.
    let open = open.on_another_server();
    open.server.answer(PAGE, Some(Answer::of("200 OK", HTML, "<!doctype html><title>Earlier</title>")));
    open.server.answer(EARLIER_NAME, Some(Answer::of("200 OK", "text/javascript", EARLIER)));
    open.server.answer("/elsewhere.html", Some(Answer::of("200 OK", HTML, FOREIGN)));
    open.go("");
    register(browser, EARLIER_NAME);
    open.server.answer(PAGE, Some(redirect("302 Found", "/elsewhere.html")));
    let start = Instant::now();
    while !open.server.requests().iter().any(|line| line.contains("elsewhere")) {
        assert!(start.elapsed() < Duration::from_secs(25), "the earlier script asks at every visit");
        let _ = browser.open(&open.address());
    }
    // Firefox asks the server once more where a worker's answer is none.
    let fault = browser.open(&open.address()).is_err() || !shows(browser, "Log in");
    assert!(fault || browser.engine() == Engine::Firefox, "the fault that is to be mended");
    // A new version is put on the server; the redirect lasts.
    open.server.answer(EARLIER_NAME, None);
    let start = Instant::now();
    // A browser looks for a newer script some time after a visit, unless another visit comes before: ever more time is left.
    let mut pause = Duration::from_millis(1500);
    while browser.open(&open.address()).is_err() || !shows(browser, "Log in") {
        assert!(start.elapsed() < Duration::from_secs(90), "the page can't be reached");
        std::thread::sleep(pause);
        pause += pause / 2;
    }
    open.server.answer(PAGE, None);
    open.go(&fragment(&open.plan));
    sees_the_plan(&open, "mended");
    ready(browser);
    renewed(browser);
    open.server.answer(PAGE, Some(Answer::Nothing));
    sees_the_plan(&open, "offline");
    let kept = browser.script_async("const done = arguments[arguments.length - 1]; caches.keys().then(done)");
    let kept = kept.expect("names").to_string();
    assert!(!kept.contains(&format!("\"layfigure {}\"", open.address())), "{kept}");
}

fn shows(browser: &Browser, words: &str) -> bool {
    browser.text("return document.body?.innerText ?? ''").is_ok_and(|said| said.contains(words))
}
