//! The week from outside: laws that hold for any problem, and cases with a known answer.

use layfigure::week::model::{
    Appointment, Day, DaySet, Days, Item, Levels, Limit, Part, PartSet, Position, Problem, Rule, USUAL_CLOCK,
    Week,
};
use layfigure::week::shortage::{Change, shortage};
use layfigure::week::solve::solve;
use proptest::prelude::*;

fn item(name: &str, minutes: u32, days: Days) -> Item {
    Item {
        name: name.to_owned(),
        seconds: minutes * 60,
        per_day: 1,
        days,
        never: DaySet::default(),
        parts: PartSet::ALL,
        apart_minutes: 0,
        loads: Vec::new(),
        purpose: 2,
        position: 0,
        kit: 0,
    }
}

fn loaded(name: &str, minutes: u32, days: Days) -> Item {
    Item { loads: vec![0], ..item(name, minutes, days) }
}

fn problem(items: Vec<Item>) -> Problem {
    Problem {
        items,
        rules: Vec::new(),
        available: [[None; 3]; 7],
        by_day: [None; 7],
        appointments: Vec::new(),
        clock: USUAL_CLOCK,
        groups: vec!["knee".to_owned(), "hip".to_owned()],
        positions: [("sitting", false), ("standing", false), ("lying on back", true), ("side-lying", true)]
            .map(|(name, floor)| Position { name: name.to_owned(), floor })
            .to_vec(),
        change_seconds: 20,
        floor_once: false,
        all_day: Vec::new(),
    }
}

fn best(problem: &Problem) -> Week {
    solve(problem, Limit::USUAL).expect("a sound problem")
}

/// `Mon morning: a, b` by line.
fn told(problem: &Problem, week: &Week) -> Vec<String> {
    week.sessions
        .iter()
        .map(|session| {
            let names: Vec<&str> = session.items.iter().map(|&at| problem.items[at].name.as_str()).collect();
            format!("{} {}: {}", session.day.short(), session.part.name(), names.join(", "))
        })
        .collect()
}

#[test]
fn three_times_a_week_is_monday_wednesday_friday_in_the_morning() {
    let problem = problem(vec![loaded("squat", 5, Days::PerWeek(3)), loaded("step", 5, Days::PerWeek(3))]);
    let week = best(&problem);
    assert!(week.proved);
    assert_eq!(
        told(&problem, &week),
        ["Mon morning: squat, step", "Wed morning: squat, step", "Fri morning: squat, step"]
    );
}

/// `references/dosing.md`, worked check 10: Monday then Tuesday is too soon for the same muscles, Monday then Wednesday
/// is enough, whatever the hours.
#[test]
fn monday_and_wednesday_are_enough_for_each_other_and_tuesday_is_not() {
    let on = |days: &[Day]| {
        let mut problem = problem(vec![loaded("squat", 5, Days::Chosen(days.iter().copied().collect()))]);
        problem.items[0].parts = [Part::Evening].into_iter().collect();
        best(&problem).levels.recovery
    };
    assert_eq!(on(&[Day::Mon, Day::Tue]), 1);
    assert_eq!(on(&[Day::Mon, Day::Wed]), 0);
    // Round the end of the week.
    assert_eq!(on(&[Day::Mon, Day::Sun]), 1);
}

#[test]
fn daily_stands_and_does_not_count_against_recovery() {
    let problem = problem(vec![loaded("heel raise", 2, Days::Daily), loaded("squat", 5, Days::PerWeek(3))]);
    let week = best(&problem);
    assert_eq!(week.levels.recovery, 0);
    assert_eq!(week.laid[0].iter().filter(|parts| !parts.is_empty()).count(), 7);
}

#[test]
fn an_appointment_that_loads_the_same_muscles_keeps_its_neighbours_free() {
    let mut problem = problem(vec![loaded("squat", 5, Days::PerWeek(2))]);
    problem.appointments = vec![Appointment {
        name: "class".into(),
        day: Day::Tue,
        part: Part::Evening,
        seconds: 0,
        loads: vec![0],
    }];
    let week = best(&problem);
    assert_eq!(week.levels.recovery, 0);
    for day in [Day::Mon, Day::Wed] {
        assert!(week.sessions.iter().all(|session| session.day != day));
    }
}

#[test]
fn alternate_days_are_shown_over_two_weeks() {
    let problem = problem(vec![loaded("squat", 5, Days::Alternate)]);
    let week = best(&problem);
    assert_eq!(week.weeks, 2);
    assert_eq!(week.levels.recovery, 0);
    let days: Vec<(u8, &str)> = week.sessions.iter().map(|s| (s.week, s.day.short())).collect();
    assert_eq!(days, [(1, "Mon"), (1, "Wed"), (1, "Fri"), (1, "Sun"), (2, "Tue"), (2, "Thu"), (2, "Sat")]);
}

