//! When to stop and when to get help, by the topics of the programme's [`crate::programme::help::Help`]. Plain words at a
//! low reading grade, that name no illness; the clinician may put other lines in their place. They defer to local advice.

use crate::diary::Urgency;
use crate::prescription::net::Topic;
use crate::programme::Programme;

/// When to stop and ring, for everyone; what is too much pain comes before.
pub const STOP: [&str; 4] = [
    "A new, sharp pain.",
    "Pain, numbness or tingling that spreads down an arm or leg.",
    "A joint that swells, locks or gives way.",
    "You feel faint, sick or dizzy.",
];

/// When to get help at once, whoever it is.
const GENERAL: [&str; 2] =
    ["You have chest pain or cannot get your breath.", "An arm or leg suddenly goes weak or numb."];

/// The lines of a topic, each with how soon.
fn lines(topic: Topic) -> &'static [(Urgency, &'static str)] {
    use Urgency::{Call, Help, SameDay};
    match topic {
        Topic::Pregnancy => &[
            (Help, "You bleed, or fluid leaks."),
            (Help, "You have tight pains that keep coming back."),
            (Help, "Your baby moves less than usual."),
            (Help, "Your head hurts badly, or your sight is blurred."),
            (Help, "Your face or hands swell up, or it hurts high in your belly."),
            (Call, "You feel faint on your back: roll to your side."),
        ],
        Topic::Birth => &[
            (Help, "You bleed more than before."),
            (Help, "Your head hurts badly."),
            (Help, "You feel hot and shaky."),
        ],
        Topic::Back => &[
            (Help, "You go numb between your legs or round your bottom, or sex feels different."),
            (Help, "You cannot pee or feel it, or you leak pee or poo."),
            (Help, "Both your legs feel weak or numb, or hurt in a new way."),
        ],
        Topic::Neck => &[
            (Help, "You see double, lose your sight or slur your words."),
            (Help, "You find it hard to swallow, or are suddenly unsteady on your feet."),
        ],
        Topic::Headache => &[
            (Help, "You get a sudden, bad head or neck pain, not like any before."),
            (Help, "Your face or eyelid droops."),
        ],
        Topic::Face => {
            &[(Help, "Your face drops on one side, one arm goes weak, or your words come out mixed up.")]
        }
        Topic::Heart => {
            &[(Help, "Your chest feels tight, or you feel sick or faint, and rest does not help.")]
        }
        Topic::Lungs => &[(Help, "You are suddenly short of breath, or you cough up blood.")],
        Topic::Sight => &[
            (Help, "Your sight goes dim or double."),
            (SameDay, "You have a new headache and a sore scalp, or your jaw hurts when you chew."),
        ],
        Topic::TightLimb => &[
            (Help, "The limb feels very tight, and the pain keeps growing."),
            (Help, "The limb turns cold, pale or numb."),
        ],
        Topic::Broken => &[(Help, "You fall or feel a crack, and then cannot use the limb.")],
        Topic::Bleeding => &[(Help, "You hit your head, or a bleed does not stop.")],
        Topic::Helpline => &[(Help, "You feel hot or shivery: ring the help line that your team gave you.")],
        Topic::WeakLeg => &[(SameDay, "One foot drops, or one leg gets weaker.")],
        Topic::Cord => &[
            (SameDay, "Your hands get clumsy, your legs get stiff, or you trip more."),
            (SameDay, "Your back hurts like a tight band, or stays bad all night."),
        ],
        Topic::NewBackPain => &[(SameDay, "You get a sudden new pain in your back.")],
        Topic::Calf => &[(SameDay, "Your calf is swollen, hot or sore.")],
        Topic::Wound => &[(SameDay, "Your wound is red, hot, wet or smells.")],
        Topic::Fever => &[(SameDay, "You have a fever or feel very unwell.")],
        Topic::HotJoint => &[(SameDay, "A joint is hot, red, swollen and too sore to move.")],
        Topic::Hip => &[(SameDay, "Your hip or groin hurts too much to stand on the leg.")],
        Topic::HeelSnap => &[(SameDay, "You feel a snap at the back of your heel or calf.")],
        Topic::Feet => {
            &[(SameDay, "Your foot has a new sore, or is hot and red. Look at your feet each day.")]
        }
        Topic::SwollenLimb => &[(SameDay, "Your arm or leg gets hot, red or more swollen.")],
        Topic::Child => {
            &[(SameDay, "Your child limps and feels hot, looks ill, or cannot stand on the leg.")]
        }
        Topic::Tendon => &[(Call, "A tendon gets sore or swells.")],
        Topic::Sugar => &[(Call, "You feel shaky or sweaty: eat something sweet.")],
        Topic::Wheeze => &[(Call, "You wheeze or cannot talk: use your inhaler.")],
        Topic::Exertion => &[(Call, "You feel worse for days: do less, and do not push on.")],
    }
}

