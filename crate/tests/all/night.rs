//! The patient's page by day and by night: every text and every tone of the figures is apart from what it stands on.
//! 4.5:1 for text and 3:1 for what is drawn are WCAG 2.2, 1.4.3 and 1.4.11.

use crate::known::drawn;
use layfigure::body::Body;
use layfigure::body::names::Side;
use layfigure::figure::{self, Look, Reader};
use layfigure::measure::math;
use std::collections::{BTreeMap, BTreeSet};

const STYLE: &str = include_str!("../../../www/home.css");
const NIGHT: &str = "@media screen and (prefers-color-scheme: dark) {";

type Colour = [f64; 4];

/// `#abc`, `#abcd`, `#aabbcc`, `#aabbccdd`: shares of red, green, blue and cover.
fn colour(hex: &str) -> Colour {
    let digits: Vec<u32> =
        hex.trim().trim_start_matches('#').chars().filter_map(|c| c.to_digit(16)).collect();
    let mut all: Vec<f64> = match digits.len() {
        3 | 4 => digits.iter().map(|d| f64::from(d * 17) / 255.0).collect(),
        6 | 8 => digits.chunks(2).map(|d| f64::from(d[0] * 16 + d[1]) / 255.0).collect(),
        _ => panic!("{hex:?} is no colour"),
    };
    all.resize(if all.len() < 4 { 3 } else { 4 }, 1.0);
    all.resize(4, 1.0);
    [all[0], all[1], all[2], all[3]]
}

/// Relative luminance (WCAG 2.2) of a colour laid on another.
fn luminance(c: Colour, on: Colour) -> f64 {
    let part = |i: usize| {
        let v = c[i] * c[3] + on[i] * (1.0 - c[3]);
        if v <= 0.04045 { v / 12.92 } else { math::pow((v + 0.055) / 1.055, 2.4) }
    };
    0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2)
}

