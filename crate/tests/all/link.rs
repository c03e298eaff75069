//! Links from outside: the week as plain data, what is handed over and what is not, and that nothing breaks.

use layfigure::catalog::Catalog;
use layfigure::handout::plan::Course;
use layfigure::handout::{self, Sheet};
use layfigure::link::fault::Kind;
use layfigure::link::share::{Named, Wanted, share};
use layfigure::link::{Shared, pack, written};
use layfigure::measure::Date;
use layfigure::prescription::words::Key;
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, Programme, assemble};
use layfigure::week::model::Limit;
use layfigure::week::{self, pattern};
use proptest::prelude::*;
use std::sync::{Arc, OnceLock};

fn programme(text: &str, week: Option<u32>) -> Programme {
    let (prescription, _) = layfigure::prescription::read(text);
    let ask = Ask { week, ..Ask::today(Date::new(2026, 12, 1)) };
    assemble::at(&prescription, Catalog::embedded(), &ask, &mut Cache::default())
}

/// Texts with what a week can have: alternate days, too little time, something ended, all-day items, no slot.
const WEEKS: [&str; 5] = [
    include_str!("../../../www/demo.txt"),
    "start: 2026-11-30\nbridge: 3 x 10, alternate days\nheel slide, right: 2 x 10, 2/day\n",
    "time: Mon-Fri morning 3 min\ntime: no Sun\nbridge: 3 x 12, daily, rest 60 s\nheel slide, both: 3 x 10, 3/day\n",
    "start: 2026-11-30\nbridge: 3 x 10, daily, until week 1\nheel slide, left: 10 reps, hourly\ncold pack, left knee: 10 min, as needed, at most 4/day\n",
    "bridge: 3 x 10, 3/day, morning\nplank of ours: 3 x 30 s, 3/week\n",
];

#[test]
fn a_pattern_shows_the_week_that_was_solved() {
    let mut sittings = 0;
    for text in WEEKS {
        for number in 1..=3 {
            let programme = programme(text, Some(number));
            let laid = week::lay(&programme, Limit::USUAL).expect("a small week");
            let pattern = laid.pattern();
            assert_eq!(pattern.shown(&programme), laid.shown(), "week {number} of:\n{text}");
            assert_eq!(pattern::all_day(&programme), laid.all_day);
            sittings += pattern.sittings.len();
        }
    }
    assert!(50 < sittings);
}

#[test]
fn what_has_ended_takes_no_minutes() {
    let text = WEEKS[3];
    let active = |week| {
        let programme = programme(text, Some(week));
        week::lay(&programme, Limit::USUAL).expect("a small week").pattern().sittings.len()
    };
    assert_eq!((active(1), active(2)), (7, 0));
}

// ---- what is handed over ----

fn wanted(named: Named) -> Wanted<'static> {
    Wanted { named, emergency: None, today: Date::new(2026, 12, 1), limit: Limit { nodes: 20_000 } }
}

fn shared(text: &str, named: Named) -> Shared {
    let (prescription, _) = layfigure::prescription::read(text);
    let shared = share(&prescription, Catalog::embedded(), &wanted(named), &mut Cache::default());
    shared.unwrap_or_else(|sentence| panic!("{sentence}\n{text}"))
}

