//! Reads an exercise: a catalog file, or an own exercise's block in a prescription.

use super::find::Found;
use super::terms::{KINDS, Kit, Muscle, Position, Purpose, Region, Sides, Term};
use super::{Catalog, Exercise, Hint, Neighbour};
use crate::body::names::Side;
use crate::notice::kinds::catalog::OfCatalog;
use crate::notice::{Edit, Notice};
use crate::pose::ask::{From, Posture, Said};
use crate::pose::read::{self as pose, Line};
use crate::text::Place;
use crate::text::fold::folded;
use crate::text::near::nearest;

/// The fields of an exercise, in the order of a file.
pub const FIELDS: [&str; 27] = [
    "exercise",
    "like",
    "number",
    "also",
    "region",
    "purpose",
    "kind",
    "side",
    "sides",
    "position",
    "kit",
    "works",
    "loaded",
    "dose",
    "set up",
    "do",
    "feel",
    "if not felt",
    "fault",
    "stop if",
    "easier",
    "harder",
    "instead",
    "must show",
    "caution",
    "source",
    "pose",
];

/// Keys that, below a `pose:` line, belong to the pose.
const OF_A_POSE: [&str; 6] = ["works", "planted", "view", "support", "tempo", "pose"];

/// Reads a catalog file: its first field is `exercise: NAME`.
pub fn read_file(lines: &[Line<'_>]) -> (Exercise, Vec<Notice>) {
    let mut reader = Reader::new(Exercise::named(""), None);
    reader.lines(lines);
    reader.finish()
}

/// Reads an own exercise of a prescription: its name, and the lines of its block. `like: OTHER` copies an
/// exercise of the catalog; what the block says replaces what was copied, field by field, and pose lines
/// without a `pose:` line of their own change its first pose.
pub fn read(name: Line<'_>, lines: &[Line<'_>], catalog: &Catalog) -> (Exercise, Vec<Notice>) {
    let mut reader = Reader::new(Exercise::named(name.text.trim()), Some(catalog));
    reader.lines(lines);
    reader.finish()
}

struct Reader<'a> {
    exercise: Exercise,
    catalog: Option<&'a Catalog>,
    notices: Vec<Notice>,
    /// Fields that this text has said, so that a list that was copied is replaced once.
    said: Vec<&'static str>,
    /// Lines of the poses, from the first `pose:` on.
    poses: Vec<Line<'a>>,
    /// Pose lines before any `pose:` line.
    loose: Vec<Line<'a>>,
    shows: Vec<Line<'a>>,
}

