//! Every figure painted by Chromium and by resvg, dot by dot.
//!
//! The two share no code of ours and none of each other's, so what both paint is what the SVG says. One visit to the
//! browser for all: one page, a few screens of it.

use browser::driver::Browser;
use browser::engine::Engine;
use browser::server::Server;
use raster::WIDTH;
use raster::compare::{Difference, compare};
use raster::figures::{Named, stills, stills_of_others};
use raster::paint::{Picture, height, paint};
use serde_json::Value;

/// Figures beside each other on the page, and the dots between them.
const COLUMNS: usize = 4;
const GAP: usize = 8;
/// How high a screen may be, dots.
const SCREEN: usize = 3000;

/// Where a figure stands on the page.
struct Place {
    left: usize,
    top: usize,
    height: usize,
}

/// Places in rows, and for each screen where it begins and which figures it shows.
fn laid(figures: &[Named]) -> (Vec<Place>, Vec<(usize, std::ops::Range<usize>)>) {
    let mut places: Vec<Place> = Vec::new();
    let mut screens: Vec<(usize, std::ops::Range<usize>)> = Vec::new();
    let mut top = 0;
    for row in figures.chunks(COLUMNS) {
        let heights: Vec<usize> = row.iter().map(|f| height(f.width, f.height, WIDTH) as usize).collect();
        let tallest = heights.iter().copied().max().unwrap_or(0);
        let first = places.len();
        for (i, height) in heights.into_iter().enumerate() {
            places.push(Place { left: i * (WIDTH as usize + GAP), top, height });
        }
        match screens.last_mut() {
            Some((begin, shown)) if top + tallest <= *begin + SCREEN => shown.end = places.len(),
            _ => screens.push((top, first..places.len())),
        }
        top += tallest + GAP;
    }
    (places, screens)
}

fn page(figures: &[Named], places: &[Place]) -> String {
    // Texts keep their boxes.
    let mut html = String::from(
        "<!DOCTYPE html><html lang=\"en\"><meta charset=\"utf-8\"><title>All figures</title><style>
body { margin: 0; background: #fff; height: 100000px } svg { position: absolute } text { visibility: hidden }
</style>\n",
    );
    let root = |place: &Place| {
        format!(
            "<svg preserveAspectRatio=\"xMinYMin meet\" width=\"{WIDTH}\" height=\"{}\" style=\"left:{}px;top:{}px\" ",
            place.height, place.left, place.top
        )
    };
    for (figure, place) in figures.iter().zip(places) {
        html.push_str(&figure.svg.replacen("<svg ", &root(place), 1));
        html.push('\n');
    }
    html
}

/// What Chromium paints, and for each figure the boxes of its texts: left, top, right, bottom in page units.
fn chromium(figures: &[Named]) -> Result<(Vec<Picture>, Value), String> {
    let (places, screens) = laid(figures);
    let folder = browser::root().join("target/raster");
    std::fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
    std::fs::write(folder.join("figures.html"), page(figures, &places)).map_err(|e| e.to_string())?;
    let browser = Browser::start(Engine::Chromium)?;
    let server = Server::start(folder, 0).map_err(|e| e.to_string())?;
    browser.size((COLUMNS * (WIDTH as usize + GAP)) as u32, SCREEN as u32)?;
    browser.open(&format!("{}figures.html", server.address()))?;
    let mut pictures = Vec::new();
    for (begin, shown) in screens {
        browser.script_with("scrollTo(0, arguments[0])", serde_json::json!([begin]))?;
        let screen = Picture::of_png(&browser.screenshot()?)?;
        for place in &places[shown] {
            pictures.push(screen.part(place.left, place.top - begin, WIDTH as usize, place.height));
        }
    }
    let boxes = browser.script(
        "return [...document.querySelectorAll('body > svg')].map(svg => [...svg.querySelectorAll('text')].map(text => {
           const b = text.getBBox();
           return [text.textContent, b.x, b.y, b.x + b.width, b.y + b.height];
         }))",
    )?;
    Ok((pictures, boxes))
}

/// Dots that may differ by more than [`raster::compare::TOLERANCE`] in a figure: half of what an altered limb must change
/// at least, below. Measured on 99 figures: 6 at most, where shapes end at one and the same straight edge, and else 1,
/// where a light line thinner than a dot runs between two limbs. A limb moved by 4 page units, a hundredth of the
/// body's length, gives hundreds as a rule.
const MOST_DOTS: usize = PLAIN_TO_SEE / 2;

/// How far a text's box may stand out of its picture, page units: what no reader would see.
const LABEL_SLACK: f64 = 2.0;