/// Prescriptions with all that a sheet can show.
const SHEETS: [&str; 6] = [
    include_str!("../../../www/demo.txt"),
    "# Right knee, four weeks after meniscus repair\nby: R. O., physiotherapist, 01632 960 123\npatient: T. B., 58\n\
     emergency: 999\nemergency: 112 from abroad\nout of hours: 111\nstart: 2026-11-30\nweeks: 6\naim: go upstairs step over step\nscreened: 2026-11-25, all clear\n\
     surgery: 2026-11-02, right meniscus repair\nlimit: right knee flexion 0-90 until 6 weeks after surgery\n\
     weight: right, as tolerated in brace\navoid: kneeling, impact\ncaution: raised blood pressure\nreview: 2026-12-14\n\
     kit: chair, loop band, towel\ntime: Mon-Fri morning 15 min, evening 20 min\nirritability: moderate\n\
     finding: extension lag 5\n// ring her surgeon\nusual pain: 2-3 of 10, worse at night\n## Loosen\n\
     heel slide, right: 2 x 10, hold 5 s, 2/day\n## Strengthen\nstraight leg raise, right: 3 x 8, 3/week, rest 60 s\n\
     \u{20} cue: Lock the knee before you lift.\n  taught: needed two prompts\n  from week 3: 3 x 12\n\
     \u{20} when easy: straight leg raise with ankle weight 1 kg, 3 x 8\n  anyway: she insists\n\
     bridge: 3 x 10, hold 3 s, 3/week\n  if not felt: Bring your heels closer.\ncalf stretch, both: 3 x 30 s, daily\n\
     ## Support\ncold pack, right knee: 10 min, after evening\n",
    "by: Okoro & Lind, 01632 960 222\npatient: Ruth Amir Okonkwo\nstart: 2026-11-30\nreview: 2026-12-20\n\
     limit: knees flexion 0-100 until week 2\nlimit: right hip flexion at most 90 until week 4, mind the twisting\n\
     limt: left knee 0-60\nweight: left, 20 kg until 2026-12-10\nbad day: Breathe. Do the bridge.\nbad day: Walk to the gate.\n\
     flare: Halve it for three days.\ncaution: pregnant, 24 weeks\nbody: 158 cm, 71 kg\n\n## 3 rounds\n\
     bridge: 8-10 reps, until week 2\nsit to stand: 10 reps\n## Afterwards\nheel slide, left: 2 x 10, alternate days\n\
     ball squeeze of ours: 5 x 10 s, daily, pain at most 4\n  stop if: your hand tingles\n",
    "start: 2026-11-30\nsurgery: 2026-10-30, left hip replacement\nbridge: 3 x 10, 3/week, until 8 weeks after surgery\n\
     long bridge: 2 x 8, daily\nmarching at the sink: 2 min, + 30 s every 3 days\n\
     exercise: Long bridge\n  like: bridge\n  // taught in the gym\n  source: my own notes\n  do: Walk your feet away.\n\
     exercise: Never named\n  like: bridge\n  do: Nothing of it.\n",
    "patient: דנה כהן, 44\nby: 臨床\nheel slide R 2x10 BD\nbridge 3x10 5/7\ncue: Ganz langsam.\n",
    "caution: osteoporosis of the spine, falls\ninjury: 2026-11-01, wrist\nweight: right arm, partial until 5 weeks after injury\n\
     ask: pain in the evening\nbridge\nheel slide, each side 1 x 12, effort 6 of 10, band \"red\", evening\n",
];

#[test]
fn a_link_gives_the_same_sheet() {
    let mut sheets = 0;
    for text in SHEETS {
        let shared = shared(text, Named::Written);
        for week in [1, 2, 3, 5] {
            let ask = Ask { week: Some(week), ..Ask::today(Date::new(2026, 12, 1)) };
            let (prescription, _) = layfigure::prescription::read(text);
            let limit = wanted(Named::Written).limit;
            let mut cache = Cache::default();
            let original = Course::of(&prescription, Catalog::embedded(), &ask, limit, &mut cache);
            let mut at = |week| {
                let ask = Ask { week: Some(week), ..ask };
                Arc::new(shared.programme(Catalog::embedded(), &ask, &mut cache))
            };
            let reopened = at(week);
            let later = Course::weeks_behind(&reopened).map(at).collect();
            let again = Course::new(reopened, later, shared.course.clone());
            let sheet = Sheet::default();
            let again = handout::html(&again, &sheet);
            let first = handout::html(&original.expect("a small week"), &sheet);
            assert!(first == again, "week {week}:\n{}\n{}", shared.text, first_difference(&first, &again));
            sheets += 1;
        }
        assert_eq!(shared.version, programme(text, None).version);
    }
    assert_eq!(sheets, 4 * SHEETS.len());
}

