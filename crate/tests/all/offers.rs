//! No other exercise is offered unless all checks ran on the prescription with it in place, and passed.

use layfigure::catalog::Catalog;
use layfigure::catalog::find::Found;
use layfigure::desk::{Answer, Ask as DeskAsk, Desk, Region};
use layfigure::measure::Date;
use layfigure::notice::{Notice, Severity};
use layfigure::prescription;
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, Programme, assemble};

fn today() -> Option<Date> {
    Date::iso("2026-11-30")
}

fn programme(text: &str, cache: &mut Cache) -> Programme {
    let (p, _) = prescription::read(text);
    assemble::at(&p, Catalog::embedded(), &Ask::today(today()), cache)
}

/// The exercise of the catalog that an edit writes, where it writes one.
fn written(notice: &Notice) -> Option<(&'static str, &str)> {
    let edit = notice.edit.as_ref()?;
    match Catalog::embedded().find(&edit.with) {
        Found::One(e) => Some((e.id.as_str(), &edit.with)),
        Found::Near(_) | Found::None => None,
    }
}

/// What the notices of a text offer in another's place: the names in their sentences and edits.
fn offered(p: &Programme) -> Vec<String> {
    let mut all: Vec<String> = p.exercises.iter().flat_map(|e| &e.instead).cloned().collect();
    let limits = p.notices.iter().filter(|n| n.kind() == "limit-exceeded");
    all.extend(limits.filter_map(|n| Some(written(n)?.1.to_string())));
    all.sort();
    all.dedup();
    all
}

fn ids(names: &[String]) -> Vec<&'static str> {
    let id = |name: &String| match Catalog::embedded().find(name) {
        Found::One(e) => e.id.as_str(),
        Found::Near(_) | Found::None => panic!("{name} is no exercise"),
    };
    names.iter().map(id).collect()
}

fn with_line(text: &str, line: usize, from: usize, to: usize, with: &str) -> String {
    let mut lines: Vec<String> = text.lines().map(String::from).collect();
    lines[line - 1].replace_range(from..to, with);
    lines.join("\n")
}

