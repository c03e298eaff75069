//! The programme and its week on paper, for the patient: one page for the fridge, then each exercise as a
//! strip, then when to stop and whom to ask. Does not know the browser.
//!
//! Nothing clinical is handed over: no severities, no muscle names, no private remarks, no title (it may name
//! a condition). The page carries its own style and nothing from outside.

mod calendar;
mod cards;
pub mod dose;
mod fit;
mod front;
mod grid;
pub mod known;
pub mod plan;
pub mod room;
pub mod safety;
mod strip;

use crate::link::qr::Code;
use crate::markup::{Markup, Writer};
use crate::measure::Date;
use crate::programme::{Drawn, Exercise, OnSide, Programme};
use crate::week;
use fit::Shape;
use known::Known;
use plan::{Course, Line};

/// The paper printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    #[default]
    A4,
    Letter,
}

/// The size of print.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Print {
    #[default]
    Normal,
    /// 18 pt, as the American Printing House for the Blind asks (`references/readability-and-print.md` 3).
    Large,
}

/// How the sheet is wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    pub paper: Paper,
    pub print: Print,
    /// The local emergency number; None leaves a line to write it on.
    pub emergency: Option<String>,
    /// The clinician's own lines in place of [`safety::net`].
    pub safety: Option<Vec<String>>,
    /// The day on the sheet, where it isn't the day on which the programme is read: a sheet printed again.
    pub issued: Option<Date>,
    /// What differs from the week before; nothing for a sheet of the first week.
    pub news: News,
    /// The code that opens the home page, or a sentence for the patient on why there is none; None: no link.
    pub link: Option<Result<Code, String>>,
}

/// What differs from the week before, for the patient.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct News {
    /// Exercises by their index in the programme, and what is to be said of each.
    pub marks: Vec<(usize, &'static str)>,
    /// Names of those that are no longer done.
    pub stopped: Vec<String>,
}

impl News {
    /// The marks of a sheet that goes on from another text: `before` is the programme of last time.
    pub fn since_visit(before: &Programme, now: &Programme) -> News {
        use week::phases::What;
        let mut news = News::default();
        let mut left: Vec<&Exercise> = before.exercises.iter().filter(|e| e.active).collect();
        let mut fresh: Vec<usize> = Vec::new();
        for (at, exercise) in now.exercises.iter().enumerate().filter(|(_, e)| e.active) {
            // Of two lines with one name, each goes with the one of its own side.
            let like = |side: bool| {
                left.iter().position(|old| old.name == exercise.name && (!side || old.side == exercise.side))
            };
            let Some(old) = like(true).or_else(|| like(false)).map(|old| left.remove(old)) else {
                fresh.push(at);
                continue;
            };
            let said = match week::phases::change(old, exercise) {
                None => continue,
                Some(What::More) => "More than last time.",
                Some(What::Less) => "Less than last time.",
                Some(What::Side) => "The side has changed.",
                Some(_) => "Changed since last time.",
            };
            news.marks.push((at, said));
        }
        news.marks.extend(fresh.into_iter().map(|at| (at, "New.")));
        crate::sorting::sort(&mut news.marks);
        news.stopped.extend(left.into_iter().map(|e| e.name.clone()));
        news
    }

    /// The marks of a sheet for `now`, where the patient had `before` in the week before.
    pub fn since(before: &Programme, now: &Programme) -> News {
        use week::phases::What;
        let mut news = News::default();
        for change in week::phases::changes(before, now) {
            let Some(exercise) = change.exercise else { continue };
            let said = match change.what {
                What::New | What::Instead => "New this week.",
                What::More => "More than last week.",
                What::Less => "Less than last week.",
                What::Side => "The side has changed.",
                What::Different => "Changed since last week.",
                What::LimitEnded | What::LimitBegins => continue,
                What::Stopped => {
                    news.stopped.extend(before.exercises.get(exercise).map(|e| e.name.clone()));
                    continue;
                }
            };
            news.marks.push((exercise, said));
        }
        news
    }
}

/// A picture with its words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    pub svg: Markup,
    pub words: String,
}

/// What is drawn: one picture that says it all for the front, or the frames of a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    Front,
    Strip,
}

