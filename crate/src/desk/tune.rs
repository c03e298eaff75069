//! The controls of a strip: each edits the text.

use super::change::{Change, Part, Step};
use crate::catalog::terms::Sides;
use crate::catalog::{self, Catalog};
use crate::dose::parts::Ending;
use crate::dose::{Dose, Kind, Sided, Work};
use crate::markup::Writer;
use crate::programme::{Exercise, Known, OnSide};

/// Folded until it is wanted, so that the sheet stays a sheet and Tab does not stop a dozen times at each strip.
pub fn controls(html: &mut Writer, exercise: &Exercise, number: usize) {
    let entry = match &exercise.known {
        Known::Catalog { id, .. } => Catalog::embedded().by_id(id),
        Known::Own | Known::Unknown => None,
    };
    let made = Made { exercise, number };
    html.open("details").attr("class", "tune");
    html.open("summary").attr("data-focus", &format!("tune {number}"));
    html.text("Change")
        .open("span")
        .attr("class", "unseen")
        .text(&format!(" {}", exercise.name))
        .close()
        .close();
    html.open("div").attr("class", "tools");
    made.sides(html, entry);
    made.dose(html, entry);
    made.order(html);
    html.close().close();
}

struct Made<'a> {
    exercise: &'a Exercise,
    number: usize,
}

impl Made<'_> {
    fn group(&self, html: &mut Writer, label: &str) {
        html.open("div")
            .attr("role", "group")
            .attr("aria-label", &format!("{label}, {}", self.exercise.name));
        html.open("span").attr("class", "label").text(label).close();
    }

    /// A button that makes a change. `label` is said in place of `words`, where these are but a sign.
    fn button(&self, html: &mut Writer, change: &Change, words: &str, label: &str, pressed: Option<bool>) {
        let name = change.name();
        html.open("button").attr("type", "button");
        html.attr("data-do", &format!("change {} {name}", self.exercise.line));
        html.attr("data-focus", &format!("{name} {}", self.number));
        if !label.is_empty() {
            html.attr("aria-label", label);
        }
        if let Some(pressed) = pressed {
            html.attr("aria-pressed", if pressed { "true" } else { "false" });
        }
        html.text(words).close();
    }

    fn sides(&self, html: &mut Writer, entry: Option<&catalog::Exercise>) {
        let sides = entry.map_or(Sides::Each, |entry| entry.sides);
        let offered: &[(Sided, &str)] = match sides {
            Sides::Each => &[(Sided::Left, "Left"), (Sided::Right, "Right"), (Sided::EachSide, "Each side")],
            Sides::Alternate => {
                &[(Sided::Left, "Left"), (Sided::Right, "Right"), (Sided::Alternating, "In turn")]
            }
            Sides::Together | Sides::None => return,
        };
        self.group(html, "Side");
        for (side, words) in offered {
            let now = matches!(
                (side, self.exercise.side),
                (Sided::Left, OnSide::Left)
                    | (Sided::Right, OnSide::Right)
                    | (Sided::EachSide, OnSide::EachSide)
                    | (Sided::Alternating, OnSide::Alternating)
            );
            self.button(html, &Change::Side(*side), words, "", Some(now));
        }
        html.close();
    }

    fn dose(&self, html: &mut Writer, entry: Option<&catalog::Exercise>) {
        let default = entry.map(|e| e.dose.clone()).unwrap_or_default();
        let shown = self.exercise.typed.over(&default);
        for (part, label, value) in parts(&shown, self.exercise.kind) {
            self.group(html, label);
            let less = format!("{label}: less than {value}");
            let more = format!("{label}: more than {value}");
            self.button(html, &Change::Dose(part, Step::Less), "−", &less, None);
            html.open("span").attr("class", "value").text(&value).close();
            self.button(html, &Change::Dose(part, Step::More), "+", &more, None);
            html.close();
        }
    }

    fn order(&self, html: &mut Writer) {
        let name = &self.exercise.name;
        self.group(html, "Line");
        self.button(html, &Change::Up, "↑", &format!("Move {name} up"), None);
        self.button(html, &Change::Down, "↓", &format!("Move {name} down"), None);
        self.button(html, &Change::Again, "Twice", &format!("Twice: {name} is written a second time"), None);
        self.button(html, &Change::Remove, "Take out", &format!("Take out {name}"), None);
        html.open("button").attr("type", "button").attr("data-show", &(self.number - 1).to_string());
        html.attr("data-focus", &format!("show {}", self.number));
        html.attr("aria-label", &format!("Show large: {name}")).text("Show large").close();
        html.close();
    }
}

/// The numbers of a dose that can be counted up and down, each with its label and how it stands now.
fn parts(dose: &Dose, kind: Kind) -> Vec<(Part, &'static str, String)> {
    let mut out = Vec::new();
    if let Some(portion) = dose.work.first() {
        let holds = matches!(kind, Kind::Held);
        match &portion.work {
            Work::Repetitions { sets, reps, ending } => {
                out.push((Part::Sets, "Sets", sets.map_or("1".to_string(), |n| n.to_string())));
                if let (Some(reps), Ending::Number) = (reps, ending) {
                    out.push((Part::Repetitions, "Repetitions", reps.to_string()));
                }
                let hold = dose.hold.map_or("none".to_string(), |hold| hold.to_string());
                out.push((Part::Hold, "Hold", hold));
            }
            Work::Bouts { sets, bouts, span } => {
                if let Some(sets) = sets {
                    out.push((Part::Sets, "Sets", sets.to_string()));
                }
                out.push((Part::Repetitions, if holds { "Holds" } else { "Times" }, bouts.to_string()));
                out.push((Part::Hold, if holds { "Hold" } else { "Time" }, span.to_string()));
            }
            Work::Time(span) => out.push((Part::Time, "Time", span.to_string())),
            Work::Intervals { times, .. } => out.push((Part::Repetitions, "Times", times.to_string())),
            Work::Amount { .. } => out.push((Part::Repetitions, "Amount", portion.work.to_string())),
        }
    }
    if let Some(often) = dose.often {
        out.push((Part::Often, "How often", often.to_string()));
    }
    out
}
