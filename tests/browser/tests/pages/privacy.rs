//! Nothing leaves the device: the page asks for itself and for nothing else.

use crate::checks;
use crate::page::Desk;
use browser::driver::Browser;
use browser::driver::key;
use browser::server::Server;

fn the_page_makes_one_request_for_itself(browser: &Browser) {
    let elsewhere = Server::start(browser::out(), 0).expect("a listener");
    let desk = Desk::served(browser);
    let bait = elsewhere.address();
    desk.write(&format!(
        "patient: A. Private, 44\nbridge: 3 x 10\n  cue: <img src={bait}a>\n{bait}b: 2 x 10\nnote: {bait}c\n"
    ));
    desk.type_text("heel slide, right: 2 x 10\n");
    desk.press_alt("1");
    desk.browser.press(&[key::CONTROL, "z"]).expect("undo");
    if browser.engine().prints() {
        desk.browser.print(21.0, 29.7).expect("printed");
    }
    std::thread::sleep(std::time::Duration::from_millis(500));
    assert_eq!(desk.server.as_ref().expect("served").requests(), ["GET /desk.html HTTP/1.1"]);
    // The browser itself may open a spare connection to a server that is slow to answer; to anywhere else,
    // not even a connection is made.
    assert_eq!(elsewhere.connections(), [""; 0]);
}

fn the_policy_stops_what_a_script_would_try(browser: &Browser) {
    let desk = Desk::served(browser);
    let server = Server::start(browser::out(), 0).expect("a listener");
    let body = format!(
        "const done = arguments[arguments.length - 1], to = '{}';
         const i = new Image(); i.src = to + 'image'; document.body.append(i);
         const s = document.createElement('link'); s.rel = 'stylesheet'; s.href = to + 'style'; document.head.append(s);
         const f = document.createElement('iframe'); f.src = to + 'frame'; document.body.append(f);
         try {{ navigator.sendBeacon(to + 'beacon', 'x') }} catch (e) {{}}
         fetch(to + 'fetch').then(() => done('went out'), () => setTimeout(() => done('stopped'), 300))",
        server.address()
    );
    assert_eq!(desk.browser.script_async(&body).expect("an answer"), "stopped");
    assert_eq!(server.connections(), [""; 0]);
}

fn address_and_title_say_nothing_of_the_patient(browser: &Browser) {
    let desk = Desk::served(browser);
    desk.write("patient: A. Private, 44\n# Sensitive title\nbridge: 3 x 10\n");
    let said = desk.text("return location.href + ' ' + document.title");
    assert!(!said.contains("Private") && !said.contains("Sensitive"), "{said}");
    let kept = desk.number("return localStorage.length + sessionStorage.length + document.cookie.length");
    assert_eq!(kept, 0, "nothing is kept");
}

checks! {
    Nothing: the_page_makes_one_request_for_itself the_policy_stops_what_a_script_would_try
        address_and_title_say_nothing_of_the_patient;
}
