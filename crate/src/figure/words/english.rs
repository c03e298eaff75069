//! Sentences: a template said of one side or of both, capitals and full stops, `a` at a thing's first mention and
//! `the` from then on.

use crate::body::names::{Region, Side};
use crate::pose::ask::{PropKind, Spot, Surface};

/// How much a listener would miss a sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Need {
    /// Nice to hear, and first to go.
    Detail,
    Useful,
    Must,
}

/// A sentence to come. In its text `[knee]` is `your right knee` or `both knees`, `<knee>` is `your right knee` or
/// `your knees`, `[~knee]` and `<~knee>` are the other side's, `(is|are)` its first or second half, and `{chair}` a
/// thing.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub text: String,
    pub need: Need,
}

pub(super) fn must(text: impl Into<String>) -> Line {
    Line { text: text.into(), need: Need::Must }
}

pub(super) fn useful(text: impl Into<String>) -> Line {
    Line { text: text.into(), need: Need::Useful }
}

pub(super) fn detail(text: impl Into<String>) -> Line {
    Line { text: text.into(), need: Need::Detail }
}

/// The lines of both sides, said together where they are the same; the working side first, so that the mirrored
/// exercise is told in the same order.
pub(super) fn merged(working: Side, of: impl Fn(Side) -> Vec<Line>) -> Vec<Line> {
    let (near, mut far) = (of(working), of(working.other()));
    let mut out = Vec::new();
    for line in near {
        match far.iter().position(|l| l.text == line.text) {
            Some(at) => {
                let twin = far.remove(at);
                out.push(Line { text: filled(&line.text, None), need: line.need.max(twin.need) });
            }
            None => out.push(Line { text: filled(&line.text, Some(working)), need: line.need }),
        }
    }
    out.extend(far.into_iter().map(|l| Line { text: filled(&l.text, Some(working.other())), need: l.need }));
    out
}

pub(super) fn plural(noun: &str) -> String {
    match noun {
        "foot" => "feet".to_string(),
        "calf" => "calves".to_string(),
        n if n.contains(" and ") => n.split(" and ").map(plural).collect::<Vec<_>>().join(" and "),
        n if n.ends_with('s') => n.to_string(),
        n => format!("{n}s"),
    }
}

/// The template for that side, or for both.
pub(super) fn filled(template: &str, side: Option<Side>) -> String {
    let mut out = String::with_capacity(template.len() + 16);
    let mut rest = template;
    while let Some(at) = rest.find(['[', '<', '(']) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        let (opens, closes) = match from.as_bytes().first() {
            Some(b'[') => ('[', ']'),
            Some(b'<') => ('<', '>'),
            _ => ('(', ')'),
        };
        let end = from.find(closes).unwrap_or(from.len() - 1);
        let inner = from.get(1..end).unwrap_or("");
        if opens == '(' {
            let (one, many) = inner.split_once('|').unwrap_or((inner, inner));
            out.push_str(if side.is_some() { one } else { many });
        } else {
            let (noun, side) = match inner.strip_prefix('~') {
                Some(noun) => (noun, side.map(Side::other)),
                None => (inner, side),
            };
            out.push_str(&owned(noun, side, if opens == '[' { "both" } else { "your" }));
        }
        rest = from.get(end + 1..).unwrap_or("");
    }
    out.push_str(rest);
    out
}

/// `your right knee`, `both knees`, `the back of your right thigh`.
fn owned(noun: &str, side: Option<Side>, many: &str) -> String {
    let (face, noun) = match noun.split_once(" of the ") {
        Some((face, noun)) => (Some(face), noun),
        None => (None, noun),
    };
    let whole = match side {
        Some(s) => format!("your {} {noun}", s.word()),
        // Fingertips are more than two.
        None if noun.ends_with('s') => format!("your {noun}"),
        None => format!("{many} {}", plural(noun)),
    };
    match (face, side) {
        (Some(face), Some(_)) => format!("the {face} of {whole}"),
        (Some(face), None) => format!("the {} of {whole}", plural(face)),
        (None, _) => whole,
    }
}

/// With a capital and a full stop.
pub(super) fn sentence(text: &str) -> String {
    let mut chars = text.trim().chars();
    let mut s: String = match chars.next() {
        Some(c) => c.to_uppercase().chain(chars).collect(),
        None => String::new(),
    };
    if !s.is_empty() && !s.ends_with('.') {
        s.push('.');
    }
    s
}

/// What a patient calls a thing.
pub(super) fn kind_word(kind: PropKind) -> &'static str {
    match kind {
        PropKind::ChairBack => "chair back",
        PropKind::Dumbbell => "weight",
        k => k.word(),
    }
}

