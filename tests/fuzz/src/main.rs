//! Inputs nobody would type, by number: the same seed and number give the same input everywhere.
//!
//! `cargo run --release -p fuzz -- [lines] COUNT SEED [FIRST]`; with `lines` only lines of the trade's pieces. What fails, up to
//! `MOST` of them, is made smaller and printed with the seed and number that bring it back.

mod account;
mod laws;
mod mutate;
mod random;
mod seeds;
mod typed;

use layfigure::link::Shared;
use random::Random;
use seeds::Seeds;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// Every so many prescriptions are also laid on the desk, which settles their figures.
const DESK: u64 = 50;

/// After so many that fail a run ends.
const MOST: usize = 60;

#[derive(Clone, Debug)]
enum Input {
    Text(String),
    /// A line of the trade's pieces, and whether it stands below an exercise.
    Line(String, bool),
    /// Also laid on the desk.
    Desk(String),
    Fragment(String),
    Packed(Vec<u8>),
    Shared(Shared),
    Stored(String),
    Key(String),
    Diary(String),
}

fn input(seeds: &Seeds, seed: u64, number: u64, lines: bool) -> Input {
    let random = &mut Random::of(seed, number);
    if lines {
        let (line, deep) = typed::line(random);
        return Input::Line(line, deep);
    }
    if number.is_multiple_of(DESK) {
        return Input::Desk(mutate::text(random, seeds));
    }
    match random.below(20) {
        0 => Input::Fragment(mutate::one_of(random, &seeds.fragments)),
        1 => Input::Packed(mutate::bytes(random, &seeds.packed)),
        2 => {
            let at = random.below(seeds.shared.len());
            match seeds.shared.get(at) {
                Some(shared) => Input::Shared(Shared { text: mutate::text(random, seeds), ..shared.clone() }),
                None => Input::Key(String::new()),
            }
        }
        3 => Input::Stored(mutate::one_of(random, &seeds.stored)),
        4 => Input::Diary(mutate::one_of(random, &seeds.diaries)),
        6..=12 => {
            let (line, deep) = typed::line(random);
            Input::Line(line, deep)
        }
        5 => {
            let keys = ["layfigure desk prescription id0 1 writer", "layfigure desk prescription a 20 b"];
            Input::Key(mutate::one_of(random, &keys.map(Box::from)))
        }
        _ => Input::Text(mutate::text(random, seeds)),
    }
}

fn held(input: &Input) -> Result<(), String> {
    let law = || match input {
        Input::Text(typed) => laws::prescription(typed),
        Input::Line(typed, deep) => laws::prescription(typed).and_then(|()| account::law(typed, *deep)),
        Input::Desk(typed) => {
            laws::prescription(typed).and_then(|()| laws::buttons(typed)).and_then(|()| laws::desk(typed))
        }
        Input::Fragment(typed) => laws::fragment(typed),
        Input::Packed(bytes) => laws::packed(bytes),
        Input::Shared(shared) => laws::shared(shared),
        Input::Stored(value) => laws::desk_storage(value),
        Input::Key(typed) => laws::key(typed),
        Input::Diary(typed) => laws::diary(typed),
    };
    catch_unwind(AssertUnwindSafe(law)).unwrap_or_else(|panic| {
        let words = panic.downcast_ref::<String>().map(String::as_str);
        Err(format!("panic: {}", words.or(panic.downcast_ref::<&str>().copied()).unwrap_or("no words")))
    })
}

