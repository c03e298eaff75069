//! The patient's sheet on paper: nothing cut, nothing split, nothing lost, boxes for a pen, figures that copy.

use crate::checks;
use crate::page::Desk;
use browser::driver::Browser;
use browser::pdf::{Pdf, Raster, Sheet, solid};
use serde_json::{Value, json};

/// A paper and a size of print.
#[derive(Clone, Copy)]
struct Choice {
    paper: &'static str,
    print: &'static str,
}

const A4: Choice = Choice { paper: "a4", print: "normal" };
const LETTER: Choice = Choice { paper: "letter", print: "normal" };

impl Choice {
    const fn large(self) -> Choice {
        Choice { print: "large", ..self }
    }

    /// In centimetres.
    fn size(self) -> (f64, f64) {
        if self.paper == "letter" { (21.59, 27.94) } else { (21.0, 29.7) }
    }

    fn name(self) -> String {
        format!("{}-{}", self.paper, self.print)
    }
}

/// Exercises such as a clinician writes; each ends in words that stand nowhere else.
const EXERCISES: [&str; 12] = [
    "heel slide, left: 2 x 10, hold 5 s, 2/day",
    "straight leg raise, left: 3 x 8, 3/week, rest 60 s",
    "bridge: 3 x 11, hold 3 s, 3/week",
    "sit to stand: 3 x 7, 3/week, rest 60 s",
    "calf stretch, both: 3 x 31 s, daily",
    "bent-knee opening, left: 2 x 12, 3/week",
    "wall slide: 2 x 9, daily",
    "chin tuck: 10 x 6 s, daily",
    "step up, left: 3 x 6, 3/week",
    "knee to chest, left: 4 x 20 s, daily",
    "prone press-up: 10, 3/day",
    "arm and leg reach: 2 x 5, hold 4 s, 3/week",
];

fn prescription(exercises: &[&str]) -> String {
    let mut text = String::from(
        "# Left knee\nby: M. Adeyemi, physiotherapist, 01632 960 417\npatient: J. K., 61\nstart: 2026-11-30\n\
         aim: kneel at the flower beds again\nlimit: left knee flexion 0-110\n\
         weight: left, as tolerated\navoid: kneeling, jumping\nsurgery: 2026-11-10, meniscus repair\nreview: 2026-12-14\n",
    );
    for (n, line) in exercises.iter().enumerate() {
        text.push_str(&format!(
            "{line}\n  why: so that part {n} gets easier\n  stop if: mark {n} hurts or swells\n"
        ));
    }
    text
}

/// Puts the text in, chooses paper and print and has the sheet laid, as printing does.
fn lay(desk: &Desk, text: &str, choice: Choice) {
    desk.write(text);
    let chosen = desk.browser.script_with(
        "for (const [id, value] of [['paper', arguments[0]], ['printed', arguments[1]]]) {
           const select = document.getElementById(id);
           select.value = value;
           if (select.value !== value) return id + ' has no ' + value;
           select.dispatchEvent(new Event('input', {bubbles: true}));
           select.dispatchEvent(new Event('change', {bubbles: true}));
         }
         window.dispatchEvent(new Event('beforeprint'));
         return ''",
        json!([choice.paper, choice.print]),
    );
    assert_eq!(chosen.expect("chosen"), "");
}

fn print(desk: &Desk, text: &str, choice: Choice, name: &str) -> Pdf {
    lay(desk, text, choice);
    let (width, height) = choice.size();
    let bytes = desk.browser.print(width, height).expect("printed");
    Pdf::read(&bytes, &format!("sheet-{}-{name}-{}", desk.browser.engine().name(), choice.name()))
        .expect("a PDF")
}