fn first_difference(a: &str, b: &str) -> String {
    let at = a.bytes().zip(b.bytes()).take_while(|(x, y)| x == y).count();
    let around = |s: &str| {
        String::from_utf8_lossy(&s.as_bytes()[at.saturating_sub(80)..(at + 80).min(s.len())]).into_owned()
    };
    format!("{}\n{}", around(a), around(b))
}

/// The phone gives the number that stands on the sheet, and none where none stands there.
#[test]
fn whom_to_call_is_the_same_on_sheet_and_phone() {
    let typed = "by: R. O., 01632 960 123\nemergency: 999\nout of hours: 111\nbridge: 3 x 10, daily\n";
    let bare = "by: R. O., 01632 960 123\nbridge: 3 x 10, daily\n";
    for (text, setting, wanted) in [
        (typed, None, Some("999")),
        (typed, Some("112"), Some("999")),
        (bare, Some(" 112 "), Some("112")),
        (bare, Some(" "), None),
        (bare, None, None),
    ] {
        let (prescription, _) = layfigure::prescription::read(text);
        let wish = Wanted { emergency: setting, ..self::wanted(Named::Written) };
        let shared = share(&prescription, Catalog::embedded(), &wish, &mut Cache::default()).expect("a link");
        let reopened =
            shared.programme(Catalog::embedded(), &Ask::today(Date::new(2026, 12, 1)), &mut Cache::default());
        assert_eq!(reopened.who.emergency.as_deref(), wanted, "{}", shared.text);
        assert_eq!(reopened.who.out_of_hours.as_deref(), (text == typed).then_some("111"));
        let original = programme(text, None);
        assert_eq!(shared.version, original.version, "the sheet bears the same version");
        let number = setting.map(|s| s.trim().to_string()).filter(|s| !s.is_empty());
        let first = Sheet { emergency: number, ..Sheet::default() };
        let first = handout::html(&Course::without_days(original), &first);
        let again = handout::html(&Course::without_days(reopened), &Sheet::default());
        let emergency = |html: &str| {
            let behind = html.split_once("class=\"emergency\"").expect("the line").1;
            behind.split("</p>").next().expect("its end").to_string()
        };
        assert_eq!(emergency(&first), emergency(&again));
        assert!(emergency(&first).contains(wanted.unwrap_or("your local emergency number")));
    }
}

/// Every reserved key, and whether what stands behind it reaches the patient.
fn is_handed_over(key: Key) -> bool {
    match key {
        Key::By
        | Key::Patient
        | Key::Start
        | Key::Weeks
        | Key::Review
        | Key::Aim
        | Key::Limit
        | Key::Range
        | Key::Emergency
        | Key::OutOfHours
        | Key::DoNot
        | Key::May
        | Key::Rule
        | Key::Advice
        | Key::Net => true,
        Key::Weight
        | Key::Avoid
        | Key::Ask
        | Key::UsualPain
        | Key::OkayPain
        | Key::BadDay
        | Key::Flare
        | Key::Exercise => true,
        Key::Surgery
        | Key::Injury
        | Key::Due
        | Key::Cannot
        | Key::Caution
        | Key::Body
        | Key::Kit
        | Key::Time => false,
        Key::Irritability | Key::Finding | Key::Measure | Key::Screened | Key::Taught | Key::Discharge => {
            false
        }
    }
}