/// The smallest input of its kind that still fails, by leaving out ever shorter pieces.
fn smaller(input: Input) -> Input {
    let make: fn(String) -> Input = match &input {
        Input::Text(_) => Input::Text,
        Input::Desk(_) => Input::Desk,
        Input::Fragment(_) => Input::Fragment,
        Input::Stored(_) => Input::Stored,
        Input::Key(_) => Input::Key,
        Input::Diary(_) => Input::Diary,
        Input::Line(..) | Input::Packed(_) | Input::Shared(_) => return input,
    };
    let (Input::Text(text)
    | Input::Desk(text)
    | Input::Fragment(text)
    | Input::Stored(text)
    | Input::Key(text)
    | Input::Diary(text)) = input
    else {
        return input;
    };
    let begun = Instant::now();
    let mut all: Vec<char> = text.chars().collect();
    let mut piece = all.len().div_ceil(2);
    while 0 < piece {
        let mut at = 0;
        while at < all.len() && begun.elapsed() < Duration::from_secs(20) {
            let mut less = all.clone();
            less.drain(at..all.len().min(at + piece));
            if held(&make(less.iter().collect())).is_err() { all = less } else { at += piece }
        }
        piece = if piece == 1 { 0 } else { piece.div_ceil(2) };
    }
    make(all.into_iter().collect())
}

/// Runs inputs by number; those that fail are told, made smaller.
fn run(seeds: &Seeds, seed: u64, numbers: std::ops::Range<u64>, lines: bool) -> Result<String, String> {
    let (begun, mut slowest) = (Instant::now(), (Duration::ZERO, 0));
    let first = numbers.start;
    let mut count = 0;
    let mut failed = Vec::new();
    for number in numbers {
        count = number + 1 - first;
        let input = input(seeds, seed, number, lines);
        let start = Instant::now();
        if held(&input).is_err() {
            let small = smaller(input);
            let says = held(&small).err().unwrap_or_default();
            failed.push(format!(
                "{says}\n{small:?}\nagain: cargo run --release -p fuzz -- {}1 {seed} {number}",
                if lines { "lines " } else { "" }
            ));
            if MOST <= failed.len() {
                break;
            }
        }
        slowest = slowest.max((start.elapsed(), number));
    }
    let seconds = begun.elapsed().as_secs_f64();
    if !failed.is_empty() {
        return Err(format!("{}\n{} of {count} inputs fail", failed.join("\n"), failed.len()));
    }
    Ok(format!(
        "{count} inputs in {seconds:.1} s, {:.0} a second; the slowest, number {}, took {:.0} ms",
        count as f64 / seconds,
        slowest.1,
        slowest.0.as_secs_f64() * 1000.0
    ))
}

fn main() -> ExitCode {
    let mut words = std::env::args().skip(1).peekable();
    let lines = words.next_if(|word| word == "lines").is_some();
    let numbers: Vec<Option<u64>> = words.map(|word| word.parse().ok()).collect();
    let (count, seed, first) = match numbers.as_slice() {
        [Some(count), Some(seed)] => (*count, *seed, 0),
        [Some(count), Some(seed), Some(first)] => (*count, *seed, *first),
        _ => {
            eprintln!("fuzz [lines] COUNT SEED [FIRST]: so many inputs of that seed, from that number on.");
            return ExitCode::from(2);
        }
    };
    match Seeds::gathered().and_then(|seeds| run(&seeds, seed, first..first.saturating_add(count), lines)) {
        Ok(says) => {
            println!("{says}");
            ExitCode::SUCCESS
        }
        Err(says) => {
            eprintln!("{says}");
            ExitCode::FAILURE
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So many as take a few seconds as the tests are compiled; a longer run is started by hand.
    const COUNT: u64 = 3_000;

    #[test]
    fn nothing_read_from_outside_breaks() {
        let seeds = Seeds::gathered().expect("the vectors");
        assert!(400 < seeds.lines.len() && 3 < seeds.shared.len() && 8 < seeds.stored.len());
        let says = run(&seeds, 1, 0..COUNT, false).unwrap_or_else(|says| panic!("{says}"));
        println!("{says}");
    }

    #[test]
    fn every_word_is_accounted_for() {
        let seeds = Seeds::gathered().expect("the vectors");
        let says = run(&seeds, 2, 0..2 * COUNT, true).unwrap_or_else(|says| panic!("{says}"));
        println!("{says}");
    }

    #[test]
    fn an_input_comes_back_by_its_number() {
        let seeds = Seeds::gathered().expect("the vectors");
        let told = |number| format!("{:?}", input(&seeds, 7, number, false));
        assert_eq!(told(12), told(12));
        assert_ne!(told(12), told(13));
    }
}
