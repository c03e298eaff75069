//! What holds for any input. Each gives back what does not hold; a panic is caught by the caller.

use layfigure::catalog::Catalog;
use layfigure::desk::change::{Change, changed};
use layfigure::desk::choices::Kept;
use layfigure::desk::shelf::leaf::{self, Leaf, Stamp, Version};
use layfigure::desk::shelf::store::{Memory, Store};
use layfigure::desk::shelf::{Found, add, earlier, file, found, open};
use layfigure::desk::{Ask, Desk, Panel, place};
use layfigure::diary::stored;
use layfigure::dose;
use layfigure::link::fault::Fault;
use layfigure::link::{Shared, pack, sealed, written};
use layfigure::measure::Date;
use layfigure::notice::{self, Notice};
use layfigure::prescription::{MOST_LINES, print, read};
use layfigure::text::{self, Place};
use std::collections::BTreeSet;

type Held = Result<(), String>;

fn holds(law: bool, says: impl FnOnce() -> String) -> Held {
    if law { Ok(()) } else { Err(says()) }
}

fn places(typed: &str, notices: &[Notice]) -> Held {
    let lines = text::lines(typed);
    let inside = |place: Place| {
        let line = lines.get(place.line.wrapping_sub(1)).map(|line| line.raw);
        line.and_then(|line| line.get(place.start..place.end))
            .ok_or_else(|| format!("{place:?} is not in the line {line:?}"))
    };
    for notice in notices {
        inside(notice.place).map_err(|e| format!("{}: {e}", notice.kind()))?;
        holds(notice.sentence().ends_with(['.', '?']), || format!("no sentence: {}", notice.sentence()))?;
        let Some(edit) = &notice.edit else { continue };
        let old = inside(edit.place).map_err(|e| format!("edit of {}: {e}", notice.kind()))?;
        holds(old != edit.with, || format!("the edit of {} changes nothing: {old:?}", notice.kind()))?;
        // Where the page would put it.
        let on_page = place::bytes(typed, edit.place).and_then(|(from, to)| typed.get(from..to));
        holds(on_page == Some(old), || {
            format!("the edit of {} is put at {on_page:?}, not {old:?}", notice.kind())
        })?;
    }
    Ok(())
}

/// A prescription is read, tidied and told about.
pub fn prescription(typed: &str) -> Held {
    let (first, notices) = read(typed);
    places(typed, &notices)?;
    holds(first.lines.len() == text::lines(typed).len(), || "a line is missing".into())?;
    let tidy = print(&first);
    let (second, again) = read(&tidy);
    places(&tidy, &again).map_err(|e| format!("of the tidy form: {e}"))?;
    let twice = print(&second);
    holds(twice == tidy, || format!("tidied again it differs:\n{tidy:?}\n{twice:?}"))?;
    for unread in &first.unread {
        let line = first.lines.iter().find(|line| line.number == unread.said.place.line);
        let line = line.map_or("", |line| line.tidy.as_str());
        for word in unread.said.text.split_whitespace() {
            holds(line.contains(word), || format!("{word:?} of an unread line is lost in {line:?}"))?;
        }
    }
    // Steps behind a comma are written on lines of their own: of a text that is nearly too long, the last are then beyond.
    let is_whole = text::lines(&tidy).iter().filter(|line| !line.trimmed().is_empty()).count() <= MOST_LINES;
    holds(!is_whole || second.unread.len() == first.unread.len(), || {
        "the tidy form has other unread lines".into()
    })?;
    for exercise in &first.exercises {
        holds(!exercise.name.text.trim().is_empty(), || format!("no name on line {}", exercise.line))?;
    }
    notice::told(typed, &notices);
    for line in text::lines(typed).iter().take(30) {
        let whole = Place { line: 1, start: 0, end: line.raw.len() };
        let (dose, told) = dose::read(line.raw, whole);
        for told in told {
            let inside = line.raw.get(told.place.start..told.place.end);
            holds(inside.is_some(), || {
                format!("dose {}: {:?} is not in {:?}", told.kind(), told.place, line.raw)
            })?;
        }
        let _ = dose.to_string();
    }
    Ok(())
}

