//! The page for the fridge: what to do, how much, on which day, with boxes; the goal; what is okay; whom to ring.

use super::plan::{self, Day, Due};
use super::{Draw, Sheet, Wanted, dose, line, list, name, said, tick};
use crate::dose::parts::Part;
use crate::markup::Writer;
use crate::measure::{Date, WEEKDAY_NAMES};
use crate::programme::{Exercise, Programme};

/// Days that still fit beside the exercises; more stand in a calendar of their own.
const BESIDE: usize = 15;

/// Exercises that leave room to write below them; of more, the space would stand alone on the next sheet.
const NOTED: usize = 8;

/// Writes the first page. True if it had room to write on; a calendar takes all of it.
pub fn page(w: &mut Writer, p: &Programme, laid: &Due, sheet: &Sheet, draw: Draw<'_>) -> bool {
    let days = plan::days(p);
    // Large print has no room for boxes beside the words.
    let roomy = days.len() <= BESIDE && sheet.print == super::Print::Normal;
    w.open("section").attr("class", "sheet front").newline();
    head(w, p, sheet);
    do_not(w, p);
    let grid: Vec<(usize, &Exercise)> =
        p.exercises.iter().enumerate().filter(|(_, e)| e.active && !plan::is_all_day(e)).collect();
    if !grid.is_empty() {
        if roomy {
            beside(w, &grid, laid, &days, draw);
        } else {
            cards(w, &grid, draw);
            calendar(w, &grid, laid, &days);
        }
    }
    all_day(w, p);
    foot(w, p, sheet);
    ring(w, p, sheet);
    let noted = roomy && grid.len() <= NOTED;
    if noted {
        notes(w);
    }
    w.close().newline();
    noted
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
    if let Some(review) = p.review {
        w.open("p").text("Next visit ").element("b", &full(review)).close();
    }
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

/// One row an exercise, one column a day.
fn beside(w: &mut Writer, grid: &[(usize, &Exercise)], laid: &Due, days: &[Day], draw: Draw<'_>) {
    w.open("table").attr("class", "grid");
    let visit = if days.iter().any(|d| d.is_review) {
        " The last day is your next visit: bring this sheet."
    } else {
        ""
    };
    w.open("caption").text(&format!("Tick a box each time you have done it.{visit}")).close();
    w.open("colgroup").open("col").attr("class", "picture").empty().open("col").empty();
    for _ in days {
        w.open("col").attr("class", "day").empty();
    }
    w.close();
    w.open("thead").open("tr");
    w.open("td").attr("colspan", "2").close();
    for (i, day) in days.iter().enumerate() {
        let class = match (day.is_review, day.weekday) {
            (true, _) => "visit",
            (_, 5 | 6) => "off",
            _ => "",
        };
        w.open("th").attr("scope", "col").attr("class", class);
        let weekday = WEEKDAY_NAMES.get(usize::from(day.weekday)).copied().unwrap_or("");
        w.open("span").text(weekday.get(..2).unwrap_or(weekday)).close();
        match day.date {
            Some(date) => {
                w.element("b", &date.day().to_string());
                if i == 0 || date.day() == 1 {
                    let month = date.words();
                    w.element("small", month.split(' ').nth(1).unwrap_or(""));
                }
            }
            None => {
                w.open("b").attr("class", "blank").close();
            }
        }
        w.close();
    }
    w.close().close().newline().open("tbody");
    for (number, (index, e)) in grid.iter().enumerate() {
        w.open("tr");
        w.open("td").attr("class", "picture");
        picture(w, e, draw);
        w.close();
        w.open("th").attr("scope", "row");
        name(w, "div", number + 1, e);
        doses(w, e);
        w.close();
        for day in days {
            let n = plan::boxes(e, *index, laid, day);
            w.open("td").attr(
                "class",
                if day.is_review {
                    "visit"
                } else if 4 < day.weekday {
                    "off"
                } else {
                    ""
                },
            );
            for _ in 0..n {
                tick(w);
            }
            w.close();
        }
        w.close().newline();
    }
    w.close().close().newline();
}

fn doses(w: &mut Writer, e: &Exercise) {
    for work in dose::work(e) {
        line(w, "dose", &work);
    }
    line(w, "often", &dose::often(&e.amount));
}

fn picture(w: &mut Writer, e: &Exercise, draw: Draw<'_>) {
    if let Some(drawn) = e.drawn.first()
        && let Some(picture) = draw(e, drawn, Wanted::Front).into_iter().next()
    {
        w.open("div").attr("class", "figure").attr("role", "img").attr("aria-label", &picture.words);
        w.insert(&picture.svg).close();
    }
}

/// The exercises as small cards, where the days have a table of their own.
fn cards(w: &mut Writer, grid: &[(usize, &Exercise)], draw: Draw<'_>) {
    w.open("ol").attr("class", "cards");
    for (number, (_, e)) in grid.iter().enumerate() {
        w.open("li");
        picture(w, e, draw);
        w.open("div");
        name(w, "div", number + 1, e);
        doses(w, e);
        w.close().close();
    }
    w.close().newline();
}

/// Seven days a row, a box for each session; the numbers of its exercises where not all are due.
fn calendar(w: &mut Writer, grid: &[(usize, &Exercise)], laid: &Due, days: &[Day]) {
    w.open("table").attr("class", "calendar");
    w.open("caption").text("Tick a box each time you have done the list.").close();
    w.open("thead").open("tr");
    for day in WEEKDAY_NAMES {
        w.open("th").attr("scope", "col").text(day).close();
    }
    w.close().close().open("tbody");
    let before = days.first().map_or(0, |d| usize::from(d.weekday));
    let cells: Vec<Option<&Day>> = (0..before).map(|_| None).chain(days.iter().map(Some)).collect();
    for week in cells.chunks(7) {
        w.open("tr");
        for day in week {
            w.open("td");
            if let Some(day) = day {
                cell(w, grid, laid, day);
            }
            w.close();
        }
        for _ in week.len()..7 {
            w.open("td").close();
        }
        w.close();
    }
    w.close().close().newline();
}

fn cell(w: &mut Writer, grid: &[(usize, &Exercise)], laid: &Due, day: &Day) {
    match day.date {
        Some(date) => {
            let words = date.words();
            let short = words.rsplit_once(' ').map_or(words.as_str(), |(day, _)| day);
            w.element("b", short);
        }
        None => {
            w.open("b").attr("class", "blank").close();
        }
    }
    if day.is_review {
        w.open("span").attr("class", "visit").text("visit").close();
    }
    let mut parts: Vec<Part> =
        grid.iter().flat_map(|(i, _)| laid.parts(*i, day.cycle).iter().copied()).collect();
    crate::sorting::sort(&mut parts);
    parts.dedup();
    for part in parts {
        let due: Vec<String> = grid
            .iter()
            .enumerate()
            .filter(|(_, (i, e))| {
                0 < plan::boxes(e, *i, laid, day) && laid.parts(*i, day.cycle).contains(&part)
            })
            .map(|(number, _)| (number + 1).to_string())
            .collect();
        if due.is_empty() {
            continue;
        }
        w.open("span").attr("class", "slot");
        tick(w);
        if due.len() < grid.len() {
            w.open("small").text(&due.join(" ")).close();
        }
        w.close();
    }
}

/// What has no place on the calendar: as needed, hourly, worn, advice.
fn all_day(w: &mut Writer, p: &Programme) {
    let all: Vec<&Exercise> = p.exercises.iter().filter(|e| e.active && plan::is_all_day(e)).collect();
    if all.is_empty() {
        return;
    }
    w.open("div").attr("class", "allday").element("h2", "All day").open("ul");
    for e in all {
        w.open("li").open("b").open("bdi").text(&e.name).close().close();
        if !super::side(e).is_empty() {
            w.text(" ").open("span").attr("class", "side").text(super::side(e)).close();
        }
        if let Some(at) = &e.at {
            w.text(" ").open("bdi").text(at).close();
        }
        let mut parts: Vec<String> = dose::work(e).iter().map(|l| dose::plain(l)).collect();
        let often = dose::plain(&dose::often(&e.amount));
        parts.extend((!often.is_empty()).then_some(often));
        if !parts.is_empty() {
            w.text(": ").text(&parts.join(". "));
        }
        w.text(".").close();
    }
    w.close().close().newline();
}

pub fn foot(w: &mut Writer, p: &Programme, sheet: &Sheet) {
    let (okay, usual) = okay_pain(p);
    let help = match &sheet.safety {
        Some(own) => own.clone(),
        None => super::safety::net(p).into_iter().map(String::from).collect(),
    };
    w.open("div").attr("class", "foot");
    w.open("div").attr("class", "block okay").element("h2", "Okay");
    list(
        w,
        [
            format!("Pain up to {okay} out of 10{usual} while you do it."),
            "Pain that settles by the next morning.".to_string(),
            "Sore or tired muscles for a day or two.".to_string(),
        ],
    );
    w.close();
    w.open("div").attr("class", "block stop").element("h2", "Stop, and ring us");
    let pain = [format!("Pain above {okay}."), "Pain that is still worse the next morning.".to_string()];
    list(w, pain.into_iter().chain(super::safety::STOP.map(String::from)));
    w.close();
    w.open("div").attr("class", "block help").element("h2", "Get help now");
    list(w, &help);
    w.open("p").attr("class", "emergency").text("Emergency number ");
    match &sheet.emergency {
        Some(number) => {
            w.open("b").text(number).close();
        }
        None => {
            w.open("span").attr("class", "fill").close();
        }
    }
    w.close().close();
    w.open("div").attr("class", "block wrong").element("h2", "If it goes wrong").open("dl");
    let mut pair = |term: &str, lines: &[String], usual: &str| {
        w.element("dt", term);
        if lines.is_empty() {
            w.element("dd", usual);
        } else {
            said(w, "dd", "", &lines.join(" "));
        }
    };
    pair("Missed one?", &[], "Carry on. Don’t double up.");
    pair("Bad day?", &p.bad_day, "Do the two that help you most.");
    pair("Flare-up?", &p.flare, "Do half for two days. Keep moving gently. Then build back.");
    w.close().close();
    w.close().newline();
}

/// Whom to ring.
fn ring(w: &mut Writer, p: &Programme, sheet: &Sheet) {
    w.open("div").attr("class", "ring");
    w.open("p").open("b").text("Ring us").close();
    w.text(" if something here worries you, or you are not sure how to do it. ");
    match p.who.by.as_ref().filter(|b| !b.is_empty()) {
        Some(by) => said(w, "span", "by", &unbroken(by)),
        None => {
            w.open("span").attr("class", "by fill").close();
        }
    }
    w.close().close().newline();
    if let Some(Err(sentence)) = &sheet.link {
        w.open("p").attr("class", "nocode").text(sentence).close().newline();
    }
}

/// The code that opens the home page on a phone.
fn code(w: &mut Writer, sheet: &Sheet) {
    let Some(Ok(code)) = &sheet.link else { return };
    // At least 0.4 mm a module, as far as the page has room for more.
    let module = if sheet.print == super::Print::Large { 0.6 } else { 0.42 };
    w.open("div").attr("class", "code").insert(&code.svg(module));
    w.open("p").text("Scan: these exercises on your phone").close().close();
}

/// The pain that is okay: as written; else 3 of 10 (`references/progression-and-pain.md` 1, version B: "safe"),
/// or two above the usual pain, at most 5 ("acceptable" in every version).
fn okay_pain(p: &Programme) -> (u8, String) {
    let written = p.exercises.iter().filter_map(|e| e.amount.pain).max();
    match (written, &p.usual_pain) {
        (Some(n), _) => (n, String::new()),
        (None, Some(usual)) => {
            let most = (usual.high + 2).clamp(3, 5).max(usual.high).min(10);
            let range = if usual.low == usual.high {
                usual.high.to_string()
            } else {
                format!("{}–{}", usual.low, usual.high)
            };
            (most, format!(" (your usual is {range})"))
        }
        (None, None) => (3, String::new()),
    }
}

/// A number to ring in one piece: no line ends between two of its digits.
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
