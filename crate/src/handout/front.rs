//! The page for the fridge. What not to do, when to stop, whom to call and the next visit are always on it; exercises,
//! pictures and days as far as they have room beside them.

use super::plan::{Course, Line};
use super::room::{self, Page, Size};
use super::{Draw, Print, Sheet, cards, dose, grid, list, safety, said};
use crate::markup::{Markup, Writer};
use crate::measure::{Date, WEEKDAY_NAMES};
use crate::programme::{Programme, tolerance};

/// How the first page is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Each exercise with its days.
    Days,
    /// Exercises without their days, which follow behind.
    Doses,
    /// Not all of it has room: what keeps the patient safe comes first, and the exercises go on behind it.
    SafetyFirst,
}

/// How the foot of the page stands in columns: a class of the sheet, which the style knows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    pub class: &'static str,
    /// The shares of what makes the patient stop, where to get help, and what is okay.
    columns: [f64; 3],
    /// Whether what to do when it goes wrong stands under all of them.
    under: bool,
}

const FEET: [Foot; 4] = [
    Foot { class: "even", columns: [1.1, 1.2, 1.0], under: false },
    Foot { class: "much", columns: [1.0, 1.7, 1.0], under: false },
    Foot { class: "under", columns: [1.2, 1.2, 0.9], under: true },
    Foot { class: "under much", columns: [1.0, 1.7, 0.8], under: true },
];

/// How the first page is laid, and how large.
#[derive(Clone, Copy, Debug)]
pub struct Fit {
    pub shape: Shape,
    pub size: Size,
    /// Whether there is room to write on it.
    pub notes: bool,
    pub foot: Foot,
}

/// Space to write, millimetres.
const NOTES: f64 = 17.0;

/// The parts of the page that don't depend on its shape.
struct Parts {
    head: Markup,
    rules: Markup,
    beside: Markup,
    foot: Markup,
    ring: Markup,
}

fn part(write: impl FnOnce(&mut Writer)) -> Markup {
    let mut w = Writer::new();
    write(&mut w);
    w.finish()
}

