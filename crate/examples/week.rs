//! Problems for the week's solver, and how long it takes over them.
//!
//! `cargo run --release --example week -- problems SEED SIZE COUNT` prints a JSON list of problems;
//! `cargo run --release --example week -- times [COUNT]` prints times by size.

#![allow(clippy::disallowed_methods, reason = "a benchmark reads the clock and prints")]

use std::time::Instant;

use layfigure::week::model::{
    Appointment, Day, DaySet, Days, Item, Limit, Part, PartSet, Position, Problem, Rule, USUAL_CLOCK,
};
use layfigure::week::solve::solve;

/// Pseudo-random numbers that are the same everywhere (the finishing step of splitmix64, Steele 2014).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % below
    }

    fn chance(&mut self, percent: u64) -> bool {
        self.roll(100) < percent
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.roll(from.len() as u64) as usize]
    }
}

/// A programme such as a clinician might write: some things to loosen often, loaded work with rest days, stretches,
/// balance; with or without the patient's minutes.
fn problem(dice: &mut Dice, size: usize) -> Problem {
    let groups = ["knee", "hip", "calf", "shoulder", "trunk", "neck"];
    let positions = [
        ("lying on back", true),
        ("side-lying", true),
        ("four-point kneeling", true),
        ("sitting", false),
        ("standing", false),
    ];
    let tidy = dice.chance(60);
    let mut items = Vec::new();
    for number in 0..size {
        let purpose = dice.pick(&[0, 0, 1, 2, 2, 2, 2, 3, 3, 4]);
        let (low, high) = match purpose {
            0 | 1 => (40, 200),
            2 => (120, 420),
            _ => (60, 240),
        };
        let mut seconds = (low + dice.roll(high - low)) as u32;
        if tidy {
            seconds -= seconds % 10;
        }
        let per_day = match purpose {
            0 => dice.pick(&[1, 1, 2, 2, 3]),
            3 => dice.pick(&[1, 1, 1, 2]),
            _ => 1,
        };
        let days = match purpose {
            0 | 1 => dice.pick(&[Days::Daily, Days::Daily, Days::Daily, Days::PerWeek(5)]),
            2 => match dice.roll(12) {
                0..=6 => Days::PerWeek(3),
                7 | 8 => Days::PerWeek(2),
                9 => Days::Daily,
                10 => Days::PerWeek(4),
                _ => Days::Chosen([Day::Mon, Day::Thu].into_iter().collect()),
            },
            3 => dice.pick(&[Days::Daily, Days::Daily, Days::PerWeek(5), Days::PerWeek(3)]),
            _ => dice.pick(&[Days::PerWeek(2), Days::PerWeek(3), Days::PerWeek(5), Days::Daily]),
        };
        let loads = if purpose == 2 { vec![dice.roll(groups.len() as u64) as usize] } else { Vec::new() };
        let parts = if per_day == 1 && dice.chance(15) {
            [dice.pick(&Part::ALL)].into_iter().collect()
        } else if dice.chance(10) {
            [Part::Morning, Part::Evening].into_iter().collect()
        } else {
            PartSet::ALL
        };
        let never: DaySet = if matches!(days, Days::PerWeek(_)) && dice.chance(10) {
            [dice.pick(&Day::ALL)].into_iter().collect()
        } else {
            DaySet::default()
        };
        items.push(Item {
            name: format!("exercise {}", number + 1),
            seconds,
            per_day,
            days,
            never,
            parts,
            apart_minutes: 0,
            loads,
            purpose,
            position: dice.roll(positions.len() as u64) as usize,
            kit: dice.pick(&[0, 0, 0, 1, 2]),
        });
    }
    let mut rules = Vec::new();
    if dice.chance(30) {
        let (a, b) = (dice.roll(size as u64) as usize, dice.roll(size as u64) as usize);
        rules.push(dice.pick(&[Rule::NotInSession(a, b), Rule::NotOnDay(a, b), Rule::After(a, b)]));
    }
    let weekly: u32 = items
        .iter()
        .map(|item| {
            let days = match item.days {
                Days::Daily => 7,
                Days::PerWeek(n) => u32::from(n),
                Days::Chosen(days) => days.len(),
                Days::Alternate => 4,
            };
            item.seconds * u32::from(item.per_day) * days
        })
        .sum();
    // Minutes of a day: about 70 % to 170 % of what is needed on average.
    let given = weekly / 7 * (70 + dice.roll(100) as u32) / 100;
    let minutes = |seconds: u32| Some(seconds.div_ceil(300) * 300);
    let mut available = [[None; 3]; 7];
    match dice.roll(10) {
        0..=3 => {}
        4..=6 => {
            for (day, slot) in available.iter_mut().enumerate() {
                *slot = if day < 5 {
                    [minutes(given * 2 / 5), Some(0), minutes(given * 3 / 5)]
                } else {
                    [minutes(given), Some(0), Some(0)]
                };
            }
        }
        7 | 8 => {
            for slot in &mut available {
                *slot = [minutes(given / 3), minutes(given / 3), minutes(given / 3)];
            }
        }
        _ => {
            for (day, slot) in available.iter_mut().enumerate() {
                *slot = [minutes(given / 2), None, minutes(given / (1 + day as u32 % 3))];
            }
        }
    }
    let mut appointments = Vec::new();
    if dice.chance(20) {
        appointments.push(Appointment {
            name: "swimming".to_owned(),
            day: dice.pick(&Day::ALL),
            part: Part::Evening,
            seconds: 600,
            loads: vec![dice.roll(groups.len() as u64) as usize],
        });
    }
    Problem {
        items,
        rules,
        available,
        by_day: [None; 7],
        appointments,
        clock: USUAL_CLOCK,
        groups: groups.map(str::to_owned).to_vec(),
        positions: positions.map(|(name, floor)| Position { name: name.to_owned(), floor }).to_vec(),
        change_seconds: 20,
        floor_once: dice.chance(30),
        all_day: Vec::new(),
    }
}