#[test]
fn what_its_own_rules_leave_no_slot_is_unplaced_with_the_reason() {
    let mut items =
        vec![item("a", 1, Days::Daily), item("b", 1, Days::PerWeek(3)), item("c", 1, Days::Daily)];
    items[0].per_day = 2;
    items[0].parts = [Part::Morning].into_iter().collect();
    items[1].never = [Day::Mon, Day::Tue, Day::Wed, Day::Thu, Day::Fri].into_iter().collect();
    let week = best(&problem(items));
    let reasons: Vec<&str> = week.unplaced.iter().map(|unplaced| unplaced.reason.as_str()).collect();
    assert_eq!(
        reasons,
        [
            "2 times a day are asked for; only morning may be used.",
            "3 days a week are asked for; only Saturday, Sunday may be used.",
        ]
    );
    assert_eq!(week.sessions.len(), 7);
}

#[test]
fn one_gets_up_from_the_floor_once() {
    let mut items: Vec<Item> =
        ["floor first", "stand", "floor last", "sit"].iter().map(|name| item(name, 1, Days::Daily)).collect();
    for (at, (purpose, position)) in [(0, 2), (2, 1), (3, 2), (3, 0)].into_iter().enumerate() {
        (items[at].purpose, items[at].position) = (purpose, position);
    }
    let mut problem = problem(items);
    let visits = |week: &Week, problem: &Problem| {
        let floor: Vec<bool> = week.sessions[0]
            .items
            .iter()
            .map(|&at| problem.positions[problem.items[at].position].floor)
            .collect();
        floor.windows(2).filter(|pair| pair[0] && !pair[1]).count() + usize::from(floor.last() == Some(&true))
    };
    assert_eq!(visits(&best(&problem), &problem), 2);
    problem.floor_once = true;
    assert_eq!(visits(&best(&problem), &problem), 1);
}

#[test]
fn too_few_minutes_are_said_in_words_with_repairs() {
    let names = ["squat", "step", "lunge"];
    let mut items: Vec<Item> = names.iter().map(|name| loaded(name, 17, Days::PerWeek(3))).collect();
    items.push(item("neck turn", 1, Days::PerWeek(3)));
    let mut problem = problem(items);
    problem.available = [[Some(35 * 60), Some(0), Some(0)]; 7];
    let week = best(&problem);
    assert_eq!(week.levels.overtime, 0);
    assert!(0 < week.levels.recovery);
    let shortage = shortage(&problem, &week, Limit::USUAL).expect("minutes that do not suffice");
    assert_eq!(
        shortage.reason,
        "The three loaded knee exercises need 51 min on training days, with a day between; the longest day has 35."
    );
    assert_eq!(shortage.conflict, [0, 1, 2]);
    assert_eq!(shortage.repairs.len(), 3);
    for repair in &shortage.repairs {
        let mut mended = problem.clone();
        match &repair.what {
            Change::Minutes(slots) => {
                for (day, part, seconds) in slots {
                    let part = part.expect("only parts were given");
                    mended.available[*day as usize][part as usize] = Some(*seconds);
                }
            }
            Change::Goes(changes) => {
                for (at, days, goes) in changes {
                    (mended.items[*at].days, mended.items[*at].per_day) = (*days, *goes);
                }
            }
            Change::Slots(slots, seconds) => {
                for (day, part) in slots {
                    let part = part.expect("only parts were given");
                    mended.available[*day as usize][part as usize] = Some(*seconds);
                }
            }
        }
        let week = best(&mended);
        assert_eq!((week.levels.overtime, week.levels.recovery), (0, 0), "{}", repair.words);
    }
}

#[test]
fn minutes_of_a_day_are_kept_whatever_the_part() {
    let mut items = vec![item("neck turn", 4, Days::Daily), loaded("squat", 8, Days::PerWeek(3))];
    items[0].per_day = 2;
    let mut problem = problem(items);
    problem.by_day = [Some(16 * 60); 7];
    problem.by_day[Day::Thu as usize] = Some(0);
    let week = best(&problem);
    let over: Vec<(Day, Option<Part>, u32)> =
        week.overtime.iter().map(|o| (o.day, o.part, o.seconds)).collect();
    assert_eq!(over, [(Day::Thu, None, 8 * 60)]);
    let shortage = shortage(&problem, &week, Limit::USUAL).expect("a day without minutes");
    assert_eq!(shortage.reason, "Neck turn needs 8 min on Thursday; that day has 0.");
}

#[test]
fn a_limit_of_steps_gives_a_week_and_the_gap() {
    let items = (2..14).map(|at| loaded("x", at, Days::PerWeek(2 + (at % 3) as u8))).collect();
    let mut problem = problem(items);
    problem.available = [[Some(900), Some(600), Some(300)]; 7];
    let week = solve(&problem, Limit { nodes: 10 }).expect("a sound problem");
    assert!(!week.proved);
    assert!(week.gap.expect("a gap").bound <= week.levels);
    whole(&problem, &week);
}