#[test]
fn nothing_private_is_handed_over() {
    let mut text = String::from(
        "# Tellsecret title\n// tellsecret remark\npatient: Ann Bell, 58, tellsecret\nstart: 2026-11-30\n\
         usual pain: 3 of 10, tellsecret at night\n## Tellsecret heading\nbridge: 3 x 10\n  taught: tellsecret\n\
         \u{20} anyway: tellsecret\n  // tellsecret\n  cue: This is told.\n## 3 rounds, tellsecret\n\
         long bridge: 2 x 8\nbut this line of tellsecret prose has no meaning whatever to anyone at all\n\
         exercise: Long bridge\n  like: bridge\n  // tellsecret\n  source: tellsecret\n  caution: tellsecret\n\
         exercise: Tellsecret bridge\n  like: bridge\n",
    );
    for key in Key::ALL.iter().filter(|key| !is_handed_over(**key)) {
        let value = match key {
            Key::Surgery | Key::Injury | Key::Screened => "2026-11-02, tellsecret",
            Key::Due => "2027-02-03",
            Key::Body => "tellsecret, 77 kg",
            Key::Time => "Mon 37 min",
            _ => "tellsecret of acl repair and pregnancy",
        };
        text.push_str(&format!("{}: {value}\n", key.word()));
    }
    let (understood, _) = layfigure::prescription::read(&text);
    assert!(understood.unread.iter().all(|u| !u.safety), "the whole is understood: {:?}", understood.unread);
    let handed = shared(&text, Named::Written).text;
    let lower = handed.to_lowercase();
    for word in ["tellsecret", "58", "77", "37", "acl", "2026-11-02", "2027-02-03"] {
        assert!(!lower.contains(word), "{word} in:\n{handed}");
    }
    for word in
        ["patient: Ann Bell\n", "cue: This is told.", "## 3 rounds\n", "safety net: operation, pregnancy"]
    {
        assert!(handed.contains(word), "{word} not in:\n{handed}");
    }
    let initials = shared(&text, Named::Initials).text;
    assert!(initials.contains("patient: A. B.\n") && !initials.contains("Ann"), "{initials}");
    let nobody = shared(&text, Named::Not).text;
    assert!(!nobody.contains("patient") && !nobody.contains("Ann"), "{nobody}");
}

// ---- packed ----

fn links() -> &'static [(Shared, Vec<u8>)] {
    static LINKS: OnceLock<Vec<(Shared, Vec<u8>)>> = OnceLock::new();
    LINKS.get_or_init(|| {
        let texts = SHEETS.iter().take(3).chain(&WEEKS[1..2]);
        texts
            .map(|text| {
                let shared = shared(text, Named::Written);
                let packed = pack::pack(&shared, Catalog::embedded()).expect("a small prescription");
                (shared, packed)
            })
            .collect()
    })
}

#[test]
fn a_link_opens_as_what_was_packed() {
    for (shared, packed) in links() {
        for fragment in [written::letters(packed), written::digits(packed)] {
            let opened = written::open(&fragment, Catalog::embedded()).expect("a good link");
            assert_eq!(opened, *shared);
            assert_eq!(pack::pack(&opened, Catalog::embedded()).as_ref(), Ok(packed));
            let address = format!("https://home.example/plan.html#{fragment}");
            assert_eq!(written::open(&address, Catalog::embedded()), Ok(opened));
        }
    }
}

#[test]
fn every_flipped_bit_is_refused() {
    let mut flips = 0;
    for (_, packed) in &links()[..3] {
        let fragment = written::letters(packed);
        for at in 0..8 * fragment.len() {
            let mut bytes = fragment.clone().into_bytes();
            bytes[at / 8] ^= 1 << (at % 8);
            // Half of them are no text any more, which no address can hold.
            let Ok(bad) = String::from_utf8(bytes) else { continue };
            assert!(written::open(&bad, Catalog::embedded()).is_err(), "bit {at} of {fragment}");
            flips += 1;
        }
        for at in 0..8 * packed.len() {
            let mut bad = packed.clone();
            bad[at / 8] ^= 1 << (at % 8);
            assert!(pack::unpack(&bad, Catalog::embedded()).is_err(), "bit {at}");
            flips += 1;
        }
    }
    assert!(5000 < flips, "{flips}");
}