/// Words that are printed, by strip (`None` for what is in none), as the page has them: every piece of text
/// that has a place when the sheet is shown. Words in figures are left out: Firefox prints them as outlines.
fn pieces(desk: &Desk) -> Vec<(Option<u64>, String)> {
    let found = desk.browser.script(
        "const handout = document.getElementById('handout'), found = [];
         handout.style.display = 'block';
         const strips = [...handout.querySelectorAll('.strip')];
         const walker = document.createTreeWalker(handout, NodeFilter.SHOW_TEXT);
         for (let node = walker.nextNode(); node; node = walker.nextNode()) {
           const inside = node.parentElement;
           if (!node.data.trim() || inside.closest('svg')) continue;
           const range = document.createRange();
           range.selectNodeContents(node);
           const box = range.getBoundingClientRect();
           if (box.width === 0 || box.height === 0) continue;
           const strip = strips.indexOf(inside.closest('.strip'));
           found.push([strip < 0 ? null : strip, node.data]);
         }
         handout.style.display = '';
         return found",
    );
    let found = found.expect("pieces");
    let piece = |v: &Value| (v[0].as_u64(), v[1].as_str().unwrap_or_default().trim().to_string());
    found.as_array().expect("a list").iter().map(piece).collect()
}

fn is_hebrew(c: char) -> bool {
    matches!(c, '\u{5d0}'..='\u{5ea}')
}

/// As typed, or in the shapes that letters take beside others.
fn is_arabic(c: char) -> bool {
    matches!(c, '\u{620}'..='\u{64a}' | '\u{fb50}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}')
}

/// Whether a piece stands in a text. What runs from right to left is printed word by word in either order; of
/// Arabic, which is printed by the shapes of its letters, it is only seen that there are as many.
fn stands(text: &str, piece: &str) -> bool {
    let letters = |text: &str| text.chars().filter(|c| is_arabic(*c)).count();
    if piece.contains(is_arabic) {
        return letters(piece) <= letters(text);
    }
    if piece.contains(is_hebrew) {
        let mut words = piece.split(|c| !is_hebrew(c)).filter(|word| !word.is_empty());
        return words
            .all(|word| text.contains(word) || text.contains(&word.chars().rev().collect::<String>()));
    }
    text.contains(&solid(piece))
}

/// What is wrong with the paper: words lost or cut, strips split, sheets left blank.
fn faults(sheets: &[Sheet], pieces: &[(Option<u64>, String)]) -> Vec<String> {
    let mut faults = Vec::new();
    let all: String = sheets.iter().map(|sheet| sheet.text.as_str()).collect();
    for (_, piece) in pieces.iter().filter(|(_, piece)| !stands(&all, piece)) {
        faults.push(format!("lost: {piece}"));
    }
    let strips = pieces.iter().filter_map(|(strip, _)| *strip).max().map_or(0, |last| last + 1);
    for strip in 0..strips {
        let its: Vec<&String> =
            pieces.iter().filter(|(s, _)| *s == Some(strip)).map(|(_, piece)| piece).collect();
        if !sheets.iter().any(|sheet| its.iter().all(|piece| stands(&sheet.text, piece))) {
            faults.push(format!("strip {strip} is on no sheet as a whole: {its:?}"));
        }
    }
    // 5 mm: many printers can't print nearer to the edge (4.2 mm is usual; from memory).
    let edge = 5.0 / 25.4 * 72.0;
    for (n, sheet) in sheets.iter().enumerate() {
        if sheet.words.len() < 5 {
            faults.push(format!("sheet {} of {} is all but blank", n + 1, sheets.len()));
        }
        for word in &sheet.words {
            let is_inside = edge <= word.left
                && edge <= word.top
                && word.right <= sheet.width - edge
                && word.bottom <= sheet.height - edge;
            if !is_inside {
                faults.push(format!("sheet {}: cut, or too near the edge: {word:?}", n + 1));
            }
        }
    }
    faults
}

fn good(desk: &Desk, text: &str, choice: Choice, name: &str) -> Pdf {
    let pdf = print(desk, text, choice, name);
    let (width, height) = choice.size();
    for sheet in &pdf.sheets {
        let off = (sheet.width / 72.0 * 2.54 - width).abs() + (sheet.height / 72.0 * 2.54 - height).abs();
        assert!(off < 0.1, "{} is {} x {} points", pdf.path().display(), sheet.width, sheet.height);
    }
    let pieces = pieces(desk);
    assert!(20 < pieces.len(), "the sheet was laid");
    let faults = faults(&pdf.sheets, &pieces);
    assert!(faults.is_empty(), "{}:\n{}", pdf.path().display(), faults.join("\n"));
    pdf
}