/// Each item is laid exactly as prescribed or has a reason, and the levels are those of the week laid.
fn whole(problem: &Problem, week: &Week) {
    let horizon = 7 * week.weeks as usize;
    for (at, item) in problem.items.iter().enumerate() {
        let laid = &week.laid[at];
        assert_eq!(laid.len(), horizon);
        if week.unplaced.iter().any(|unplaced| unplaced.item == at) {
            assert!(laid.iter().all(|parts| parts.is_empty()));
            continue;
        }
        for (day, parts) in laid.iter().enumerate().filter(|(_, parts)| !parts.is_empty()) {
            assert_eq!(parts.len(), u32::from(item.per_day));
            assert!(parts.without(item.parts).is_empty());
            assert!(!item.never.has(Day::ALL[day % 7]));
        }
        let days = laid.iter().filter(|parts| !parts.is_empty()).count();
        let per_week = match item.days {
            Days::Daily => 7 - item.never.len() as usize,
            Days::PerWeek(n) => usize::from(n),
            Days::Chosen(days) => days.len() as usize,
            Days::Alternate => 0,
        };
        assert_eq!(days, if item.days == Days::Alternate { 7 } else { per_week * week.weeks as usize });
    }
    let over: u32 = week.overtime.iter().map(|over| over.seconds).sum();
    assert_eq!(over, week.levels.overtime);
    assert_eq!(week.sessions.len() as u32, week.levels.sessions);
    assert_eq!(week.sessions.iter().map(|s| s.position_changes).sum::<u32>(), week.levels.positions);
    assert_eq!(week.sessions.iter().map(|s| s.kit_changes).sum::<u32>(), week.levels.kit);
    for session in &week.sessions {
        let seconds: u32 = session.items.iter().map(|&at| problem.items[at].seconds).sum();
        assert_eq!(session.seconds, seconds + session.position_changes * problem.change_seconds);
    }
    let mut lists: Vec<Vec<usize>> = (0..horizon)
        .map(|day| (0..problem.items.len()).filter(|&at| !week.laid[at][day].is_empty()).collect())
        .collect();
    lists.retain(|list: &Vec<usize>| !list.is_empty());
    lists.sort();
    lists.dedup();
    assert_eq!(lists.len() as u32, week.levels.lists);
}

fn any_days() -> impl Strategy<Value = Days> {
    prop_oneof![
        Just(Days::Daily),
        (0_u8..=8).prop_map(Days::PerWeek),
        prop::collection::vec(0_usize..7, 0..5)
            .prop_map(|days| Days::Chosen(days.into_iter().map(|day| Day::ALL[day]).collect())),
        Just(Days::Alternate),
    ]
}

fn any_item() -> impl Strategy<Value = Item> {
    (
        (0_u32..600, 0_u8..=4, any_days(), prop::collection::vec(0_usize..7, 0..2)),
        (prop::collection::vec(0_usize..3, 0..5), prop::collection::vec(0_usize..2, 0..2)),
        (0_u8..4, 0_usize..4, 0_u32..2),
    )
        .prop_map(|((seconds, per_day, days, never), (parts, loads), (purpose, position, kit))| Item {
            name: "x".into(),
            seconds,
            per_day,
            days,
            never: never.into_iter().map(|day| Day::ALL[day]).collect(),
            parts: parts.into_iter().map(|part| Part::ALL[part]).collect(),
            apart_minutes: 0,
            loads,
            purpose,
            position,
            kit,
        })
}