/// One item in ten on alternate days, so a cycle of two weeks.
fn with_alternates(dice: &mut Dice, mut problem: Problem) -> Problem {
    for item in &mut problem.items {
        if matches!(item.days, Days::PerWeek(3)) && item.never.is_empty() && dice.chance(30) {
            item.days = Days::Alternate;
        }
    }
    problem
}

fn times(count: usize) {
    println!("items  weeks   median ms    p90 ms    max ms   steps p90   not proved");
    for size in [6, 8, 12, 16, 24, 32, 48] {
        for alternate in [false, true] {
            let mut dice = Dice(2026 + size as u64);
            let mut rows = Vec::new();
            let mut unproved = 0;
            for _ in 0..count {
                let mut problem = problem(&mut dice, size);
                if alternate {
                    problem = with_alternates(&mut dice, problem);
                }
                let start = Instant::now();
                let week = solve(&problem, Limit::USUAL).expect("the problems made here are sound");
                rows.push((start.elapsed().as_secs_f64() * 1e3, week.nodes));
                unproved += usize::from(!week.proved);
            }
            rows.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut steps: Vec<u64> = rows.iter().map(|row| row.1).collect();
            steps.sort_unstable();
            let weeks = if alternate { 2 } else { 1 };
            println!(
                "{size:5}  {weeks:5}  {:10.2}{:10.2}{:10.2}{:12}{unproved:8} of {count}",
                rows[count / 2].0,
                rows[count * 9 / 10].0,
                rows[count - 1].0,
                steps[count * 9 / 10],
            );
        }
    }
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = |at: usize, other: u64| args.get(at).and_then(|word| word.parse().ok()).unwrap_or(other);
    match args.first().map(String::as_str) {
        Some("problems") => {
            let mut dice = Dice(number(1, 2026));
            let size = number(2, 8) as usize;
            let all: Vec<Problem> = (0..number(3, 1))
                .map(|at| {
                    let made = problem(&mut dice, size);
                    if at % 5 == 4 { with_alternates(&mut dice, made) } else { made }
                })
                .collect();
            println!("{}", serde_json::to_string(&all).expect("problems are plain data"));
        }
        Some("times") => times(number(1, 50) as usize),
        _ => eprintln!("Expected: problems SEED SIZE COUNT, or times [COUNT]."),
    }
}
