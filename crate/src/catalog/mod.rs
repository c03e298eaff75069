//! The exercises that are known: small text files in the prescription's line grammar, one an exercise.
//!
//! A file and an own exercise in a prescription are one format, read by [`reader::read`]. The files stand in
//! `/catalog`, one folder a region; `build.rs` joins them, and [`Catalog::embedded`] carries them everywhere.
//! [`checks`] is the list of named checks that every file passes.

pub mod checks;
pub mod find;
pub mod near;
pub mod reader;
pub mod terms;

#[cfg(test)]
mod tests;

use std::sync::OnceLock;

use crate::dose::{Dose, Kind};
use crate::pose::ask::Pose;
use crate::pose::read::Line;
use crate::pose::read::shows::Show;
use crate::text::Place;
use terms::{Kit, Muscle, Position, Purpose, Region, Sides};

/// All exercises, in the order of their files.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalog {
    exercises: Vec<Exercise>,
    index: find::Index,
}

/// One exercise, support or piece of advice. Lists are in the order written.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// The file's name without ending, never renamed and never used again; empty for an own exercise.
    pub id: String,
    /// From `numbers.txt`; none for an own exercise.
    pub number: Option<u32>,
    pub name: String,
    /// Synonyms.
    pub also: Vec<String>,
    pub region: Option<Region>,
    pub purpose: Purpose,
    pub kind: Kind,
    /// What a side means here, in words: `the leg that moves`.
    pub side: String,
    pub sides: Sides,
    pub position: Option<Position>,
    pub kit: Vec<Kit>,
    pub works: Vec<Muscle>,
    /// Whether recovery is due after it.
    pub loaded: bool,
    /// The default dose.
    pub dose: Dose,
    pub dose_source: String,
    pub set_up: Vec<String>,
    /// The movement, step by step (`do:`).
    pub steps: Vec<String>,
    pub feel: Vec<String>,
    pub if_not_felt: Vec<Hint>,
    pub faults: Vec<String>,
    pub stop_if: Vec<String>,
    pub easier: Vec<Neighbour>,
    pub harder: Vec<Neighbour>,
    /// Others with the same aim (`instead:`).
    pub instead: Vec<Neighbour>,
    pub must_show: Vec<Show>,
    /// Precautions, in words: `pregnancy`, `raised blood pressure`. Empty: none.
    pub cautions: Vec<String>,
    pub source: String,
    pub poses: Vec<Pose>,
    /// Changes when a line of its file changes that the patient's picture, words or minutes depend on; 0 for an
    /// own exercise.
    pub print: u16,
}

/// What to do if nothing is felt, and the exercise that it leads to, where it does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    pub text: String,
    pub to: Option<String>,
}

/// An easier or harder way: another exercise, or plain words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Neighbour {
    /// As written.
    pub words: String,
    /// The id of the exercise that the words name, where they do.
    pub id: Option<String>,
}

impl Exercise {
    /// An exercise of which nothing is known but its name: a repeated one without sides.
    pub fn named(name: &str) -> Exercise {
        Exercise {
            id: String::new(),
            number: None,
            name: name.to_string(),
            also: Vec::new(),
            region: None,
            purpose: Purpose::Strengthen,
            kind: Kind::Repeated,
            side: String::new(),
            sides: Sides::None,
            position: None,
            kit: Vec::new(),
            works: Vec::new(),
            loaded: false,
            dose: Dose::default(),
            dose_source: String::new(),
            set_up: Vec::new(),
            steps: Vec::new(),
            feel: Vec::new(),
            if_not_felt: Vec::new(),
            faults: Vec::new(),
            stop_if: Vec::new(),
            easier: Vec::new(),
            harder: Vec::new(),
            instead: Vec::new(),
            must_show: Vec::new(),
            cautions: Vec::new(),
            source: String::new(),
            poses: Vec::new(),
            print: 0,
        }
    }

    /// Whether one has to get down to the floor (or a bed) for it.
    pub fn is_on_floor(&self) -> bool {
        self.position.is_some_and(Position::is_on_floor)
    }
}