/// Buttons of an exercise, by their names.
const BUTTONS: [&str; 12] = [
    "side right",
    "side each",
    "more sets",
    "less reps",
    "more reps",
    "more hold",
    "less often",
    "up",
    "down",
    "again",
    "remove",
    "anyway",
];

/// Every button of the first exercises changes the text or says why not.
pub fn buttons(typed: &str) -> Held {
    let (read, _) = read(typed);
    for exercise in read.exercises.iter().take(3) {
        for button in BUTTONS.iter().filter_map(|name| Change::named(name)) {
            match changed(typed, exercise.line, &button) {
                Ok(changed) => {
                    holds(0 < changed.line, || format!("{button:?} goes to line {}", changed.line))?
                }
                Err(says) => holds(says.ends_with('.'), || format!("{button:?}, no sentence: {says:?}"))?,
            }
        }
    }
    Ok(())
}

/// The desk answers with the cursor at the end.
pub fn desk(typed: &str) -> Held {
    // One that remembers nothing: what it answers must depend on the text alone.
    let mut desk = Desk::default();
    let hidden = BTreeSet::new();
    let line = typed.matches('\n').count() + 1;
    let panel = Panel::default();
    let ask = Ask {
        text: typed,
        today: Date::new(2026, 12, 1),
        week: None,
        line,
        hidden: &hidden,
        caret: Some(typed.len()),
        panel: &panel,
        touched: Some(line),
        before: Some("bridge: 2 x 10\n"),
    };
    let answer = desk.answer(&ask);
    for shown in &answer.shown {
        let edit = shown.edit.is_none_or(|at| at < answer.edits.len());
        holds(edit, || format!("{} has no edit {:?}", shown.name, shown.edit))?;
    }
    let html = answer.regions.iter().flat_map(|(_, slots)| slots).map(|slot| slot.html.as_str());
    let bad = html.clone().find(|html| html.contains("NaN") || html.contains("<script"));
    holds(bad.is_none() || typed.contains("NaN"), || format!("on the page: {bad:?}"))
}

fn sentence(fault: &Fault) -> Held {
    holds(fault.sentence.ends_with('.'), || format!("no sentence: {:?} {:?}", fault.kind, fault.sentence))
}

fn opened(found: Result<Shared, Fault>) -> Held {
    match found {
        Ok(shared) => {
            let packed = pack::pack(&shared, Catalog::embedded());
            let again = packed.map(|bytes| pack::unpack(&bytes, Catalog::embedded()));
            holds(again == Ok(Ok(shared.clone())), || format!("packed again: {again:?}"))?;
            prescription(&shared.text)
        }
        Err(fault) => sentence(&fault),
    }
}

/// A fragment opens, or a sentence says why not.
pub fn fragment(typed: &str) -> Held {
    let first = written::opened(typed, Catalog::embedded());
    if let Ok(first) = &first {
        let round = format!("see <h#{}>.", first.fragment);
        let again = written::opened(&round, Catalog::embedded());
        holds(again.as_ref() == Ok(first), || format!("{round} gives {again:?}"))?;
    }
    opened(first.map(|first| first.shared))?;
    // A longer sealed one would be worked at for half a minute; what is short fails before.
    if typed.len() < 40 {
        sealed::unseal(typed, "word word word").map_err(|fault| sentence(&fault)).err().unwrap_or(Ok(()))?;
    }
    Ok(())
}

pub fn packed(bytes: &[u8]) -> Held {
    opened(pack::unpack(bytes, Catalog::embedded()))?;
    for written in [written::letters(bytes), written::digits(bytes)] {
        let one = written::open(&written, Catalog::embedded()).map_err(|fault| fault.kind);
        let other = pack::unpack(bytes, Catalog::embedded()).map_err(|fault| fault.kind);
        holds(one == other, || format!("{written}: {one:?} is not {other:?}"))?;
    }
    Ok(())
}