impl<'a> Reader<'a> {
    fn new(exercise: Exercise, catalog: Option<&'a Catalog>) -> Reader<'a> {
        Reader {
            exercise,
            catalog,
            notices: Vec::new(),
            said: Vec::new(),
            poses: Vec::new(),
            loose: Vec::new(),
            shows: Vec::new(),
        }
    }

    fn tell(&mut self, what: OfCatalog, place: Place, edit: Option<Edit>) {
        self.notices.push(Notice::new(what, place).with(edit));
    }

    fn lines<'t: 'a>(&mut self, lines: &[Line<'t>]) {
        // What is copied must be there before anything replaces it, wherever `like:` stands.
        for line in lines {
            if let Some((key, value)) = split(*line)
                && folded(key.text) == "like"
            {
                self.like(value);
            }
        }
        for line in lines {
            let text = crate::text::trim(line.text);
            if text.is_empty() || text.starts_with("//") {
                continue;
            }
            let known = split(*line).and_then(|(key, value)| {
                let word = folded(key.text);
                FIELDS.iter().find(|f| **f == word).map(|f| (*f, value))
            });
            match known {
                Some((field, _)) if !self.poses.is_empty() && OF_A_POSE.contains(&field) => {
                    self.poses.push(*line);
                }
                Some(("pose", _)) => self.poses.push(*line),
                Some((field, value)) => self.field(field, value),
                None if !self.poses.is_empty() => self.poses.push(*line),
                None => match split(*line) {
                    Some((key, _)) if !OF_A_POSE.contains(&folded(key.text).as_str()) => {
                        self.unknown_field(key, *line);
                    }
                    _ => self.loose.push(*line),
                },
            }
        }
    }

    fn unknown_field(&mut self, key: Line<'_>, line: Line<'_>) {
        let near = nearest(key.text, FIELDS);
        let edit = match near.as_slice() {
            [one] => Edit { place: key.at, with: (*one).to_string() },
            _ => Edit { place: Place { end: line.at.start, ..line.at }, with: "// ".to_string() },
        };
        let typed = crate::text::trim(key.text).to_string();
        self.tell(OfCatalog::UnknownField { typed, fields: FIELDS.to_vec() }, key.at, Some(edit));
    }

    fn like(&mut self, value: Line<'_>) {
        let Some(catalog) = self.catalog else {
            self.tell(OfCatalog::LikeInFile, value.at, None);
            return;
        };
        let name = self.exercise.name.clone();
        match catalog.find(value.text) {
            Found::One(other) => {
                self.exercise =
                    Exercise { id: String::new(), number: None, name, also: Vec::new(), ..other.clone() };
            }
            Found::Near(near) => {
                let edit = match near.as_slice() {
                    [one] => Some(Edit { place: value.at, with: one.name.to_lowercase() }),
                    _ => None,
                };
                let near = near.iter().map(|e| e.name.to_lowercase()).collect();
                let typed = crate::text::trim(value.text).to_string();
                self.tell(OfCatalog::LikeNear { typed, near }, value.at, edit);
            }
            Found::None => {
                let typed = crate::text::trim(value.text).to_string();
                self.tell(OfCatalog::LikeUnknown { typed }, value.at, None);
            }
        }
    }

    /// Whether this is the first time that the text says the field.
    fn first(&mut self, field: &'static str) -> bool {
        let first = !self.said.contains(&field);
        self.said.push(field);
        first
    }

    fn field(&mut self, field: &'static str, value: Line<'a>) {
        let text = crate::text::trim(value.text).to_string();
        let first = self.first(field);
        let single = !matches!(
            field,
            "also"
                | "set up"
                | "do"
                | "feel"
                | "if not felt"
                | "fault"
                | "stop if"
                | "easier"
                | "harder"
                | "instead"
                | "must show"
                | "caution"
                | "kit"
                | "works"
        );
        if text.is_empty() {
            self.tell(OfCatalog::EmptyField { field }, value.at, None);
            return;
        }
        if single && !first {
            let edit = Edit { place: value.at, with: String::new() };
            self.tell(OfCatalog::FieldTwice { field }, value.at, Some(edit));
        }
        let e = &mut self.exercise;
        let list = |list: &mut Vec<String>, text: String| {
            if first {
                list.clear();
            }
            list.push(text);
        };
        match field {
            "exercise" => e.name = text,
            "like" => {}
            "number" => {
                let digits = text.split(';').next().unwrap_or("").trim().to_string();
                match digits.parse::<u32>() {
                    Ok(n) if 0 < n && n < 100_000 => e.number = Some(n),
                    _ => self.tell(OfCatalog::BadNumber, value.at, None),
                }
            }
            "also" => {
                if first {
                    e.also.clear();
                }
                e.also.extend(items(&text));
            }
            "region" => {
                if let Some(region) = self.term::<Region>(field, value) {
                    self.exercise.region = Some(region);
                }
            }
            "purpose" => {
                if let Some(purpose) = self.term::<Purpose>(field, value) {
                    self.exercise.purpose = purpose;
                }
            }
            "kind" => self.kind(value),
            "side" => e.side = text,
            "sides" => {
                if let Some(sides) = self.term::<Sides>(field, value) {
                    self.exercise.sides = sides;
                }
            }
            "position" => {
                if let Some(position) = self.term::<Position>(field, value) {
                    self.exercise.position = Some(position);
                }
            }
            "kit" => {
                if first {
                    e.kit.clear();
                }
                let kit = self.terms::<Kit>(field, value);
                self.exercise.kit.extend(kit);
            }
            "works" => {
                if first {
                    e.works.clear();
                    for pose in &mut e.poses {
                        pose.works.clear();
                    }
                }
                let works = self.terms::<Muscle>(field, value);
                self.exercise.works.extend(works);
            }
            "loaded" => match folded(&text).as_str() {
                "yes" => e.loaded = true,
                "no" => e.loaded = false,
                _ => {
                    let with = "no".to_string();
                    let edit = Some(Edit { place: value.at, with });
                    self.tell(OfCatalog::YesOrNo { field: "loaded" }, value.at, edit);
                }
            },
            "dose" => {
                let (dose, source) = text.split_once(';').unwrap_or((&text, ""));
                let start = value.at.start + (value.text.len() - crate::text::trim_start(value.text).len());
                let dose = crate::text::trim_end(dose);
                let at = Place { line: value.at.line, start, end: start + dose.len() };
                let (read, notices) = crate::dose::read(dose, at);
                e.dose = read;
                if !source.trim().is_empty() || self.catalog.is_none() {
                    e.dose_source = source.trim().to_string();
                }
                self.notices.extend(notices);
            }
            "set up" => list(&mut e.set_up, text),
            "do" => list(&mut e.steps, text),
            "feel" => list(&mut e.feel, text),
            "fault" => list(&mut e.faults, text),
            "stop if" => list(&mut e.stop_if, text),
            "if not felt" => {
                if first {
                    e.if_not_felt.clear();
                }
                let (hint, to) = match text.split_once("->").or_else(|| text.split_once('→')) {
                    Some((hint, to)) => (hint.trim().to_string(), Some(to.trim().to_string())),
                    None => (text, None),
                };
                e.if_not_felt.push(Hint { text: hint, to });
            }
            "easier" | "harder" | "instead" => {
                let all = match field {
                    "easier" => &mut e.easier,
                    "harder" => &mut e.harder,
                    _ => &mut e.instead,
                };
                if first {
                    all.clear();
                }
                if folded(&text) != "none" {
                    let id = |words: &str| match self.catalog.map(|c| c.find(words)) {
                        Some(Found::One(e)) => Some(e.id.clone()),
                        _ => None,
                    };
                    all.push(Neighbour { id: id(&text), words: text });
                }
            }
            "must show" => {
                if first {
                    e.must_show.clear();
                }
                if folded(&text) != "none" {
                    self.shows.push(value);
                }
            }
            "caution" => {
                if first {
                    e.cautions.clear();
                }
                if folded(&text) != "none" {
                    e.cautions.extend(items(&text));
                }
            }
            "source" => e.source = text,
            _ => {}
        }
    }

    fn kind(&mut self, value: Line<'_>) {
        let word = folded(value.text);
        if let Some((kind, _)) = KINDS.iter().find(|(_, w)| *w == word) {
            self.exercise.kind = *kind;
            return;
        }
        let near = nearest(&word, KINDS.iter().map(|(_, w)| *w));
        let with = near.first().copied().unwrap_or("repeated").to_string();
        let all = KINDS.iter().map(|(_, w)| *w).collect();
        let what = OfCatalog::OneOf { field: "kind", all };
        self.tell(what, value.at, Some(Edit { place: value.at, with }));
    }

    fn term<T: Term>(&mut self, field: &str, value: Line<'_>) -> Option<T> {
        let word = value.text.split(';').next().unwrap_or("").trim();
        let found = T::of(word);
        if found.is_none() {
            let all = T::words();
            let with = T::near(word).or(all.first().copied()).unwrap_or("").to_string();
            let what = OfCatalog::NotOneOf { typed: word.to_string(), field: field.to_string(), all };
            self.tell(what, value.at, Some(Edit { place: value.at, with }));
        }
        found
    }

    fn terms<T: Term>(&mut self, field: &str, value: Line<'_>) -> Vec<T> {
        let mut all = Vec::new();
        let mut start = value.at.start;
        for piece in value.text.split(',') {
            let lead = piece.len() - crate::text::trim_start(piece).len();
            let word = crate::text::trim(piece);
            let at = Place { line: value.at.line, start: start + lead, end: start + lead + word.len() };
            start += piece.len() + 1;
            if word.is_empty() || folded(word) == "none" {
                continue;
            }
            if let Some(term) = self.term::<T>(field, Line { text: word, at })
                && !all.contains(&term)
            {
                all.push(term);
            }
        }
        all
    }

    fn finish(mut self) -> (Exercise, Vec<Notice>) {
        if !self.poses.is_empty() {
            let mut lines = core::mem::take(&mut self.loose);
            lines.append(&mut self.poses);
            let (poses, notices) = pose::read(&lines);
            self.exercise.poses = poses;
            self.notices.extend(notices);
        } else if !self.loose.is_empty() {
            match self.exercise.poses.first_mut() {
                Some(first) => self.notices.extend(pose::overlay(first, &self.loose)),
                None => {
                    let (poses, notices) = pose::read(&self.loose);
                    self.exercise.poses = poses;
                    self.notices.extend(notices);
                }
            }
        }
        self.colour();
        let posture = self.exercise.poses.first().map_or(Posture::Standing, |p| match p.from {
            From::Posture(posture) => posture,
            From::Earlier(_) => Posture::Standing,
        });
        for line in core::mem::take(&mut self.shows) {
            let (shows, notices) = pose::shows::shows(line, posture);
            self.exercise.must_show.extend(shows);
            self.notices.extend(notices);
        }
        if self.exercise.position.is_none() && !self.exercise.poses.is_empty() {
            self.exercise.position = Some(position(posture));
        }
        (self.exercise, self.notices)
    }

    /// Where no pose says what works, the exercise's muscles are drawn so.
    fn colour(&mut self) {
        let e = &mut self.exercise;
        if e.works.is_empty() || e.poses.iter().any(|p| !p.works.is_empty()) {
            return;
        }
        let one_side = matches!(e.sides, Sides::Each | Sides::Alternate);
        let mut works = Vec::new();
        for muscle in &e.works {
            let text = muscle.word();
            let line = Line { text, at: Place { line: 1, start: 0, end: text.len() } };
            works.extend(pose::working_parts(line, one_side).0);
        }
        for pose in &mut e.poses {
            let place = pose.place;
            pose.works = works.iter().map(|what| Said { what: *what, place }).collect();
        }
    }
}

/// The position of a base posture.
pub fn position(posture: Posture) -> Position {
    match posture {
        Posture::Standing => Position::Standing,
        Posture::Sitting => Position::Sitting,
        Posture::LongSitting => Position::SittingOnFloor,
        Posture::Supine | Posture::CrookLying => Position::LyingOnBack,
        Posture::Prone => Position::LyingOnFront,
        Posture::SideLying(Side::Right | Side::Left) => Position::LyingOnSide,
        Posture::FourPointKneeling => Position::HandsAndKnees,
        Posture::HighKneeling => Position::Kneeling,
        Posture::HalfKneeling(_) => Position::HalfKneeling,
    }
}

/// What stands between commas.
fn items(text: &str) -> Vec<String> {
    text.split(',').map(|w| w.trim().to_string()).filter(|w| !w.is_empty()).collect()
}

/// The key before a line's first colon and the value behind it, with their places.
fn split(line: Line<'_>) -> Option<(Line<'_>, Line<'_>)> {
    let at = line.text.find([':', '\u{ff1a}'])?;
    let (key, rest) = line.text.split_at(at);
    let colon = rest.chars().next().map_or(1, char::len_utf8);
    let rest = rest.get(colon..).unwrap_or("");
    let piece = |text: &str, from: usize| {
        let lead = text.len() - crate::text::trim_start(text).len();
        let start = line.at.start + from + lead;
        Place { line: line.at.line, start, end: start + crate::text::trim(text).len() }
    };
    Some((
        Line { text: crate::text::trim(key), at: piece(key, 0) },
        Line { text: crate::text::trim(rest), at: piece(rest, at + colon) },
    ))
}
