//! Nothing leaves the device: the page asks for itself and for nothing else.

use browser::driver::Browser;
use browser::server::Server;

#[test]
fn the_page_makes_one_request_for_itself() {
    let server = Server::start(browser::out(), 0).expect("a server");
    let browser = Browser::chromium().expect("a browser");
    browser.open(&format!("{}desk.html", server.address())).expect("the desk");
    browser.wait("the page", "return document.readyState === 'complete'").expect("loaded");
    assert_eq!(server.requests(), ["GET /desk.html HTTP/1.1"]);
}
