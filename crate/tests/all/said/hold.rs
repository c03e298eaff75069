//! Holds a case's expectations against what the program makes of its text.

use super::case::{Case, Fault, Line, Want, folded, named, parts, stands_in};
use super::made::Made;
use layfigure::body::names::Side;
use layfigure::language::condition::Named;
use layfigure::measure::Date;
use layfigure::notice::{Notice, Severity};
use layfigure::prescription::limit::{Bearing, Purpose, Weight};
use layfigure::prescription::{Exercise, When, angles, print};
use layfigure::programme::settled::Cache;

const NOTHING_YET: &str = "nothing in the program says this yet";

/// The headings of the sheet. Empty: the sheet has no such part yet.
const DO_NOT: &str = "Do not";
const MAY: &str = "What you may do";
const RULES: &str = "Keep to this";

/// Told of an exercise's name or usual dose, or of its fit for this patient: not of the reading of a word.
const BESIDE_THE_READING: [&str; 8] = [
    "unknown-exercise",
    "often-usual",
    "dose-usual",
    "stretch-short",
    "limit-drawn",
    "many-exercises",
    "limit-exceeded",
    "side-missing",
];

/// What doesn't hold.
pub fn faults(case: &Case, cache: &mut Cache) -> Vec<Fault> {
    let mut made = Made::of(&case.text, cache);
    let mut faults = Vec::new();
    list(case, "limit", limits(&made), &mut faults);
    list(case, "weight", weights(&made), &mut faults);
    exercises(case, &mut made, &mut faults);
    for want in &case.wants {
        let held: Vec<Fault> = want.answers.iter().filter_map(|a| one(want, a, &mut made)).collect();
        if held.len() == want.answers.len() {
            faults.extend(held.into_iter().next());
        }
    }
    faults
}

/// One answer of an expectation that stands by itself; None: it holds, or is held elsewhere.
fn one(want: &Want, answer: &str, made: &mut Made<'_>) -> Option<Fault> {
    let (kind, negated) = match want.kind.strip_prefix("not ") {
        Some(kind) => (kind, true),
        None => (want.kind.as_str(), false),
    };
    let stands = match kind {
        "tidy" => {
            let tidy = print(&made.prescription);
            (!tidy.lines().any(|l| l == answer)).then(|| format!("no line {answer:?} in {tidy:?}"))
        }
        "do not" => under(DO_NOT, answer, made),
        "may" => under(MAY, answer, made),
        "rule" => under(RULES, answer, made),
        "sheet" => absent("sheet", answer, &made.sheet().words),
        _ if kind.starts_with("sheet in week ") => {
            let week = kind.rsplit(' ').next().and_then(|n| n.parse().ok()).expect("a week");
            absent(kind, answer, &made.sheet_in(week).words)
        }
        "phone" => match made.phone() {
            Ok(phone) if negated => absent("link", answer, &format!("{}\n{}", phone.shown, phone.travels)),
            Ok(phone) => absent("phone", answer, &phone.shown),
            Err(why) => Some(format!("no link: {why}")),
        },
        "record" => absent("record", answer, &made.record()),
        "fact" => fact(answer, made),
        "condition" => condition(answer, negated, made),
        "conditions" => {
            let own: Vec<String> = own(made).map(|n| n.to_string()).collect();
            (!own.is_empty()).then(|| format!("conditions {own:?}"))
        }
        "asked" => {
            let asks = |n: &Notice| n.severity() == Severity::Error || n.kind().starts_with("ask-");
            (!notices_at(answer, made, asks)).then(|| format!("nothing asked at {answer:?}"))
        }
        "told" => (!notices_at(answer, made, |_| true)).then(|| format!("nothing told at {answer:?}")),
        "notice" => {
            let says = |n: &Notice| stands_in(answer, &n.sentence());
            (!everything(made).iter().any(says)).then(|| format!("no notice says {answer:?}"))
        }
        "edit" => {
            let with = |n: &Notice| n.edit.as_ref().is_some_and(|e| stands_in(answer, &e.with));
            (!everything(made).iter().any(with)).then(|| format!("no edit writes {answer:?}"))
        }
        "quiet" => {
            let loud: Vec<&Notice> = made.told.iter().filter(|n| n.severity() != Severity::Advice).collect();
            (!loud.is_empty()).then(|| format!("not quiet: {}", loud[0].sentence()))
        }
        _ => return None,
    };
    match (negated, stands) {
        (false, fault) => fault,
        // What the program has no place for yet stands nowhere in it.
        (true, Some(_)) => None,
        (true, None) => Some(format!("{kind} has {answer:?}")),
    }
}