fn contrast(a: Colour, b: Colour) -> f64 {
    let (a, b) = (luminance(a, b), luminance(b, b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn contrasts_are_those_of_the_definition() {
    assert!((contrast(colour("#000"), colour("#fff")) - 21.0).abs() < 1e-9);
    assert!((contrast(colour("#767676"), colour("#ffffff")) - 4.54).abs() < 0.01);
    assert!(
        (contrast(colour("#0008"), colour("#fff")) - contrast(colour("#777"), colour("#fff"))).abs() < 1e-9
    );
}

/// What stands between the braces that follow.
fn block<'a>(style: &'a str, head: &str) -> &'a str {
    let from = style.find(head).unwrap_or_else(|| panic!("no {head}")) + head.len();
    let mut depth = 1;
    let end = style[from..].char_indices().find(|(_, c)| {
        depth += match c {
            '{' => 1,
            '}' => -1,
            _ => 0,
        };
        depth == 0
    });
    &style[from..from + end.expect("an end").0]
}

fn variables(style: &str) -> BTreeMap<String, Colour> {
    let declared = block(style, ":root {").split(';').filter_map(|d| d.trim().split_once(':'));
    declared.filter_map(|(k, v)| Some((k.strip_prefix("--")?.to_string(), colour(v)))).collect()
}

fn by_day_and_night() -> [BTreeMap<String, Colour>; 2] {
    let (day, night) = (variables(STYLE), variables(block(STYLE, NIGHT)));
    assert!(day.keys().eq(night.keys()), "{:?} and {:?}", day.keys(), night.keys());
    [day, night]
}

#[test]
fn text_and_edges_can_be_seen_by_day_and_night() {
    let text = [
        ("ink", "ground paper card"),
        ("soft", "ground paper card"),
        ("accent", "ground paper"),
        ("done", "ground paper"),
        ("on", "ink accent done"),
        ("on-clock", "clock"),
    ];
    let edges = [("line", "ground paper card"), ("accent", "card"), ("done", "card")];
    for (theme, of) in by_day_and_night().iter().enumerate() {
        for (pairs, least) in [(text.as_slice(), 4.5), (edges.as_slice(), 3.0)] {
            for (name, on) in pairs {
                for on in on.split(' ') {
                    let found = contrast(of[*name], of[on]);
                    assert!(least <= found, "{name} on {on}, {theme}: {found:.2}");
                }
            }
        }
    }
}

/// An element of a figure, as far as its colours go: whether it is the root, its name, fill and line.
type Drawn = (bool, String, Option<String>, Option<String>);

/// Every way in which anything is coloured in any figure of the catalog.
fn all_drawn() -> BTreeSet<Drawn> {
    let body = Body::usual();
    let mut all = BTreeSet::new();
    for d in drawn(Side::Right) {
        let m = &d.movement;
        let look = Look { hold: Some(5), ..Look::default() };
        let clinician = Look { reader: Reader::Clinician, ..look };
        let mut svgs = vec![figure::still(&body, m, &look).svg, figure::still(&body, m, &clinician).svg];
        svgs.extend(figure::apart(&body, m, &look).into_iter().map(|f| f.svg));
        svgs.extend(figure::moving(&body, m, &Look::default()));
        for svg in &svgs {
            for tag in svg.as_str().split('<').skip(1).filter_map(|t| t.split('>').next()) {
                let name = tag.split([' ', '/']).next().unwrap_or("").to_string();
                let value = |name: &str| {
                    let rest = tag.split(&format!(" {name}=\"")).nth(1)?;
                    rest.split('"').next().map(str::to_string)
                };
                if ["svg", "path", "text", "rect", "circle", "line"].contains(&name.as_str()) {
                    // A detail is an `svg` of its own inside.
                    all.insert((tag.contains("xmlns"), name, value("fill"), value("stroke")));
                }
            }
        }
    }
    all
}

struct Rule {
    root: bool,
    element: Option<String>,
    with: Vec<(String, String)>,
    sets: BTreeMap<String, String>,
}

/// The night's rules for figures: `:where(#screen) svg [fill="#678"] { fill: … }`.
fn rules() -> Vec<Rule> {
    let mut all = Vec::new();
    for rule in block(STYLE, NIGHT).split('}').filter(|r| r.contains(" svg")) {
        let (selectors, declared) = rule.split_once('{').expect("a rule");
        let declared = declared.split(';').filter_map(|d| d.trim().split_once(": "));
        let sets: BTreeMap<String, String> =
            declared.map(|(k, v)| (k.to_string(), v.trim().to_string())).collect();
        for selector in selectors.split(',') {
            let own = selector.trim().strip_prefix(":where(#screen) svg").expect("a figure's rule");
            let (root, own) = own.strip_prefix(' ').map_or((true, own), |own| (false, own));
            let element = own.split('[').next().filter(|e| !e.is_empty()).map(str::to_string);
            let with = own.split('[').skip(1).filter_map(|a| a.trim_end_matches(']').split_once('='));
            let with = with.map(|(k, v)| (k.to_string(), v.trim_matches('"').to_string())).collect();
            all.push(Rule { root, element, with, sets: sets.clone() });
        }
    }
    assert!(10 < all.len());
    all
}

/// Fill and line as they are painted; the heavier rule wins, of two as heavy the later.
fn painted(drawn: &Drawn, rules: &[Rule], inherited: &[String; 2]) -> [String; 2] {
    let (root, element, fill, line) = drawn;
    let has = |(name, value): &(String, String)| {
        (if name == "fill" { fill } else { line }).as_deref() == Some(value.as_str())
    };
    let mut fits: Vec<&Rule> = rules
        .iter()
        .filter(|r| {
            r.root == *root && r.element.as_ref().is_none_or(|e| e == element) && r.with.iter().all(has)
        })
        .collect();
    fits.sort_by_key(|r| (r.with.len(), r.element.is_some()));
    ["fill", "stroke"].map(|name| {
        let (said, i) = if name == "fill" { (fill, 0) } else { (line, 1) };
        let by_rule = fits.iter().rev().find_map(|r| r.sets.get(name));
        by_rule.or(said.as_ref()).unwrap_or(&inherited[i]).clone()
    })
}

#[test]
fn every_tone_of_every_figure_can_be_seen_by_day_and_night() {
    let all = all_drawn();
    let root = all.iter().find(|d| d.0).expect("a root").clone();
    assert_eq!(all.iter().filter(|d| d.0).count(), 1, "every figure has the same root");
    assert!(10 < all.len(), "{all:?}");
    for (theme, (rules, page)) in [Vec::new(), rules()].iter().zip(by_day_and_night()).enumerate() {
        let card = page["card"];
        let of_root = painted(&root, rules, &[String::new(), String::new()]);
        assert_eq!(colour(&of_root[1]), card, "the line round about is what the figure stands on");
        let seen = |c: &str| if c == "none" { 0.0 } else { contrast(colour(c), card) };
        for drawn in &all {
            let [fill, line] = painted(drawn, rules, &of_root);
            // A line of the card's own colour, to part an arrow from what it crosses.
            let parts = fill == "none" && colour(&line) == card;
            // A plane without an edge: the light side of a thing that has its edge from another, the floor from above.
            let plane = drawn.3.as_deref() == Some("none")
                && [figure::THING_LIGHT, figure::GROUND].contains(&drawn.2.as_deref().unwrap_or(""));
            let best = seen(&fill).max(seen(&line));
            let least = if drawn.1 == "text" { 4.5 } else { 3.0 };
            // The floor's line is faint by day: the body says where it lies.
            let floor = drawn.3.as_deref() == Some(figure::GROUND_LINE) && theme == 0;
            assert!(
                parts || plane || floor || least <= best,
                "{drawn:?}, {theme}: {best:.2} of {fill} {line}"
            );
            if theme == 1 {
                for (said, now) in [(&drawn.2, &fill), (&drawn.3, &line)] {
                    let known =
                        said.is_none() || said.as_deref() == Some("none") || said.as_ref() != Some(now);
                    assert!(known, "{drawn:?} has no colour for the night");
                }
            }
            // What lies on the body is apart from it, or has a line that is apart from both.
            let lies =
                [figure::ACCENT, figure::FACE, figure::HELD].contains(&drawn.2.as_deref().unwrap_or(""));
            if lies {
                let (near, fill, line) = (colour(&of_root[0]), colour(&fill), colour(&line));
                let apart = contrast(fill, near).max(contrast(line, near).min(contrast(line, fill)));
                assert!(3.0 <= apart, "{drawn:?} on the body, {theme}: {apart:.2}");
            }
        }
    }
}
