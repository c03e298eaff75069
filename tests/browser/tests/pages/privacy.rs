//! Nothing leaves the device: the page asks for itself and for nothing else.

use crate::checks;
use crate::page::{Desk, watch};
use browser::driver::{Browser, Fault, key};
use browser::engine::Engine;
use browser::pdf::Pdf;
use browser::server::Server;
use serde_json::json;
use std::time::{Duration, Instant};

/// Time for whatever a page might still do once it has been left alone.
const AFTERWARDS: Duration = Duration::from_millis(700);

fn the_desk_asks_for_itself_and_nothing_else(browser: &Browser) {
    let elsewhere = Server::start(browser::out(), 0).expect("a listener");
    let desk = Desk::served(browser);
    let bait = elsewhere.address();
    desk.write(&format!(
        "patient: A. Private, 44\nbridge: 3 x 10\n  cue: <img src={bait}a>\n{bait}b: 2 x 10\nnote: {bait}c\n\
         by: <link rel=preconnect href={bait}>\naim: <a href={bait} ping={bait}>there</a>\n"
    ));
    desk.type_text("heel slide, right: 2 x 10\n");
    desk.press_alt("1");
    desk.browser.press(&[key::CONTROL, "z"]).expect("undo");
    if browser.engine().prints() {
        desk.browser.print(21.0, 29.7).expect("printed");
    }
    desk.browser.script("window.dispatchEvent(new Event('beforeprint'))").expect("the handout laid");
    std::thread::sleep(AFTERWARDS);
    assert_eq!(desk.server.as_ref().expect("served").requests(), ["GET /desk.html HTTP/1.1"]);
    // The browser itself may open a spare connection to the server of the page; to anywhere else, not even a
    // connection is made.
    assert_eq!(elsewhere.accepted(), 0);
    // Nothing in the page names another place.
    let named = desk.text(
        "return [...document.querySelectorAll('[src], [href], [srcset], [action], [data], [poster], [ping]')]
           .flatMap((e) => [...e.attributes])
           .filter((a) => /^(src|href|srcset|action|data|poster|ping)$/.test(a.name) && !/^(#|data:|blob:|$)/.test(a.value))
           .map((a) => a.name + '=' + a.value).join()",
    );
    assert_eq!(named, "");
    desk.quiet();
}

/// What a script in the page might try, were there one, each by what the browser calls what it did about it.
const TRIES: &str = "
    const to = arguments[0], other = arguments[1], tried = [];
    const attempt = (name, act) => { try { act(); tried.push(name) } catch (e) { tried.push(name + ' threw') } };
    const put = (html) => document.body.append(document.createRange().createContextualFragment(html));
    attempt('image', () => { new Image().src = to + 'image' });
    attempt('image element', () => put('<img src=\"' + to + 'element\" srcset=\"' + to + 'set 2x\">'));
    attempt('script', () => { const s = document.createElement('script'); s.src = to + 'script'; document.head.append(s) });
    attempt('module', () => { const s = document.createElement('script'); s.type = 'module'; s.src = to + 'module'; document.head.append(s) });
    attempt('style', () => put('<link rel=\"stylesheet\" href=\"' + to + 'style\">'));
    attempt('background', () => { document.body.style.backgroundImage = 'url(' + to + 'background)' });
    attempt('font', () => { new FontFace('x', 'url(' + to + 'font)').load().catch(() => {}) });
    attempt('frame', () => put('<iframe src=\"' + other + 'frame\"></iframe>'));
    attempt('object', () => put('<object data=\"' + to + 'object\"></object><embed src=\"' + to + 'embed\">'));
    attempt('sound', () => put('<audio src=\"' + to + 'audio\" preload=\"auto\"></audio>'));
    attempt('video', () => put('<video src=\"' + to + 'video\" poster=\"' + to + 'poster\" preload=\"auto\"></video>'));
    attempt('picture in a drawing', () => put('<svg><image href=\"' + to + 'drawn\" width=\"9\" height=\"9\"/><use href=\"' + to + 'use#x\"/></svg>'));
    attempt('list of an app', () => put('<link rel=\"manifest\" href=\"' + to + 'manifest\">'));
    attempt('prefetch', () => put('<link rel=\"prefetch\" href=\"' + to + 'prefetch\">'));
    attempt('preload', () => put('<link rel=\"preload\" as=\"script\" href=\"' + to + 'preload\">'));
    attempt('beacon', () => navigator.sendBeacon(to + 'beacon', 'x'));
    attempt('request', () => { const x = new XMLHttpRequest(); x.open('POST', to + 'request'); x.send('x') });
    attempt('socket', () => { new WebSocket(to.replace('http', 'ws') + 'socket') });
    attempt('stream', () => { new EventSource(to + 'stream') });
    attempt('worker', () => { new Worker(to + 'worker') });
    attempt('shared worker', () => { new SharedWorker(to + 'shared') });
    attempt('kept worker', () => { navigator.serviceWorker?.register(to + 'kept').catch(() => {}) });
    attempt('import', () => { eval('import(\"' + to + 'import\")').catch(() => {}) });
    attempt('form', () => {
      put('<iframe name=\"aside\"></iframe><form action=\"' + other + 'form\" method=\"post\" target=\"aside\"><input name=\"a\"></form>');
      document.forms[document.forms.length - 1].submit();
    });
    attempt('ping', () => { put('<a id=\"ping\" href=\"#\" ping=\"' + to + 'ping\">x</a>'); document.getElementById('ping').click() });
    attempt('fetch', () => { fetch(to + 'fetch').catch(() => {}) });
    return tried";

fn the_policy_stops_what_a_script_would_try(browser: &Browser) {
    let desk = Desk::served(browser);
    let listener = Server::start(browser::out(), 0).expect("a listener");
    let other = Server::start(browser::out(), 0).expect("a listener");
    let tried = browser.script_with(TRIES, json!([listener.address(), other.address()])).expect("tried");
    assert_eq!(tried.as_array().map(Vec::len), Some(26), "{tried}");
    std::thread::sleep(2 * AFTERWARDS);
    assert_eq!(listener.requests(), [""; 0]);
    assert_eq!(listener.accepted(), 0, "connections");
    // Nothing is asked by a frame or a form either. But Chromium opens a connection for each before it asks the
    // policy: that is why the build refuses both by name.
    assert_eq!(other.requests(), [""; 0]);
    assert!(other.accepted() == 0 || browser.engine() == Engine::Chromium && other.accepted() <= 2);
    // The policy itself said no, many times.
    let stopped = desk.number("return window.faults.filter((f) => f.startsWith('policy')).length");
    assert!(9 < stopped, "{stopped} tries were stopped: {}", desk.text("return window.faults.join('\\n')"));
    assert_eq!(desk.server.as_ref().expect("served").requests(), ["GET /desk.html HTTP/1.1"]);
}

/// The same from a page without a policy: the listener does count, a mere connection too. That a policy does
/// not stop `preconnect` is why the build refuses its name.
fn what_leaves_would_be_counted(browser: &Browser) {
    let folder = browser::root().join(format!("target/open-{}", browser.engine().name()));
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::write(folder.join("open.html"), "<!doctype html><title>open</title><body>").expect("a page");
    let server = Server::start(folder.clone(), 0).expect("a server");
    let listener = Server::start(folder.clone(), 0).expect("a listener");
    let silent = Server::start(folder, 0).expect("a listener");
    browser.open(&format!("{}open.html", server.address())).expect("a page");
    watch(browser);
    browser.script_with(TRIES, json!([listener.address(), listener.address()])).expect("tried");
    let put = "const link = document.createElement('link');
               link.rel = 'preconnect'; link.href = arguments[0]; document.head.append(link)";
    browser.script_with(put, json!([silent.address()])).expect("put in");
    let ways = ["image", "script", "style", "fetch", "request", "stream", "socket", "frame", "form"];
    let missing = || {
        let seen = listener.requests();
        let is_seen = |way: &str| seen.iter().any(|line| line.contains(&format!("/{way} ")));
        ways.into_iter().filter(|way| !is_seen(way)).collect::<Vec<_>>()
    };
    let start = Instant::now();
    while (!missing().is_empty() || silent.accepted() == 0) && start.elapsed() < Duration::from_secs(20) {
        std::thread::sleep(Duration::from_millis(50));
    }
    assert_eq!(missing(), [""; 0], "not counted");
    assert_eq!((silent.accepted(), silent.requests().len()), (1, 0), "a connection without a request");
}

fn address_title_history_and_file_name_say_nothing_of_the_patient(browser: &Browser) {
    let desk = Desk::served(browser);
    let before = desk.text("return location.href + ' ' + history.length + ' ' + document.title");
    // What would be saved: its name, and that it goes to no address outside the page.
    desk.browser
        .script(
            "window.saved = [];
             HTMLAnchorElement.prototype.click = function () { window.saved.push(this.download, this.protocol) }",
        )
        .expect("listening");
    desk.write("patient: A. Private, 44\n# Sensitive title\nstart: 2026-11-30\nbridge: 3 x 10\n");
    desk.type_text("aim: private wish\n");
    desk.browser.click("#save").expect("saved");
    desk.browser.script("window.dispatchEvent(new Event('beforeprint'))").expect("laid");
    assert_eq!(desk.text("return location.href + ' ' + history.length + ' ' + document.title"), before);
    let saved = desk.text("return window.saved.join()");
    assert!(saved.ends_with(",blob:"), "saved as {saved}");
    for private in ["private", "sensitive"] {
        assert!(
            !before.to_lowercase().contains(private) && !saved.to_lowercase().contains(private),
            "{private}"
        );
    }
    let state = desk.text("return JSON.stringify(history.state)");
    assert_eq!(state, "null");
    let kept = desk.number("return localStorage.length + sessionStorage.length + document.cookie.length");
    assert_eq!(kept, 0, "nothing is kept");
    if browser.engine().prints() {
        let pdf = browser.print(21.0, 29.7).expect("printed");
        let title = printed_title(&pdf, browser).expect("a PDF");
        assert!(!title.to_lowercase().contains("private") && !title.contains("Sensitive"), "{title}");
    }
}

/// What a PDF says about itself: print queues and readers show it.
fn printed_title(pdf: &[u8], browser: &Browser) -> Result<String, Fault> {
    let pdf = Pdf::read(pdf, &format!("title-{}", browser.engine().name()))?;
    let told = std::process::Command::new("pdfinfo").arg(pdf.path()).output().map_err(|e| e.to_string())?;
    Ok(String::from_utf8_lossy(&told.stdout).into_owned())
}

checks! {
    Nothing: the_desk_asks_for_itself_and_nothing_else the_policy_stops_what_a_script_would_try
        what_leaves_would_be_counted address_title_history_and_file_name_say_nothing_of_the_patient;
}
