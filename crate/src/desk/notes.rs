//! Notices beside their lines: the grave ones first, and all of them on view. Of the others at most three that nobody
//! asked for are; the rest are folded, and each can be put away for this visit. A contraindication can't be put away:
//! it goes with the exercise, or with the reason for keeping it.

use super::manuscript::class;
use super::{Ask, Shown, Slot, place};
use crate::markup::{Markup, Writer};
use crate::notice::{Edit, Notice, Severity};

/// Unsolicited notices on view (practice: more than three are not read); grave ones count, and are not bounded by it.
const MOST: usize = 3;

/// Lines not understood on view: a letter pasted by mistake has one at each line.
const MOST_ERRORS: usize = 12;

/// At most so many are listed under the fold.
const FOLDED: usize = 60;

#[derive(Default)]
pub struct Notes {
    pub shown: Vec<Slot>,
    pub folded: Vec<Slot>,
    pub state: Vec<Slot>,
    pub edits: Vec<Edit>,
    pub keys: Vec<Shown>,
}

/// What a notice is called when it is put away: its kind and the words it is about, so it stays away while
/// lines move, and comes back when the words change.
pub fn name(text: &str, notice: &Notice) -> String {
    let words = place::line(text, notice.place.line).map_or("", |(_, line)| line.trim());
    format!("{} {words}", notice.kind())
}

/// How grave, the gravest first: what may harm, then what was not understood.
fn grave(severity: Severity) -> u8 {
    match severity {
        Severity::Contraindication => 0,
        Severity::Error => 1,
        Severity::Precaution | Severity::Advice => 2,
    }
}

/// Lays the notices: all that is grave, those of the cursor's line, and of the rest the gravest. The grave ones come
/// first, then the order is that of the lines.
pub fn lay(ask: &Ask<'_>, notices: &[Notice]) -> Notes {
    let named: Vec<(&Notice, String)> = notices.iter().map(|n| (n, name(ask.text, n))).collect();
    let is_away =
        |n: &Notice, name: &String| n.severity() != Severity::Contraindication && ask.hidden.contains(name);
    let (away, mut open): (Vec<_>, Vec<_>) = named.into_iter().partition(|(n, name)| is_away(n, name));
    let is_asked = |n: &Notice| n.place.line == ask.line;
    crate::sorting::sort_by_key(&mut open, |(n, _)| {
        (n.severity() != Severity::Contraindication, !is_asked(n), grave(n.severity()), n.severity(), n.place)
    });
    let count = |is: &dyn Fn(&Notice) -> bool| open.iter().filter(|(n, _)| is(n)).count();
    let contraindications = count(&|n| n.severity() == Severity::Contraindication);
    let asked = count(&|n| n.severity() != Severity::Contraindication && is_asked(n));
    let errors = count(&|n| n.severity() == Severity::Error && !is_asked(n)).min(MOST_ERRORS);
    let on_view = (contraindications + asked + errors).max(MOST.min(open.len()));
    let rest = open.split_off(open.len().min(on_view));
    let mut shown = open;
    crate::sorting::sort_by_key(&mut shown, |(n, _)| (grave(n.severity()), n.place, n.severity()));

    let mut notes = Notes { state: vec![state(notices)], ..Notes::default() };
    for (notice, name) in &shown {
        let number = notes.keys.len() + 1;
        let edit = notes.add(notice);
        let html = note(ask.text, notice, edit, Some(number));
        notes.shown.push(Slot { key: name.clone(), html: html.into_string() });
        let may_hide = notice.severity() != Severity::Contraindication;
        notes.keys.push(Shown { line: notice.place.line, edit, may_hide, name: name.clone() });
    }
    let mut folded: Vec<&(&Notice, String)> = rest.iter().chain(&away).collect();
    crate::sorting::sort_by_key(&mut folded, |(n, _)| (n.severity(), n.place));
    if !folded.is_empty() {
        let errors = folded.iter().filter(|(n, _)| n.severity() == Severity::Error).count();
        let errors = if errors == 0 { String::new() } else { format!(", {errors} of them not understood") };
        let mut html = Writer::new();
        html.open("details").open("summary").attr("data-focus", "folded");
        html.text(&format!("{} more{errors}", folded.len())).close().open("ol");
        for (notice, _) in folded.iter().take(FOLDED) {
            let edit = notes.add(notice);
            html.insert(&note(ask.text, notice, edit, None));
        }
        html.close().close();
        let html = html.finish().into_string();
        notes.folded.push(Slot { key: "folded".into(), html });
    }
    notes
}

