//! What the patient's sheet says, and what it must never say.

use layfigure::catalog::Catalog;
use layfigure::door::reading::read;
use layfigure::handout::{Sheet, html, plan, safety};
use layfigure::measure::Date;
use layfigure::programme::settled::Cache;
use layfigure::week;

const TEXT: &str = "# Right knee, four weeks after meniscus repair
by: R. O., 01632 960 123
patient: T. B., 58
start: 2026-11-30
review: 2026-12-14
surgery: 2026-11-02, right meniscus repair
caution: osteoporosis
finding: quadriceps wasted
limit: right knee flexion 0-60
// sceptical, ask again
heel slide, right: 2 x 10, hold 5 s, 2/day
sit to stand: 3 x 8, Mon Wed Fri
bent-knee opening, left: 2 x 12, daily, until 2026-12-05
<script>alert(1)</script>: 3 x 10, daily
limt: hip flexion 70
";

fn page(text: &str) -> String {
    let reading = read(text, None, Date::iso("2026-11-30"), &mut Cache::default());
    let laid = week::lay(&reading.programme, week::model::Limit::USUAL).expect("a week");
    html(&reading.programme, &laid, &Sheet::default())
}

/// What is read aloud: text without tags and style.
fn words(page: &str) -> String {
    let body = page.split("<body>").nth(1).expect("a body");
    let mut out = String::new();
    let mut depth = 0;
    for c in body.chars() {
        match c {
            '<' => depth = 1,
            '>' => {
                depth = 0;
                out.push(' ');
            }
            c if depth == 0 => out.push(c),
            _ => {}
        }
    }
    out
}

#[test]
fn nothing_clinical_or_private_is_handed_over() {
    let page = page(TEXT);
    let said = words(&page).to_lowercase();
    let muscles = ["quadriceps", "hamstring", "gluteus", "rotator cuff", "deltoid"];
    for never in ["contraindication", "precaution", "advice", "meniscus", "sceptical", "wasted", "finding"] {
        assert!(!said.contains(never), "{never}");
    }
    for never in muscles {
        assert!(!said.contains(never), "{never}");
    }
    // Neither in what tabs and print queues show.
    assert!(page.contains("<title>Exercises</title>"));
}

#[test]
fn text_from_outside_stays_text_and_nothing_is_styled_in_place() {
    let page = page(TEXT);
    assert!(!page.contains("<script") && !page.contains(" style=") && !page.contains("<img"));
    assert!(page.contains("&lt;script&gt;"));
    for outside in ["http://", "https://"] {
        // The one address is the name of SVG.
        let all = page.matches(outside).count();
        assert_eq!(
            all,
            page.matches("http://www.w3.org/2000/svg").count() * usize::from(outside == "http://")
        );
    }
}

#[test]
fn sides_limits_dates_and_unread_safety_text_are_written_out() {
    let said = words(&page(TEXT));
    for must in [
        "Lie on your RIGHT side.",
        "Do not bend your RIGHT knee past 60 degrees.",
        "limt: hip flexion 70",
        "Mon 14 Dec 2026",
        "You get a sudden new pain in your back.",
        "Your calf is swollen, hot or sore.",
        "Don’t double up.",
        "Bin older sheets.",
    ] {
        assert!(said.contains(must), "{must} in {said}");
    }
}

#[test]
fn boxes_stand_on_the_days_that_are_due_up_to_the_last() {
    let reading = read(TEXT, None, Date::iso("2026-11-30"), &mut Cache::default());
    let p = &reading.programme;
    let due = plan::Due::of(&week::lay(p, week::model::Limit::USUAL).expect("a week"), p.exercises.len());
    let boxes = |i: usize| -> Vec<usize> {
        plan::days(p).iter().map(|day| plan::boxes(&p.exercises[i], i, &due, day)).collect()
    };
    assert_eq!(boxes(0), [2; 15]);
    assert_eq!(boxes(1), [1, 0, 1, 0, 1, 0, 0, 1, 0, 1, 0, 1, 0, 0, 1]);
    assert_eq!(boxes(2), [1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
}

#[test]
fn the_sheets_own_words_are_at_grade_six_or_lower() {
    let everything: Vec<String> = Catalog::embedded()
        .exercises()
        .iter()
        .map(|e| format!("{}: 2 x 10, daily", e.name.to_lowercase()))
        .collect();
    let text =
        format!("caution: pregnant, osteoporosis\nsurgery: 2026-11-02, hip\n{}", everything.join("\n"));
    let programme = read(&text, None, None, &mut Cache::default()).programme;
    let lines: Vec<&str> = safety::STOP.iter().copied().chain(safety::net(&programme)).collect();
    assert!(12 < lines.len());
    let grade = layfigure::text::reading::count(&lines.join("\n")).grade();
    assert!(grade.is_some_and(|g| g <= 6.0), "{grade:?}");
}