type Grave = (&'static str, usize, String);

fn grave(p: &Programme) -> Vec<Grave> {
    let all = p.notices.iter().filter(|n| n.severity() <= Severity::Precaution);
    // What is said of others that could be written differs, and is no finding of a rule.
    all.map(|n| (n.kind(), n.place.line, n.sentence().split(" All checks").next().unwrap_or("").to_string()))
        .collect()
}

/// Prescriptions' heads: each kind of thing that a check looks at.
const HEADS: [&str; 13] = [
    "# Right knee\nlimit: right knee flexion 0-60\n",
    "# Left knee\nlimit: left knee flexion 0-30, extension at most -20\nkit: chair, towel\n",
    "# Right hip\nsurgery: 2026-11-10, right hip replacement, posterior approach\nlimit: right hip flexion 0-90, adduction at most 0, internal rotation at most 0\n",
    "# Hip\npatient: M. E., 81\nlimit: right hip flexion 0-70\n",
    "# Back\nlimit: lower back flexion 0-10\navoid: lying on front\n",
    "# Shoulder\nlimit: right shoulder flexion 0-60, external rotation 0-10\n",
    "# Shoulder\nlimit: left shoulder flexion 0-60\ncannot: standing, kneeling\n",
    "# Ankle\nlimit: right ankle dorsiflexion at most 0\nweight: right, non-weight-bearing\n",
    "# Knee\nlimit: right knee flexion 0-40\ncaution: pregnancy\ndue: 2027-02-01\n",
    "# Knee\nlimit: right knee flexion 0-40\ncaution: osteoporosis, falls\n",
    "# Knee\nlimit: right knee flexion 0-40\navoid: kneeling, floor\ncaution: raised blood pressure\n",
    "# Hip and knee\nlimit: right hip flexion 0-40, right knee flexion 0-60\nweight: right, partial\n",
    "# Wrist\nlimit: right wrist extension 0-30, right elbow flexion 0-60\n",
];

/// Whatever is written under whatever head, an offer once taken raises nothing grave that was not there.
#[test]
fn an_offer_that_is_taken_raises_nothing() {
    let (mut tried, mut cache) = (0, Cache::default());
    for head in HEADS {
        for e in Catalog::embedded().exercises() {
            let text = format!("{head}{}, right: \nchin tuck: 2 x 10, daily", e.name.to_lowercase());
            let before = programme(&text, &mut cache);
            let known = grave(&before);
            for notice in before.notices.iter().filter(|n| written(n).is_some()) {
                let edit = notice.edit.as_ref().expect("it writes one");
                let (id, _) = written(notice).expect("it writes one");
                assert!(id != e.id && id != "chin-tuck", "{text}: {id} stands there already");
                let place = edit.place;
                let after = with_line(&text, place.line, place.start, place.end, &edit.with);
                let new = grave(&programme(&after, &mut cache));
                let raised: Vec<&Grave> =
                    new.iter().filter(|n| n.1 == place.line || !known.contains(n)).collect();
                assert!(raised.is_empty(), "{text}\n{id}: {raised:?}");
                tried += 1;
            }
        }
    }
    assert!(10 <= tried, "only {tried} offers were made");
}

/// Texts, and exercises that must not be offered there, nor any like them.
#[test]
fn no_way_round_that_harms() {
    let standing: Vec<&str> = Catalog::embedded()
        .exercises()
        .iter()
        .filter(|e| e.position == Some(layfigure::catalog::terms::Position::Standing))
        .map(|e| e.id.as_str())
        .collect();
    let hip = vec![
        "sit-back",
        "crossed-leg-turn",
        "figure-four-stretch",
        "strap-hamstring-stretch",
        "knee-to-chest",
        "half-kneeling-stretch",
        "bent-knee-opening",
        "side-leg-raise",
        "lunge",
    ];
    let posterior = "# Right THR\nsurgery: 2026-11-10, right hip replacement, posterior approach\n\
                     limit: right hip flexion 0-90, adduction at most 0, internal rotation at most 0\n";
    let by_words = "limit: posterior hip precautions, right\n";
    let boot = "# Achilles rupture, right, in a boot\ninjury: 2026-11-10, right Achilles rupture\n";
    let cases: Vec<(String, Vec<&str>)> = vec![
        (format!("{posterior}single knee to chest, right: 3 x 30 s"), hip.clone()),
        (format!("{posterior}buttock stretch with crossed leg, right: 3 x 30 s"), hip.clone()),
        (format!("{by_words}single knee to chest, right: 3 x 30 s"), hip.clone()),
        (format!("{by_words}crossed-leg trunk turn, right: 3 x 30 s"), hip.clone()),
        (format!("{boot}weight: right, NWB\nlimit: right knee flexion 0-60\nsquat with feet turned out: 3 x 8"), standing.clone()),
        (format!("{boot}limit: right ankle dorsiflexion at most 0\nsquat with feet turned out: 3 x 8"), standing.clone()),
        (format!("{boot}limit: right ankle dorsiflexion at most 0\nwall sit: 3 x 30 s"), standing.clone()),
        ("# Hip\npatient: M. E., 81\nlimit: right hip flexion 0-70\nsit to stand: 3 x 5".into(), standing.clone()),
        ("# Hip\nlimit: right hip extension at most 0\nbridge: 3 x 10".into(), vec!["one-leg-bridge", "bench-bridge", "ball-bridge"]),
        ("# Knee\nlimit: right knee flexion 0-90\nbridge: 3 x 10".into(), vec!["one-leg-bridge", "bench-bridge", "ball-bridge"]),
        ("# Knee\nlimit: both knees flexion 0-60\nstep-up, right: 3 x 8".into(), vec!["step-down", "lunge", "turned-out-squat", "banded-squat"]),
        ("# ACLR\nsurgery: 2026-11-10, ACL reconstruction, right\nlimit: right knee flexion 0-60\nsit to stand: 3 x 8".into(), vec!["seated-knee-extension", "lunge", "wall-sit"]),
        ("# RCR\nsurgery: 2026-11-10, right cuff repair\nlimit: right shoulder flexion 0-60\narm raise with a stick: 2 x 8".into(), vec!["wall-slide", "table-push-up", "band-turn-out"]),
        ("# Knee\nlimit: right knee flexion 0-60\navoid: crossing legs\nstep-up, right: 3 x 8".into(), vec!["step-down", "quad-set", "wall-sit", "sit-to-stand", "straight-leg-raise"]),
        ("# Knee\nlimit: right knee flexion 0-60\ncaution: severe aortic stenosis\nstep-up, right: 3 x 8".into(), vec!["straight-leg-raise", "seated-knee-extension", "wall-sit"]),
        ("# Back pain\nfinding: saddle numbness\nlimit: lower back flexion 0-10\nback round and hollow: 2 x 8".into(), vec!["pelvic-tilt", "prone-press-up", "roller-back-bend"]),
    ];
    let mut cache = Cache::default();
    for (text, never) in cases {
        let p = programme(&text, &mut cache);
        let names = offered(&p);
        for id in ids(&names) {
            assert!(!never.contains(&id), "{text}\noffers {id}");
        }
    }
}

#[test]
fn there_are_offers_where_all_passes() {
    let mut cache = Cache::default();
    let text = "# Right knee\nlimit: right knee flexion 0-60\nseated knee extension, right: 3 x 10";
    let p = programme(text, &mut cache);
    assert!(!offered(&p).is_empty(), "{:?}", p.notices);
}

#[test]
fn a_reason_to_keep_one_keeps_nothing_else() {
    let text =
        "# Knee\nlimit: right knee flexion 0-60\nseated knee extension, right: 3 x 10\n  anyway: she insists";
    let p = programme(text, &mut Cache::default());
    assert!(offered(&p).is_empty());
}

#[test]
fn a_name_is_not_spelt_into_what_is_forbidden() {
    let mut cache = Cache::default();
    let edit = |text: &str, cache: &mut Cache| {
        let p = programme(text, cache);
        let n = p.notices.iter().find(|n| n.kind() == "unknown-exercise").expect("a notice");
        n.edit.as_ref().map(|e| e.with.clone())
    };
    assert_eq!(
        edit("# Knee\nsit bakc on the heels: 3 x 30 s", &mut cache).as_deref(),
        Some("sit back on the heels")
    );
    assert_eq!(edit("# Knee\navoid: kneeling\nsit bakc on the heels: 3 x 30 s", &mut cache), None);
}

fn stage(answer: &Answer) -> String {
    let slots = answer.regions.iter().filter(|(r, _)| *r == Region::Stage).flat_map(|(_, s)| s);
    slots.map(|s| s.html.clone()).collect()
}

/// What the desk offers at the exercise of the last line, by identity, once it has looked.
fn rungs(desk: &mut Desk, text: &str) -> (Vec<String>, Vec<String>) {
    let ask = DeskAsk { today: today(), line: text.lines().count(), ..DeskAsk::of(text) };
    let of = |answer: &Answer| -> Vec<String> {
        let html: String = answer.regions.iter().flat_map(|(_, s)| s).map(|s| s.html.as_str()).collect();
        let all = html.split("swap ").skip(1);
        all.filter_map(|rest| Some(rest.split('"').next()?.to_string())).collect()
    };
    let before = of(&desk.answer(&ask));
    let mut steps = 0;
    while desk.wants_offers() {
        assert!(desk.seek(&ask));
        steps += 1;
        assert!(steps < 100);
    }
    let answer = desk.answer(&ask);
    assert!(!stage(&answer).is_empty());
    (before, of(&answer))
}

#[test]
fn the_desk_offers_nothing_before_and_only_what_passes_after() {
    let mut desk = Desk::default();
    let (before, after) = rungs(&mut desk, "# Right knee\nstep-up, right: 3 x 8, 3/week");
    assert!(before.is_empty(), "{before:?}");
    assert!(after.contains(&"lunge".to_string()) || after.contains(&"sit-to-stand".to_string()), "{after:?}");
    for (text, never) in [
        ("# Knee\nweight: right, NWB\nseated knee extension, right: 3 x 10", vec!["sit-to-stand"]),
        ("# Knee\navoid: kneeling\nsingle knee to chest, right: 3 x 30 s", vec!["sit-back"]),
        (
            "# Knee\nsurgery: 2020-01-01, knee replacement\nwall sit: 3 x 30 s",
            vec!["turned-out-squat", "banded-squat"],
        ),
        ("# Knee\nsit to stand: 3 x 8, 3/week\nwall squat with a ball: 3 x 8, 3/week", vec!["sit-to-stand"]),
        (
            "# Knee\ncaution: two falls this year\nsit to stand: 3 x 8",
            vec!["turned-out-squat", "step-up", "ball-wall-squat"],
        ),
    ] {
        let (before, after) = rungs(&mut desk, text);
        assert!(before.is_empty(), "{text}: {before:?}");
        for id in never {
            assert!(!after.contains(&id.to_string()), "{text}: {after:?}");
        }
    }
}

/// Words for the patient may change without another look; anything that a check reads brings one.
#[test]
fn the_desk_looks_again_where_a_check_could_say_otherwise() {
    let mut desk = Desk::default();
    let text = "# Right knee\nstep-up, right: 3 x 8, 3/week";
    let (_, first) = rungs(&mut desk, text);
    let cue = format!("{text}\n  cue: Slowly.");
    let ask = DeskAsk { today: today(), line: 2, ..DeskAsk::of(&cue) };
    desk.answer(&ask);
    assert!(!desk.wants_offers());
    let limit = format!("limit: right knee flexion 0-30\n{text}");
    let ask = DeskAsk { today: today(), line: 3, ..DeskAsk::of(&limit) };
    let html = stage(&desk.answer(&ask));
    assert!(desk.wants_offers() && !html.contains("swap"), "{html}");
    let (_, then) = rungs(&mut desk, &limit);
    assert!(then.len() < first.len(), "{first:?} {then:?}");
}
