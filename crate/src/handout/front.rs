//! The page for the fridge. What not to do, when to stop, whom to call and the next visit are always on it; exercises,
//! pictures and days as far as they have room beside them.

use super::fit::{Fit, SameDay, Shape, fit};
use super::plan::{Course, Line};
use super::{Draw, Print, Sheet, cards, dose, grid, list, safety, said};
use crate::markup::{Markup, Writer};
use crate::measure::{Date, WEEKDAY_NAMES};
use crate::prescription::tolerated::Tolerated;
use crate::programme::{Programme, tolerance};

/// The parts of the page that don't depend on its shape.
pub struct Parts {
    pub goal: Markup,
    pub rules: Markup,
    pub beside: Markup,
    foot: [Markup; 2],
    pub ring: Markup,
}

impl Parts {
    pub fn foot(&self, same_day: SameDay) -> &Markup {
        let [below_stop, below_help] = &self.foot;
        if same_day == SameDay::Stop { below_stop } else { below_help }
    }
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
        goal: part(|w| goal(w, p)),
        rules: part(|w| {
            do_not(w, p);
            may_do(w, p);
        }),
        beside: part(|w| beside(w, course, lines)),
        foot: [SameDay::Stop, SameDay::Help].map(|same_day| part(|w| foot(w, p, sheet, same_day))),
        ring: part(|w| ring(w, p, sheet)),
    };
    let fit = fit(&parts, course, lines, sheet);
    let foot = parts.foot(fit.foot.same_day);
    open(w, &fit);
    w.open("section").attr("class", "sheet front").newline();
    // What can wait stands below what keeps safe, where both have no room above the exercises.
    let is_tight = fit.shape == Shape::SafetyFirst && sheet.print == Print::Large;
    head(w, p, sheet, !is_tight);
    if !parts.rules.is_empty() {
        let besides = p.has_rules();
        let both = besides && !p.do_not.is_empty();
        w.open("div").attr("class", if both { "rules both" } else { "rules" }).insert(&parts.rules).close();
    }
    if fit.shape == Shape::SafetyFirst {
        w.insert(&parts.ring).insert(foot);
    }
    if is_tight {
        goal(w, p);
        code(w, sheet);
    }
    match fit.shape {
        Shape::Days => grid::table(w, course, lines, draw),
        Shape::Doses | Shape::SafetyFirst => cards::cards(w, course, lines, draw),
    }
    w.insert(&parts.beside);
    if fit.shape != Shape::SafetyFirst {
        w.insert(foot).insert(&parts.ring);
    }
    super::beyond(w, p);
    if fit.notes {
        notes(w);
    }
    w.close().newline();
    fit
}

/// Space to write.
pub fn notes(w: &mut Writer) {
    w.open("div").attr("class", "notes").element("h2", "Notes").close();
}

/// `whole`: with the goal and the code.
fn head(w: &mut Writer, p: &Programme, sheet: &Sheet, whole: bool) {
    // Beside a code the goal stands in the head too: the code gives it the height.
    let coded = whole && matches!(sheet.link, Some(Ok(_)));
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
        w.element("p", &format!("From {}", full(start))).text(" ");
    }
    w.open("p").attr("class", "next").text("Next visit ");
    match p.review {
        Some(review) => w.element("b", &full(review)),
        None => w.open("b").attr("class", "fill").close(),
    };
    w.close().text(" ");
    w.open("p").attr("class", "issue").text(&issue(p, sheet)).close();
    w.close();
    if coded {
        code(w, sheet);
    }
    w.close().newline();
    if whole && !coded {
        goal(w, p);
    }
}

/// The texts of the head that say when, the issue last.
pub fn when(p: &Programme, sheet: &Sheet) -> Vec<String> {
    let from = p.week_starts.or(p.start).map(|start| format!("From {}", full(start)));
    let next = p
        .review
        .map_or("Next visit ".to_string() + &"_".repeat(16), |day| format!("Next visit {}", full(day)));
    from.into_iter().chain([next, issue(p, sheet)]).collect()
}