#[test]
fn a_lost_end_is_told_as_such() {
    let told = |fragment: &str| written::open(fragment, Catalog::embedded()).map_err(|fault| fault.kind);
    for (_, packed) in links() {
        for fragment in [written::letters(packed), written::digits(packed)] {
            for end in 1..fragment.len() {
                let kind = told(&fragment[..end]).expect_err("a part is no link");
                let wanted = if end == 1 { Kind::Empty } else { Kind::Truncated };
                // A QR code's digits are seven bytes at a time; a cut within them may look like damage.
                let digits = fragment.starts_with('N') && kind == Kind::Damaged;
                assert!(kind == wanted || digits, "{end} of {fragment}: {kind:?}");
            }
            assert_eq!(
                told(&format!("{fragment}A")).err().map(|k| k == Kind::Truncated || k == Kind::Damaged),
                Some(true)
            );
        }
    }
    assert_eq!(told(""), Err(Kind::Empty));
    assert_eq!(told("https://home.example/#"), Err(Kind::Empty));
    assert_eq!(told("Q123"), Err(Kind::Newer));
    assert_eq!(told("?123"), Err(Kind::Damaged));
    assert_eq!(told(&"L".repeat(200_000)), Err(Kind::TooLong));
    assert_eq!(told(&format!("L{}", "A".repeat(80_000))), Err(Kind::TooLong));
}

/// What stands before and behind a link once a mail program, a chat or a hand has passed it on.
const ROUND: [(&str, &str); 16] = [
    ("", "."),
    ("", ",\r\n"),
    ("<", ">"),
    ("<", ">."),
    ("(", ")"),
    ("[", "]!"),
    ("\u{201c}", "\u{201d}"),
    ("'", "';"),
    ("", "%3E"),
    ("%3C", "%3E%2E"),
    ("", "%E2%80%9D"),
    ("", "=\r\n"),
    ("_", "_"),
    ("**", "**"),
    ("Your plan:\n", "\n\nBest wishes, R. O. Room #4"),
    ("> ", " \u{2013} see you on Monday"),
];

#[test]
fn what_was_put_round_a_link_is_shed() {
    let catalog = Catalog::embedded();
    for (shared, packed) in links() {
        for fragment in [written::letters(packed), written::digits(packed)] {
            for (before, behind) in ROUND {
                for address in ["", "#", "https://home.example/plan.html#", "home.example%23"] {
                    // Words before a link are told from it by its address.
                    if address.is_empty() && before.contains(char::is_alphabetic) && !before.starts_with('%')
                    {
                        continue;
                    }
                    let typed = format!("{before}{address}{fragment}{behind}");
                    let opened = written::opened(&typed, catalog).unwrap_or_else(|f| panic!("{f}\n{typed}"));
                    assert_eq!((&opened.shared, &opened.fragment), (shared, &fragment), "{typed}");
                }
            }
        }
    }
}

#[test]
fn what_was_put_into_a_link_is_shed() {
    let catalog = Catalog::embedded();
    for (shared, packed) in links() {
        for fragment in [written::letters(packed), written::digits(packed)] {
            for seam in [
                "\n",
                "\r\n",
                "=\r\n",
                " ",
                "\n> ",
                "\n>> | ",
                "\u{200b}",
                "%E2%80%8B",
                "\u{ad}",
                "%0D%0A",
                "=",
            ] {
                for wide in [1, 30, 76, fragment.len() - 1] {
                    let lines: Vec<String> = fragment
                        .as_bytes()
                        .chunks(wide)
                        .map(|l| String::from_utf8_lossy(l).into_owned())
                        .collect();
                    let typed = format!("https://home.example/plan.html#{}.", lines.join(seam));
                    assert_eq!(written::open(&typed, catalog).as_ref(), Ok(shared), "{typed}");
                }
            }
        }
    }
}

/// Whatever is put round it, a link that lost, changed or got a letter says what is wrong with it.
#[test]
fn a_damaged_link_stays_refused_in_brackets() {
    let catalog = Catalog::embedded();
    let told = |typed: &str| written::open(typed, catalog).map_err(|fault| fault.kind);
    for (_, packed) in &links()[..2] {
        let fragment = written::letters(packed);
        for at in 1..fragment.len() {
            let (head, rest) = fragment.split_at(at);
            assert!(told(&format!("<h#{head}>.")).is_err());
            let other = if rest.starts_with('A') { 'B' } else { 'A' };
            for bad in [
                format!("<h#{head}{other}{}>.", &rest[1..]),
                format!("<h#{head}{}>.", &rest[1..]),
                format!("<h#{head}{other}{rest}>."),
                // Foreign signs within are not left out: whatever stood there is lost.
                format!("<h#{head}.{}>", &rest[1..]),
                format!("<h#{head}.{rest}>"),
            ] {
                let kind = told(&bad).expect_err("damaged");
                assert!(
                    matches!(
                        kind,
                        Kind::Damaged | Kind::Truncated | Kind::NotCanonical | Kind::TooLong | Kind::Empty
                    ),
                    "{kind:?} {bad}"
                );
            }
        }
        assert_eq!(told(&format!("<h#{}>.", &fragment[..fragment.len() - 6])), Err(Kind::Truncated));
        assert_eq!(told(&format!("h#{fragment}==")), Err(Kind::Damaged), "base64 with its own padding");
    }
    assert_eq!(told("\u{201c}Q123\u{201d}"), Err(Kind::Damaged));
    assert_eq!(told("(h#SAAAA)."), Err(Kind::Sealed));
}