/// What keeps the patient safe, and is on the first sheet whatever else is.
const SAFE: [&str; 12] = [
    "Do not bend your LEFT knee past 110 degrees.",
    "Avoid kneeling.",
    "Avoid jumping.",
    "Pain above 3? Stop that exercise for today.",
    "Not settled by the next morning? Do half next time.",
    "Pain, numbness or tingling that spreads down an arm or leg.",
    "You feel faint, sick or dizzy.",
    "You have chest pain or cannot get your breath.",
    "Your calf is swollen, hot or sore.",
    "Call your local emergency number",
    "M. Adeyemi, physiotherapist, 01632 960 417",
    "Next visit Mon 14 Dec 2026",
];

/// The sheet of so many of the exercises, whose first page is safe and whose other pages are worth their paper.
fn safe(desk: &Desk, n: usize, choice: Choice) -> Pdf {
    let pdf = good(desk, &prescription(&EXERCISES[..n]), choice, &format!("{n}"));
    let first = pdf.sheets.first().map_or("", |sheet| sheet.text.as_str());
    for said in SAFE {
        assert!(
            stands(first, said),
            "{}: “{said}” is not on the first sheet:\n{first}",
            pdf.path().display()
        );
    }
    for (at, sheet) in pdf.sheets.iter().enumerate() {
        let (words, all) = (sheet.words.len(), pdf.sheets.len());
        assert!(30 <= words, "{}: {words} words on sheet {} of {all}", pdf.path().display(), at + 1);
    }
    // A box for each time that the first of them is done: twice a day up to the next visit.
    let boxes = desk.number("return document.querySelectorAll('#handout .box').length");
    assert!(30 <= boxes, "{boxes} boxes");
    pdf
}

fn one_to_twelve_exercises_are_printed_whole(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let turns = (1..=EXERCISES.len()).map(|n| (n, if n % 2 == 0 { LETTER } else { A4 }));
    for (n, choice) in turns.chain([(1, LETTER), (6, A4), (8, A4), (12, A4)]) {
        let pdf = safe(&desk, n, choice);
        // DESIGN, 11: eight fit three pages at 12 points, which are 16 pixels. With an operation, a neck and a knee to
        // look out for, what keeps safe takes the room of the days from the first page, and eight take a fourth.
        let most = if n < 8 { 3 } else { 4 };
        assert!(8 < n || pdf.sheets.len() <= most, "{n} exercises take {} sheets", pdf.sheets.len());
        let small = "return [...document.querySelectorAll('#handout .strip :is(.steps li, .dose, .often)')]
            .filter((e) => parseFloat(getComputedStyle(e).fontSize) < 16).length";
        assert_eq!(desk.number(small), 0, "steps and doses below 12 points");
    }
    // The same with a code to scan.
    desk.browser
        .script(
            "const field = document.getElementById('home');
             field.value = 'https://clinic.example/home.html';
             for (const name of ['input', 'change']) field.dispatchEvent(new Event(name, {bubbles: true}))",
        )
        .expect("an address");
    for choice in [A4, LETTER] {
        let pdf = good(&desk, &prescription(&EXERCISES[..8]), choice, "8-coded");
        let drawn = "return document.querySelectorAll('#handout .code svg').length";
        assert_eq!(desk.number(drawn), 1, "a code is printed");
        assert!(pdf.sheets.len() <= 4, "8 exercises and a code take {} sheets", pdf.sheets.len());
        let first = pdf.sheets.first().map_or("", |sheet| sheet.text.as_str());
        for said in SAFE {
            assert!(stands(first, said), "{}: “{said}” is not on the first sheet", choice.name());
        }
    }
    desk.quiet();
}

fn large_print_is_printed_whole(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    for (n, choice) in [(1, A4), (1, LETTER), (6, LETTER), (8, A4), (12, LETTER), (12, A4)] {
        safe(&desk, n, choice.large());
    }
}