/// Draws an exercise's movement for a body; several pictures are frames in order. Empty: no figure.
pub type Draw<'a> = &'a mut dyn FnMut(&Exercise, &Drawn, Wanted) -> Vec<Picture>;

/// The style of the sheet, also for pages that show it.
pub const STYLE: &str = include_str!("../../../www/handout.css");

/// The page box of each paper; the margins are the sheet's own, so that browsers print no address or title.
pub fn page_style(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "@page { size: 210mm 297mm; margin: 0 }",
        Paper::Letter => "@page { size: 215.9mm 279.4mm; margin: 0 }",
    }
}

/// A complete page, with the figures of the settled movements.
pub fn html(course: &Course, sheet: &Sheet) -> String {
    page(course, sheet, &mut drawn(course.programme()))
}

/// A complete page with pictures of the caller's.
pub fn page(course: &Course, sheet: &Sheet, draw: Draw<'_>) -> String {
    let mut w = Writer::new();
    w.doctype().open("html").attr("lang", "en").open("head");
    w.open("meta").attr("charset", "utf-8").empty();
    w.open("meta").attr("name", "viewport").attr("content", "width=device-width, initial-scale=1").empty();
    // The title shows in tabs and print queues: it names nobody and nothing.
    w.element("title", "Exercises");
    w.open("style").own(page_style(sheet.paper)).close();
    w.open("style").own(STYLE).close();
    w.close().newline();
    w.open("body").insert(&body(course, sheet, draw)).close().close().newline();
    w.finish().into_string()
}

/// The sheet alone, for a page that has the style already.
pub fn body(course: &Course, sheet: &Sheet, draw: Draw<'_>) -> Markup {
    let mut w = Writer::new();
    let lines = course.lines();
    let paper = if sheet.paper == Paper::A4 { "a4" } else { "letter" };
    let print = if sheet.print == Print::Large { "large" } else { "normal" };
    // More than two strips stand in two columns.
    let strips = if lines.len() <= 2 { "wide" } else { "paired" };
    let fit = front::page(&mut w, course, &lines, sheet, &mut *draw, |w, fit| {
        let shape = match fit.shape {
            Shape::Days => "days",
            Shape::Doses => "doses",
            Shape::SafetyFirst => "safety",
        };
        let (size, foot) = (fit.size.class, fit.foot.class);
        w.open("main").attr("class", &format!("handout {paper} {print} {size} {shape} {foot} {strips}"));
    });
    w.open("section").attr("class", "sheet detail").newline();
    if fit.shape != Shape::Days {
        calendar::calendar(&mut w, course, &lines, sheet.print);
    }
    strip::strips(&mut w, course, &lines, &sheet.news, (!fit.notes, sheet.print == Print::Large), draw);
    w.close().newline();
    w.close();
    w.finish()
}

/// What was typed and is not on the sheet, so that nobody takes it for the whole.
fn beyond(w: &mut Writer, programme: &Programme) {
    if let Some(what) = programme.beyond.words() {
        said(w, "p", "beyond", &format!("Not on this sheet: {what}."));
        w.newline();
    }
}

/// What the patient must not do, for a page that shows it by itself.
pub fn do_not(w: &mut Writer, programme: &Programme) {
    front::do_not(w, programme);
}

/// What the patient may do, for a page that shows it by itself; nothing where nothing is said of it.
pub fn may_do(w: &mut Writer, programme: &Programme) {
    front::may_do(w, programme);
}

/// What is okay, when to stop, when to get help and whom to ring, for a page that shows it by itself.
pub fn help(w: &mut Writer, programme: &Programme, sheet: &Sheet) {
    front::foot(w, programme, sheet, fit::SameDay::Stop);
}

/// An element with text from outside, which may run from right to left.
fn said(w: &mut Writer, element: &'static str, class: &str, text: &str) {
    w.open(element);
    if !class.is_empty() {
        w.attr("class", class);
    }
    w.attr("dir", "auto").text(text).close();
}

/// `RIGHT`, `EACH SIDE`: what stands beside the name.
pub fn side(e: &Exercise) -> &'static str {
    match e.side {
        OnSide::Left => "LEFT",
        OnSide::Right => "RIGHT",
        OnSide::EachSide => "EACH SIDE",
        OnSide::Alternating => "SIDES IN TURN",
        OnSide::Together | OnSide::None => "",
    }
}