/// Nobody can write a link that takes long to refuse.
#[test]
fn many_readings_are_soon_told() {
    let lines = format!("h#L{}", "AAAAAAA- ".repeat(14_000));
    let start = std::time::Instant::now();
    assert!(written::open(&lines, Catalog::embedded()).is_err());
    let took = start.elapsed();
    assert!(took < std::time::Duration::from_secs(2), "{took:?}");
}

#[test]
fn a_text_beyond_the_cap_is_not_packed() {
    let (shared, _) = &links()[0];
    let text = format!("{}{}", shared.text, "aim: walk\n".repeat(4000));
    let sentence = pack::pack(&Shared { text, ..shared.clone() }, Catalog::embedded()).expect_err("too long");
    assert!(sentence.contains("too long"), "{sentence}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn no_fragment_breaks_anything(fragment in "[LNSQ]?[A-Za-z0-9_-]{0,300}", any in any::<String>()) {
        prop_assert!(written::open(&fragment, Catalog::embedded()).is_err());
        prop_assert!(written::open(&any, Catalog::embedded()).is_err());
    }

    #[test]
    fn no_bytes_break_anything(bytes in proptest::collection::vec(any::<u8>(), 0..300), which in 0_usize..4, at in 0_usize..200, byte: u8) {
        prop_assert!(pack::unpack(&bytes, Catalog::embedded()).is_err());
        // Behind a good checksum, length and head too.
        let (_, packed) = &links()[which];
        let mut edited = packed.clone();
        let at = at % edited.len();
        edited.splice(at.., bytes);
        edited.truncate(60_000);
        prop_assert!(edited == *packed || pack::unpack(&edited, Catalog::embedded()).is_err());
        let mut edited = packed.clone();
        edited[at] = byte;
        prop_assert!(edited == *packed || pack::unpack(&edited, Catalog::embedded()).is_err());
    }

    /// Any text at all can be handed over in its packed form, if it is no longer than the cap.
    #[test]
    fn any_text_comes_back(text in "(bridge|heel slide, right|cue: |\\PC{0,8}|\n|  |[\u{1}\u{2}]|: 3 x 10){0,60}", print: u16, issued in 0_i32..60_000) {
        let (_, course) = &(0, links()[0].0.course.clone());
        let issued = Date::new(2000, 1, 1).map(|d| d.plus_days(issued));
        let names = layfigure::link::share::names(&text, Catalog::embedded());
        let prints = names.into_iter().map(|n| (n, print)).collect();
        let shared = Shared { text, issued, version: "7K2M".into(), course: course.clone(), prints };
        let packed = pack::pack(&shared, Catalog::embedded());
        prop_assert_eq!(pack::unpack(&packed.expect("it can be packed"), Catalog::embedded()), Ok(shared));
    }
}

// ---- vectors ----

/// Where what a vector came out as begins, below what goes in.
fn output_of(file: &str) -> usize {
    let heads = ["=== made\n", "=== opens as\n", "=== says\n"];
    heads.iter().filter_map(|head| file.find(head)).min().unwrap_or(file.len())
}