impl Notes {
    fn add(&mut self, notice: &Notice) -> Option<usize> {
        let edit = notice.edit.clone()?;
        self.edits.push(edit);
        Some(self.edits.len() - 1)
    }
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "Not understood",
        Severity::Contraindication => "Contraindication",
        Severity::Precaution => "Precaution",
        Severity::Advice => "Advice",
    }
}

/// One notice as an element. `number` is that of the key that applies it.
fn note(text: &str, notice: &Notice, edit: Option<usize>, number: Option<usize>) -> Markup {
    let line = notice.place.line.to_string();
    let focus = |act: &str| format!("{act} {line} {}", notice.kind());
    let mut html = Writer::new();
    html.open("li").attr("class", &format!("note {}", class(notice.severity())));
    html.open("p").attr("class", "about").open("b").text(word(notice.severity())).close().text(" ");
    html.open("button").attr("type", "button").attr("class", "go").attr("data-go", &line);
    html.attr("data-focus", &focus("go")).text(&format!("line {line}")).close().close();
    html.open("p").text(&notice.sentence()).close();
    html.open("p").attr("class", "acts");
    if let (Some(index), Some(edit)) = (edit, &notice.edit) {
        html.open("button").attr("type", "button").attr("data-edit", &index.to_string());
        html.attr("data-focus", &focus("edit")).text(&label(text, edit));
        key(&mut html, "Alt", number);
        html.close().text(" ");
    }
    if notice.severity() == Severity::Contraindication {
        html.open("button").attr("type", "button").attr("data-do", &format!("change {line} anyway"));
        html.attr("data-focus", &focus("keep")).text("Keep it, and write why").close();
    } else if let Some(number) = number {
        html.open("button").attr("type", "button").attr("class", "quiet");
        html.attr("data-hide", &(number - 1).to_string()).attr("data-focus", &focus("hide")).text("Put away");
        key(&mut html, "Alt Shift", Some(number));
        html.close();
    }
    html.close().close();
    html.finish()
}

/// The key that does it, for the first nine.
fn key(html: &mut Writer, held: &str, number: Option<usize>) {
    if let Some(number) = number.filter(|n| *n < 10) {
        html.text(" ").open("kbd").text(&format!("{held} {number}")).close();
    }
}

/// What an edit does, in words.
fn label(text: &str, edit: &Edit) -> String {
    let short = |s: &str| {
        let line = s.trim().replace('\n', " / ");
        let cut: String = line.chars().take(60).collect();
        if cut.len() < line.len() { format!("{cut}…") } else { cut }
    };
    let old = place::bytes(text, edit.place).and_then(|(from, to)| text.get(from..to)).unwrap_or("");
    match (old.trim().is_empty(), edit.with.trim().is_empty()) {
        (_, true) => format!("Take out “{}”", short(old)),
        (true, false) => format!("Add “{}”", short(&edit.with)),
        (false, false) => format!("Write “{}”", short(&edit.with)),
    }
}

