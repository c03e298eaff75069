//! What a vector comes out as: one pure function that tests call natively and in wasm, so that a text put
//! below `tests/vectors` is compared on both without more ado.

use crate::body::Body;
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::catalog::Catalog;
use crate::desk::choices::Choices;
use crate::desk::{Ask, Desk};
use crate::door::reading;
use crate::figure::{Look, Reader, still};
use crate::handout::Paper;
use crate::link::fault::Kind;
use crate::link::share::{Named, Wanted, share};
use crate::link::{pack, qr, sealed, written};
use crate::measure::{Date, math};
use crate::pose::settle;
use crate::programme::settled::Cache;
use crate::week::model::Limit;
use std::collections::BTreeSet;
use std::fmt::Write;

/// Vectors that need no file.
pub const BUILT_IN: [&str; 2] = ["math", "catalog"];

/// All that the crate makes of one text. `name` is the vector's path below `tests/vectors`.
pub fn output(name: &str, input: &str) -> String {
    match name {
        "math" => arithmetic(),
        "catalog" => catalog(),
        _ if name.starts_with("link/") => link(input),
        // Every typed side of a file of pairs is a text of its own.
        _ if name.ends_with(".pairs") => {
            input.lines().filter_map(|line| line.split_once(" => ")).map(|(typed, _)| text(typed)).collect()
        }
        _ => text(input) + &page(input),
    }
}

/// What comes of a link's vector: the links that are made of its text, and what its link opens as or says.
///
/// Its input has parts that begin with `=== text`, `=== options` (`today:`, `named:`, `passphrase:`, `salt:`) and
/// `=== fragment`. What behind them is already known of the output is not read.
fn link(input: &str) -> String {
    let part = |name: &str| {
        let head = format!("=== {name}\n");
        let (_, rest) = input.split_once(&head)?;
        Some(rest.split_once("\n===").map_or(rest, |(part, _)| part))
    };
    let options = part("options").unwrap_or("");
    let option = |name: &str| options.lines().find_map(|l| l.strip_prefix(name)?.strip_prefix(": "));
    let catalog = Catalog::embedded();
    let mut out = String::new();
    let mut fragment = part("fragment").map(|f| f.trim().to_string());
    if let Some(text) = part("text") {
        let named = match option("named") {
            Some("initials") => Named::Initials,
            Some("not") => Named::Not,
            _ => Named::Written,
        };
        let today = option("today").and_then(Date::iso);
        let wanted = Wanted { named, emergency: None, today, limit: Limit { nodes: 20_000 } };
        let (prescription, _) = crate::prescription::read(text);
        let shared = share(&prescription, catalog, &wanted, &mut Cache::default());
        match shared.and_then(|shared| pack::pack(&shared, catalog)) {
            Ok(packed) => {
                let _ =
                    writeln!(out, "=== made\n{}\n{}", written::letters(&packed), written::digits(&packed));
                let code = qr::code("https://exercises.example/", &packed).map(|c| (c.version, c.path.len()));
                let _ = writeln!(out, "{code:?}");
                fragment = Some(written::letters(&packed));
                if let (Some(passphrase), Some(salt)) = (option("passphrase"), option("salt")) {
                    let ask = format!("seal\n{}\n{passphrase}\n{salt}", written::letters(&packed));
                    let _ = writeln!(out, "{}", sealed::work(&ask));
                }
            }
            Err(sentence) => {
                let _ = writeln!(out, "=== says\n{sentence}");
            }
        }
    }
    let Some(fragment) = fragment else { return out };
    let opened = written::opened(&fragment, catalog).map(|opened| (opened.shared, Some(opened.fragment)));
    let opened = match (opened, option("passphrase")) {
        (Err(fault), Some(words)) if fault.kind == Kind::Sealed => sealed::unseal(&fragment, words)
            .and_then(|packed| pack::unpack(&packed, catalog))
            .map(|shared| (shared, None)),
        (opened, _) => opened,
    };
    match opened {
        Ok((shared, as_written)) => {
            let issued = shared.issued.map_or(String::new(), |day| day.to_string());
            let _ = write!(out, "=== opens as\n{}", shared.text);
            let _ = writeln!(out, "=== with\n{issued} {} {:?}", shared.version, shared.prints);
            for stretch in &shared.course {
                let pattern = &stretch.pattern;
                let _ =
                    writeln!(out, "from week {}, {} proved {}", stretch.from, pattern.weeks, pattern.proved);
                for s in &pattern.sittings {
                    let _ = writeln!(out, "{} {} {} {:?}", s.week, s.day.short(), s.part.name(), s.exercises);
                }
            }
            let again = pack::pack(&shared, catalog).map(|packed| written::letters(&packed));
            // Digits and what was sealed are written in another way.
            let letters = as_written.filter(|written| written.starts_with(written::LETTERS));
            let same = letters.is_none_or(|letters| again == Ok(letters));
            let _ = writeln!(out, "packed again: {}", if same { "the same" } else { "OTHERWISE" });
        }
        Err(fault) => {
            let _ = writeln!(out, "=== says\n{:?}: {fault}", fault.kind);
        }
    }
    out
}