/// The name with its number and side.
fn name(w: &mut Writer, element: &'static str, number: usize, e: &Exercise) {
    w.open(element)
        .attr("class", "name")
        .open("span")
        .attr("class", "number")
        .text(&number.to_string())
        .close();
    w.text(" ");
    w.open("bdi").text(&capital(&e.name)).close();
    if !side(e).is_empty() {
        w.text(" ").open("span").attr("class", "side").text(side(e)).close();
    }
    if let Some(at) = &e.at {
        w.text(" ").open("span").attr("class", "at").open("bdi").text(at).close().close();
    }
    w.close();
}

/// A name as it begins a line.
fn capital(name: &str) -> String {
    let mut shown = name.to_string();
    if let Some(first) = shown.get(..1).map(str::to_uppercase) {
        shown.replace_range(..1, &first);
    }
    shown
}

/// Name, dose and how often, and what of it changes on which day.
fn title(w: &mut Writer, course: &Course, line: &Line<'_>) {
    name(w, "div", line.number, line.exercise);
    w.text(" ");
    doses(w, line.exercise);
    changes(w, "p", course, line);
}

/// How much, and how often.
fn doses(w: &mut Writer, e: &Exercise) {
    for work in dose::work(e) {
        self::line(w, "dose", &work);
    }
    self::line(w, "often", &dose::often(&e.amount));
}

/// When an exercise begins, changes and ends, where that is within the days of the sheet.
fn changes(w: &mut Writer, element: &'static str, course: &Course, line: &Line<'_>) {
    // Changes run on in one paragraph: a dose that grows has many.
    let changes: Vec<&str> = line.changes.iter().map(|change| change.words.as_str()).collect();
    let words = course.span(line).into_iter().chain([changes.join(" ")]);
    for words in words.filter(|words| !words.is_empty()) {
        w.text(" ").open(element).attr("class", "change").text(&words).close();
    }
}

fn picture(w: &mut Writer, e: &Exercise, draw: Draw<'_>) {
    if let Some(drawn) = e.drawn.first()
        && let Some(picture) = draw(e, drawn, Wanted::Front).into_iter().next()
    {
        w.open("div").attr("class", "figure").attr("role", "img").attr("aria-label", &picture.words);
        w.insert(&picture.svg).close();
    }
}

/// A line of dose with its numbers big. It ends with a stop and a space, so that no number runs on into the next line
/// where the text is copied or read aloud.
pub fn line(w: &mut Writer, class: &str, pieces: &[dose::Piece]) {
    if pieces.is_empty() {
        return;
    }
    w.open("p").attr("class", class);
    for (i, piece) in pieces.iter().enumerate() {
        match piece {
            dose::Piece::Big(n) => {
                if 0 < i {
                    w.text(" ");
                }
                w.element("b", n);
            }
            dose::Piece::Words(s) => {
                if 0 < i && !s.starts_with(',') {
                    w.text(" ");
                }
                w.text(s);
            }
        }
    }
    let ended = matches!(pieces.last(), Some(dose::Piece::Words(s)) if s.ends_with(['.', '!', '?']));
    w.text(if ended { "" } else { "." }).close().text(" ");
}

/// Sentences as a list.
fn list(w: &mut Writer, lines: impl IntoIterator<Item = impl AsRef<str>>) {
    w.open("ul");
    for line in lines {
        said(w, "li", "", line.as_ref());
    }
    w.close();
}

/// The figures of the catalog's poses, as the patient sees them.
pub fn drawn(programme: &Programme) -> impl FnMut(&Exercise, &Drawn, Wanted) -> Vec<Picture> {
    use crate::figure::{Look, still};
    let body = programme.body;
    // The front and the strip show the same picture: it is drawn once.
    let mut known = Known::default();
    move |e, drawn, _| {
        let hold = e.amount.marked_hold();
        if let Some(picture) = known.find(&drawn.movement, hold) {
            return vec![Picture::clone(picture)];
        }
        let figure = still(&body, &drawn.movement, &Look { hold, ..Look::default() });
        let picture = Picture { svg: figure.svg, words: figure.words.join(" ") };
        known.keep(&drawn.movement, hold, picture.clone());
        vec![picture]
    }
}