/// Every link that was ever made opens for ever: no vector goes, and none changes. A new one has its input alone;
/// `FILL=1 cargo test -p layfigure --test all link::` writes the rest, to be looked at.
#[test]
fn every_vector_comes_out_as_it_says() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let folder = root.join("tests/vectors/link");
    let entries = std::fs::read_dir(&folder).expect("tests/vectors/link");
    let mut found: Vec<String> =
        entries.map(|e| e.expect("a file").file_name().to_string_lossy().into_owned()).collect();
    found.sort();
    let index = std::fs::read_to_string(root.join("tests/links.txt")).expect("tests/links.txt");
    let listed: Vec<&str> = index.lines().filter(|l| !l.starts_with('#')).collect();
    assert_eq!(
        listed, found,
        "tests/links.txt lists every vector of tests/vectors/link, and none is ever taken out"
    );
    for name in &found {
        let path = folder.join(name);
        let file = std::fs::read_to_string(&path).expect("text");
        let (input, expected) = file.split_at(output_of(&file));
        let output = layfigure::door::vector::output(&format!("link/{name}"), input);
        if expected.is_empty() && std::env::var("FILL").is_ok() {
            std::fs::write(&path, format!("{input}{output}")).expect("it can be written");
            continue;
        }
        assert_eq!(
            expected, output,
            "{name}; an old link is never changed: see DEVELOPERS.md, Adding a link's vector"
        );
        assert!(!output.contains("OTHERWISE"), "{name} is packed otherwise now");
    }
}

/// Sixty exercises are read, and 600 lines: what stands behind them is on no paper and in no link, and both say so.
#[test]
fn what_is_too_much_to_be_read_is_named_and_makes_no_link() {
    let exercises = |count: usize| -> String {
        (1..=count).map(|n| format!("thing {n} of ours, left: 3 x 10, daily\n  cue: Slowly.\n")).collect()
    };
    let sheet = |text: &str| {
        let course = Course::without_days(programme(text, None));
        handout::body(&course, &Sheet::default(), &mut |_, _, _| Vec::new()).into_string()
    };
    let refused = |text: &str| {
        let (prescription, _) = layfigure::prescription::read(text);
        let shared =
            share(&prescription, Catalog::embedded(), &wanted(Named::Written), &mut Cache::default());
        shared.err()
    };
    let sixty = exercises(60);
    assert!(!sheet(&sixty).contains("Not on this sheet"));
    assert_eq!(refused(&sixty), None);
    let more = exercises(62);
    assert!(
        sheet(&more).contains("Not on this sheet: 2 more: thing 61 of ours, left; thing 62 of ours, left.")
    );
    let sentence = refused(&more).expect("no link");
    assert!(sentence.contains("thing 62 of ours") && sentence.contains("second prescription"), "{sentence}");
    let long = format!("thing of ours: 3 x 10\n{}plank of ours: 3 x 10\n", "// remark\n".repeat(600));
    assert!(sheet(&long).contains("Not on this sheet: 2 more lines."));
    assert!(refused(&long).is_some_and(|sentence| sentence.contains("2 more lines")));
}

/// What a worker does is what the desk would have done.
#[test]
fn a_link_made_aside_is_the_same() {
    let today = Date::new(2026, 12, 1);
    for text in SHEETS {
        let (prescription, _) = layfigure::prescription::read(text);
        let wanted = Wanted { named: Named::Initials, emergency: None, today, limit: Limit::USUAL };
        let shared = share(&prescription, Catalog::embedded(), &wanted, &mut Cache::default());
        let packed = pack::pack(&shared.expect("shared"), Catalog::embedded()).expect("packed");
        let answer = layfigure::link::work::work(&layfigure::link::work::link(text, &wanted));
        assert_eq!(layfigure::link::work::answered(&answer), Ok(written::letters(&packed).as_str()));
    }
    let wanted = Wanted { named: Named::Not, emergency: None, today, limit: Limit::USUAL };
    for nothing in ["", "\n\n", "# Knee\n// seal\n"] {
        let answer = layfigure::link::work::work(&layfigure::link::work::link(nothing, &wanted));
        let sentence = layfigure::link::work::answered(&answer).expect_err("no exercise");
        assert!(sentence.contains("no exercise"), "{sentence}");
    }
}