/// What comes of a text beyond its reading: checks, settled movements, the desk with its figures, the sheet.
fn page(input: &str) -> String {
    let today = Date::new(2026, 12, 2);
    let reading = reading::read(input, None, today, &mut Cache::default());
    let mut listing = reading.json();
    for drawn in reading.programme.exercises.iter().flat_map(|exercise| &exercise.drawn) {
        let _ = writeln!(listing, "{:?}", drawn.movement);
    }
    let hidden = BTreeSet::new();
    let ask = Ask { today, hidden: &hidden, ..Ask::of(input) };
    let mut desk = Desk::default();
    for (region, slots) in desk.answer(&ask).regions {
        for slot in slots {
            let _ = writeln!(listing, "{} {}\n{}", region.id(), slot.key, slot.html);
        }
    }
    let _ = writeln!(listing, "{}", desk.record(&ask));
    for slot in desk.week(input) {
        let _ = writeln!(listing, "{}", slot.html);
    }
    // With an address the sheet has the link's code on it, so packing is compared as well.
    for (paper, home) in [(Paper::A4, "https://clinic.example/home.html"), (Paper::Letter, "")] {
        let choices = Choices { paper, home: home.into(), ..Choices::default() };
        let _ = writeln!(listing, "{}", desk.handout(&ask, &choices));
    }
    listing
}

/// Any text is a prescription, if only a bad one.
fn text(input: &str) -> String {
    let (prescription, notices) = crate::prescription::read(input);
    let mut listing = crate::prescription::print(&prescription);
    for notice in &notices {
        let _ = writeln!(listing, "{notice:?}");
    }
    let _ = writeln!(listing, "{prescription:#?}");
    listing
}

/// Every exercise of the catalog settled for both sides and drawn for both readers.
fn catalog() -> String {
    let mut listing = String::new();
    for exercise in Catalog::embedded().exercises() {
        for side in Side::BOTH {
            let movement = settle::exercise(&Body::usual(), &exercise.poses, side, &Limits::none());
            // Debug writes the shortest digits that give the same number back, so every bit is compared.
            let _ = writeln!(listing, "{} {} {movement:?}", exercise.id, side.word());
            for reader in [Reader::Patient, Reader::Clinician] {
                let figure = still(&Body::usual(), &movement, &Look { reader, ..Look::default() });
                let _ = writeln!(listing, "{}\n{}", figure.svg, figure.words.join(" "));
            }
        }
    }
    listing
}

/// The bits of every function of `measure::math` over a few thousand arguments.
fn arithmetic() -> String {
    let mut listing = String::new();
    for step in -2000_i32..=2000 {
        let x = f64::from(step) * 0.013_7;
        let y = f64::from(step % 37) * 0.31 - 2.0;
        let bits = [
            math::sin(x),
            math::cos(x),
            math::tan(x),
            math::asin(x),
            math::acos(x),
            math::atan2(x, y),
            math::exp(y),
            math::ln(x.abs()),
            math::pow(x.abs(), y),
            math::hypot(x, y),
            x.abs().sqrt(),
        ]
        .map(f64::to_bits);
        let _ = writeln!(listing, "{step} {bits:x?}");
    }
    listing
}
