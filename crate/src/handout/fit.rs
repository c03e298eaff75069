//! How the first page is laid: as large as has room, days before doses alone, and what keeps the patient safe first where not
//! all of it has room.

use super::front::{self, MODULE, MODULE_LARGE, Parts};
use super::plan::{Course, Line};
use super::room::{self, Page, Size};
use super::{Print, Sheet, cards, grid};
use crate::markup::Markup;
use crate::programme::Programme;

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

/// How the foot of the page stands in columns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// A class of the sheet, which the style knows.
    pub class: &'static str,
    /// The shares of what makes the patient stop, where to get help, and what is okay.
    columns: [f64; 3],
    /// Whether what to do when it goes wrong stands under all of them; in large print, whether all stands below each other.
    under: bool,
    pub same_day: SameDay,
}

/// Below what stands what needs help the same day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SameDay {
    Stop,
    Help,
}

const fn way(class: &'static str, columns: [f64; 3], under: bool) -> Foot {
    Foot { class, columns, under, same_day: SameDay::Stop }
}

const FEET: [Foot; 10] = [
    way("even", [1.2, 1.2, 1.0], false),
    way("stops", [1.4, 1.1, 1.0], false),
    way("stops more", [1.8, 1.1, 1.0], false),
    way("helps", [1.1, 1.4, 1.0], false),
    way("helps more", [1.1, 1.8, 1.0], false),
    way("under even", [1.2, 1.2, 0.8], true),
    way("under stops", [1.4, 1.1, 0.8], true),
    way("under stops more", [1.8, 1.1, 0.8], true),
    way("under helps", [1.1, 1.4, 0.8], true),
    way("under helps more", [1.1, 1.8, 0.8], true),
];

