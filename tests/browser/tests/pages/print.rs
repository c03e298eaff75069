//! What comes out on paper is the handout, not the desk.

use crate::checks;
use crate::page::Desk;
use browser::driver::Browser;
use browser::driver::key;
use std::process::Command;

/// The words of a PDF in reading order, by poppler.
fn words(pdf: &[u8], name: &str) -> String {
    let folder = browser::root().join("target/look");
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join(format!("{name}.pdf"));
    std::fs::write(&path, pdf).expect("a file");
    let output = Command::new("pdftotext").arg("-layout").arg(&path).arg("-").output().expect("pdftotext");
    assert!(output.status.success(), "pdftotext reads {}", path.display());
    // A picture of each page for the eye.
    let stem = folder.join(name);
    let drawn = Command::new("pdftoppm").args(["-r", "70", "-png"]).arg(&path).arg(stem).status();
    assert!(drawn.expect("pdftoppm").success());
    // Lines are broken where the paper ends: words are compared, not lines.
    let text = String::from_utf8(output.stdout).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Width and height of the first page in points.
fn paper(name: &str) -> String {
    let path = browser::root().join(format!("target/look/{name}.pdf"));
    let output = Command::new("pdfinfo").arg(path).output().expect("pdfinfo");
    let told = String::from_utf8_lossy(&output.stdout).into_owned();
    told.lines().find_map(|line| line.strip_prefix("Page size:")).unwrap_or_default().trim().to_string()
}

fn the_printed_sheet_has_the_doses_and_nothing_of_the_desk(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(
        "# Private diagnosis\nby: M. Adeyemi, 01632 960 417\npatient: Q. Z.\nstart: 2026-11-30\n\
         // private remark\nlimit: right knee flexion 0-60\n\
         heel slide, right: 2 x 11, hold 7 s, daily\nbridge: 3 x 9, 3/week\n  cue: Press through both heels.\n",
    );
    let pdf = desk.browser.print(21.0, 29.7).expect("printed");
    let words = words(&pdf, &format!("handout-a4-{}", browser.engine().name()));
    for said in ["11", "7", "9", "Q. Z.", "01632 960 417", "Press through both heels."] {
        assert!(words.contains(said), "“{said}” is missing in:\n{words}");
    }
    for unsaid in [
        "Private diagnosis",
        "private remark",
        "Print the handout",
        "What you prescribe",
        "file:",
        "Precaution",
    ] {
        assert!(!words.contains(unsaid), "“{unsaid}” is on paper:\n{words}");
    }
    assert!(
        paper(&format!("handout-a4-{}", browser.engine().name())).starts_with("59"),
        "{}",
        paper(&format!("handout-a4-{}", browser.engine().name()))
    );
}

fn letter_is_chosen_by_the_keyboard(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let reach = "document.getElementById('how').open = true; document.getElementById('paper').focus()";
    desk.browser.script(reach).expect("focus");
    desk.browser.press(&[key::DOWN]).expect("a key");
    assert_eq!(desk.text("return document.getElementById('paper').value"), "letter");
    let pdf = desk.browser.print(21.59, 27.94).expect("printed");
    let words = words(&pdf, &format!("handout-letter-{}", browser.engine().name()));
    assert!(words.contains("Example patient"), "{words}");
    assert!(
        paper(&format!("handout-letter-{}", browser.engine().name())).starts_with("612 x 792"),
        "{}",
        paper(&format!("handout-letter-{}", browser.engine().name()))
    );
    let rule = desk.text(
        "return [...document.querySelectorAll('style')].filter((s) => !s.disabled).map((s) => s.textContent)
           .filter((t) => t.startsWith('@page')).join()",
    );
    assert!(rule.contains("215.9mm") && !rule.contains("210mm"), "{rule}");
}

checks! {
    Print: the_printed_sheet_has_the_doses_and_nothing_of_the_desk letter_is_chosen_by_the_keyboard;
}