/// The lines of one urgency, each once, in the order of the topics.
fn of(programme: &Programme, urgency: Urgency) -> Vec<&'static str> {
    let mut out: Vec<&'static str> = if urgency == Urgency::Help { GENERAL.to_vec() } else { Vec::new() };
    for (how, line) in programme.help.topics.iter().flat_map(|t| lines(*t)) {
        if *how == urgency && !out.contains(line) {
            out.push(line);
        }
    }
    out
}

/// When to get help at once.
pub fn now(programme: &Programme) -> Vec<&'static str> {
    of(programme, Urgency::Help)
}

/// When to get help the same day.
pub fn same_day(programme: &Programme) -> Vec<&'static str> {
    of(programme, Urgency::SameDay)
}

/// When else to stop and ring, besides [`STOP`].
pub fn stop(programme: &Programme) -> Vec<&'static str> {
    of(programme, Urgency::Call)
}

/// When to get help: first what can't wait, then what can't wait until tomorrow.
pub fn net(programme: &Programme) -> Vec<&'static str> {
    let mut lines = now(programme);
    lines.extend(same_day(programme));
    lines
}

/// One thing that may go wrong, and how urgent it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sign {
    pub line: &'static str,
    pub urgency: Urgency,
}

/// All that stands on the sheet under "Stop, and call us", "Get help the same day" and "Get help now".
pub fn signs(programme: &Programme) -> Vec<Sign> {
    let sign = |urgency| move |line| Sign { line, urgency };
    let call = STOP.into_iter().chain(stop(programme)).map(sign(Urgency::Call));
    let same_day = same_day(programme).into_iter().map(sign(Urgency::SameDay));
    call.chain(same_day).chain(now(programme).into_iter().map(sign(Urgency::Help))).collect()
}