fn absent(place: &str, words: &str, text: &str) -> Option<Fault> {
    (!stands_in(words, text)).then(|| format!("{place} lacks {words:?}"))
}

fn under(heading: &str, words: &str, made: &mut Made<'_>) -> Option<Fault> {
    if heading.is_empty() {
        return Some(format!("a rule {words:?}: {NOTHING_YET}"));
    }
    let sheet = made.sheet();
    let mut parts = sheet.under(heading);
    (!parts.any(|p| p.items.iter().any(|i| stands_in(words, i))))
        .then(|| format!("no {words:?} under {heading:?}"))
}

/// All that is told, of the reading and by the checks.
fn everything(made: &mut Made<'_>) -> Vec<Notice> {
    let told = made.told.clone();
    made.reading().programme.notices.iter().cloned().chain(told).collect()
}

/// Whether something that fits is told at these words of the text. What the checks say of an exercise as a whole,
/// at its name or its line, is not told of any word.
fn notices_at(words: &str, made: &mut Made<'_>, fits: impl Fn(&Notice) -> bool) -> bool {
    let text = made.text;
    let found = |n: &Notice| {
        let line = text.lines().nth(n.place.line.saturating_sub(1)).unwrap_or("").to_lowercase();
        line.match_indices(&words.to_lowercase()).any(|(at, w)| {
            n.place.start <= at + w.len() && at <= n.place.end && (at + w.len() != n.place.start)
        })
    };
    let told = made.told.clone();
    let programme = &made.reading().programme;
    let whole =
        |n: &&Notice| programme.exercises.iter().any(|e| n.place == e.name_place || n.place == e.place);
    let checks = programme.notices.iter().filter(|n| !whole(n) && !BESIDE_THE_READING.contains(&n.kind()));
    checks.chain(&told).any(|n| fits(n) && found(n))
}

fn fact(answer: &str, made: &mut Made<'_>) -> Option<Fault> {
    let (kind, words) = answer.split_once(' ').expect("a kind of fact and its words");
    let p = &made.prescription;
    let texts = |list: &[layfigure::prescription::Said]| -> Vec<String> {
        list.iter().map(|s| s.text.clone()).collect()
    };
    let known: Vec<String> = match kind {
        "age" => p.age().iter().map(u8::to_string).collect(),
        "pregnant" => p.pregnancy.iter().map(|p| format!("{} weeks", p.weeks)).collect(),
        "pressure" => p.pressure.iter().map(|p| format!("{}/{}", p.systolic, p.diastolic)).collect(),
        "surgery" => p.surgery.iter().map(|h| h.words.clone()).collect(),
        "injury" => p.injury.iter().map(|h| h.words.clone()).collect(),
        "caution" => texts(&p.cautions),
        "finding" => texts(&p.findings),
        "measure" => texts(&p.measures),
        "pain" => {
            let scored = p.scored_pain.iter().map(|p| format!("{}/10", p.low));
            p.usual_pain.iter().map(|p| format!("{}/10 {}", p.low, p.words)).chain(scored).collect()
        }
        // By what the words mean, whatever the clinician wrote for it.
        "condition" => {
            let meant = layfigure::language::condition::knows(words);
            let has = |c| own(made).any(|n| n.condition == c);
            let found = !meant.is_empty() && meant.into_iter().all(has);
            let all: Vec<String> = own(made).map(|n| n.to_string()).collect();
            return (!found).then(|| format!("no condition {words:?}, only {all:?}"));
        }
        _ => panic!("{kind:?} is no kind of fact"),
    };
    (!known.iter().any(|k| stands_in(words, k))).then(|| format!("no {kind} {words:?}, only {known:?}"))
}

/// What the patient has, had or may have.
fn own<'a>(made: &'a Made<'_>) -> impl Iterator<Item = &'a Named> {
    made.prescription.conditions.iter().filter(|n| n.is_of_patient())
}