/// `{chair}`: the thing, its article chosen at the end.
pub(super) fn a(kind: PropKind) -> String {
    format!("{{{}}}", kind_word(kind))
}

/// The things in the sentences, each with `a` at its first mention and `the` from then on.
pub(super) fn with_articles(texts: Vec<String>) -> Vec<String> {
    let mut named: Vec<String> = Vec::new();
    texts
        .into_iter()
        .map(|text| {
            let mut out = String::with_capacity(text.len());
            let mut rest = text.as_str();
            while let Some((before, from)) = rest.split_once('{') {
                out.push_str(before);
                let (word, after) = from.split_once('}').unwrap_or((from, ""));
                let (new, word) = word.strip_prefix('+').map_or((false, word), |w| (true, w));
                let known = named.iter().any(|n| n == word);
                if !known {
                    named.push(word.to_string());
                }
                out.push_str(&with_article(word, known, new));
                rest = after;
            }
            out.push_str(rest);
            out
        })
        .collect()
}

fn with_article(word: &str, known: bool, new: bool) -> String {
    match word {
        "stairs" => "the stairs".to_string(),
        "chair back" => format!("the back of {} chair", if known { "the" } else { "a" }),
        w if known && new => format!("another {w}"),
        w if known => format!("the {w}"),
        w if w.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {w}"),
        w => format!("a {w}"),
    }
}

/// What a part rests on or against; a part of the body as the template of the same side or the other.
pub(super) fn surface(surface: Surface, of: Option<Side>) -> String {
    match surface {
        Surface::Floor => "the floor".to_string(),
        Surface::Prop(k) => a(k),
        Surface::Tread(1) => "the first stair".to_string(),
        Surface::Tread(2) => "the second stair".to_string(),
        Surface::Tread(3) => "the third stair".to_string(),
        Surface::Tread(n) => format!("stair {n}"),
        Surface::Edge(k) => format!("the edge of {}", a(k)),
        Surface::Body(s) => match (s.side, of) {
            (Some(one), Some(side)) if !one_only(s.region) => {
                format!("<{}{}>", if one == side { "" } else { "~" }, noun(s.region))
            }
            _ => spot(s),
        },
    }
}

/// `your left knee`, `your lower back`.
pub(super) fn spot(s: Spot) -> String {
    match s.side {
        Some(side) if !one_only(s.region) => owned(noun(s.region), Some(side), ""),
        _ => format!("your {}", noun(s.region)),
    }
}

/// Regions with a side of which a patient has but one.
pub(super) fn one_only(r: Region) -> bool {
    matches!(r, Region::SideOfHead | Region::Seat)
}

/// The plain word for a part: the whole rather than one face of it, where that is enough to find it.
pub(super) fn noun(r: Region) -> &'static str {
    match r {
        Region::BackOfHead | Region::SideOfHead => "head",
        Region::WholeBack => "back",
        Region::Sacrum | Region::Seat => "bottom",
        Region::PelvisFront => "hips",
        Region::HipSide => "hip",
        Region::ShoulderSide => "shoulder",
        Region::WristFront => "wrist",
        Region::Palm => "hand",
        Region::ThighFront => "thigh",
        Region::KneeFront => "knee",
        Region::KneeInner => "inside of the knee",
        Region::KneeOuter => "outside of the knee",
        Region::AnkleOuter | Region::AnkleInner => "ankle",
        Region::Sole => "foot",
        Region::FootInner | Region::FootOuter => "foot",
        r => r.word(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_sides_are_said_together_only_where_they_are_the_same() {
        let lines = |s: Side| {
            let mut l = vec![must("put [foot] flat")];
            if s == Side::Left {
                l.insert(0, must("bend [knee]"));
            }
            l
        };
        let texts: Vec<String> = merged(Side::Right, lines).into_iter().map(|l| l.text).collect();
        assert_eq!(texts, ["put both feet flat", "bend your left knee"]);
    }

    #[test]
    fn a_template_is_filled_for_one_side_and_for_both() {
        let t = "hold the back of <thigh>, [~foot] (is|are) up";
        assert_eq!(filled(t, Some(Side::Left)), "hold the back of your left thigh, your right foot is up");
        assert_eq!(filled("rest [back of the thigh]", None), "rest the backs of both thighs");
    }

    #[test]
    fn a_thing_is_new_once() {
        let texts = ["face {worktop}", "hold {worktop}", "put {pillow} there", "put {+pillow} here"];
        assert_eq!(
            with_articles(texts.iter().map(|t| t.to_string()).collect()),
            ["face a worktop", "hold the worktop", "put a pillow there", "put another pillow here"]
        );
    }
}