/// What is done of an exercise that hurt more than is okay.
pub const LEAVE: &str = "Stop that exercise for today.";
/// What is done after pain that has not settled by the next morning.
pub const HALF: &str = "Do half next time.";
/// What is done when it has not settled twice running.
pub const TWICE: &str = "Call us when we are open.";
/// Whom to call for help at once, where the prescription gives no number: which it is, is never guessed.
pub const LOCAL: &str = "your local emergency number";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::measure::Date;
    use crate::programme::settled::Cache;
    use crate::programme::{Ask, assemble};

    fn programme(text: &str, cache: &mut Cache) -> Programme {
        let (p, _) = crate::prescription::read(text);
        assemble::at(&p, Catalog::embedded(), &Ask::today(Date::iso("2026-11-30")), cache)
    }

    /// Texts and the topics that they ask for, written before the program was asked.
    #[test]
    fn help_goes_by_the_problem_and_by_what_is_exercised() {
        let (mut pairs, mut wrong, mut cache) = (0, Vec::new(), Cache::default());
        for line in include_str!("../../../tests/words/nets.pairs").lines() {
            let Some((text, wanted)) = line.split_once(" => ") else { continue };
            let (must, never) = wanted.split_once('!').unwrap_or((wanted, ""));
            let mut text = text.replace(" / ", "\n");
            let exercises = |text: &str| !crate::prescription::read(text).0.exercises.is_empty();
            if !exercises(&text) {
                text.push_str("\nwrist lift, right: 3 x 10, daily");
            }
            let p = programme(&text, &mut cache);
            let has = |word: &str| match word {
                "ask" => p.notices.iter().any(|n| n.kind() == "problem-unknown"),
                word => p.help.topics.contains(&Topic::of(word).unwrap_or_else(|| panic!("{word}"))),
            };
            let missing = must.split_whitespace().filter(|w| !has(w));
            let odd = never.split_whitespace().filter(|w| has(w));
            let faults: Vec<String> =
                missing.map(|w| format!("no {w}")).chain(odd.map(str::to_string)).collect();
            if !faults.is_empty() {
                wrong.push(format!("{line}: {} in {:?}", faults.join(", "), p.help));
            }
            pairs += 1;
        }
        assert!(90 <= pairs, "{pairs}");
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    #[test]
    fn the_lines_are_plain_and_name_neither_number_nor_illness() {
        let mut words = Vec::new();
        for topic in Topic::ALL {
            let all = lines(*topic);
            assert!(!all.is_empty());
            words.extend(all.iter().map(|(_, line)| *line));
            let text = all.iter().map(|(_, line)| *line).collect::<Vec<_>>().join("\n");
            let grade = crate::text::reading::count(&text).grade();
            assert!(grade.is_none_or(|g| g <= 6.0), "{topic:?}: {grade:?}");
        }
        for line in words.iter().chain(&GENERAL).chain(&STOP) {
            assert!(!line.chars().any(|c| c.is_ascii_digit()), "{line}");
            for never in ["cancer", "stroke", "clot", "overweight", "infection", "cauda"] {
                assert!(!line.to_lowercase().contains(never), "{line}");
            }
        }
    }

    /// However a finding is typed, neither the sheet nor what is handed over shows it, no edit turns it into something to
    /// avoid, and the clinician is told where it stands.
    #[test]
    fn no_finding_is_printed_handed_over_or_made_something_to_avoid() {
        let catalog = Catalog::embedded();
        let mut cache = Cache::default();
        for (line, secret, told) in [
            ("finding: saddle numbness since Tuesday", "saddle", false),
            ("red flags: urinary retention", "retention", true),
            ("Red flag: saddle numbness", "saddle", true),
            ("saddle numbness since Tuesday", "saddle", true),
            ("bilateral leg weakness", "bilateral", true),
            ("no saddle anaesthesia, nil b/b", "saddle", true),
            ("wound oozing, calf tender", "oozing", true),
            ("avoid: urinary retention", "retention", false),
            ("limit: saddle numbness", "saddle", true),
            ("limt: saddle numbness", "saddle", true),
            ("do not: saddle numbness", "saddle", true),
            ("safeguarding: asked about home", "safeguarding", true),
            ("PHQ-9: 18, low mood", "mood", true),
            ("measure: PHQ-9 18", "phq", false),
        ] {
            let text = format!("# Back pain\nstart: 2026-11-30\n{line}\npelvic tilt: 2 x 10, daily");
            let (p, notices) = crate::prescription::read(&text);
            let programme = programme(&text, &mut cache);
            let course = crate::handout::plan::Course::without_days(programme.clone());
            let page = crate::handout::html(&course, &crate::handout::Sheet::default());
            assert!(!page.to_lowercase().contains(secret), "{line} is printed");
            assert!(programme.do_not.is_empty(), "{line}: {:?}", programme.do_not);
            assert_eq!(programme.exercises.len(), 1, "{line} is an exercise");
            let wanted = crate::link::share::Wanted {
                named: crate::link::share::Named::Written,
                emergency: None,
                today: Date::iso("2026-11-30"),
                limit: crate::week::model::Limit::USUAL,
            };
            let shared = crate::link::share::share(&p, catalog, &wanted, &mut cache).expect("a link");
            assert!(!shared.text.to_lowercase().contains(secret), "{line} is handed over: {}", shared.text);
            let here: Vec<_> = notices.iter().filter(|n| n.place.line == 3).collect();
            assert!(!told || !here.is_empty(), "{line}: nothing is told");
            for notice in here {
                let with = notice.edit.as_ref().map_or("", |e| e.with.as_str());
                assert!(!with.contains("avoid"), "{line}: {with}");
            }
            assert!(crate::prescription::print(&p).to_lowercase().contains(secret), "{line} is lost");
        }
        // What may be a restriction is printed whole.
        let text = "# Back pain\ndo not: bend past 90, exercise with a fever\npelvic tilt: 2 x 10, daily";
        assert!(programme(text, &mut cache).do_not.iter().any(|d| d.words.contains("fever")));
    }

    /// The phone has the same lines as the paper, and the link nothing of the problem behind them.
    #[test]
    fn the_phone_has_the_papers_lines() {
        let catalog = Catalog::embedded();
        let mut cache = Cache::default();
        for text in [
            "# Sciatica after a fall\nfinding: L5 weak",
            "# Right THR\nsurgery: 2026-11-10, right hip replacement",
            "caution: pregnancy 30/40\n# PGP",
            "# Tennis elbow",
            "# xyzq",
            "# Whiplash\ncaution: on apixaban, asthma",
        ] {
            let text = format!(
                "{text}\nstart: 2026-11-30\nwrist lift, right: 3 x 10, daily\ncalf stretch, right: 3 x 30 s, daily"
            );
            let (p, _) = crate::prescription::read(&text);
            let wanted = crate::link::share::Wanted {
                named: crate::link::share::Named::Written,
                emergency: None,
                today: Date::iso("2026-11-30"),
                limit: crate::week::model::Limit::USUAL,
            };
            let shared = crate::link::share::share(&p, catalog, &wanted, &mut cache).expect("a link");
            let phone = shared.programme(catalog, &Ask::today(Date::iso("2027-06-30")), &mut cache);
            let paper = programme(&text, &mut cache);
            assert_eq!((net(&phone), stop(&phone)), (net(&paper), stop(&paper)), "{}", shared.text);
            for secret in [
                "sciatica",
                "hip replacement",
                "pgp",
                "elbow",
                "apixaban",
                "whiplash",
                "asthma",
                "2026-11-10",
            ] {
                assert!(!shared.text.to_lowercase().contains(secret), "{secret}: {}", shared.text);
            }
        }
    }

    /// What was handed over before topics had a name says what it said, and the general lines.
    #[test]
    fn older_links_say_no_less_than_they_did() {
        let mut cache = Cache::default();
        for (text, lines) in [
            ("caution: operation\nbridge: 3 x 10, daily", vec!["calf is swollen", "wound is red", "fever"]),
            ("caution: brace\nbridge: 3 x 10, daily", vec!["calf is swollen", "wound is red", "fever"]),
            (
                "caution: pregnancy\nbridge: 3 x 10, daily",
                vec!["You bleed", "tight pains", "baby moves less"],
            ),
            ("caution: osteoporosis\nbridge: 3 x 10, daily", vec!["new pain in your back"]),
            (
                "pelvic tilt: 3 x 10, daily",
                vec!["numb between your legs", "cannot pee", "sex feels", "Both your legs"],
            ),
            (
                "chin tuck: 3 x 10, daily",
                vec!["see double", "slur your words", "hard to swallow", "unsteady"],
            ),
            (
                "surgery: 2026-01-02\nbridge: 3 x 10, daily, until 60 weeks after surgery",
                vec!["calf is swollen", "wound is red", "fever"],
            ),
        ] {
            let said = net(&programme(text, &mut cache)).join("\n");
            for line in lines {
                assert!(said.contains(line), "{text}: {line} not in {said}");
            }
        }
    }
}