/// A condition with what is typed of it; where it is expected to be absent, of those of the patient.
fn condition(answer: &str, negated: bool, made: &Made<'_>) -> Option<Fault> {
    const CERTAIN: [&str; 4] = ["queried", "before", "denied", "another person"];
    let want: Vec<&str> = answer.split(", ").collect();
    let is = |named: &Named| {
        let shown = named.to_string();
        let parts: Vec<&str> = shown.split(", ").collect();
        let told = want.iter().any(|w| CERTAIN.contains(w));
        let certain = told || negated || !parts.iter().any(|p| CERTAIN.contains(p));
        parts.first() == want.first() && certain && want.iter().all(|w| parts.contains(w))
    };
    let all = &made.prescription.conditions;
    let found = if negated { own(made).any(is) } else { all.iter().any(is) };
    let shown: Vec<String> = all.iter().map(|n| n.to_string()).collect();
    (!found).then(|| format!("no condition {answer:?}, only {shown:?}"))
}

/// Expectations of which all are listed, against all that came out.
fn list(case: &Case, kind: &str, mut got: Vec<String>, faults: &mut Vec<Fault>) {
    let none = format!("{kind}s");
    let wants: Vec<&Want> = case.wants.iter().filter(|w| w.kind == kind).collect();
    if wants.is_empty() && !case.wants.iter().any(|w| w.kind == none) {
        return;
    }
    got.sort();
    got.dedup();
    let all = got.clone();
    for want in wants {
        let held =
            want.answers.iter().map(|a| each_side(a)).find(|sides| sides.iter().all(|s| got.contains(s)));
        match held {
            Some(sides) => got.retain(|g| !sides.contains(g)),
            None => faults.push(format!("no {kind} {:?}, only {all:?}", want.answers)),
        }
    }
    faults.extend(got.iter().map(|g| format!("{kind} {g:?} is not expected")));
}

/// `both knees flexion 0-90` is the left one and the right one; so is a neck's or trunk's turn without a side.
fn each_side(written: &str) -> Vec<String> {
    let written = folded(written);
    if let Some(rest) = written.strip_prefix("both ") {
        let (limb, rest) = rest.split_once([' ', ',']).map_or((rest, ""), |_| {
            let at = rest.find([' ', ',']).unwrap_or(rest.len());
            rest.split_at(at)
        });
        let limb = if limb == "toes" { "toe" } else { limb.trim_end_matches('s') };
        return ["left", "right"].map(|side| format!("{side} {limb}{rest}")).to_vec();
    }
    for turn in [" rotation ", " side bend "] {
        let axial = ["trunk", "neck", "lower back", "upper back"].iter().any(|j| written.starts_with(j));
        if let Some((joint, rest)) = written.split_once(turn).filter(|_| axial)
            && !rest.starts_with("left ")
            && !rest.starts_with("right ")
        {
            return ["left", "right"].map(|side| format!("{joint}{turn}{side} {rest}")).to_vec();
        }
    }
    vec![written]
}

fn limits(made: &Made<'_>) -> Vec<String> {
    let limits = made.prescription.limits.iter().filter(|l| l.purpose == Purpose::Limit);
    limits.map(|l| folded(&angles::written(std::slice::from_ref(l)))).collect()
}

fn weights(made: &Made<'_>) -> Vec<String> {
    made.prescription.bearing.iter().flat_map(bearing).collect()
}

/// By leg and arm: a wrist or a hand is an arm's.
fn bearing(b: &Bearing) -> Vec<String> {
    let amount = match b.weight {
        Weight::None => "non-weight-bearing".into(),
        Weight::Touch => "toe-touch".into(),
        Weight::FlatFoot => "flat-foot".into(),
        Weight::Amount { low: Some(low), high, unit } => format!("{low}-{high} {}", unit.sign()),
        Weight::Amount { low: None, high, unit } => format!("{high} {}", unit.sign()),
        Weight::Partial => "partial".into(),
        Weight::AsTolerated => "as tolerated".into(),
        Weight::Full => "full".into(),
    };
    let amount: String = if b.follows { format!("then {amount}") } else { amount };
    let end = b.end.as_ref().map_or(String::new(), |end| format!(", {end}"));
    let limb = if b.limb.is_arm() { "arm" } else { "leg" };
    let sides = b.side.map_or(vec![Side::Left, Side::Right], |side| vec![side]);
    sides.into_iter().map(|side| folded(&format!("{} {limb}, {amount}{end}", side.word()))).collect()
}