/// The first page, written behind `open`, which is told how it is laid.
pub fn page(
    w: &mut Writer,
    course: &Course,
    lines: &[Line<'_>],
    sheet: &Sheet,
    draw: Draw<'_>,
    open: impl FnOnce(&mut Writer, &Fit),
) -> Fit {
    let p = course.programme();
    let parts = Parts {
        head: part(|w| head(w, p, sheet)),
        rules: part(|w| {
            do_not(w, p);
            may_do(w, p);
        }),
        beside: part(|w| beside(w, course, lines)),
        foot: part(|w| foot(w, p, sheet)),
        ring: part(|w| ring(w, p, sheet)),
    };
    let fit = fit(&parts, course, lines, sheet);
    open(w, &fit);
    w.open("section").attr("class", "sheet front").newline();
    w.insert(&parts.head);
    if !parts.rules.is_empty() {
        let both = !p.do_not.is_empty() && !p.may_do.is_empty();
        w.open("div").attr("class", if both { "rules both" } else { "rules" }).insert(&parts.rules).close();
    }
    if fit.shape == Shape::SafetyFirst {
        w.insert(&parts.ring).insert(&parts.foot);
    }
    match fit.shape {
        Shape::Days => grid::table(w, course, lines, draw),
        Shape::Doses | Shape::SafetyFirst => cards::cards(w, course, lines, draw),
    }
    w.insert(&parts.beside);
    if fit.shape != Shape::SafetyFirst {
        w.insert(&parts.foot).insert(&parts.ring);
    }
    super::beyond(w, p);
    if fit.notes {
        notes(w);
    }
    w.close().newline();
    fit
}

/// Large letters before small ones, days before doses alone; what has no room at any size goes on behind the page.
fn fit(parts: &Parts, course: &Course, lines: &[Line<'_>], sheet: &Sheet) -> Fit {
    let page = Page::of(sheet.paper);
    let sizes = room::sizes(sheet.print);
    let around = |size: &Size| {
        head_height(parts, sheet, size.points, page)
            + rules_height(&parts.rules, sheet.print, size.points, page)
            + beside_height(&parts.beside, size.points, page)
            + lowest(&parts.foot, sheet.print, size.points, page, true).1
            + ring_height(&parts.ring, size.points, page)
    };
    let foot_of = |size: &Size| lowest(&parts.foot, sheet.print, size.points, page, true).0;
    let left = |size: &Size, exercises: f64| page.height - around(size) - exercises;
    if sheet.print == Print::Normal && grid::has_room(course) {
        for size in sizes {
            let left = left(size, grid::height(course, lines, size.points, page));
            if 0.0 <= left {
                return Fit { shape: Shape::Days, size: *size, notes: NOTES <= left, foot: foot_of(size) };
            }
        }
    }
    for size in sizes {
        if 0.0 <= left(size, cards::height(course, lines, sheet.print, size.points, page)) {
            return Fit { shape: Shape::Doses, size: *size, notes: false, foot: foot_of(size) };
        }
    }
    let safe = |size: &Size| {
        head_height(parts, sheet, size.points, page)
            + rules_height(&parts.rules, sheet.print, size.points, page)
            + ring_height(&parts.ring, size.points, page)
            + lowest(&parts.foot, sheet.print, size.points, page, false).1
            <= page.height
    };
    let smallest = sizes.last().copied().unwrap_or(room::NORMAL[0]);
    let size = sizes.iter().find(|size| safe(size)).copied().unwrap_or(smallest);
    Fit { shape: Shape::SafetyFirst, size, notes: false, foot: foot_of(&size) }
}

fn head_height(parts: &Parts, sheet: &Sheet, points: f64, page: Page) -> f64 {
    let texts = room::texts(parts.head.as_str());
    let lines = |width: f64, points: f64| -> u32 {
        texts.iter().map(|text| room::lines(text, width, points, false)).fold(0, u32::saturating_add)
    };
    let rule = 3.4;
    match (&sheet.link, sheet.print) {
        // The code gives the height, where the words beside it don't.
        (Some(Ok(code)), Print::Normal) => {
            let side = f64::from(code.modules) * MODULE;
            let words = room::high(lines(page.width - side - 12.0, points + 2.0), points + 1.0) * 0.62 + 10.0;
            (side + 10.0).max(words) + rule
        }
        (Some(Ok(code)), Print::Large) => {
            let side = f64::from(code.modules) * MODULE_LARGE;
            room::high(lines(page.width, points), points) + 10.0 + side + 8.0 + rule
        }
        (_, Print::Large) => room::high(lines(page.width, points), points) + 8.0 + rule,
        (_, Print::Normal) => {
            let goal = texts.last().filter(|_| parts.head.as_str().contains("class=\"goal\""));
            let goal = goal.map_or(0.0, |g| room::high(room::lines(g, page.width, points + 2.0, false), points + 2.0) + 1.8);
            let when = (room::high(1, points) + room::high(1, points + 2.0) + room::high(1, 9.5)) * 1.05;
            let who = room::high(1, 21.0) + room::high(1, points + 1.0);
            when.max(who) + rule + goal
        }
    }
}

fn rules_height(rules: &Markup, print: Print, points: f64, page: Page) -> f64 {
    let parts: Vec<&str> = rules.as_str().split("<h2>").skip(1).collect();
    let column = |part: &str, width: f64, head: f64| {
        let all = room::texts(part);
        let items = all.iter().skip(1).map(|text| room::lines(text, width, points, true));
        room::high(items.fold(0, u32::saturating_add), points) + head
    };
    let head = room::high(1, points + 2.0);
    let edge = 6.5;
    match (parts.as_slice(), print) {
        ([], _) => 0.0,
        ([one], Print::Normal) => column(one, page.width - 48.0, 0.0).max(head) + edge,
        (several, Print::Normal) => {
            let widths = [(page.width - 4.0) * 0.6 - 8.0, (page.width - 4.0) * 0.4 - 7.2];
            let columns = several.iter().zip(widths).map(|(part, width)| column(part, width, head));
            columns.fold(0.0, f64::max) + edge
        }
        (several, Print::Large) => {
            several.iter().map(|part| column(part, page.width - 10.0, head) + edge).fold(0.0, |all, one| all + one)
        }
    }
}

fn beside_height(beside: &Markup, points: f64, page: Page) -> f64 {
    if beside.is_empty() {
        return 0.0;
    }
    // Its heading has a line of its own.
    room::high(room::lines_of(beside, page.width - 8.0, points, false), points) + 4.6
}

/// The foot as it comes out lowest, and how high that is. `whole`: with what is okay and what to do if it goes wrong, which
/// may stand on the next page of large print.
fn lowest(foot: &Markup, print: Print, points: f64, page: Page, whole: bool) -> (Foot, f64) {
    let all = FEET.iter().map(|way| (*way, foot_height(foot, *way, print, points, page, whole)));
    let first = (FEET[0], f64::MAX);
    all.fold(first, |best, one| if one.1 < best.1 { one } else { best })
}

fn foot_height(foot: &Markup, way: Foot, print: Print, points: f64, page: Page, whole: bool) -> f64 {
    let block = |name: &str, width: f64| {
        let mut parts = foot.as_str().split("class=\"block ");
        let part = parts.find(|part| part.starts_with(&format!("{name}\"")));
        let all = room::texts(part.map_or("", |part| part.split_once('>').map_or("", |(_, rest)| rest)));
        let items = all.iter().skip(1).map(|text| room::lines(text, width - 4.0, points, false));
        room::high(items.fold(0, u32::saturating_add), points) + room::high(1, points + 1.0) + 2.6
    };
    match print {
        Print::Normal => {
            let unit = (page.width - 10.0) / way.columns.iter().fold(0.0, |all, one| all + one);
            let [stop, help, okay] = way.columns.map(|share| share * unit);
            let wrong = block("wrong", if way.under { page.width } else { okay });
            let third = if way.under { block("okay", okay) } else { block("okay", okay) + wrong + 1.2 };
            let below = if way.under { wrong + 1.2 } else { 0.0 };
            block("stop", stop).max(block("help", help)).max(third) + below + 2.6
        }
        Print::Large => {
            let must = block("stop", page.width) + block("help", page.width) + 4.0;
            if whole { must + block("okay", page.width) + block("wrong", page.width) + 2.6 } else { must }
        }
    }
}

fn ring_height(ring: &Markup, points: f64, page: Page) -> f64 {
    room::high(room::lines_of(ring, page.width - 9.0, points, true), points) + 6.0
}

/// Space to write.
pub fn notes(w: &mut Writer) {
    w.open("div").attr("class", "notes").element("h2", "Notes").close();
}

fn head(w: &mut Writer, p: &Programme, sheet: &Sheet) {
    // Beside a code the goal stands in the head too: the code gives it the height.
    let coded = matches!(sheet.link, Some(Ok(_)));
    w.open("header").attr("class", if coded { "coded" } else { "plain" });
    w.open("div").attr("class", "who");
    w.element("h1", "Your exercises");
    if let Some(patient) = p.who.patient.as_ref().filter(|n| !n.is_empty()) {
        said(w, "p", "patient", patient);
    }
    if coded {
        goal(w, p);
    }
    w.close();
    w.open("div").attr("class", "when");
    if let Some(start) = p.week_starts.or(p.start) {
        w.element("p", &format!("From {}", full(start)));
    }
    w.open("p").attr("class", "next").text("Next visit ");
    match p.review {
        Some(review) => w.element("b", &full(review)),
        None => w.open("b").attr("class", "fill").close(),
    };
    w.close();
    w.open("p").attr("class", "issue");
    let printed =
        sheet.issued.or(p.today).map_or(String::new(), |d| format!("Sheet of {}, version ", d.words()));
    let version = if printed.is_empty() { "Version " } else { "" };
    w.text(&format!("{printed}{version}{}. Bin older sheets.", p.version)).close();
    w.close();
    code(w, sheet);
    w.close().newline();
    if !coded {
        goal(w, p);
    }
}

fn goal(w: &mut Writer, p: &Programme) {
    if !p.aims.is_empty() {
        w.open("p").attr("class", "goal").open("span").text("Your goal").close().text(" ");
        w.open("bdi").text(&p.aims.join("; ")).close().close().newline();
    }
}

fn full(d: Date) -> String {
    let day = WEEKDAY_NAMES.get(usize::from(d.weekday())).copied().unwrap_or("");
    format!("{day} {}", d.words())
}

/// What the patient must not do.
pub fn do_not(w: &mut Writer, p: &Programme) {
    if p.do_not.is_empty() {
        return;
    }
    w.open("div").attr("class", "donot").element("h2", "Do not").open("ul");
    for rule in &p.do_not {
        w.open("li").attr("dir", "auto").text(&rule.words);
        if let Some(last) = rule.last_day {
            w.text(" ").element("span", &format!("Up to and including {}.", full(last)));
        }
        w.close();
    }
    w.close().close().newline();
}

/// What is allowed; never among what is forbidden.
pub fn may_do(w: &mut Writer, p: &Programme) {
    if p.may_do.is_empty() {
        return;
    }
    w.open("div").attr("class", "may").element("h2", "What you may do").open("ul");
    for may in &p.may_do {
        w.open("li").attr("dir", "auto").text(&may.words);
        if let Some(last) = may.last_day {
            w.text(" ").element("span", &format!("Up to and including {}.", full(last)));
        }
        w.close();
    }
    w.close().close().newline();
}

/// What has no place among the days: as needed, hourly, walked, worn, advice.
fn beside(w: &mut Writer, course: &Course, lines: &[Line<'_>]) {
    let mut all = lines.iter().filter(|line| !line.is_laid).peekable();
    if all.peek().is_none() {
        return;
    }
    w.open("div").attr("class", "allday").element("h2", "Any time of day").open("ul");
    for line in all {
        let e = line.exercise;
        w.open("li").open("b").open("span").attr("class", "number").text(&line.number.to_string()).close();
        w.text(" ").open("bdi").text(&super::capital(&e.name)).close().close();
        if !super::side(e).is_empty() {
            w.text(" ").open("span").attr("class", "side").text(super::side(e)).close();
        }
        if let Some(at) = &e.at {
            w.text(" ").open("bdi").text(at).close();
        }
        let work = dose::work(e).into_iter().chain([dose::often(&e.amount)]);
        let parts: Vec<String> = work.map(|line| dose::plain(&line)).filter(|said| !said.is_empty()).collect();
        if !parts.is_empty() {
            w.text(": ").text(&parts.join(". "));
        }
        w.text(".");
        super::changes(w, "b", course, line);
        w.close();
    }
    w.close().close().newline();
}

pub fn foot(w: &mut Writer, p: &Programme, sheet: &Sheet) {
    let okay = tolerance::okay(p);
    let usual = okay.usual.map_or(String::new(), |(low, high)| {
        let range = if low == high { high.to_string() } else { format!("{low}–{high}") };
        format!(" (your usual is {range})")
    });
    let (help, same_day) = match &sheet.safety {
        Some(own) => (own.clone(), Vec::new()),
        None => (safety::now(p).into_iter().map(String::from).collect(), safety::same_day(p)),
    };
    w.open("div").attr("class", "foot");
    w.open("div").attr("class", "block okay").element("h2", "Okay");
    list(
        w,
        [
            format!("Pain up to {} out of 10{usual} while you do it.", okay.most),
            "Pain that settles by the next morning.".to_string(),
            "Sore or tired muscles for a day or two.".to_string(),
        ],
    );
    w.close();
    w.open("div").attr("class", "block stop").element("h2", "Stop, and call us");
    list(w, safety::STOP.into_iter().chain(safety::stop(p)));
    w.close();
    w.open("div").attr("class", "block help").element("h2", "Get help now");
    list(w, &help);
    w.open("p").attr("class", "emergency").text("Call ");
    match p.who.emergency.as_ref().or(sheet.emergency.as_ref()) {
        Some(number) => {
            w.open("bdi").text(&unbroken(number)).close().text(".");
        }
        None => {
            w.text(&format!("{}. ", safety::LOCAL)).open("span").attr("class", "fill").close();
        }
    }
    w.close();
    if !same_day.is_empty() {
        w.element("h2", "Get help the same day");
        list(w, &same_day);
    }
    w.close();
    w.open("div").attr("class", "block wrong").element("h2", "If it goes wrong").open("dl");
    let mut pair = |term: &str, lines: &[String], usual: &str| {
        w.element("dt", term);
        if lines.is_empty() {
            w.element("dd", usual);
        } else {
            said(w, "dd", "", &lines.join(" "));
        }
    };
    pair(&format!("Pain above {}?", okay.most), &[], safety::LEAVE);
    // What the clinician ordered for a flare-up goes before what we would say.
    let half = if p.flare.is_empty() { safety::HALF } else { "See Flare-up." };
    pair("Not settled by the next morning?", &[], half);
    pair("Twice running?", &[], safety::TWICE);
    pair("Missed one?", &[], "Carry on. Don’t double up.");
    pair("Bad day?", &p.bad_day, "Do the two that help you most.");
    pair("Flare-up?", &p.flare, "Do half for two days. Keep moving gently. Then build back.");
    w.close().close();
    w.close().newline();
}

/// Whom to call.
fn ring(w: &mut Writer, p: &Programme, sheet: &Sheet) {
    w.open("div").attr("class", "ring");
    w.open("p").open("b").text("Call us").close();
    w.text(" if something here worries you, or you are not sure how to do it. ");
    match p.who.by.as_ref().filter(|b| !b.is_empty()) {
        Some(by) => said(w, "span", "by", &unbroken(by)),
        None => {
            w.open("span").attr("class", "by fill").close();
        }
    }
    if let Some(closed) = &p.who.out_of_hours {
        w.text(" When we are closed: ");
        said(w, "span", "by", &unbroken(closed));
    }
    w.close().close().newline();
    if let Some(Err(sentence)) = &sheet.link {
        w.open("p").attr("class", "nocode").text(sentence).close().newline();
    }
}

/// Side of a module of the code, millimetres.
const MODULE: f64 = 0.42;
const MODULE_LARGE: f64 = 0.6;

/// The code that opens the home page on a phone.
fn code(w: &mut Writer, sheet: &Sheet) {
    let Some(Ok(code)) = &sheet.link else { return };
    // At least 0.4 mm a module, as far as the page has room for more.
    let module = if sheet.print == Print::Large { MODULE_LARGE } else { MODULE };
    w.open("div").attr("class", "code").insert(&code.svg(module));
    w.open("p").text("Scan: these exercises on your phone").close().close();
}

/// A number to call in one piece: no line ends between two of its digits.
fn unbroken(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(c) = letters.next() {
        let is_within =
            out.ends_with(|c: char| c.is_ascii_digit()) && letters.peek().is_some_and(char::is_ascii_digit);
        out.push(if c == ' ' && is_within { '\u{a0}' } else { c });
    }
    out
}