impl Catalog {
    /// The catalog that this program carries.
    pub fn embedded() -> &'static Catalog {
        static CATALOG: OnceLock<Catalog> = OnceLock::new();
        CATALOG.get_or_init(|| Catalog::read(EMBEDDED).0)
    }

    /// Reads joined files: a line `@ REGION/NAME` opens each. Returns what is wrong, by file.
    pub fn read(text: &str) -> (Catalog, Vec<(String, crate::notice::Notice)>) {
        let mut exercises = Vec::new();
        let mut notices = Vec::new();
        let mut file = String::new();
        let mut lines: Vec<Line<'_>> = Vec::new();
        let mut take = |file: &str, lines: &mut Vec<Line<'_>>| {
            if file.is_empty() {
                lines.clear();
                return;
            }
            let (mut exercise, told) = reader::read_file(lines);
            exercise.print = print(lines);
            exercise.id = file.rsplit('/').next().unwrap_or(file).to_string();
            exercises.push(exercise);
            notices.extend(told.into_iter().map(|n| (file.to_string(), n)));
            lines.clear();
        };
        let mut number = 0;
        for raw in text.lines() {
            if let Some(name) = raw.strip_prefix("@ ") {
                take(&file, &mut lines);
                file = name.trim().to_string();
                number = 0;
                continue;
            }
            number += 1;
            let text = raw.trim();
            let start = raw.len() - raw.trim_start().len();
            lines.push(Line { text, at: Place { line: number, start, end: start + text.len() } });
        }
        take(&file, &mut lines);
        (Catalog::of(exercises), notices)
    }

    /// A catalog of these exercises; names of neighbours are resolved among them.
    pub fn of(exercises: Vec<Exercise>) -> Catalog {
        let index = find::Index::of(&exercises);
        let mut catalog = Catalog { exercises, index };
        let id = |words: &str| match catalog.find(words) {
            find::Found::One(exercise) => Some(exercise.id.clone()),
            find::Found::Near(_) | find::Found::None => None,
        };
        let mut resolved = catalog.exercises.clone();
        for exercise in &mut resolved {
            for list in [&mut exercise.easier, &mut exercise.harder, &mut exercise.instead] {
                for neighbour in list {
                    neighbour.id = id(&neighbour.words);
                }
            }
        }
        catalog.exercises = resolved;
        catalog
    }

    pub fn exercises(&self) -> &[Exercise] {
        &self.exercises
    }

    /// The exercise with this id, case as written.
    pub fn by_id(&self, id: &str) -> Option<&Exercise> {
        self.exercises.iter().find(|e| !e.id.is_empty() && e.id == id)
    }

    pub fn by_number(&self, number: u32) -> Option<&Exercise> {
        self.exercises.iter().find(|e| e.number == Some(number))
    }

    /// Whether words are an exercise's name or synonym as they stand.
    pub fn is_named(&self, words: &str) -> bool {
        self.index.is_named(words)
    }

    /// Whether a name, as [`find::key`] writes it, is an exercise's name or synonym.
    pub fn is_name(&self, key: &str) -> bool {
        self.index.has(key)
    }

    /// The exercise that these words name (side words already taken away).
    ///
    /// Exact by name or synonym, with plural and singular, hyphens, case and look-alike letters made one.
    /// Anything else is at most near: never taken silently, never across an opposite word.
    pub fn find(&self, words: &str) -> find::Found<'_> {
        self.index.find(words, &self.exercises)
    }
}

/// Keys of a file that change nothing of what the patient sees; the dose is written out wherever it is used.
const NOT_SEEN: [&str; 9] =
    ["number", "also", "region", "works", "dose", "must show", "caution", "source", "instead"];

/// FNV-1a over the lines of a file that the patient's view depends on, folded to 16 bits.
fn print(lines: &[Line<'_>]) -> u16 {
    let mut hash = 0x811c_9dc5_u32;
    let mut in_poses = false;
    for line in lines {
        let key = line.text.split_once(':').map_or("", |(key, _)| key.trim_end());
        in_poses |= key == "pose";
        // A neighbour's name stands on the clinician's page alone; the patient reads the sentences.
        let name = matches!(key, "easier" | "harder") && !line.text.ends_with('.');
        let seen = in_poses || !(name || NOT_SEEN.contains(&key));
        if seen && !line.text.is_empty() && !line.text.starts_with("//") {
            for byte in line.text.bytes().chain([b'\n']) {
                hash = (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193);
            }
        }
    }
    (hash ^ (hash >> 16)) as u16
}

const EMBEDDED: &str = include_str!(concat!(env!("OUT_DIR"), "/catalog.txt"));