/// Exercises in order, and what is expected of each below its line.
fn exercises(case: &Case, made: &mut Made<'_>, faults: &mut Vec<Fault>) {
    let got = made.prescription.exercises.clone();
    let wanted = case.wants.iter().filter(|w| w.kind == "exercise").count();
    if (0 < wanted || case.wants.iter().any(|w| w.kind == "exercises")) && wanted != got.len() {
        let lines: Vec<String> = got.iter().map(Exercise::written).collect();
        faults.push(format!("{wanted} exercises are expected, not {lines:?}"));
    }
    if case.wants.iter().any(|w| w.kind == "steps") && got.iter().any(|e| !e.steps.is_empty()) {
        faults.push("there are steps".into());
    }
    let (mut at, mut begun) = (None, 0_usize);
    let mut steps: Vec<(Option<usize>, &Want)> = Vec::new();
    for want in &case.wants {
        let these = || at.map_or(got.iter().collect::<Vec<_>>(), |i: usize| got.get(i).into_iter().collect());
        let any = |told: Vec<Option<Fault>>| match told.iter().any(Option::is_none) {
            true => None,
            false => Some(
                told.into_iter()
                    .flatten()
                    .next()
                    .unwrap_or_else(|| format!("no exercise for {:?}", want.answers)),
            ),
        };
        match want.kind.as_str() {
            "exercise" => {
                at = Some(begun);
                begun += 1;
                if let Some(e) = got.get(begun - 1) {
                    faults.extend(any(want.answers.iter().map(|a| line(case, e, a, made)).collect()));
                }
            }
            "ramp" => faults.extend(any(these().iter().map(|e| ramp(e, want)).collect())),
            "cue" => faults.extend(any(these().iter().map(|e| cue(e, &want.answers[0], made)).collect())),
            "not cue" => {
                let has = these().iter().any(|e| cue(e, &want.answers[0], made).is_none());
                faults.extend(has.then(|| format!("a cue has {:?}", want.answers[0])));
            }
            "step" => steps.push((at, want)),
            _ => {}
        }
    }
    for (i, e) in got.iter().enumerate() {
        let of: Vec<&Want> =
            steps.iter().filter(|(at, _)| at.is_none_or(|at| at == i)).map(|(_, w)| *w).collect();
        let written: Vec<String> = e.steps.iter().map(step).collect();
        if !of.is_empty() && of.len() != written.len() {
            faults.push(format!("{} steps are expected, not {written:?}", of.len()));
        }
        for (want, step) in of.iter().zip(&written) {
            if !want.answers.iter().any(|a| later(a) == later(step)) {
                faults.push(format!("step {step:?} is not {:?}", want.answers));
            }
        }
    }
}

/// An exercise's line against one answer.
fn line(case: &Case, e: &Exercise, answer: &str, made: &mut Made<'_>) -> Option<Fault> {
    let mut bare = e.clone();
    bare.dose.words.clear();
    bare.dose.ramp = None;
    let (want, got) = (Line::read(answer), bare.written());
    let told = || Some(format!("{:?} is not {answer:?}", e.written()));
    let dose = got.get(head(e).len()..).unwrap_or("").trim_start_matches(": ");
    let side = e.side.map_or(String::new(), |s| s.to_string());
    let region = e.region.as_ref().map_or(String::new(), |r| folded(&r.text));
    if named(&e.name.text) != want.name
        || side != want.side
        || (!want.region.is_empty() && region != want.region)
    {
        return told();
    }
    let (understood, words) = (parts(dose), e.dose.words.iter().flat_map(|w| parts(w)).collect::<Vec<_>>());
    let span = |part: &String| ["from ", "weeks ", "until ", "for "].iter().any(|s| part.starts_with(s));
    for part in &want.parts {
        // A start or end that stays as words decides no day.
        if !understood.contains(part) && (span(part) || !words.contains(part)) {
            return told();
        }
    }
    let printed = |word: &String| {
        case.wants.iter().filter(|w| matches!(w.kind.as_str(), "cue" | "sheet" | "told" | "asked")).any(|w| {
            w.answers.iter().any(|a| folded(a).contains(word.as_str()) || word.contains(folded(a).as_str()))
        })
    };
    let left = |part: &&String| !want.parts.contains(part);
    if understood.iter().any(|p| left(&p)) || words.iter().filter(left).any(|w| !printed(w)) {
        return told();
    }
    want.parts.iter().find_map(|part| days(part, e, made))
}