const LARGE_FEET: [Foot; 6] = [
    way("stacked", [1.0, 1.0, 0.0], true),
    way("even", [1.0, 1.0, 0.0], false),
    way("stops", [1.2, 1.0, 0.0], false),
    way("stops more", [1.38, 1.0, 0.0], false),
    way("helps", [1.0, 1.25, 0.0], false),
    way("helps more", [1.0, 1.6, 0.0], false),
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

/// Large letters before small ones, days before doses alone; what has no room at any size goes on behind the page.
pub fn fit(parts: &Parts, course: &Course, lines: &[Line<'_>], sheet: &Sheet) -> Fit {
    let page = Page::of(sheet.paper);
    let p = course.programme();
    let sizes = room::sizes(sheet.print);
    let around = |size: &Size| {
        head_height(p, parts, sheet, size.points, page, true)
            + rules_height(&parts.rules, sheet.print, size.points, page)
            + beside_height(&parts.beside, size.points, page)
            + lowest(parts, sheet.print, size.points, page, true).1
            + ring_height(&parts.ring, size.points, page)
    };
    let foot_of = |size: &Size| lowest(parts, sheet.print, size.points, page, true).0;
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
        head_height(p, parts, sheet, size.points, page, sheet.print == Print::Normal)
            + rules_height(&parts.rules, sheet.print, size.points, page)
            + ring_height(&parts.ring, size.points, page)
            + lowest(parts, sheet.print, size.points, page, false).1
            <= page.height
    };
    let smallest = sizes.last().copied().unwrap_or(room::NORMAL[0]);
    let size = sizes.iter().find(|size| safe(size)).copied().unwrap_or(smallest);
    Fit { shape: Shape::SafetyFirst, size, notes: false, foot: foot_of(&size) }
}

/// `whole`: with the goal, and with the code of large print, which may stand further down.
fn head_height(p: &Programme, parts: &Parts, sheet: &Sheet, points: f64, page: Page, whole: bool) -> f64 {
    let high =
        |text: &str, width: f64, points: f64| room::high(room::lines(text, width, points, false), points);
    let goal = room::texts(parts.goal.as_str()).concat();
    let patient = p.who.patient.clone().unwrap_or_default();
    let when = front::when(p, sheet);
    let rule = 3.4;
    match (&sheet.link, sheet.print) {
        (link, Print::Large) => {
            let title = room::flow(&["Your".repeat(5), patient], page.width, points + 1.0);
            let title = room::high(1, 24.0) + room::high(title.saturating_sub(1), points + 1.0);
            let (issue, dates) =
                when.split_last().map_or((String::new(), &[][..]), |(last, rest)| (last.clone(), rest));
            let dates = room::high(room::flow(dates, page.width, points + 2.0), points + 2.0);
            let goal = if whole && !goal.is_empty() { high(&goal, page.width, points) + 1.8 } else { 0.0 };
            let code = match link {
                Some(Ok(code)) if whole => f64::from(code.modules) * MODULE_LARGE + 8.0,
                _ => 0.0,
            };
            title + dates + high(&issue, page.width, 14.0) + goal + code + rule
        }
        // The code gives the height, where the words beside it don't.
        (Some(Ok(code)), Print::Normal) => {
            let side = f64::from(code.modules) * MODULE;
            let width = page.width - side.max(34.0) - 56.0 - 12.0;
            let who = room::high(1, 21.0)
                + high(&patient, width, points + 1.0)
                + high(&goal, width, points + 2.0)
                + 2.0;
            let when = when.iter().map(|text| high(text, 56.0, points + 2.0)).fold(0.0, |all, one| all + one);
            (side + 10.0).max(who).max(when) + rule
        }
        (_, Print::Normal) => {
            let goal = if goal.is_empty() { 0.0 } else { high(&goal, page.width, points + 2.0) + 1.8 };
            let wide = when.iter().map(|text| room::wide(text, points)).fold(0.0, f64::max);
            let when = (room::high(1, points) + room::high(1, points + 2.0) + room::high(1, 9.5)) * 1.05;
            let who = room::high(1, 21.0) + high(&patient, page.width - wide - 6.0, points + 1.0);
            when.max(who) + rule + goal
        }
    }
}

fn rules_height(rules: &Markup, print: Print, points: f64, page: Page) -> f64 {
    let boxes: Vec<&str> = rules.as_str().split("<div class=").skip(1).collect();
    let head = room::high(1, points + 2.0);
    // `heads`: of each heading, how many lines; none, where it stands beside its list.
    let column = |part: &&str, width: f64, heads: f64| {
        let lists = part.split("<h2>").skip(1);
        let one = |list: &str| {
            let all = room::texts(list);
            let items = all.iter().skip(1).map(|text| room::lines(text, width, points, true));
            let lines = room::high(items.fold(0, u32::saturating_add), points);
            if heads == 0.0 { lines.max(head) } else { lines + heads * head }
        };
        lists.map(one).fold(0.0, |all, one| all + one)
    };
    let edge = 6.5;
    match (boxes.as_slice(), print) {
        ([], _) => 0.0,
        ([one], Print::Normal) => column(one, page.width - 48.0, 0.0) + edge,
        ([one], Print::Large) => column(one, page.width - 8.0, 1.0) + edge,
        (several, _) => {
            let widths = [(page.width - 4.0) * 0.6 - 8.0, (page.width - 4.0) * 0.4 - 7.2];
            let heads = [1.0, if print == Print::Large { 2.0 } else { 1.0 }];
            let columns = several.iter().zip(widths.into_iter().zip(heads));
            columns.map(|(part, (width, heads))| column(part, width, heads)).fold(0.0, f64::max) + edge
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
fn lowest(parts: &Parts, print: Print, points: f64, page: Page, whole: bool) -> (Foot, f64) {
    let ways: &[Foot] = if print == Print::Large { &LARGE_FEET } else { &FEET };
    let both = |way: &Foot| [SameDay::Help, SameDay::Stop].map(|same_day| Foot { same_day, ..*way });
    let all = ways
        .iter()
        .flat_map(both)
        .map(|way| (way, foot_height(parts.foot(way.same_day), way, print, points, page, whole)));
    all.fold((FEET[0], f64::MAX), |best, one| if one.1 < best.1 { one } else { best })
}

fn foot_height(foot: &Markup, way: Foot, print: Print, points: f64, page: Page, whole: bool) -> f64 {
    let block = |name: &str, width: f64| {
        let mut parts = foot.as_str().split("class=\"block ");
        let part = parts.find(|part| part.starts_with(&format!("{name}\"")));
        let all = room::texts(part.map_or("", |part| part.split_once('>').map_or("", |(_, rest)| rest)));
        let items = all.iter().skip(1).map(|text| room::lines(text, width - 4.0, points, false));
        // A second heading has room around it; a line to write on may need one of its own.
        let heads = part.map_or(0, |part| part.matches("<h2").count().saturating_sub(1));
        let filled = u32::from(part.is_some_and(|part| part.contains("class=\"fill\"")));
        let beside = 4.0 * heads as f64;
        room::high(items.fold(filled, u32::saturating_add), points)
            + room::high(1, points + 1.0)
            + 2.6
            + beside
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
            let [stop, help, _] =
                way.columns.map(|share| share * (page.width - 5.0) / way.columns.iter().sum::<f64>());
            let must = if way.under {
                block("stop", page.width) + block("help", page.width) + 4.0
            } else {
                block("stop", stop).max(block("help", help)) + 4.0
            };
            if whole { must + block("okay", page.width) + block("wrong", page.width) + 2.6 } else { must }
        }
    }
}

fn ring_height(ring: &Markup, points: f64, page: Page) -> f64 {
    room::high(room::lines_of(ring, page.width - 9.0, points, true), points) + 6.0
}