fn issue(p: &Programme, sheet: &Sheet) -> String {
    let printed =
        sheet.issued.or(p.today).map_or(String::new(), |d| format!("Sheet of {}, version ", d.words()));
    let version = if printed.is_empty() { "Version " } else { "" };
    format!("{printed}{version}{}. Bin older sheets.", p.version)
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

/// What is allowed and what to keep to; never among what is forbidden.
pub fn may_do(w: &mut Writer, p: &Programme) {
    if !p.has_rules() {
        return;
    }
    w.open("div").attr("class", "may");
    for (head, rules) in p.rules() {
        if rules.is_empty() {
            continue;
        }
        w.element("h2", head).open("ul");
        for rule in rules {
            w.open("li").attr("dir", "auto").text(&rule.words);
            if let Some(last) = rule.last_day {
                w.text(" ").element("span", &format!("Up to and including {}.", full(last)));
            }
            w.close();
        }
        w.close();
    }
    w.close().newline();
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
        let parts: Vec<String> =
            work.map(|line| dose::plain(&line)).filter(|said| !said.is_empty()).collect();
        if !parts.is_empty() {
            w.text(": ").text(&parts.join(". "));
        }
        w.text(".");
        super::changes(w, "b", course, line);
        w.close();
    }
    w.close().close().newline();
}

/// What is okay, when to stop and when to get help.
pub fn foot(w: &mut Writer, p: &Programme, sheet: &Sheet, below: SameDay) {
    let okay = tolerance::okay(p);
    let usual = okay.usual.map_or(String::new(), |(low, high)| {
        let range = if low == high { high.to_string() } else { format!("{low}–{high}") };
        format!(" (your usual is {range})")
    });
    let differs = okay.differs(p);
    let (help, same_day) = match &sheet.safety {
        Some(own) => (own.clone(), Vec::new()),
        None => (safety::now(p).into_iter().map(String::from).collect(), safety::same_day(p)),
    };
    w.open("div").attr("class", "foot");
    w.open("div").attr("class", "block okay").element("h2", "Okay");
    let typed = p.okay_pain.as_ref();
    let mut fine = vec![match okay.most {
        0 => format!("Work without pain.{differs}"),
        most => format!("Pain up to {most} out of 10{usual} while you do it.{differs}"),
    }];
    // How soon it has to go is said once: as it is typed, or as is usual.
    let settles = typed.is_some_and(Tolerated::settles);
    let words = typed.map(|typed| typed.within().join(", ")).unwrap_or_default();
    if !words.is_empty() {
        fine.push(dose::sentence(words.trim_end_matches('.')));
    }
    if !settles && 0 < okay.most {
        fine.push("Pain that settles by the next morning.".to_string());
    }
    fine.push("Sore or tired muscles for a day or two.".to_string());
    list(w, fine);
    w.close();
    // What the clinician ordered for a flare-up goes before what we would say.
    let half = if p.flare.is_empty() { safety::HALF } else { "See Flare-up." };
    w.open("div").attr("class", "block stop").element("h2", "Too much");
    list(
        w,
        [
            format!("{} {}", okay.above(), tolerance::ordered(p).unwrap_or(safety::LEAVE.to_string())),
            if settles {
                format!("Not settled by then? {half}")
            } else {
                format!("Not settled by the next morning? {half}")
            },
        ],
    );
    w.element("h2", "Stop, and call us");
    list(w, safety::STOP.into_iter().chain(safety::stop(p)).map(String::from));
    if below == SameDay::Stop {
        within_a_day(w, &same_day);
    }
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
    if below == SameDay::Help {
        within_a_day(w, &same_day);
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
    pair("Not settled twice running?", &[], safety::TWICE);
    pair("Missed one?", &[], "Carry on. Don’t double up.");
    pair("Bad day?", &p.bad_day, "Do the two that help you most.");
    pair("Flare-up?", &p.flare, "Do half for two days. Keep moving gently. Then build back.");
    w.close().close();
    w.close().newline();
}

fn within_a_day(w: &mut Writer, lines: &[&'static str]) {
    if !lines.is_empty() {
        w.element("h2", "Get help the same day");
        list(w, lines);
    }
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
pub const MODULE: f64 = 0.42;
pub const MODULE_LARGE: f64 = 0.6;

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