/// Long names, right-to-left names, exercises without a figure, long sentences without a space.
const ODD: &str = "# Private
by: Dr.-Ing. Maximiliane Oberhuber-Featherstonehaugh, physiotherapist, Riverside Rehabilitation and Movement Centre, 01632 960 417
patient: Bartholomew-Alexander Featherstonehaugh-Wolfeschlegelstein von Hohenberg
start: 2026-11-30
review: 2026-12-21
aim: walk to the allotment and back with the wheelbarrow, and be able to stand long enough to prick out all the seedlings
avoid: kneeling, jumping, carrying more than one full watering can at a time
slow standing weight shift from the sore leg to the other while holding the kitchen worktop with both hands: 3 x 9, daily
  cue: Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft
  stop if: mark one hurts
גשר על הגב עם כדור: 3 x 10, daily
  cue: הרם את האגן לאט
  stop if: mark two hurts
heel slide, right: 2 x 10, hold 5 s, 4/day
  why: مرحبا بالعالم
  stop if: mark three hurts
bridge: 3 x 12, hold 10 s, 5/week, rest 90 s, until 2026-12-19
  from week 2: 3 x 15
  stop if: mark four hurts
";

fn odd_names_are_printed_whole(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    for choice in [A4, LETTER, A4.large()] {
        good(&desk, ODD, choice, "odd");
    }
    // Right to left in the name of the patient, who is named on the front.
    let text = ODD.replace("Bartholomew-Alexander", "דוד כהן");
    good(&desk, &text, LETTER.large(), "odd-name");
}

fn a_split_a_cut_and_a_loss_would_be_seen(_: &Browser) {
    let sheet = |text: &str, right: f64| {
        let words = (0..5).map(|_| browser::pdf::Word {
            left: 50.0,
            top: 50.0,
            right,
            bottom: 60.0,
            text: "x".into(),
        });
        Sheet { width: 595.0, height: 842.0, text: text.into(), words: words.collect() }
    };
    let pieces = [(Some(0), "first".to_string()), (Some(0), "last".into()), (None, "front".into())];
    assert!(faults(&[sheet("front", 90.0), sheet("firstlast", 90.0)], &pieces).is_empty());
    assert_eq!(faults(&[sheet("frontfirst", 90.0), sheet("last", 90.0)], &pieces).len(), 1, "split");
    assert_eq!(faults(&[sheet("front", 90.0), sheet("first", 90.0)], &pieces).len(), 2, "lost");
    assert_eq!(faults(&[sheet("frontfirstlast", 590.0)], &pieces).len(), 5, "cut");
    let blank = Sheet { width: 595.0, height: 842.0, ..Sheet::default() };
    assert_eq!(faults(&[sheet("frontfirstlast", 90.0), blank], &pieces).len(), 1, "blank");
}

