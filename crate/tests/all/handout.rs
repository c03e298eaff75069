//! What the patient's sheet says, and what it must never say.

use layfigure::catalog::Catalog;
use layfigure::door::reading::read;
use layfigure::handout::plan::Course;
use layfigure::handout::{Paper, Print, STYLE, Sheet, html, safety};
use layfigure::measure::Date;
use layfigure::programme::Ask;
use layfigure::programme::settled::Cache;
use layfigure::week::model::{Limit, Part};

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

fn course(text: &str) -> Course {
    let (prescription, _) = layfigure::prescription::read(text);
    let ask = Ask::today(Date::iso("2026-11-30"));
    let catalog = Catalog::embedded();
    Course::of(&prescription, catalog, &ask, Limit::USUAL, &mut Cache::default()).expect("a week")
}

fn page(text: &str) -> String {
    html(&course(text), &Sheet::default())
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
    let course = course(TEXT);
    let boxes = |i: usize| -> Vec<usize> {
        let goes = |due: Vec<(Part, Vec<usize>)>| due.iter().filter(|(_, list)| list.contains(&i)).count();
        course.days().iter().map(|day| goes(course.due(day))).collect()
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

/// The words of the first element with this class, up to where the next part of the page begins.
fn part(page: &str, class: &str) -> String {
    let rest = page.split(&format!("class=\"{class}\"")).nth(1).unwrap_or("");
    let end = ["<h2>", "<table", "<header", "<section", "<article", "<ol", "class=\"foot", "class=\"ring"];
    let head = rest.split_once("</h2>").map_or(rest, |(_, rest)| rest);
    let end = end.iter().filter_map(|mark| head.find(mark)).min().unwrap_or(head.len());
    words(&format!("<body><{}", &head[..end])).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_is_allowed_never_stands_among_what_is_forbidden() {
    let head = "start: 2026-11-30\nreview: 2026-12-14\navoid: jumping\n";
    for (line, words) in [
        ("weight: right, as tolerated", "Put as much weight on your RIGHT leg as is comfortable."),
        ("weight: left, full", "You may put your full weight on your LEFT leg."),
        ("weight: right, full until 2026-12-06", "You may put your full weight on your RIGHT leg."),
        ("limit: may kneel", "may kneel"),
        ("limit: kneeling is okay", "kneeling is okay"),
    ] {
        let page = page(&format!("{head}{line}\nbridge: 3 x 10, daily\n"));
        let (may, not) = (part(&page, "may"), part(&page, "donot"));
        assert!(may.contains(words), "“{words}” is allowed: {may} / {not}");
        assert!(!not.contains(words) && not.contains("jumping"), "“{words}” is not forbidden: {not}");
    }
    // What restricts stays where it is, also where a word permits.
    for (line, words) in [
        ("weight: right, none", "Put no weight on your RIGHT leg."),
        ("limit: may not kneel", "may not kneel"),
        ("limit: may kneel only on a pad", "may kneel only on a pad"),
        ("limit: can lift 2 kg", "can lift 2 kg"),
        ("limit: kneeling", "kneeling"),
    ] {
        let page = page(&format!("{head}{line}\nbridge: 3 x 10, daily\n"));
        assert!(part(&page, "donot").contains(words), "“{words}”: {}", part(&page, "donot"));
        assert!(!part(&page, "may").contains(words), "“{words}”: {}", part(&page, "may"));
    }
    // So much and no more is something to keep to.
    let page = page(&format!("{head}weight: left, partial\nbridge: 3 x 10, daily\n"));
    let words = "Put only part of your weight on your LEFT leg.";
    assert!(part(&page, "may").contains(words), "{}", part(&page, "may"));
    assert!(!part(&page, "donot").contains("weight"), "{}", part(&page, "donot"));
}

/// Text as it is copied or read where nothing says that elements stand apart.
fn solid(page: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for c in page.split("<body>").nth(1).expect("a body").chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => out.push(c),
            _ => {}
        }
    }
    out
}

#[test]
fn the_numbers_of_dose_and_frequency_never_run_together() {
    let text = "start: 2026-11-30\nreview: 2026-12-14\npull of ours: 3 x 8, 3/week\ncalf stretch, both: 3 x 31 s, 2/day\n\
         sit to stand: 12, 2/day, 3/week\nheel slide, left: slow 10 x 10 s; quick x 10, 3/day\nwalk: 20 min, 5/week\n";
    for print in [Print::Normal, Print::Large] {
        let said = solid(&html(&course(text), &Sheet { print, ..Sheet::default() }));
        for whole in ["3 sets of 8. On 3 days a week.", "Do it 2 times a day", "On 5 days a week"] {
            assert!(said.contains(whole), "{whole} in {said}");
        }
        // A number is never followed by another one that belongs to the next thing.
        let mut rest = said.as_str();
        while let Some(at) = rest.find(" a week").into_iter().chain(rest.find(" times a day")).min() {
            let before: Vec<&str> = rest[..at].split_whitespace().rev().take(3).collect();
            let is_number = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit());
            assert!(before.iter().filter(|w| is_number(w)).count() <= 1, "{before:?}");
            rest = &rest[at + 3..];
        }
    }
}