/// What is handed over opens as the same, or is refused with a sentence.
pub fn shared(shared: &Shared) -> Held {
    match pack::pack(shared, Catalog::embedded()) {
        Ok(bytes) => holds(pack::unpack(&bytes, Catalog::embedded()).as_ref() == Ok(shared), || {
            "it opens as another".into()
        }),
        Err(says) => holds(says.ends_with('.'), || format!("no sentence: {says:?}")),
    }
}

/// What stands in the desk's storage, torn or not.
pub fn desk_storage(value: &str) -> Held {
    if let Some(kept) = Kept::read(value) {
        holds(Kept::read(&kept.write()).as_ref() == Some(&kept), || format!("kept again: {kept:?}"))?;
    }
    if let Some(stamp) = Stamp::iso(value.get(..23).unwrap_or(value)) {
        holds(Stamp::iso(&stamp.to_string()) == Some(stamp), || format!("{stamp}"))?;
    }
    let version = Version { revision: 1, writer: "writer".into() };
    for id in ["id0", "id1", "id2", "id3"] {
        if let Some(leaf) = Leaf::read(id, &version, value) {
            let again = Leaf::read(id, &version, &leaf.write());
            holds(again.as_ref() == Some(&leaf), || format!("written again: {again:?}"))?;
            leaf.called();
        }
    }
    let mut store = Memory::default();
    let mut count = 0;
    let word = || {
        count += 1;
        format!("word{count}")
    };
    if let Some(brought) = file::read(value, &Found::default(), "writer", None, word) {
        for leaf in &brought.leaves {
            add(&mut store, leaf).map_err(|e| format!("{e:?}"))?;
        }
        let found = found(&store).map_err(|e| format!("{e:?}"))?;
        holds(found.items.len() == brought.leaves.len() && found.unread.is_empty(), || {
            format!("of {} brought in, {} are there", brought.leaves.len(), found.items.len())
        })?;
        let file = file::write(&found, Vec::new());
        let again = file::read(&file, &found, "other", None, || "other".into());
        holds(again.as_ref().is_none_or(|b| b.leaves.is_empty()), || format!("brought in again: {again:?}"))?;
        for item in &found.items {
            let opened = open(&store, &item.token).map_err(|e| format!("{e:?}"))?;
            holds(opened.is_some_and(|(_, text)| text == item.leaf.text), || {
                format!("{} does not open", item.token)
            })?;
        }
    }
    // Under the key of earlier pages.
    store.set(earlier::KEY, value).map_err(|e| format!("{e:?}"))?;
    earlier::take_over(&mut store, None).map_err(|e| format!("{e:?}"))?;
    let left = store.get(earlier::KEY).map_err(|e| format!("{e:?}"))?;
    holds(left.is_none(), || "what an earlier page kept was left there".into())
}

/// The name of a version in the store.
pub fn key(typed: &str) -> Held {
    match leaf::named(typed) {
        Some((id, version)) => {
            holds(leaf::key(id, &version) == typed, || format!("{typed:?} is not {id} {version:?}"))
        }
        None => Ok(()),
    }
}

/// A diary is written back whole.
pub fn diary(typed: &str) -> Held {
    let stored::Read::Whole(diary) = stored::read(typed) else { return Ok(()) };
    let out = stored::write(&diary);
    let again = stored::read(&out);
    holds(again == stored::Read::Whole(diary), || format!("written as {out:?} it is another: {again:?}"))?;
    // A session that says nothing is not kept.
    let says = |line: &&str| line.split([' ', ';']).filter(|w| !w.is_empty()).skip(2).any(|w| w != "done");
    let lines = typed.split('\n').skip(1).filter(says);
    let mut words = lines.flat_map(|line| line.split(|c: char| c.is_whitespace() || c == ';'));
    // A list of no numbers says nothing, and is not kept.
    let lost = words.find(|word| !matches!(*word, "done" | "left") && !out.contains(word));
    holds(lost.is_none(), || format!("{lost:?} is lost in {out:?}"))
}
