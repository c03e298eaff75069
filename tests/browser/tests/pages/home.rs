//! The patient's page in a browser: a link made by the core opens as the same plan, and what is ticked stays.

use browser::driver::{Browser, file_address};
use browser::server::Server;
use layfigure::catalog::Catalog;
use layfigure::diary::Diary;
use layfigure::home::{Around, Home};
use layfigure::link::share::{Named, Wanted, share};
use layfigure::link::{Shared, pack, sealed, written};
use layfigure::measure::Date;
use layfigure::programme::settled::Cache;
use layfigure::{prescription, week};
use serde_json::json;
use std::collections::BTreeMap;
use std::sync::Mutex;

crate::checks! {
    Nothing: opens_a_link_as_the_same_plan ticks_stay_after_a_reload damaged_links_say_so_and_show_nothing
        a_locked_plan_opens_with_its_words_alone storage_that_is_full_says_so
        storage_that_is_forbidden_says_so opens_with_the_server_stopped asks_for_the_page_and_its_worker_alone;
    Once: a_past_day_is_filled_in a_day_to_come_is_not another_link_is_asked_about a_link_can_be_pasted
        everything_is_forgotten a_file_keeps_nothing_unless_it_is_wanted counts_with_the_patient
        the_way_back_stays_on_the_page what_can_not_be_read_is_set_aside;
    Print: prints_the_sheet;
}

/// A day so many days from the browser's today.
fn days_from_today(browser: &Browser, days: i32) -> Date {
    let today = browser
        .text(
            "const d = new Date(), two = (n) => String(n).padStart(2, '0');
               return d.getFullYear() + '-' + two(d.getMonth() + 1) + '-' + two(d.getDate())",
        )
        .expect("today");
    Date::iso(&today).expect("a date").plus_days(days)
}

fn text(start: Date) -> String {
    format!(
        "by: R. O., 01632 960 123\npatient: T. B.\nstart: {start}\nweeks: 6\n\nheel slide, right: 2 x 10, hold 5 s, 2/day\n\
         bridge: 3 x 10, daily\ncalf stretch, both: 3 x 30 s, daily\n"
    )
}

/// Made once for all checks and engines: each lays every week of the plan.
fn shared(text: &str, today: Date) -> Shared {
    static MADE: Mutex<BTreeMap<(String, Date), Shared>> = Mutex::new(BTreeMap::new());
    let mut made = MADE.lock().unwrap_or_else(|poisoned| poisoned.into_inner());
    made.entry((text.to_string(), today)).or_insert_with(|| share_now(text, today)).clone()
}

fn share_now(text: &str, today: Date) -> Shared {
    let wanted = Wanted {
        named: Named::Written,
        emergency: None,
        today: Some(today),
        limit: week::model::Limit::USUAL,
    };
    share(&prescription::read(text).0, Catalog::embedded(), &wanted, &mut Cache::default()).expect("a link")
}

pub fn fragment(shared: &Shared) -> String {
    written::letters(&pack::pack(shared, Catalog::embedded()).expect("packed"))
}

/// The page served, with a plan that began three days ago.
pub struct Open<'b> {
    pub browser: &'b Browser,
    pub server: Server,
    pub plan: Shared,
    pub today: Date,
}