fn any_problem() -> impl Strategy<Value = Problem> {
    (
        prop::collection::vec(any_item(), 0..7),
        prop::collection::vec((0_usize..7, 0_usize..7, 0_u8..3), 0..2),
        prop::option::of(prop::collection::vec(prop::option::of(0_u32..1200), 3)),
        prop::option::of(0_u32..1500),
        any::<bool>(),
    )
        .prop_map(|(items, rules, given, day, floor_once)| {
            let count = items.len();
            let rules = rules
                .into_iter()
                .filter(|&(a, b, _)| a < count && b < count)
                .map(|(a, b, kind)| match kind {
                    0 => Rule::NotInSession(a, b),
                    1 => Rule::NotOnDay(a, b),
                    _ => Rule::After(a, b),
                })
                .collect();
            let available = given.map_or([None; 3], |given| [given[0], given[1], given[2]]);
            Problem { rules, available: [available; 7], by_day: [day; 7], floor_once, ..problem(items) }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_dose_is_laid_whole_or_has_a_reason(problem in any_problem()) {
        let limit = Limit { nodes: 20_000 };
        let week = solve(&problem, limit).expect("a sound problem");
        whole(&problem, &week);
        prop_assert_eq!(&week, &solve(&problem, limit).expect("the same"));
    }

    #[test]
    fn the_order_of_the_text_changes_no_level(problem in any_problem(), turn in 0_usize..6) {
        let limit = Limit { nodes: 100_000 };
        let count = problem.items.len();
        prop_assume!(0 < count);
        let place = |old: usize| (old + turn) % count;
        let mut turned = problem.clone();
        for (old, item) in problem.items.iter().enumerate() {
            turned.items[place(old)] = item.clone();
        }
        turned.rules = problem.rules.iter().map(|rule| match *rule {
            Rule::NotInSession(a, b) => Rule::NotInSession(place(a), place(b)),
            Rule::NotOnDay(a, b) => Rule::NotOnDay(place(a), place(b)),
            Rule::After(a, b) => Rule::After(place(a), place(b)),
        }).collect();
        let (one, other) = (solve(&problem, limit).expect("sound"), solve(&turned, limit).expect("sound"));
        if one.proved && other.proved {
            prop_assert_eq!(one.levels, other.levels);
        }
    }

    /// Up to three days a week always fit round a week with a day between.
    #[test]
    fn with_all_the_time_recovery_is_kept_when_it_can_be(
        counts in prop::collection::vec(1_u8..=3, 1..6), groups in prop::collection::vec(0_usize..2, 6),
    ) {
        let items = counts.iter().zip(&groups)
            .map(|(&n, &group)| Item { loads: vec![group], ..item("x", 3, Days::PerWeek(n)) }).collect();
        let week = best(&problem(items));
        prop_assert_eq!(week.levels, Levels { recovery: 0, ..week.levels });
    }
}

/// The levels of the best week, by trying every set of days for every item and every way to pack every day. For items
/// without rules, positions and kit, done once or twice on some days a week.
fn tried_out(problem: &Problem) -> Levels {
    let of = |item: &Item| match item.days {
        Days::PerWeek(n) => (1_u8..128)
            .filter(|set| set.count_ones() == u32::from(n))
            .filter(|set| item.never.days().all(|day| set & (1 << day as u8) == 0))
            .collect::<Vec<u8>>(),
        _ => panic!("only days a week are tried out"),
    };
    let sets: Vec<Vec<u8>> = problem.items.iter().map(of).collect();
    let mut best: Option<Levels> = None;
    let mut chosen = vec![0_usize; sets.len()];
    let mut packed = Packed::new();
    loop {
        let days: Vec<u8> = chosen.iter().zip(&sets).map(|(&at, sets)| sets[at]).collect();
        let levels = levels_of(problem, &days, &mut packed);
        best = Some(best.map_or(levels, |best| best.min(levels)));
        let Some(next) = (0..sets.len()).find(|&item| chosen[item] + 1 < sets[item].len()) else { break };
        chosen[next] += 1;
        chosen[..next].fill(0);
    }
    best.expect("at least one week")
}

/// By day and items: what [`packed_in_every_way`] gave.
type Packed = std::collections::BTreeMap<(usize, Vec<usize>), (u32, u32, u32)>;

/// The levels of the week with these days, each day packed in every way.
fn levels_of(problem: &Problem, days: &[u8], packed: &mut Packed) -> Levels {
    let mut levels = Levels::default();
    let mut lists = std::collections::BTreeSet::new();
    let mut loaded = 0_u8;
    for day in 0..7 {
        let list: Vec<usize> = (0..days.len()).filter(|&item| days[item] & (1 << day) != 0).collect();
        if list.iter().any(|&item| !problem.items[item].loads.is_empty()) {
            loaded |= 1 << day;
        }
        let (overtime, sessions, away) =
            *packed.entry((day, list.clone())).or_insert_with(|| packed_in_every_way(problem, day, &list));
        levels.overtime += overtime;
        levels.sessions += sessions;
        levels.away += away;
        let seconds = |&item: &usize| problem.items[item].seconds * u32::from(problem.items[item].per_day);
        levels.longest = levels.longest.max(list.iter().map(seconds).sum());
        if !list.is_empty() {
            lists.insert(list);
        }
    }
    levels.lists = lists.len() as u32;
    levels.recovery =
        (0..7).filter(|day| loaded & 1 << day != 0 && loaded & 1 << ((day + 1) % 7) != 0).count() as u32;
    levels
}

/// Fewest seconds of overtime, then sessions, then goes outside the usual parts of the day.
fn packed_in_every_way(problem: &Problem, day: usize, list: &[usize]) -> (u32, u32, u32) {
    // Best first, as `model.md` ranks them: morning 1, midday 2, evening 4.
    let ranked = |goes: u8| if goes == 1 { [1_u8, 4, 2] } else { [5, 6, 3] };
    let options: Vec<Vec<u8>> = list
        .iter()
        .map(|&item| {
            let item = &problem.items[item];
            let allowed = item.parts.parts().fold(0_u8, |bits, part| bits | 1 << part as u8);
            ranked(item.per_day).into_iter().filter(|set| set & !allowed == 0).collect()
        })
        .collect();
    let ways: usize = options.iter().map(Vec::len).product();
    let pack = |way: usize| {
        let (mut load, mut away, mut rest) = ([0_u32; 3], 0, way);
        for (&item, options) in list.iter().zip(&options) {
            let parts = options[rest % options.len()];
            rest /= options.len();
            away += (parts & !options[0]).count_ones();
            for (part, load) in load.iter_mut().enumerate() {
                *load += if parts & 1 << part != 0 { problem.items[item].seconds } else { 0 };
            }
        }
        let over = |given: Option<u32>, load: u32| given.map_or(0, |given| load.saturating_sub(given));
        let parts: u32 =
            problem.available[day].iter().zip(load).map(|(&given, load)| over(given, load)).sum();
        let overtime = parts + over(problem.by_day[day], load.iter().sum());
        (overtime, load.iter().filter(|load| 0 < **load).count() as u32, away)
    };
    (0..ways).map(pack).min().unwrap_or_default()
}

/// Weeks that were once called best though a general solver found better ones (`tests/outside/week.py` poses them too).
/// Sessions and goes away were counted as packed while more overtime had still to come.
#[test]
fn what_was_once_called_best_and_was_not_is_solved_now() {
    let problems: Vec<Problem> =
        serde_json::from_str(include_str!("../../../tests/outside/weeks/once-wrong.json")).expect("problems");
    let levels: Vec<Vec<u32>> = problems
        .iter()
        .map(|problem| {
            let week = best(problem);
            assert!(week.proved);
            week.levels.named().map(|(_, value)| value).to_vec()
        })
        .collect();
    assert_eq!(
        levels,
        [
            [0, 4216, 10, 6, 28, 14, 1354, 42, 41],
            [0, 4679, 0, 4, 21, 9, 2417, 22, 21],
            [0, 550, 1, 4, 21, 11, 770, 13, 12],
            [3, 3843, 2, 3, 21, 11, 2395, 41, 41],
            [0, 1958, 0, 4, 14, 10, 2227, 27, 30],
            [0, 299, 3, 5, 12, 15, 1247, 21, 22],
            [0, 3909, 1, 4, 21, 21, 2331, 31, 16],
        ]
    );
}

/// Few days, few minutes: four days of the week, the same for all.
fn tight_problem() -> impl Strategy<Value = Problem> {
    let minutes = || prop::option::weighted(0.95, prop::sample::select(vec![0_u32, 120, 300, 420, 600]));
    let one =
        (1_u8..=4, 1_u8..=2, 60_u32..400, any::<bool>(), prop::sample::select(vec![7_u8, 7, 7, 5, 6, 3]));
    (
        prop::collection::vec(one, 3..7),
        prop::collection::vec(prop::collection::vec(minutes(), 3), 3),
        prop::collection::vec(prop::option::weighted(0.3, prop::sample::select(vec![0_u32, 400, 800])), 7),
        prop::sample::select(vec![[0_usize, 2, 4, 6], [0, 1, 3, 5], [0, 1, 2, 3], [1, 2, 4, 5]]),
    )
        .prop_map(|(items, kinds, by_day, open)| {
            let never: DaySet = Day::ALL.into_iter().filter(|day| !open.contains(&(*day as usize))).collect();
            let items = items
                .into_iter()
                .map(|(days, per_day, seconds, is_loaded, parts)| Item {
                    seconds,
                    per_day,
                    never,
                    loads: if is_loaded { vec![0] } else { Vec::new() },
                    parts: Part::ALL.into_iter().filter(|part| parts & 1 << *part as u8 != 0).collect(),
                    ..item("x", 0, Days::PerWeek(days))
                })
                .collect();
            let mut posed = Problem { groups: vec!["knee".to_owned()], ..problem(items) };
            for day in 0..7 {
                posed.available[day].copy_from_slice(&kinds[day % 3]);
                posed.by_day[day] = by_day[day];
            }
            posed
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_week_is_better_than_the_proven_one(problem in tight_problem()) {
        let week = best(&problem);
        prop_assert!(week.proved);
        prop_assert_eq!(week.levels, tried_out(&problem));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    /// Two purses, and the first way down from where the first is spent.
    #[test]
    fn the_limit_holds_for_long_weeks(mut problem in any_problem(), more in prop::collection::vec(any_item(), 24..48)) {
        problem.items.extend(more);
        let limit = Limit { nodes: 20_000 };
        let week = solve(&problem, limit).expect("a sound problem");
        whole(&problem, &week);
        prop_assert!(week.nodes <= 3 * limit.nodes + 40_000 * problem.items.len() as u64, "{} steps", week.nodes);
    }
}

/// From typed text to the week laid.
fn laid(text: &str) -> layfigure::week::Laid {
    let (prescription, _) = layfigure::prescription::read(text);
    let mut cache = layfigure::programme::settled::Cache::default();
    let ask = layfigure::programme::Ask::today(None);
    let catalog = layfigure::catalog::Catalog::embedded();
    let programme = layfigure::programme::assemble::at(&prescription, catalog, &ask, &mut cache);
    layfigure::week::lay(&programme, Limit::USUAL).expect("a sound programme")
}

#[test]
fn a_typed_prescription_is_laid_on_days_parts_and_the_all_day_strip() {
    let laid = laid(
        "# Knee\ntime: Mon-Fri morning 15 min\ntime: no Thursdays\n\n\
         heel slide, right: 2 x 10, 2/day, morning, evening\nbridge: 3 x 10, 3/week\n\
         quad set, right: 10 x 5 s, hourly\ncalf stretch, both: 3 x 30 s, Mon Wed, after evening\n",
    );
    let strip: Vec<&str> = laid.all_day.iter().map(|(_, all_day)| all_day.when.as_str()).collect();
    assert_eq!(strip, ["each waking hour"]);
    assert_eq!(laid.items, [0, 1, 3]);
    assert_eq!(laid.problem.available[0], [Some(900), Some(0), Some(0)]);
    assert_eq!(laid.problem.available[5], [None; 3]);
    assert_eq!(laid.problem.by_day[Day::Thu as usize], Some(0));
    let shown = laid.shown();
    assert_eq!(shown.days.len(), 7);
    for day in [Day::Mon, Day::Wed] {
        let last = shown.days[day as usize].sessions.last().expect("an evening");
        assert_eq!((last.part, last.exercises.last()), (Part::Evening, Some(&3)));
    }
    // Twice a day has an evening that the minutes do not give; it is laid, and shown as overtime.
    assert!(shown.overtime.iter().any(|over| over.day == Day::Tue && over.part == Some(Part::Evening)));
    assert!(laid.shortage.is_some());
}

#[test]
fn alternate_days_show_the_week_that_is_asked_for() {
    let laid = laid("bridge: 3 x 10, alternate days\n");
    assert_eq!((laid.week.weeks, laid.half(Day::Mon)), (2, 1));
    let days: Vec<usize> = laid.shown().days.iter().map(|day| day.sessions.len()).collect();
    assert_eq!(days, [1, 0, 1, 0, 1, 0, 1]);
}

/// The slots of an exercise, `Mon morning` and so on, in the week shown.
fn slots(laid: &layfigure::week::Laid, exercise: usize) -> Vec<String> {
    let days = laid.shown().days.into_iter();
    days.flat_map(|day| {
        let here = day.sessions.into_iter().filter(|s| s.exercises.contains(&exercise));
        here.map(|s| format!("{} {}", day.day.short(), s.part.name())).collect::<Vec<_>>()
    })
    .collect()
}

#[test]
fn after_and_before_are_kept_within_the_day_and_within_the_session() {
    let laid = laid(
        "calf stretch, right: 2 x 30 s, daily, before heel slide\nheel slide, right: 2 x 10, daily\n\
         bridge: 3 x 10, daily, evening\nstep up, right: 3 x 8, daily, after bridge\n",
    );
    assert_eq!(laid.problem.rules, [Rule::After(1, 0), Rule::After(3, 2)]);
    assert_eq!(laid.week.levels.broken, 0);
    for day in laid.shown().days {
        let order: Vec<usize> = day.sessions.iter().flat_map(|s| s.exercises.clone()).collect();
        let at = |exercise| order.iter().position(|e| *e == exercise).expect("laid every day");
        assert!(at(0) < at(1) && at(2) < at(3), "{order:?}");
    }
}

#[test]
fn what_keeps_apart_shares_no_session_or_no_day() {
    let laid = laid(
        "bridge: 3 x 10, 3/week\nlunge, right: 3 x 8, 3/week, not on the same day as the bridge\n\
         calf raise: 3 x 10, Mon\nheel drop: 3 x 10, Mon, not with calf raises\n",
    );
    assert_eq!(laid.problem.rules, [Rule::NotOnDay(0, 1), Rule::NotInSession(2, 3)]);
    assert_eq!(laid.week.levels.broken, 0);
    let day = |slot: &String| slot.split(' ').next().map(str::to_owned);
    let (bridge, lunge) = (slots(&laid, 0), slots(&laid, 1));
    assert!(bridge.iter().all(|b| lunge.iter().all(|l| day(b) != day(l))), "{bridge:?} {lunge:?}");
    assert_eq!((slots(&laid, 2), slots(&laid, 3)), (vec!["Mon morning".into()], vec!["Mon evening".into()]));
}

#[test]
fn an_anchor_chooses_the_part_of_the_day() {
    let laid = laid(
        "bridge: 3 x 10, daily, before bed\nlunge, right: 3 x 8, Sat, only with daughter\n\
         heel slide, right: 2 x 10, 2/day, after brushing teeth\nsit back: 2 x 30 s, Tue, not in the first hour up\n\
         chin tuck: 10 reps, 3/day, after brushing teeth\n",
    );
    assert_eq!(slots(&laid, 0)[0], "Mon evening");
    assert_eq!(slots(&laid, 1).len(), 1);
    assert!(slots(&laid, 1)[0].starts_with("Sat"));
    assert!(!slots(&laid, 2).iter().any(|slot| slot.ends_with("midday")));
    assert!(!slots(&laid, 3)[0].ends_with("morning"));
    // Three goes do not fit two brushings: the anchor is printed, and every part is used.
    assert_eq!(slots(&laid, 4).len(), 21);
}

#[test]
fn nothing_is_laid_on_a_rest_day_or_where_something_stands() {
    let laid = laid(
        "time: Sun rest\ntime: Thu evening swimming, Tue evening gym 20 min works buttocks\n\
         heel slide, right: 2 x 10, daily, evening\nbridge: 3 x 10, 2/week\n",
    );
    let shown = laid.shown();
    assert_eq!(shown.rest, [Day::Sun]);
    let fixed: Vec<(Day, Part, &str)> =
        shown.fixed.iter().map(|f| (f.day, f.part, f.name.as_str())).collect();
    assert_eq!(fixed, [(Day::Tue, Part::Evening, "gym"), (Day::Thu, Part::Evening, "swimming")]);
    assert!(shown.days[Day::Sun as usize].sessions.is_empty());
    // Daily in the evening was said: it is laid on Thursday all the same, and shown to be over.
    assert_eq!(slots(&laid, 0).len(), 6);
    assert!(shown.overtime.iter().any(|o| (o.day, o.part) == (Day::Thu, Some(Part::Evening))));
    // The gym loads the buttocks on Tuesday: the bridge keeps off Monday and Wednesday, and off Tuesday's neighbours.
    assert_eq!(laid.week.levels.recovery, 0);
    assert!(slots(&laid, 1).iter().all(|slot| !slot.starts_with("Mon") && !slot.starts_with("Wed")));
}

#[test]
fn no_evening_says_nothing_of_the_morning() {
    let laid = laid("time: no Thu evening\nbridge: 3 x 10, daily\n");
    assert_eq!(laid.problem.available[Day::Thu as usize], [None, None, Some(0)]);
    assert_eq!(laid.week.levels.overtime, 0);
}

/// Notices of the programme by kind.
fn kinds(text: &str) -> Vec<&'static str> {
    let (prescription, _) = layfigure::prescription::read(text);
    let ask = layfigure::programme::Ask::today(None);
    let catalog = layfigure::catalog::Catalog::embedded();
    let programme = layfigure::programme::assemble::at(&prescription, catalog, &ask, &mut Default::default());
    programme.notices.iter().map(|n| n.kind()).collect()
}

#[test]
fn words_that_name_an_exercise_which_is_not_there_are_told() {
    assert!(kinds("bridge: 3 x 10, 3/week, not with lunge\n").contains(&"not-in-prescription"));
    assert!(kinds("bridge: 3 x 10, 3/week, after lunge\n").contains(&"not-in-prescription"));
    assert!(
        kinds("bridge: 3 x 10, 3/week, after heel slid\nheel slide, right: 2 x 10, daily\n")
            .contains(&"not-in-prescription")
    );
    assert!(!kinds("bridge: 3 x 10, 3/week, after breakfast\n").contains(&"not-in-prescription"));
    assert!(kinds("bridge: 3 x 10, 3/week, with someone\n").contains(&"days-with-whom"));
    assert!(!kinds("bridge: 3 x 10, Sat, only with daughter\n").contains(&"days-with-whom"));
}

fn course(text: &str) -> layfigure::week::phases::Course {
    let (prescription, _) = layfigure::prescription::read(text);
    let catalog = layfigure::catalog::Catalog::embedded();
    layfigure::week::phases::course(&prescription, catalog, None, &mut Default::default())
}

const COURSE: &str = "start: 2026-11-30\nweeks: 6\nlimit: right knee flexion 0-90 until week 3\n\
    bridge: 3 x 10, 3/week, 10 kg\n  from week 3: 3 x 12, 20 kg\n\
    step up, right: 2 x 8, 2/week, + 1 rep a week\n\
    heel slide, right: 2 x 10, daily, until week 4\n\
    quad set, right: 10 reps\n  from week 5: wall sit: 3 x 20 s, 3/week\n";

#[test]
fn a_course_tells_what_changes_minutes_sets_and_large_steps() {
    use layfigure::week::phases::What;
    let course = course(COURSE);
    assert_eq!(course.weeks.len(), 6);
    let told: Vec<Vec<(Option<usize>, What)>> =
        course.weeks.iter().map(|w| w.changes.iter().map(|c| (c.exercise, c.what)).collect()).collect();
    let more = (Some(1), What::More);
    assert_eq!(told[0], []);
    assert_eq!(told[1], [more]);
    assert_eq!(told[2], [(Some(0), What::More), more]);
    assert_eq!(told[3], [more, (None, What::LimitEnded)]);
    assert_eq!(told[4], [more, (Some(2), What::Stopped), (Some(3), What::Instead)]);
    assert_eq!(course.phases(), [1, 2, 3, 4, 5, 6]);
    // Bridge 3 x 3, step up 2 x 2, wall sit 3 x 3 from week 5: all three load the buttocks.
    let buttocks = course.groups.iter().position(|g| g == "buttocks").expect("loaded");
    let sets: Vec<u32> = course.weeks.iter().map(|w| w.sets[buttocks]).collect();
    assert_eq!(sets, [13, 13, 13, 13, 22, 22]);
    assert!(course.weeks[0].minutes < course.weeks[3].minutes);
    assert!(course.weeks[5].minutes < course.weeks[3].minutes);
    // From 10 to 20 kg is more than a tenth and more than 4 kg; from 10 to 14 kg would be a published step.
    assert_eq!(course.large_steps.iter().map(|s| (s.week, s.exercise)).collect::<Vec<_>>(), [(3, 0)]);
    assert!(course.large_steps[0].words.contains("100 % more"));
    let small = self::course(&COURSE.replace("20 kg", "14 kg"));
    assert!(small.large_steps.is_empty());
}

#[test]
fn a_step_by_criterion_is_held_against_the_published_ones_too() {
    // 8.5 kg after 4 is more than twice as much; 9 after 8.5 is 6 %.
    let text = "weeks: 4\nbridge: 3 x 10, 4 kg\n  when easy: 8.5 kg\n  if pain <= 2: 9 kg\n";
    let steps = course(text).large_steps;
    assert_eq!(steps.len(), 1, "{steps:?}");
    assert_eq!((steps[0].week, steps[0].exercise), (1, 0));
    assert!(steps[0].words.contains("from 4 to 8.5 kg when easy, 113 % more"), "{}", steps[0].words);
    let fine = ["4 kg\n  when easy: 6 kg", "20 kg\n  when easy: 22 kg", "slow\n  when easy: 9 kg"];
    for fine in fine {
        assert!(course(&format!("weeks: 4\nbridge: 3 x 10, {fine}\n")).large_steps.is_empty(), "{fine}");
    }
}

#[test]
fn what_a_later_week_alone_has_says_from_which_week() {
    let text = "weeks: 4\nbridge: 3 x 10, 3/week\n  from week 3: 30 x 50\n";
    let later: Vec<(u32, &str)> = course(text).later.iter().map(|(week, n)| (*week, n.kind())).collect();
    assert!(later.iter().any(|(week, _)| *week == 3), "{later:?}");
    assert!(course("weeks: 4\nbridge: 3 x 10, 3/week\n").later.is_empty());
}

#[test]
fn the_plot_is_small_and_says_in_words_what_it_shows() {
    let long = format!(
        "{COURSE}lunge, right: 3 x 8, 3/week\nband turn out, right: 3 x 10, 3/week\n\
        elbow bend, right: 3 x 10, 2/week\ncalf raise: 3 x 10, 3/week\ntable push-up: 3 x 10, 2/week\n"
    )
    .replace("weeks: 6", "weeks: 52");
    for (text, words) in [(COURSE, "buttocks: week 1 13, week 5 22."), (long.as_str(), "over 52 weeks.")] {
        let svg = layfigure::week::plot(&course(text));
        assert!(svg.len() <= 6 * 1024, "{} bytes", svg.len());
        assert!(svg.as_str().contains(words), "{svg}");
        assert!(svg.as_str().starts_with("<svg "));
    }
    assert!(layfigure::week::plot(&course("chin tuck: 10 reps, daily\n")).is_empty());
}

/// The programme and its week.
fn both(text: &str) -> (layfigure::programme::Programme, layfigure::week::Laid) {
    let (prescription, _) = layfigure::prescription::read(text);
    let ask = layfigure::programme::Ask::today(None);
    let catalog = layfigure::catalog::Catalog::embedded();
    let programme = layfigure::programme::assemble::at(&prescription, catalog, &ask, &mut Default::default());
    let laid = layfigure::week::lay(&programme, Limit::USUAL).expect("a sound programme");
    (programme, laid)
}

#[test]
fn moving_an_exercise_says_what_to_write_and_what_would_break() {
    use layfigure::week::{Write, moved};
    let text = "time: Tue morning 2 min\ntime: Sun rest\nbridge: 3 x 10, 3/week\n\
        one leg bridge, right: 2 x 8, Mon\nlunge, right: 2 x 8, Fri, not on the same day as calf stretch\n\
        calf stretch, right: 2 x 30 s, Thu\n";
    let (programme, laid) = both(text);
    let told = |exercise, from, to| moved(&programme, &laid, exercise, from, to);
    // Bridge is on Monday, Wednesday and Friday.
    let saturday = told(0, Day::Fri, Day::Sat).expect("it is there");
    assert_eq!(saturday.write, Write::Often { exercise: 0, dose: "Mon Wed Sat".into() });
    assert!(saturday.proved);
    let tuesday = told(0, Day::Wed, Day::Tue).expect("it is there").breaks;
    assert!(tuesday.iter().any(|s| s.contains("Tuesday") && s.ends_with("min over.")), "{tuesday:?}");
    assert!(
        tuesday.iter().any(|s| s.contains("(buttocks, hamstrings) would be loaded on Monday and Tuesday")),
        "{tuesday:?}"
    );
    let sunday = told(0, Day::Fri, Day::Sun).expect("it is there").breaks;
    assert!(sunday.iter().any(|s| s.contains("would have no place")), "{sunday:?}");
    let together = told(3, Day::Thu, Day::Fri).expect("it is there").breaks;
    assert!(together.iter().any(|s| s.contains("are both on Friday")), "{together:?}");
    assert_eq!(told(3, Day::Thu, Day::Sat).expect("it is there").breaks, Vec::<String>::new());
    assert_eq!(told(0, Day::Tue, Day::Sat), None);
    assert_eq!(told(0, Day::Mon, Day::Wed), None);
}

#[test]
fn a_sheet_of_a_later_week_marks_what_changes() {
    use layfigure::handout::{self, News, Sheet};
    let (prescription, _) = layfigure::prescription::read(COURSE);
    let catalog = layfigure::catalog::Catalog::embedded();
    let at = |week| {
        let ask = layfigure::programme::Ask { week: Some(week), ..layfigure::programme::Ask::today(None) };
        layfigure::programme::assemble::at(&prescription, catalog, &ask, &mut Default::default())
    };
    let now = at(5);
    let news = News::since(&at(4), &now);
    assert_eq!(news.marks, [(1, "More than last week."), (3, "New this week.")]);
    let ask = layfigure::programme::Ask { week: Some(5), ..layfigure::programme::Ask::today(None) };
    let course =
        handout::plan::Course::of(&prescription, catalog, &ask, Limit::USUAL, &mut Default::default());
    let course = course.expect("a sound programme");
    let html = handout::html(&course, &Sheet { news, ..Sheet::default() });
    for words in ["More than last week.", "New this week.", "No longer: Heel slide."] {
        assert!(html.to_lowercase().contains(&words.to_lowercase()), "{words}");
    }
    assert!(!handout::html(&course, &Sheet::default()).contains("this week."));
}