/// The exercise's line without its dose.
fn head(e: &Exercise) -> String {
    let mut bare = e.clone();
    bare.dose = layfigure::dose::Dose::default();
    bare.written()
}

/// A start or end that is understood must also decide in which weeks the exercise is done.
fn days(part: &str, e: &Exercise, made: &mut Made<'_>) -> Option<Fault> {
    let start = made.prescription.start?;
    let week_of = |date: Date| u32::try_from(date.days_since(start) / 7 + 1).ok();
    let week = |words: &str| {
        words.strip_prefix("week ").map_or_else(|| Date::iso(words).and_then(week_of), |n| n.parse().ok())
    };
    let (from, last) = if let Some(span) = part.strip_prefix("weeks ") {
        let (a, b) = span.split_once('-')?;
        (a.parse().ok(), b.parse().ok())
    } else if let Some(from) = part.strip_prefix("from ") {
        (week(from), None)
    } else {
        (None, part.strip_prefix("until ").and_then(week))
    };
    let wrong = |n: u32, done: bool| {
        Some(format!("{part:?}: in week {n} it is {}done", if done { "" } else { "not " }))
    };
    if let Some(n) = from {
        if 1 < n && made.is_done(e.line, n - 1) != Some(false) {
            return wrong(n - 1, true);
        }
        if made.is_done(e.line, n) != Some(true) {
            return wrong(n, false);
        }
    }
    if let Some(n) = last {
        if made.is_done(e.line, n) != Some(true) {
            return wrong(n, false);
        }
        if made.is_done(e.line, n + 1) != Some(false) {
            return wrong(n + 1, true);
        }
    }
    None
}

fn ramp(e: &Exercise, want: &Want) -> Option<Fault> {
    let plain = |s: &str| folded(s).replace("60s ", "1min ");
    let got = e.dose.ramp.as_ref().map(|r| r.to_string().replacen("+ ", "add ", 1));
    let holds = got.as_ref().is_some_and(|got| want.answers.iter().any(|a| plain(got).contains(&plain(a))));
    (!holds).then(|| format!("ramp {got:?} is not {:?}", want.answers))
}

/// Whether words print below the exercise: in its strip, or where it stands among what is done all day.
fn cue(e: &Exercise, words: &str, made: &mut Made<'_>) -> Option<Fault> {
    let name = made.reading().programme.exercises.iter().find(|x| x.line == e.line).map(|x| x.name.clone());
    let sheet = made.sheet();
    let name = name.unwrap_or_else(|| e.name.text.clone());
    let strip = sheet.strips.iter().filter(|p| stands_in(&name, &p.heading)).map(|p| p.words.as_str());
    let all_day =
        sheet.under("All day").flat_map(|p| &p.items).filter(|i| stands_in(&name, i)).map(String::as_str);
    let holds = strip.chain(all_day).any(|text| {
        // The name itself is no cue.
        stands_in(words, &folded(text).replace(&folded(&name), ""))
    });
    (!holds).then(|| format!("{words:?} does not print below {name:?}"))
}

fn step(step: &layfigure::prescription::Step) -> String {
    let when = match &step.when {
        When::From(start) => start.to_string(),
        When::When(words) => format!("when {words}"),
        When::If(words) => format!("if {words}"),
    };
    let side = step.side.map_or(String::new(), |s| format!(", {s}"));
    let dose = step.dose.to_string();
    match &step.name {
        Some(name) if dose.is_empty() => format!("{when}: {}{side}", name.text),
        Some(name) => format!("{when}: {}{side}: {dose}", name.text),
        None => format!("{when}: {dose}"),
    }
}

/// A step as it is compared: when, then the line.
fn later(step: &str) -> (String, Line) {
    let (when, rest) = step.split_once(": ").unwrap_or((step, ""));
    let spaced = folded(when).replace(" is ", " ").replace("/10", "");
    let when: String = spaced.split('x').map(str::trim).collect::<Vec<_>>().join("x");
    let line = match rest.contains(": ") {
        true => Line::read(rest),
        false => Line { parts: parts(rest), ..Line::default() },
    };
    (when, line)
}