impl<'b> Open<'b> {
    pub fn new(browser: &'b Browser) -> Open<'b> {
        Open::with(browser, text)
    }

    /// A plan that is soon drawn, for what loads the page often.
    pub fn with_one_exercise(browser: &'b Browser) -> Open<'b> {
        Open::with(browser, |start| {
            format!("patient: T. B.\nstart: {start}\nweeks: 6\nbridge: 3 x 10, daily\n")
        })
    }

    fn with(browser: &'b Browser, text: fn(Date) -> String) -> Open<'b> {
        let server = Server::start(browser::out(), 0).expect("a server");
        // Wide enough for every engine's narrowest window.
        browser.size(500, 900).expect("a size");
        browser.open("about:blank").expect("a blank page");
        let today = days_from_today(browser, 0);
        let plan = shared(&text(today.plus_days(-3)), today);
        let open = Open { browser, server, plan, today };
        open.visit(&fragment(&open.plan));
        open.wait("today", "return document.getElementById('head').textContent === 'Today'");
        open
    }

    /// The same plan, of a server that the browser knows nothing of.
    pub fn on_another_server(self) -> Open<'b> {
        Open { server: Server::start(browser::out(), 0).expect("a server"), ..self }
    }

    pub fn address(&self) -> String {
        format!("{}home.html", self.server.address())
    }

    /// Opens the page's address anew with this behind the `#`, whatever comes.
    pub fn go(&self, fragment: &str) {
        self.browser.open("about:blank").expect("a blank page");
        let mark = if fragment.is_empty() { "" } else { "#" };
        self.browser.open(&format!("{}{mark}{fragment}", self.address())).expect("the page");
    }

    /// Opens the page anew with this behind the `#`.
    pub fn visit(&self, fragment: &str) {
        self.go(fragment);
        self.wait("the page", "return document.getElementById('view')?.children.length");
    }

    pub fn wait(&self, what: &str, body: &str) {
        if let Err(words) = self.browser.wait(what, body) {
            let _ = self.browser.look(&format!("failed-home-{}", what.replace(' ', "-")));
            panic!("{words}\nthe page says: {}", self.says("screen"));
        }
    }

    /// What stands in a part of the page.
    pub fn says(&self, id: &str) -> String {
        let body = format!("return document.getElementById('{id}').textContent");
        self.browser.text(&body).expect("text")
    }

    /// Presses what asks for this, by its beginning.
    pub fn press(&self, act: &str) {
        self.browser
            .click(&format!("[data-do^='{act}']"))
            .unwrap_or_else(|e| panic!("{act}: {e}\n{}", self.says("screen")));
    }

    /// The diary that is kept.
    pub fn kept(&self) -> String {
        self.browser
            .text("return Object.keys(localStorage).filter((k) => k.startsWith('layfigure home diary')).map((k) => localStorage[k]).join('|')")
            .expect("what is kept")
    }
}

fn opens_a_link_as_the_same_plan(browser: &Browser) {
    let open = Open::new(browser);
    // The same words as the core gives for the same link, without a browser.
    let around = Around { served: true, ..Around::default() };
    let mut home = Home::new(around, Some(open.today));
    let opened = written::open(&fragment(&open.plan), Catalog::embedded()).expect("opened");
    assert_eq!(opened, open.plan);
    home.show(opened, Diary::default());
    let plain = |html: &str| {
        let body = "const t = document.createElement('template'); t.innerHTML = arguments[0]; return t.content.textContent";
        browser.script_with(body, json!([html])).expect("text").as_str().expect("text").to_string()
    };
    for act in ["go today", "go week 0", "go sheet", "go help"] {
        open.press(act);
        let view = layfigure::home::view::View::named(act.trim_start_matches("go ")).expect("a view");
        home.go(view);
        let slots = home.answer().into_iter().find(|(r, _)| r.id() == "view").expect("the view").1;
        let html: String = slots.into_iter().map(|s| s.html).collect();
        assert_eq!(open.says("view"), plain(&html), "{act}");
    }
    assert!(open.says("view").contains("R. O."));
    // Nothing of it stands in the address or the title, now that it is kept.
    let address = browser.text("return location.href + ' ' + document.title").expect("an address");
    assert_eq!(address, format!("{} Exercises", open.address()));
}

fn ticks_stay_after_a_reload(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    open.press(&format!("tick {} morning", open.today));
    open.wait("the tick", "return document.querySelector('.done [aria-checked=true]')");
    let kept = open.kept();
    assert!(kept.contains(&format!("{} morning done", open.today)), "{kept}");
    // Without the link: the plan is kept too.
    open.visit("");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    assert!(open.says("view").contains("1 done"), "{}", open.says("view"));
    assert_eq!(open.kept(), kept);
}

fn a_past_day_is_filled_in(browser: &Browser) {
    let open = Open::new(browser);
    let yesterday = open.today.plus_days(-1);
    open.press("go week 0");
    if yesterday.weekday() == 6 {
        open.press("go week 1");
    }
    open.press(&format!("go day {yesterday}"));
    open.press(&format!("tick {yesterday} morning"));
    open.wait("the tick", "return document.querySelector('#view [aria-checked=true]')");
    assert!(open.kept().contains(&format!("{yesterday} morning done")), "{}", open.kept());
}

fn a_day_to_come_is_not(browser: &Browser) {
    let open = Open::new(browser);
    let tomorrow = open.today.plus_days(1);
    open.press("go week 0");
    if tomorrow.weekday() == 0 {
        open.press("go week -1");
    }
    let body = format!("return String(document.querySelector(\"[data-do='go day {tomorrow}']\"))");
    assert_eq!(browser.text(&body).expect("text"), "null");
}

fn another_link_is_asked_about(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    open.press(&format!("tick {} morning", open.today));
    let first = open.kept();
    let other = shared(&text(open.today.plus_days(-2)).replace("3 x 10", "2 x 12"), open.today);
    open.visit(&fragment(&other));
    open.wait("the question", "return document.getElementById('head').textContent === 'Which plan?'");
    open.press("use new");
    open.wait("the new plan", "return document.getElementById('head').textContent === 'Today'");
    assert!(!open.says("view").contains("1 done"));
    // The old one is still there, with its ticks.
    assert_eq!(open.kept(), first);
    open.press("go phone");
    open.press("show ");
    open.wait("the old plan", "return document.getElementById('view').textContent.includes('1 done')");
}

fn damaged_links_say_so_and_show_nothing(browser: &Browser) {
    let open = Open::new(browser);
    let good = fragment(&open.plan);
    browser.script("localStorage.clear()").expect("cleared");
    let cut = good.get(..good.len() - 6).expect("a shorter one").to_string();
    let middle = good.len() / 2;
    let other = if good.as_bytes().get(middle) == Some(&b'A') { "B" } else { "A" };
    let mut changed = good.clone();
    changed.replace_range(middle..=middle, other);
    for bad in [cut, changed, "Z".to_string(), format!("Y{good}"), "%00%ff".into()] {
        open.visit(&bad);
        open.wait(
            "the sentence",
            "return document.getElementById('head').textContent === 'The link does not open'",
        );
        let said = open.says("view");
        assert!(!said.contains("ridge") && !said.contains("T. B."), "{said}");
        assert_eq!(open.kept(), "");
    }
}

/// Sealed and opened in a worker that is thrown away.
fn a_locked_plan_opens_with_its_words_alone(browser: &Browser) {
    let open = Open::new(browser);
    browser.script("localStorage.clear()").expect("cleared");
    let packed = pack::pack(&open.plan, Catalog::embedded()).expect("packed");
    let words = sealed::propose(&[7; sealed::RANDOM]);
    let locked = sealed::seal(&packed, &words, &[9; sealed::SALT]).expect("sealed");
    open.visit(&locked);
    open.wait("the field", "return document.getElementById('phrase')");
    assert!(!open.says("screen").contains("T. B."), "{}", open.says("screen"));
    browser.type_into("#phrase", "not these words").expect("typed");
    open.press("unseal");
    open.wait(
        "the refusal",
        "return /not the right words/.test(document.getElementById('phrase-told').textContent)",
    );
    assert_eq!(open.kept(), "");
    browser.script("document.getElementById('phrase').value = ''").expect("emptied");
    browser.type_into("#phrase", &words.to_uppercase().replace(' ', "-")).expect("typed");
    open.press("unseal");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    assert!(open.says("view").contains("T. B."));
    // The words are asked for once: from then on the plan is kept open on this phone.
    open.visit("");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
}

fn a_link_can_be_pasted(browser: &Browser) {
    let open = Open::new(browser);
    browser.script("localStorage.clear()").expect("cleared");
    open.visit("");
    open.wait("the field", "return document.getElementById('link')");
    // With what a mail program put round it, and the line that it broke.
    let whole = fragment(&open.plan);
    let (head, rest) = whole.split_at(40);
    let link = format!("Your plan: <https://clinic.example/home.html#{head}\n{rest}>.");
    browser.type_into("#link", &link).expect("typed");
    open.press("paste");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    assert!(open.says("view").contains("T. B."));
}

fn storage_that_is_full_says_so(browser: &Browser) {
    let open = Open::new(browser);
    browser
        .script("let piece = 'x'.repeat(1 << 20), n = 0;
                 while (piece) { try { localStorage.setItem('fill ' + n++, piece) } catch { piece = piece.slice(0, piece.length >> 1) } }")
        .expect("filled");
    open.press("go do morning 0");
    open.press(&format!("tick {} morning", open.today));
    open.wait("the sentence", "return document.getElementById('top').textContent.includes('no room left')");
    // What could not be kept stays on the page.
    open.wait("the tick", "return document.querySelector('.done [aria-checked=true]')");
    open.press("go today");
    assert!(open.says("view").contains("1 done"));
    // With room again, the next tick keeps both.
    browser.script("for (const k of Object.keys(localStorage)) if (k.startsWith('fill ')) localStorage.removeItem(k)").expect("room");
    open.press("all ");
    open.wait("no sentence", "return !document.getElementById('top').textContent.includes('no room left')");
    assert!(open.kept().contains("morning done 1 2"), "{}", open.kept());
}

fn storage_that_is_forbidden_says_so(browser: &Browser) {
    let open = Open::new(browser);
    browser
        .script("Storage.prototype.setItem = () => { throw new DOMException('no', 'SecurityError') }")
        .expect("forbidden");
    open.press("go do morning 0");
    open.press(&format!("tick {} morning", open.today));
    open.wait("the sentence", "return document.getElementById('top').textContent.includes('does not let')");
    open.wait("the tick", "return document.querySelector('.done [aria-checked=true]')");
    open.press("go today");
    assert!(open.says("view").contains("1 done"));
}

fn what_can_not_be_read_is_set_aside(browser: &Browser) {
    let open = Open::new(browser);
    open.press("all ");
    browser
        .script("for (const k of Object.keys(localStorage)) if (k.startsWith('layfigure home diary')) localStorage[k] = '{\"torn\":'")
        .expect("torn");
    open.visit("");
    open.wait("the sentence", "return document.getElementById('top').textContent.includes('put aside')");
    let aside = browser
        .text("return Object.keys(localStorage).filter((k) => k.includes('unread')).map((k) => localStorage[k]).join()")
        .expect("what was set aside");
    assert_eq!(aside, "{\"torn\":");
    open.press("all ");
    open.wait("kept", "return Object.keys(localStorage).some((k) => k.startsWith('layfigure home diary'))");
}

fn everything_is_forgotten(browser: &Browser) {
    let open = Open::new(browser);
    browser.script("localStorage.setItem('of another page', 'stays')").expect("set");
    open.press("all ");
    open.press("go phone");
    open.press("forget");
    open.press("forget yes");
    open.wait("nothing", "return document.getElementById('link')");
    assert_eq!(browser.text("return Object.keys(localStorage).join()").expect("keys"), "of another page");
    open.visit("");
    open.wait("nothing", "return document.getElementById('link')");
}

fn opens_with_the_server_stopped(browser: &Browser) {
    let open = Open::new(browser);
    let ready = browser
        .script_async(
            "const done = arguments[arguments.length - 1];
            navigator.serviceWorker.ready.then((r) => done(r.scope), (e) => done(String(e)))",
        )
        .expect("a worker");
    assert_eq!(ready, json!(open.address()));
    open.server.stop();
    let address = open.address();
    browser.open("about:blank").expect("a blank page");
    browser.open(&address).expect("the kept page");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    open.press("go sheet");
    assert!(open.says("view").contains("Heel slide"));
}

fn asks_for_the_page_and_its_worker_alone(browser: &Browser) {
    let elsewhere = Server::start(browser::out(), 0).expect("a listener");
    let open = Open::new(browser);
    let bait = elsewhere.address();
    let plan = shared(&format!("{}  cue: <img src={bait}a>\nnote: {bait}b\n", text(open.today)), open.today);
    open.visit(&fragment(&plan));
    open.press("use new");
    for act in
        ["go do morning 0", "timer start", "go sheet", "go help", "go phone", "sound yes", "go today", "all "]
    {
        open.press(act);
    }
    std::thread::sleep(std::time::Duration::from_millis(500));
    let worker = browser.text("return document.documentElement.dataset.offline").expect("a name");
    let allowed = ["GET /home.html HTTP/1.1".to_string(), format!("GET /{worker} HTTP/1.1")];
    let asked = open.server.requests();
    assert!(asked.contains(&allowed[0]) && asked.iter().all(|line| allowed.contains(line)), "{asked:?}");
    assert_eq!(elsewhere.accepted(), 0);
}

fn a_file_keeps_nothing_unless_it_is_wanted(browser: &Browser) {
    let open = Open::new(browser);
    let file = file_address(&browser::out().join("home.html"));
    browser.open("about:blank").expect("a blank page");
    browser.open(&format!("{file}#{}", fragment(&open.plan))).expect("the page");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    open.press("all ");
    let count = "return Object.keys(localStorage).filter((k) => k.startsWith('layfigure home')).length";
    assert_eq!(browser.script(count).expect("a number"), json!(0));
    open.press("keep");
    assert!(open.kept().contains("morning done"), "{}", open.kept());
    browser.script("for (const k of Object.keys(localStorage)) if (k.startsWith('layfigure home')) localStorage.removeItem(k)").expect("cleared");
}

fn counts_with_the_patient(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go do morning 0");
    open.press("timer start");
    open.wait("the clock", "return document.querySelector('.clock')");
    let seen = "const a = document.querySelector('.clock').getBoundingClientRect();
                const b = document.querySelector('.timing').getBoundingClientRect();
                return String(0 <= a.top && b.bottom <= innerHeight)";
    assert_eq!(browser.text(seen).expect("places"), "true", "the counter and its buttons are in view");
    open.wait("time passing", "return document.querySelector('.clock').textContent.includes('4 seconds')");
    open.press("timer pause");
    let before = open.says("view");
    std::thread::sleep(std::time::Duration::from_millis(1500));
    assert_eq!(open.says("view"), before, "it stands still");
    open.press("timer skip");
    open.wait("the hold", "return document.querySelector('.clock').textContent.includes('Hold')");
    open.press("timer stop");
    open.wait("no clock", "return !document.querySelector('.clock')");
}

fn the_way_back_stays_on_the_page(browser: &Browser) {
    let open = Open::new(browser);
    open.press("go week 0");
    open.press("go sheet");
    browser.script("history.back()").expect("back");
    open.wait("the week", "return document.getElementById('head').textContent === 'This week'");
    browser.script("history.back()").expect("back");
    open.wait("today", "return document.getElementById('head').textContent === 'Today'");
    let focus = browser.text("return document.activeElement.id").expect("an id");
    assert_eq!(focus, "head", "who listens hears the heading");
}

fn prints_the_sheet(browser: &Browser) {
    let open = Open::new(browser);
    let pdf = browser.print(21.0, 29.7).expect("a print");
    assert!(pdf.starts_with(b"%PDF"));
    let sheet = open.says("handout");
    for words in ["Your exercises", "T. B.", "Heel slide", "R. O."] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
}