#[test]
fn a_dose_that_changes_within_the_days_says_so_by_date() {
    let text = "start: 2026-11-30\nweeks: 6\nreview: 2026-12-28\nstraight leg raise, left: 3 x 8, 3/week\n  from week 3: 3 x 12\n\
         some pull of ours: 2 x 10, daily\n  from week 2: another pull of ours, 2 x 15\n\
         marching at the sink: 2 min, + 30 s every 7 days\nbridge: 3 x 10, daily, until 2026-12-05\n\
         some strolling: 8 min, 4/day, + 2 min every 7 days\n";
    for print in [Print::Normal, Print::Large] {
        let page = html(&course(text), &Sheet { print, ..Sheet::default() });
        let said = words(&page).split_whitespace().collect::<Vec<_>>().join(" ");
        for must in [
            "From Mon 14 Dec: 3 sets of 12.",
            "From Mon 7 Dec. ",
            "2 Another pull of ours",
            "Last day: Sun 6 Dec.",
            "Last day: Sat 5 Dec.",
            "From Mon 21 Dec: 210 seconds.",
        ] {
            assert!(said.contains(must.trim()), "“{must}” in {said}");
        }
        // Beside the days too.
        assert!(
            said.contains("Some strolling : 8 minutes. Do it 4 times a day. From Mon 7 Dec: 10 minutes."),
            "{said}"
        );
        // Nothing of it in the clinician's shorthand.
        assert!(!said.contains("3 x 12") && !said.contains("2 x 15"), "{said}");
    }
}

#[test]
fn each_box_says_its_session_its_exercises_and_its_day() {
    let text =
        "start: 2026-11-30\nreview: 2026-12-14\nheel slide, left: 2 x 10, 2/day\nbridge: 3 x 10, 3/week\n";
    let near = page(text);
    let far = page(&text.replace("2026-12-14", "2027-01-24"));
    let large = html(&course(text), &Sheet { print: Print::Large, ..Sheet::default() });
    for (page, boxes) in [(&near, 15 + 15 + 7), (&far, 2 * 56), (&large, 2 * 15)] {
        let all: Vec<&str> = page.split("class=\"box\"").skip(1).collect();
        assert_eq!(all.len(), boxes);
        // Its date stands in it.
        assert!(all.iter().all(|one| {
            let said =
                one.split_once('>').and_then(|(_, rest)| rest.split_once('<')).map_or("", |(said, _)| said);
            (1..=2).contains(&said.len()) && said.chars().all(|c| c.is_ascii_digit())
        }));
    }
    for row in near.split("class=\"part\" scope=\"row\">").skip(1) {
        assert!(
            ["Morning<", "Midday<", "Evening<"].iter().any(|part| row.starts_with(part)),
            "{}",
            &row[..9]
        );
    }
    for page in [&far, &large] {
        for row in page.split("class=\"session\"").skip(1) {
            let said = words(&format!("<body><{}", row.split("</th>").next().unwrap_or("")));
            let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(
                ["Morning: ", "Midday: ", "Evening: "].iter().any(|part| said.starts_with(part)),
                "{said}"
            );
            assert!(said.contains("1 Heel slide") || said.contains("2 Bridge"), "{said}");
        }
    }
}

#[test]
fn safety_comes_before_exercises_where_not_all_has_room() {
    let many: String =
        (0..16).map(|n| format!("thing {n} of ours that has a long name to it: 3 x 10, daily\n")).collect();
    let text = format!(
        "by: R. O., 01632 960 123\nstart: 2026-11-30\nreview: 2026-12-14\navoid: kneeling\nweight: left, full\n{many}"
    );
    for (paper, print) in [
        (Paper::A4, Print::Normal),
        (Paper::Letter, Print::Normal),
        (Paper::A4, Print::Large),
        (Paper::Letter, Print::Large),
    ] {
        let page = html(&course(&text), &Sheet { paper, print, ..Sheet::default() });
        let at = |what: &str| page.find(what).unwrap_or_else(|| panic!("{what} is missing"));
        let first = at("class=\"cards\"");
        for must in
            ["Next visit", "class=\"donot\"", "01632\u{a0}960\u{a0}123", "Stop, and call us", "Get help now"]
        {
            assert!(at(must) < first, "{must} comes after the exercises");
        }
        // Days are never left out.
        assert_eq!(page.matches("class=\"box\"").count(), 15);
    }
    // Without a date for the next visit, or anyone to ring, there is a line to write it on.
    let bare = page("bridge: 3 x 10, daily\n");
    assert!(bare.contains("Next visit <b class=\"fill\">") && bare.contains("class=\"by fill\""));
}

/// What the style says of sizes and of ink: nothing of text below 9 points, no ink that a copy would lose.
#[test]
fn nothing_is_printed_small_or_pale() {
    let sizes =
        STYLE.split("font-size:").skip(1).map(|rest| rest.split([';', '}']).next().unwrap_or("").trim());
    let fonts = STYLE.split("font: ").skip(1).map(|rest| rest.split('/').next().unwrap_or(""));
    let named =
        STYLE.split("--small:").chain(STYLE.split("--size:")).filter_map(|r| r.split([';', '}']).next());
    let mut seen = 0;
    for size in sizes.chain(fonts).chain(named.map(str::trim)) {
        if let Some(points) = size.strip_suffix("pt").and_then(|n| n.trim().parse::<f64>().ok()) {
            assert!(9.0 <= points, "{size}");
            seen += 1;
        }
    }
    assert!(10 < seen, "{seen} sizes");
    // A copy of a copy makes grey paler by about a third of its way to white (common practice, no source); what is then
    // 4.5 : 1 (WCAG 2.2, 1.4.3) is at most this dark before.
    let most = 0.6;
    let of = |name: &str| {
        let hex =
            STYLE.split(&format!("--{name}: #")).nth(1).expect("a colour").get(..6).expect("six digits");
        let part =
            |at: usize| f64::from(u8::from_str_radix(&hex[at..at + 2], 16).expect("two digits")) / 255.0;
        0.299 * part(0) + 0.587 * part(2) + 0.114 * part(4)
    };
    for (name, most) in [("ink", 0.3), ("soft", 0.3), ("accent", 0.35), ("rule", most)] {
        assert!(of(name) <= most, "{name}: {}", of(name));
    }
}