/// In every engine, since it needs no printing: the sheet as it is laid on its paper.
fn boxes_are_big_enough_for_a_pen_and_no_words_collide(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let twelve = prescription(&EXERCISES);
    let eight = prescription(&EXERCISES[..8]);
    for (text, choice) in [
        (&eight, A4),
        (&twelve, LETTER),
        (&twelve, A4.large()),
        (&ODD.to_string(), A4),
        (&ODD.to_string(), LETTER),
    ] {
        lay(&desk, text, choice);
        let found = desk.browser.script(
            "const handout = document.getElementById('handout');
             handout.style.display = 'block';
             const millimetre = 96 / 25.4, faults = [];
             const boxes = [...handout.querySelectorAll('.box')].filter((b) => b.getClientRects().length);
             // A box for a cross by pen: 5 mm at least (common practice, no source).
             for (const box of boxes) {
               const at = box.getBoundingClientRect();
               if (Math.min(at.width, at.height) < 5 * millimetre) faults.push('a box of ' + at.width / millimetre + ' mm');
             }
             // 9 points are 12 pixels; large print has nothing below 14 points.
             const least = handout.querySelector('.large') ? 18.6 : 12;
             // Nothing hangs out of its sheet or lies on other words.
             const lines = [];
             for (const sheet of handout.querySelectorAll('.sheet')) {
               const paper = sheet.getBoundingClientRect();
               const walker = document.createTreeWalker(sheet, NodeFilter.SHOW_TEXT);
               for (let node = walker.nextNode(); node; node = walker.nextNode()) {
                 if (!node.data.trim() || node.parentElement.closest('title, desc, svg')) continue;
                 const size = parseFloat(getComputedStyle(node.parentElement).fontSize);
                 if (size < least) faults.push('small: ' + size + ' ' + node.data);
                 const range = document.createRange();
                 range.selectNodeContents(node);
                 for (const r of range.getClientRects()) {
                   if (r.width < 1) continue;
                   if (r.left < paper.left || paper.right < r.right) faults.push('out of the paper: ' + node.data);
                   // The middle half: lines may be set tight, letters may not lie on each other.
                   lines.push({node, left: r.left + 1, right: r.right - 1, top: r.top + r.height / 4, bottom: r.bottom - r.height / 4});
                 }
               }
             }
             lines.sort((a, b) => a.top - b.top);
             for (let i = 0; i < lines.length; i++) {
               for (let j = i + 1; j < lines.length && lines[j].top < lines[i].bottom; j++) {
                 const a = lines[i], b = lines[j];
                 if (a.node !== b.node && a.left < b.right && b.left < a.right)
                   faults.push('on each other: ' + a.node.data + ' / ' + b.node.data);
               }
             }
             handout.style.display = '';
             return {boxes: boxes.length, lines: lines.length, faults}",
        );
        let found = found.expect("measured");
        assert!(found["boxes"].as_u64().is_some_and(|n| 10 < n), "boxes: {}", found["boxes"]);
        assert!(found["lines"].as_u64().is_some_and(|n| 40 < n), "lines: {}", found["lines"]);
        assert_eq!(found["faults"], json!([]), "{}", choice.name());
    }
}

/// Contrast of a grey with white paper, as WCAG 2.2 defines it for sRGB.
#[allow(clippy::disallowed_methods, reason = "a picture is looked at here, and in no wasm")]
fn contrast(grey: f64) -> f64 {
    let c = grey / 255.0;
    let light = if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) };
    1.05 / (light + 0.05)
}

/// The mean grey of the dots that have this colour in the coloured print, and how many there are.
fn grey_of(colour: [u8; 3], coloured: &[Raster], greys: &[Raster]) -> (f64, usize) {
    let (mut sum, mut count) = (0.0, 0usize);
    for (coloured, grey) in coloured.iter().zip(greys) {
        for (dot, grey) in coloured.dots.chunks_exact(3).zip(&grey.dots) {
            if dot.iter().zip(colour).all(|(a, b)| a.abs_diff(b) <= 2) {
                sum += f64::from(*grey);
                count += 1;
            }
        }
    }
    (sum / count.max(1) as f64, count)
}

fn figures_survive_a_grey_copy(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let pdf = print(&desk, &prescription(&EXERCISES[..8]), A4, "grey");
    let coloured = pdf.rasters(150, false).expect("colour");
    let greys = pdf.rasters(150, true).expect("grey");
    let mut contrasts = Vec::new();
    for (what, colour) in
        [("limb", [0x22, 0x33, 0x44]), ("working part", [0xff, 0xaa, 0x33]), ("arrow", [0xbb, 0x44, 0])]
    {
        let (grey, dots) = grey_of(colour, &coloured, &greys);
        assert!(100 < dots, "the {what} was printed in {colour:?}: {dots} dots");
        contrasts.push((what, contrast(grey)));
    }
    let [(_, limb), (_, part), (_, arrow)] = contrasts[..] else { panic!("three") };
    // WCAG 2.2, 1.4.11: what must be seen to understand a picture stands out 3 : 1. The part that works lies on
    // the dark of its limb and has a dark rim.
    for (what, ratio) in
        [("limb on paper", limb), ("arrow on paper", arrow), ("working part on its limb", limb / part)]
    {
        assert!(3.0 <= ratio, "{what}: {ratio:.1} : 1 in grey");
    }
}

