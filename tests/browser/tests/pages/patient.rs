//! From the desk to the patient: the link.

use crate::page::Desk;
use serde_json::json;

const EXERCISES: &str = "by: M. Adeyemi, physiotherapist, 01632 960 417
patient: Quentin Zeller, 61
aim: kneel at the flower beds again
limit: left knee flexion 0-80
heel slide, left: 2 x 10, hold 5 s, 2/day
  why: so you can get in and out of the car
bridge: 3 x 10, hold 3 s, daily
calf stretch, both: 3 x 30 s, daily
";

/// Writes a prescription that begins today, gives the address of the home page and takes the link from the desk.
pub fn link(desk: &Desk, home: &str) -> String {
    let today = desk.text(
        "const d = new Date(), two = (n) => String(n).padStart(2, '0');
         return d.getFullYear() + '-' + two(d.getMonth() + 1) + '-' + two(d.getDate())",
    );
    desk.write(&format!("# Sensitive title\nstart: {today}\n// private remark\n{EXERCISES}"));
    desk.wait("the strips", "return document.querySelectorAll('#strips .strip').length === 3");
    desk.browser
        .script_with(
            "document.getElementById('how').open = true;
             const field = document.getElementById('home');
             field.value = arguments[0];
             for (const name of ['input', 'change']) field.dispatchEvent(new Event(name, {bubbles: true}))",
            json!([home]),
        )
        .expect("the address of the home page");
    desk.browser.click("#copy").expect("copy the link");
    desk.wait("the link", "return document.querySelector('#given input')?.value.includes('#')");
    let link = desk.text("return document.querySelector('#given input').value");
    assert!(link.starts_with(&format!("{home}#")), "{link}");
    for private in ["Quentin", "Zeller", "Sensitive", "private", "heel"] {
        assert!(!link.contains(private), "{private} can be read in {link}");
    }
    link
}
