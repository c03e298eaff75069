//! The lines behind the text: the same words in the same places, with marks where notices point.

use super::{Slot, place};
use crate::markup::Writer;
use crate::notice::{Notice, Severity};

/// Beyond this many lines the rest is one slot without marks: nobody prescribes so much, and a pasted book
/// must not make the page crawl.
const MOST: usize = 1500;

/// One slot a line; the one that was just changed by a button is marked.
pub fn rows(text: &str, notices: &[Notice], touched: Option<usize>) -> Vec<Slot> {
    let mut slots: Vec<Slot> = Vec::new();
    let mut lines = place::lines(text).zip(1..);
    for ((_, line), number) in lines.by_ref().take(MOST) {
        slots.push(Slot { key: String::new(), html: row(line, number, notices, touched == Some(number)) });
    }
    let Some(((start, _), _)) = lines.next() else { return slots };
    let rest = text.get(start..).unwrap_or_default();
    let mut html = Writer::new();
    html.open("div").text(rest).text("\n").close();
    slots.push(Slot { key: "rest".into(), html: html.finish().into_string() });
    slots
}

fn row(line: &str, number: usize, notices: &[Notice], touched: bool) -> String {
    let mut marks: Vec<(usize, usize, Severity)> = notices
        .iter()
        .filter(|n| n.place.line == number && n.place.start < n.place.end)
        .map(|n| (n.place.start, n.place.end.min(line.len()), n.severity()))
        .filter(|(start, end, _)| start < end && line.is_char_boundary(*start) && line.is_char_boundary(*end))
        .collect();
    crate::sorting::sort(&mut marks);
    let mut html = Writer::new();
    html.open("div");
    if touched {
        html.attr("class", "touched");
    }
    let mut at = 0;
    for (start, end, severity) in marks {
        // Where marks overlap the first stands: one line under the words is enough.
        if at <= start {
            html.text(&line[at..start]);
            html.open("mark").attr("class", class(severity)).text(&line[start..end]).close();
            at = end;
        }
    }
    html.text(&line[at..]);
    if line.is_empty() {
        html.open("br").empty();
    }
    html.close();
    html.finish().into_string()
}

pub fn class(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Contraindication => "contraindication",
        Severity::Precaution => "precaution",
        Severity::Advice => "advice",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notice::kinds::prescription::OfPrescription;
    use crate::text::Place;

    fn notice(start: usize, end: usize) -> Notice {
        Notice::new(OfPrescription::DoseAlone, Place { line: 2, start, end })
    }

    #[test]
    fn a_mark_stands_under_its_words() {
        let rows = rows("a\n<b> & c\n", &[notice(0, 3), notice(1, 2)], None);
        let html: Vec<&str> = rows.iter().map(|slot| slot.html.as_str()).collect();
        assert_eq!(
            html,
            ["<div>a</div>", "<div><mark class=\"error\">&lt;b&gt;</mark> &amp; c</div>", "<div><br/></div>"]
        );
    }

    #[test]
    fn a_place_outside_its_line_marks_nothing() {
        for notice in [notice(50, 60), notice(1, 2), notice(3, 3)] {
            assert_eq!(row("ä", 2, &[notice], false), "<div>ä</div>");
        }
    }

    #[test]
    fn a_book_is_held_whole_but_in_few_slots() {
        let rows = rows(&"line\n".repeat(20_000), &[], None);
        assert_eq!(rows.len(), MOST + 1);
    }
}