/// What differs on the sheet when the page's own style is taken away: none of it may reach the sheet, which a file
/// made without the page must equal.
pub fn reached(browser: &Browser, style: &str) -> Vec<String> {
    let found = browser.script_with(
        "const own = document.getElementById(arguments[0]), handout = document.getElementById('handout');
         const names = ['display', 'position', 'float', 'color', 'background-color', 'font-size', 'font-family', 'font-weight',
           'font-style', 'line-height', 'letter-spacing', 'text-align', 'text-decoration-line', 'white-space', 'list-style-type',
           'margin-top', 'margin-right', 'margin-bottom', 'margin-left', 'padding-top', 'padding-right', 'padding-bottom',
           'padding-left', 'border-top-width', 'border-left-width', 'border-top-style', 'max-height', 'min-height',
           'column-count', 'column-width', 'grid-template-columns', 'align-items', 'flex-grow', 'break-inside'];
         const look = () => [...handout.querySelectorAll('*')].filter((e) => !e.closest('svg'))
           .map((e) => { const s = getComputedStyle(e); return names.map((n) => n + ': ' + s.getPropertyValue(n)) });
         handout.style.display = 'block';
         const before = look();
         own.disabled = true;
         handout.style.display = 'block';
         const after = look(), faults = [];
         own.disabled = false;
         handout.style.display = '';
         const all = [...handout.querySelectorAll('*')].filter((e) => !e.closest('svg'));
         before.forEach((lines, i) => lines.forEach((line, j) => {
           // How wide a column or an automatic margin comes out follows the window, which a scroll bar changes.
           if (line !== after[i][j] && !/^(grid-template-columns|margin-left|margin-right)/.test(line))
             faults.push(all[i].tagName + '.' + all[i].className + ' ' + line + ' / ' + after[i][j]);
         }));
         return all.length < 50 ? ['the sheet was not laid: ' + all.length] : faults",
        json!([style]),
    );
    let found = found.expect("compared");
    found.as_array().expect("a list").iter().map(ToString::to_string).collect()
}

fn the_desks_style_does_not_reach_the_sheet(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    for choice in [A4, LETTER.large()] {
        lay(&desk, &prescription(&EXERCISES[..5]), choice);
        let reached = reached(browser, "style-desk");
        assert!(reached.is_empty(), "{}", reached.join("\n"));
    }
    let plant = "document.getElementById('style-desk').sheet.insertRule('li { letter-spacing: 3px }')";
    desk.browser.script(plant).expect("planted");
    assert!(!reached(browser, "style-desk").is_empty(), "what reaches the sheet would be seen");
}

/// The desk's own print rules leave a browser no room for an address or a title, even where it is told to print them.
fn no_address_or_title_is_printed(browser: &Browser) {
    let desk = Desk::served(browser);
    lay(&desk, "# Sensitive title\npatient: A. Private, 44\nstart: 2026-11-30\nbridge: 3 x 10, daily\n", A4);
    let printed = desk.browser.devtools(
        "Page.printToPDF",
        json!({"displayHeaderFooter": true, "preferCSSPageSize": true, "printBackground": true}),
    );
    let pdf = Pdf::read(&Browser::decoded(&printed.expect("printed")["data"]).expect("bytes"), "footer")
        .expect("a PDF");
    let all: String = pdf.sheets.iter().map(|sheet| sheet.text.as_str()).collect();
    assert!(all.contains("A.Private"), "the sheet itself is there: {all}");
    for never in ["127.0.0.1", "desk.html", "http", "Layfigure", "Sensitive"] {
        assert!(!all.contains(never), "{never} in {all}");
    }
}

checks! {
    Nothing: boxes_are_big_enough_for_a_pen_and_no_words_collide the_desks_style_does_not_reach_the_sheet;
    Once: a_split_a_cut_and_a_loss_would_be_seen;
    Print: one_to_twelve_exercises_are_printed_whole large_print_is_printed_whole odd_names_are_printed_whole
        figures_survive_a_grey_copy;
    Devtools: no_address_or_title_is_printed;
}