/// One sentence on the notices, for the eye and for those who listen.
fn state(notices: &[Notice]) -> Slot {
    let count = |severity| notices.iter().filter(|n| n.severity() == severity).count();
    let say = |n: usize, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let parts: Vec<String> = [
        say(count(Severity::Error), "place not understood", "places not understood"),
        say(count(Severity::Contraindication), "contraindication", "contraindications"),
        say(count(Severity::Precaution), "precaution", "precautions"),
        say(count(Severity::Advice), "piece of advice", "pieces of advice"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let words = if parts.is_empty() { "Nothing to note.".to_string() } else { parts.join(", ") + "." };
    let mut html = Writer::new();
    html.open("span").text(&words).close();
    let html = html.finish();
    Slot { key: "state".into(), html: html.into_string() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notice::What;
    use crate::notice::kinds::prescription::OfPrescription;
    use crate::notice::kinds::programme::OfProgramme;
    use crate::text::Place;
    use std::collections::BTreeSet;

    fn notice(line: usize, severity: Severity) -> Notice {
        let place = Place { line, start: 0, end: 1 };
        let edit = Some(Edit { place, with: "better".into() });
        let words = format!("<{line}>");
        let what: What = match severity {
            Severity::Error => OfPrescription::DetailAlone { key: words }.into(),
            Severity::Contraindication => OfProgramme::Avoided { is_cannot: false, words }.into(),
            Severity::Precaution => OfPrescription::LimitWords { words }.into(),
            Severity::Advice => OfPrescription::ReadAsLater { text: words }.into(),
        };
        Notice { what, place, edit }
    }

    fn laid(line: usize, hidden: &BTreeSet<String>) -> Notes {
        let text = "a\nb\nc\nd\ne\nf";
        let notices: Vec<Notice> = (1..=6)
            .map(|line| notice(line, if line == 5 { Severity::Error } else { Severity::Advice }))
            .collect();
        let today = crate::measure::Date::new(2026, 11, 25);
        lay(&Ask { today, line, hidden, ..Ask::of(text) }, &notices)
    }

    fn lines(notes: &Notes) -> Vec<usize> {
        notes.keys.iter().map(|shown| shown.line).collect()
    }

    #[test]
    fn three_are_on_view_the_gravest_first_and_that_of_the_cursor() {
        assert_eq!(lines(&laid(0, &BTreeSet::new())), [5, 1, 2]);
        assert_eq!(lines(&laid(6, &BTreeSet::new())), [5, 1, 6]);
        assert_eq!(lines(&laid(5, &BTreeSet::new())), [5, 1, 2]);
    }

    #[test]
    fn one_put_away_makes_room_and_is_still_in_the_fold() {
        let hidden = BTreeSet::from(["detail-alone e".to_string()]);
        let notes = laid(0, &hidden);
        assert_eq!(lines(&notes), [1, 2, 3]);
        assert!(notes.folded[0].html.contains("“&lt;5&gt;” stands below"));
        assert!(notes.folded[0].html.contains("3 more, 1 of them not understood"));
    }

    /// However many there are, wherever the cursor is, and whatever was put away.
    #[test]
    fn a_contraindication_is_never_folded() {
        let text = "a\n".repeat(40);
        let grave = |line: usize| line.is_multiple_of(3);
        let notices: Vec<Notice> = (1..=40)
            .flat_map(|line| {
                let contra = grave(line).then(|| notice(line, Severity::Contraindication));
                [Some(notice(line, Severity::Advice)), contra, Some(notice(line, Severity::Precaution))]
            })
            .flatten()
            .collect();
        let hidden = BTreeSet::from(["avoided a".to_string(), "read-as-later a".to_string()]);
        for line in [0, 1, 3, 40] {
            for hidden in [&BTreeSet::new(), &hidden] {
                let notes = lay(&Ask { line, hidden, ..Ask::of(&text) }, &notices);
                let first: Vec<usize> = lines(&notes).into_iter().take(13).collect();
                assert_eq!(first, (1..=40).filter(|line| grave(*line)).collect::<Vec<_>>(), "at line {line}");
                assert!(!notes.folded[0].html.contains("Contraindication"));
                assert!(notes.keys.iter().take(13).all(|shown| !shown.may_hide));
            }
        }
    }

    #[test]
    fn a_pasted_letter_does_not_bury_what_is_grave() {
        let text = "a\n".repeat(100);
        let mut notices: Vec<Notice> = (1..=99).map(|line| notice(line, Severity::Error)).collect();
        notices.push(notice(100, Severity::Contraindication));
        let notes = lay(&Ask { line: 0, ..Ask::of(&text) }, &notices);
        assert_eq!(lines(&notes), [100, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
        assert!(notes.folded[0].html.contains("87 more, 87 of them not understood"));
    }

    #[test]
    fn an_edit_says_what_it_does() {
        let place = Place { line: 1, start: 0, end: 3 };
        assert_eq!(label("abc", &Edit { place, with: "<x>".into() }), "Write “<x>”");
        assert_eq!(label("abc", &Edit { place, with: String::new() }), "Take out “abc”");
        let end = Place { line: 1, start: 3, end: 3 };
        assert_eq!(label("abc", &Edit { place: end, with: ", right".into() }), "Add “, right”");
    }
}