/// Dots that an altered limb must change in one engine's own picture to be worth looking for in the other's: fewer, and
/// it is as good as hidden behind others.
const PLAIN_TO_SEE: usize = 24;

/// The same SVG with a limb of the near side 4 page units lower, or without it: from the uppermost limb down, the first
/// that is plain to see in `painted`.
fn altered(svg: &str, painted: &Picture) -> Vec<String> {
    let limbs: Vec<usize> = svg.match_indices("<path d=\"").map(|(from, _)| from).collect();
    let end = |from: usize| svg[from..].find("/>").map_or(svg.len(), |length| from + length + 2);
    let lower = |from: usize| {
        let (before, limb, after) = (&svg[..from], &svg[from..end(from)], &svg[end(from)..]);
        format!("{before}<g transform=\"translate(0 4)\">{limb}</g>{after}")
    };
    let without = |from: usize| format!("{}{}", &svg[..from], &svg[end(from)..]);
    let seen =
        |svg: &String| paint(svg, WIDTH).is_ok_and(|altered| PLAIN_TO_SEE < compare(&altered, painted).dots);
    let ways: [&dyn Fn(usize) -> String; 2] = [&lower, &without];
    ways.iter().filter_map(|way| limbs.iter().rev().map(|from| way(*from)).find(seen)).collect()
}

#[test]
fn two_engines_paint_the_same() {
    let mut figures = stills();
    figures.extend(stills_of_others(5));
    let (theirs, boxes) = chromium(&figures).expect("Chromium paints the page");
    assert_eq!(theirs.len(), figures.len());
    let (mut faults, mut unseen, mut planted) = (Vec::new(), Vec::new(), 0);
    let mut worst = Difference::default();
    for (figure, theirs) in figures.iter().zip(&theirs) {
        let ours = |svg: &str| paint(svg, WIDTH).unwrap_or_else(|e| panic!("{}: {e}", figure.name));
        let painted = ours(&figure.svg);
        let found = compare(&painted, theirs);
        if MOST_DOTS < found.dots {
            for (who, picture) in [("resvg", &painted), ("chromium", theirs)] {
                picture.look(&format!("{}-{who}", figure.name)).expect("target/look can be written");
            }
            faults.push(format!("{}: {found:?}; both are in target/look", figure.name));
        }
        worst.dots = worst.dots.max(found.dots);
        worst.worst = worst.worst.max(found.worst);
        worst.plain = worst.plain.max(found.plain);
        // What the comparison is worth: with a limb of the one altered, they must not be the same any more.
        for altered in altered(&figure.svg, &painted) {
            planted += 1;
            let found = compare(&ours(&altered), theirs);
            if found.dots <= MOST_DOTS {
                unseen.push(format!("{}: {found:?}", figure.name));
            }
        }
    }
    println!("{} figures, at most: {worst:?}; {planted} altered ones", figures.len());
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(2 * figures.len() - 4 <= planted, "only {planted} limbs could be altered");
    assert!(unseen.is_empty(), "altered, and not found:\n{}", unseen.join("\n"));
    labels_stand_inside_and_apart(&figures, &boxes);
}

/// Texts as the browser sets them, whatever font it has.
fn labels_stand_inside_and_apart(figures: &[Named], boxes: &Value) {
    let number = |b: &Value, i: usize| b[i].as_f64().unwrap_or(f64::NAN);
    let (mut faults, mut count) = (Vec::new(), 0);
    for (figure, boxes) in figures.iter().zip(boxes.as_array().into_iter().flatten()) {
        let texts: Vec<(&str, [f64; 4])> = boxes
            .as_array()
            .into_iter()
            .flatten()
            .map(|b| (b[0].as_str().unwrap_or(""), [1, 2, 3, 4].map(|i| number(b, i))))
            .collect();
        count += texts.len();
        for (i, (text, b)) in texts.iter().enumerate() {
            let [left, top, right, bottom] = *b;
            // The box has room above and below the letters: a quarter of its height together (common practice).
            let spare = (bottom - top) * 0.25;
            let inside = -LABEL_SLACK <= left
                && -LABEL_SLACK - spare <= top
                && right <= figure.width + LABEL_SLACK
                && bottom <= figure.height + LABEL_SLACK + spare;
            if !inside {
                faults.push(format!("{}: {text} stands out of the picture, {b:?}", figure.name));
            }
            for (other, o) in &texts[..i] {
                let apart = o[2] <= left || right <= o[0] || o[3] - spare <= top || bottom - spare <= o[1];
                if !apart {
                    faults.push(format!("{}: {text} stands over {other}", figure.name));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(30 <= count, "only {count} texts in all figures");
}
