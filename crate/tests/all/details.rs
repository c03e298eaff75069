//! A name with details beside it: name, side, dose and every other word come out, wherever they stand.

use layfigure::dose::Sided;
use layfigure::prescription::{About, Exercise, print, read};

fn only(text: &str) -> Exercise {
    let (p, _) = read(text);
    assert_eq!(
        p.exercises.len(),
        1,
        "{text:?}: {:?}",
        p.exercises.iter().map(|e| e.written()).collect::<Vec<_>>()
    );
    p.exercises[0].clone()
}

fn cues(e: &Exercise) -> Vec<String> {
    e.details.iter().filter(|d| d.about == About::Cue).map(|d| d.said.text.clone()).collect()
}

const NAMES: [&str; 9] = [
    "side plank",
    "wall sit",
    "knee to chest",
    "banded squat",
    "sleeper stretch",
    "biceps curl",
    "thread the needle",
    "doorway stretch",
    "heel tap from a step",
];

const DETAILS: [&str; 12] = [
    "with a cushion under the elbow",
    "holding the table edge",
    "chin in line with chest",
    "keep ribs down",
    "against the door frame",
    "shoulders away from ears",
    "using the other hand for help",
    "slowly",
    "near the sink",
    "palms up",
    "don't hold your breath",
    "as far as is easy",
];

#[test]
fn name_side_dose_and_words_come_out_wherever_they_stand() {
    for name in NAMES {
        for detail in DETAILS {
            for (typed, side) in [("R", Some(Sided::Right)), ("left", Some(Sided::Left)), ("", None)] {
                let mut lines = vec![
                    format!("{name}, {typed}, {detail}, 2 x 12, daily"),
                    format!("{name} {typed} ({detail}) 2x12 daily"),
                    format!("{name} {detail}: 2 x 12, daily"),
                    format!("{name} - {detail} - 2x12 daily"),
                ];
                match side {
                    Some(_) => {
                        lines.truncate(2);
                        lines.push(format!("{name} {typed} {detail} 2x12 daily"));
                        lines.push(format!("{typed} {name}, {detail} 2x12 daily"));
                    }
                    None => lines[0] = format!("{name}, {detail}, 2 x 12, daily"),
                }
                for line in lines {
                    let e = only(&line);
                    assert_eq!(e.name.text, name, "{line}");
                    assert_eq!(e.side, side, "{line}");
                    assert_eq!(e.dose.to_string(), "2 x 12, daily", "{line}");
                    assert_eq!(cues(&e), [detail], "{line}");
                    let place = e.details[0].said.place;
                    assert_eq!(line.get(place.start..place.end), Some(detail), "{line}");
                    let (p, told) = read(&line);
                    assert!(told.iter().any(|n| n.kind() == "own-words" && n.place == place), "{line}");
                    let tidy = print(&p);
                    assert_eq!(print(&read(&tidy).0), tidy, "{line}");
                    let again = only(&tidy);
                    assert_eq!(
                        (&again.name.text, again.side, &again.dose),
                        (&e.name.text, e.side, &e.dose),
                        "{tidy}"
                    );
                    assert_eq!(cues(&again), [detail], "{tidy}");
                }
            }
        }
    }
}

#[test]
fn what_may_be_another_exercise_keeps_its_name() {
    for line in [
        "reverse wall sit 3x10",
        "single leg wall sit 3x10",
        "side plank leg raise 3x10",
        "biceps curl, reverse, 3x10",
        "wall sit on one leg 3x10",
        "passive biceps curl 3x10",
        "biceps curl R passive 3x10",
        "prone knee to chest 3x10",
        "sleeper stretch in standing 3x10",
        "wall sit with calf raise 3x10",
        "wall sit, knee to chest 3x10",
        "biceps curl press 3x10",
        "banded squat jump 3x10",
        "hip extension lunge 3x10",
    ] {
        let e = only(line);
        assert!(e.details.is_empty(), "{line}: {:?}", e.written());
    }
}

#[test]
fn what_could_be_checked_is_told_at_its_word() {
    for (line, word) in [
        ("wall sit (not past 60 deg) 3x10", "not past"),
        ("biceps curl R, stop at 90 degrees, 3x10", "90 degrees"),
        ("side plank, left foot in front, 3x20s", "left"),
        ("knee to chest R, no hip rotation, 2x10", "no"),
    ] {
        let (_, told) = read(line);
        let at = told.iter().filter(|n| n.kind() == "own-words-hold").any(|n| {
            line.get(n.place.start..n.place.end)
                .is_some_and(|typed| typed.contains(word) || word.contains(typed))
        });
        assert!(at, "{line}: {:?}", told.iter().map(|n| (n.kind(), n.place)).collect::<Vec<_>>());
    }
}

#[test]
fn sides_are_read_wherever_they_stand() {
    for (line, side) in [
        ("[R] side plank 3x20s", Sided::Right),
        ("side plank on the left 3x20s", Sided::Left),
        ("side plank - left side only - 3x20s", Sided::Left),
        ("LUE biceps curl 3x10", Sided::Left),
        ("biceps curl RUE 3x10", Sided::Right),
        ("Rt. biceps curl 3x10", Sided::Right),
        ("bilat. biceps curl 3x10", Sided::Both),
        ("B/L biceps curl 3x10", Sided::Both),
        ("biceps curl both arms together 3x10", Sided::Together),
    ] {
        let e = only(line);
        let same = e.side == Some(side) || side == Sided::Both && e.side == Some(Sided::EachSide);
        assert!(same, "{line}: {:?}", e.written());
        assert!(e.details.is_empty(), "{line}");
    }
}

#[test]
fn a_limb_that_is_named_by_the_problem_is_on_its_side_or_asked() {
    let (p, told) = read("surgery: 2026-11-02, right rotator cuff repair\nbiceps curl affected arm 3x10\n");
    assert_eq!(p.exercises[0].side, Some(Sided::Right));
    assert!(told.iter().any(|n| n.kind() == "affected-side"));
    assert_eq!(read(&print(&p)).0.exercises[0].side, Some(Sided::Right));
    let (p, told) = read("biceps curl affected arm 3x10\n");
    assert_eq!(p.exercises[0].side, None);
    assert!(told.iter().any(|n| n.kind() == "ask-affected-side"));
    assert!(print(&p).contains("affected arm"));
    assert_eq!(print(&read(&print(&p)).0), print(&p));
}

#[test]
fn moments_and_shorthand_of_the_day_stay_what_they_are() {
    for (line, dose) in [
        ("biceps curl R 3x10 am and pm", "3 x 10, morning, evening"),
        ("biceps curl R 3x10 1-1-1", "3 x 10, morning, midday, night"),
        ("biceps curl R 3x10 0-0-1", "3 x 10, night"),
        ("biceps curl R 12 reps SOS, max 3/day", "12 reps, as needed, at most 3/day"),
        ("biceps curl R 12 reps 3rd hourly", "12 reps, every 3 hours"),
        ("biceps curl R 12x b.d.", "12 reps, 2/day"),
        ("wall sit 30 s little + often", "30 s, little and often"),
    ] {
        assert_eq!(only(line).dose.to_string(), dose, "{line}");
    }
}

#[test]
fn nothing_is_halved_or_added_without_a_word() {
    use layfigure::catalog::Catalog;
    use layfigure::dose::parts::Often;
    use layfigure::dose::{Tally, Work};
    use layfigure::measure::Counts;
    use layfigure::programme::{Ask, assemble, settled::Cache};
    let text = "bird dog 2 x 6 each side, hold 4 s\nsleeper stretch R 3x40\nbiceps curl R 3x10 mane + nocte\nbird dog 2 x 6\n";
    let programme =
        assemble::at(&read(text).0, Catalog::embedded(), &Ask::today(None), &mut Cache::default());
    let [each, held, twice, usual] = programme.exercises.as_slice() else { panic!("four exercises") };
    assert_eq!(each.amount.dose.tally, Some(Tally::EachSide));
    assert!(programme.full.lines().next().is_some_and(|l| l.contains("each side")), "{}", programme.full);
    assert!(
        matches!(held.amount.dose.work[0].work, Work::Bouts { bouts, span, .. } if bouts.high() == 3 && span.high() == 40)
    );
    assert!(programme.notices.iter().any(|n| n.kind() == "dose-read-as-seconds" && n.place.line == 2));
    assert!(
        matches!(twice.amount.often, Often::Calendar { per_day, .. } if per_day == Counts::one(2).unwrap())
    );
    // What the usual dose adds is told at the dose.
    assert_eq!(usual.amount.dose.tally, Some(Tally::InAll));
    assert!(programme.notices.iter().any(|n| n.kind() == "dose-usual" && n.place.line == 4));
}
