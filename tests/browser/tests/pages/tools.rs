//! What helps while writing: offers under the cursor, the exercise at hand, the finder, the limit on a figure, and the
//! controls of a strip.

use crate::checks;
use crate::moving::Emulated;
use crate::page::Desk;
use browser::driver::{Browser, key};
use browser::engine::Engine;

const LINES: &str = "# Left knee\nstart: 2026-11-30\n\n## Loosen\nheel slide, left: 2 x 10, hold 5 s, daily\n  cue: Slowly.\n\n## Strengthen\nbridge: 3 x 10, 3/week\n";

fn strips(desk: &Desk, count: usize) {
    desk.wait(
        "the strips",
        &format!("return document.querySelectorAll('#strips .strip').length === {count}"),
    );
    if 0 < count {
        // It comes a frame later, and what is below it moves once.
        desk.wait("the week", "return document.querySelector('#week .carry')");
    }
}

/// The middle of what a script calls `box`, in CSS pixels of the viewport.
fn point(desk: &Desk, script: &str) -> (i64, i64) {
    let middle =
        format!("{script} return [box.left + box.width / 2, box.top + box.height / 2].map(Math.round)");
    let at = desk.browser.script(&middle).expect("a place");
    (at[0].as_i64().expect("a number"), at[1].as_i64().expect("a number"))
}

/// What a drag is tried with. WebKit's driver has no finger.
fn pointers(browser: &Browser) -> &'static [&'static str] {
    if browser.engine() == Engine::WebKit { &["mouse"] } else { &["mouse", "touch"] }
}

fn offers_are_taken_by_one_key_and_by_pointer(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("# Left knee\n\n");
    desk.type_text("heel sl");
    desk.wait("offers", "return document.querySelector('#offer-list [role=option]')");
    let notices = desk.text("return document.getElementById('notes').textContent");
    assert!(!notices.contains("heel sl"), "half a name is no fault: {notices}");
    desk.wait("its small figure", "return document.querySelector('#offer-list svg')");
    desk.wait(
        "its words",
        "return document.getElementById('offered').textContent.startsWith('Tab writes heel slide')",
    );
    for expected in ["heel slide, ", "heel slide, left: ", "heel slide, left: 2 x 10, hold 5 s, 2/day"] {
        browser.press(&[key::TAB]).expect("taken");
        assert_eq!(desk.value(), format!("# Left knee\n\n{expected}"));
    }
    assert_eq!(desk.text("return document.activeElement.id"), "text");
    desk.type_text("\nbri");
    desk.wait("offers", "return document.querySelectorAll('#offer-list [role=option]').length > 1");
    browser.press(&[key::DOWN]).expect("a key");
    browser.press(&[key::DOWN]).expect("a key");
    let chosen = "const one = document.querySelector('#offer-list [aria-selected=true]');
        return one && one.id === document.getElementById('text').getAttribute('aria-activedescendant') ? one.querySelector('b').textContent : ''";
    let name = desk.text(chosen);
    assert!(!name.is_empty(), "one is chosen, and said");
    browser.press(&[key::ENTER]).expect("taken");
    let line = desk.value().lines().last().unwrap_or("").to_string();
    assert!(line.starts_with(&name), "{line}");
    browser.press(&[key::ESCAPE]).expect("closed");
    desk.wait("no offers", "return !document.querySelector('#offer-list')");
    desk.type_text("\nqua");
    desk.wait("offers", "return document.querySelector('#offer-list [role=option]')");
    browser.click("#offer-list [role=option]").expect("by pointer");
    let line = desk.value().lines().last().unwrap_or("").to_string();
    assert!(line.len() > 5 && line != "qua", "{line}");
    browser.press(&[key::CONTROL, "z"]).expect("undone");
    assert_eq!(desk.value().lines().last(), Some("qua"));
    desk.quiet();
}

fn tab_goes_on_where_nothing_is_offered(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    browser.press(&[key::TAB]).expect("a key");
    assert_ne!(desk.text("return document.activeElement.id"), "text");
    assert_eq!(desk.value(), LINES);
}

fn a_strips_controls_edit_the_text_and_show_where(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    desk.unfold("#strips .strip .tune summary");
    let steps: [(&str, &str, &str); 4] = [
        ("change 5 side right", "heel slide, left", "heel slide, right"),
        ("change 5 more sets", "2 x 10, hold 5 s", "3 x 10, hold 5 s"),
        ("change 5 more often", "3 x 10, hold 5 s, daily", "3 x 10, hold 5 s, 2/day"),
        (
            "change 5 down",
            "## Loosen\nheel slide, right: 3 x 10, hold 5 s, 2/day\n  cue: Slowly.\n\n## Strengthen\n",
            "## Loosen\n\n## Strengthen\nheel slide, right: 3 x 10, hold 5 s, 2/day\n  cue: Slowly.\n",
        ),
    ];
    let mut text = LINES.to_string();
    for (act, from, to) in steps {
        browser.click(&format!("[data-do=\"{act}\"]")).expect(act);
        text = text.replacen(from, to, 1);
        assert_eq!(desk.value(), text, "{act}");
        desk.wait(
            "the place",
            "return document.querySelector('#mirror .touched')?.textContent.startsWith('heel slide')",
        );
        let focus =
            desk.text("return document.activeElement.getAttribute('data-do') ?? document.activeElement.id");
        assert!(focus.starts_with("change"), "after {act} the focus is on {focus}");
        assert!(
            desk.text("return document.querySelector('#strips .tune').open ? 'open' : ''") == "open",
            "{act}"
        );
    }
    for _ in steps {
        browser.click("[data-do=undo]").expect("undone");
    }
    assert_eq!(desk.value(), LINES);
    browser.click("[data-do=redo]").expect("done again");
    assert!(desk.value().contains("heel slide, right"));
    browser.click("[data-do=undo]").expect("undone");
    // The same by keyboard alone.
    desk.browser.script("document.querySelector('#strips .tune summary').focus()").expect("focused");
    browser.press(&[key::ENTER]).expect("a key");
    if desk.text("return document.querySelector('#strips .tune').open ? 'open' : ''").is_empty() {
        browser.press(&[key::ENTER]).expect("a key");
    }
    browser.press(&[key::TAB]).expect("to the first control");
    browser.press(&[" "]).expect("pressed");
    desk.wait("an edit or a sentence", "return document.getElementById('said').textContent.length > 5");
    browser.script("const t = document.getElementById('text'); t.focus(); t.setSelectionRange(t.value.indexOf('bridge'), t.value.indexOf('bridge'))").expect("there");
    browser.press(&[key::ALT, key::UP]).expect("moved");
    desk.wait("the line moved", "const t = document.getElementById('text').value; return t.indexOf('bridge') < t.indexOf('## Strengthen')");
    desk.quiet();
}

fn the_finder_puts_a_line_in(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    browser.click("[data-do=\"panel finder\"]").expect("opened");
    desk.wait("the focus", "return document.activeElement.id === 'find-words'");
    let all = desk.text("return document.querySelector('#stage [role=status]').textContent");
    browser
        .script("const s = document.getElementById('find-region'); s.value = 'shoulder'; s.dispatchEvent(new Event('change', {bubbles: true}))")
        .expect("chosen");
    desk.wait(
        "fewer",
        &format!("return document.querySelector('#stage [role=status]').textContent !== '{all}'"),
    );
    browser.script("document.getElementById('find-words').focus()").expect("there");
    desk.type_text("pend");
    desk.wait("one", "return document.querySelectorAll('.found li').length === 1");
    assert_eq!(
        desk.text("return document.getElementById('find-words').value"),
        "pend",
        "what is typed stays"
    );
    desk.wait("its figure", "return document.querySelector('.found svg')");
    browser.click(".found button").expect("put in");
    desk.wait("the line", "return document.getElementById('text').value.includes('\\npendulum')");
    strips(&desk, 3);
    browser.press(&[key::ESCAPE]).expect("closed");
    desk.wait("at hand", "return document.querySelector('#stage .at-hand')");
    assert_eq!(desk.text("return document.activeElement.id"), "text");
    browser.press(&[key::CONTROL, "z"]).expect("undone");
    assert_eq!(desk.value(), LINES);
    desk.quiet();
}

fn a_limit_is_set_on_the_figure(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    browser.click("[data-do=\"panel limits\"]").expect("opened");
    desk.wait("the figure", "return document.querySelector('.lay svg circle')");
    // The handle is taken and let go some way lower: whatever comes of it is a limit of the joint shown, within its
    // range.
    for pointer in pointers(browser) {
        desk.write(LINES);
        desk.wait("no limit", "return !document.getElementById('text').value.includes('limit:')");
        let handle = point(
            &desk,
            "const svg = document.querySelector('.lay svg'); svg.scrollIntoView({block: 'center'});
             const box = [...svg.querySelectorAll('circle')].at(-1).getBoundingClientRect();",
        );
        browser.drag(pointer, handle, (handle.0, handle.1 + 60)).expect("dragged");
        desk.wait(
            &format!("the line by {pointer}"),
            "return /^limit: left knee flexion 0-\\d+$/m.test(document.getElementById('text').value)",
        );
    }
    let degrees = "return Number(/^limit: left knee flexion 0-(\\d+)$/m.exec(document.getElementById('text').value)[1])";
    let dragged = desk.number(degrees);
    assert!((30..155).contains(&dragged), "{dragged}");
    browser.click("[data-do=\"limit less\"]").expect("a step");
    desk.wait("a step less", &format!("{degrees} === {}", (dragged - 1) / 5 * 5));
    browser.script("const j = document.getElementById('limit-joint'); j.value = 'elbow'; j.dispatchEvent(new Event('change', {bubbles: true}))").expect("another joint");
    desk.wait("it", "return document.querySelector('.lay title').textContent.includes('elbow')");
    assert_eq!(desk.value().matches("limit:").count(), 1, "choosing writes nothing");
    browser.script("const j = document.getElementById('limit-to'); j.value = '90'; j.dispatchEvent(new Event('change', {bubbles: true}))").expect("typed");
    desk.wait(
        "a second limit",
        "return document.getElementById('text').value.includes('limit: left elbow flexion 0-90')",
    );
    desk.quiet();
}

fn the_exercise_at_hand_moves_and_can_be_held_still(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    browser.script("const t = document.getElementById('text'); t.setSelectionRange(t.value.indexOf('heel'), t.value.indexOf('heel'))").expect("there");
    desk.wait("it", "return document.querySelector('#hand-head')?.textContent.startsWith('Heel slide')");
    desk.wait("a movement", "return document.querySelector('[data-do=\"moves off\"]')");
    desk.browser.script("window.seen = document.querySelector('#hand-figure').innerHTML").expect("seen");
    desk.wait("the next instant", "return document.querySelector('#hand-figure').innerHTML !== window.seen");
    browser.click("[data-do=\"moves off\"]").expect("held");
    desk.wait("stillness", "return document.querySelector('[data-do=\"moves on\"]')");
    assert!(desk.number("return document.querySelectorAll('.ladder button').length") > 0, "a ladder");
    desk.quiet();
}

fn who_wants_no_motion_sees_none(browser: &Browser) {
    let still = Emulated::new(browser, "prefers-reduced-motion", "reduce");
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    browser.script("const t = document.getElementById('text'); t.setSelectionRange(t.value.indexOf('heel'), t.value.indexOf('heel'))").expect("there");
    desk.wait("it", "return document.querySelector('[data-do=\"moves on\"]')");
    std::thread::sleep(std::time::Duration::from_millis(1500));
    assert!(desk.text("return document.querySelector('[data-do=\"moves off\"]') ? 'moves' : ''").is_empty());
    drop(still);
}

fn an_exercise_is_moved_through_the_week_by_key_and_by_drag(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let text = "start: 2026-11-30\n\nbridge: 3 x 10, 3/week\n";
    desk.write(text);
    desk.wait("the week", "return document.querySelectorAll('#week .carry').length === 3");
    let days = "return [...document.querySelectorAll('#week tbody td')].filter((c) => c.querySelector('.carry')).map((c) => c.dataset.day).join(' ')";
    let before = desk.text(days);
    browser.script("document.querySelector('#week .carry').focus()").expect("there");
    browser.press(&[key::ENTER]).expect("taken out");
    desk.wait(
        "what would break",
        "return document.querySelector('#week .carrying')?.textContent.includes('without a day between')",
    );
    assert_eq!(desk.value(), text, "nothing is written yet");
    let to = desk.text("const b = document.querySelector('#week th [data-do^=drop]'); b.focus(); return b.getAttribute('data-do')");
    browser.press(&[key::ENTER]).expect("put in");
    desk.wait(
        "fixed days",
        "return /bridge: 3 x 10, \\w{3} \\w{3} \\w{3}/.test(document.getElementById('text').value)",
    );
    let day = to.trim_start_matches("drop ");
    desk.wait("the week", &format!("return document.querySelector('#week td[data-day={day}] .carry')"));
    browser.press(&[key::ESCAPE]).expect("nothing");
    browser.click("[data-do=undo]").expect("undone");
    assert_eq!(desk.value(), text);
    desk.wait(
        "the week before",
        &format!("{} === '{before}'", days.replacen("return ", "return (", 1) + ")"),
    );
    for pointer in pointers(browser) {
        desk.write("");
        desk.wait("no week", "return !document.querySelector('#week .carry')");
        desk.write(text);
        desk.wait("the week", "return document.querySelectorAll('#week .carry').length === 3");
        let carried = point(
            &desk,
            "scrollTo(0, 0); const box = document.querySelector('#week .carry').getBoundingClientRect();",
        );
        let empty = point(
            &desk,
            "const box = [...document.querySelectorAll('#week tbody td')].find((c) => !c.querySelector('.carry')).getBoundingClientRect();",
        );
        browser.drag(pointer, carried, empty).expect("dragged");
        desk.wait(
            &format!("fixed days by {pointer}"),
            "return /bridge: 3 x 10, \\w{3} \\w{3} \\w{3}/.test(document.getElementById('text').value)",
        );
    }
    desk.quiet();
}

fn the_text_stands_still_while_it_is_typed(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("");
    desk.wait("no week", "return !document.querySelector('#week .carry')");
    desk.write(LINES);
    strips(&desk, 2);
    let top = "return Math.round(document.getElementById('text').getBoundingClientRect().top + scrollY)";
    let (stands, head) = (desk.number(top), "return document.querySelector('#hand-head')?.textContent ?? ''");
    assert!(desk.text(head).starts_with("Bridge"), "the last one is at hand");
    // Half a name has no figure and no place in the week.
    for c in "quad s".chars() {
        desk.type_text(&c.to_string());
        desk.wait("the strip", &format!("return document.getElementById('text').value.endsWith('{c}')"));
        assert_eq!(desk.number(top), stands, "at {c}");
        assert!(desk.text(head).starts_with("Bridge"), "at {c}");
    }
    desk.type_text("et, left: 2 x 10");
    desk.wait("it at hand", "return document.querySelector('#hand-head')?.textContent.startsWith('Quad')");
    desk.quiet();
}

fn a_visit_marks_what_differs_from_the_last(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write(LINES);
    strips(&desk, 2);
    browser.click("[data-do=\"panel visit\"]").expect("opened");
    browser.click("[data-do=\"visit begin\"]").expect("begun");
    desk.wait(
        "nothing yet",
        "return document.getElementById('stage').textContent.includes('Nothing is different yet')",
    );
    let changed = LINES
        .replace("2 x 10, hold 5 s", "3 x 10, hold 5 s")
        .replace("bridge: 3 x 10, 3/week", "quad set, left: 2 x 10, daily");
    desk.write(&changed);
    desk.wait("marks", "return [...document.querySelectorAll('#strips .mark')].map((m) => m.textContent).join() === 'More than last time.,New.,No longer: Bridge.'");
    desk.browser.script("window.dispatchEvent(new Event('beforeprint'))").expect("the handout");
    let sheet = desk.text("return document.getElementById('handout').textContent");
    for said in ["More than last time.", "New.", "No longer: Bridge."] {
        assert!(sheet.contains(said), "{said}");
    }
    browser.click("[data-do=\"visit end\"]").expect("ended");
    desk.wait("no marks", "return !document.querySelector('#strips .mark')");
    let pasted = "bridge: 2 x 10, daily";
    browser.script(&format!("document.getElementById('visit-text').value = '{pasted}'")).expect("pasted");
    browser.click("[data-do=\"visit pasted\"]").expect("taken");
    desk.wait("the text", "return document.getElementById('text').value === 'bridge: 2 x 10, daily\\n'");
    desk.quiet();
}

/// The whole job by keyboard alone: from an empty desk to a printed sheet of six exercises with two limits.
fn the_whole_job_is_done_by_keyboard_alone(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    browser.script("window.print = () => { window.printed = document.querySelectorAll('#handout .strip, #handout article').length }; document.activeElement.blur()").expect("watched");
    let reach = |what: &str, selector: &str, keys: &[&str]| {
        for _ in 0..80 {
            browser.press(keys).expect("a key");
            let there = browser.script(&format!("return document.activeElement.matches('{selector}')"));
            if there.expect("an answer").as_bool() == Some(true) {
                return;
            }
        }
        panic!("{what} is not reached by Tab");
    };
    reach("New", "#new", &[key::TAB]);
    browser.press(&[key::ENTER]).expect("pressed");
    desk.wait("an empty sheet", "return document.querySelectorAll('#strips .strip').length === 0 && document.activeElement.id === 'text'");
    browser.press(&[key::CONTROL, key::END]).expect("to the end");
    desk.type_text("limit: right knee flexion 0-90 until week 4\nlimit: right hip flexion 0-100\n\n");
    for start in ["heel sl", "quad", "straight l", "bridge", "calf st", "sit to"] {
        desk.type_text(start);
        desk.wait("offers", "return document.querySelector('#offer-list [role=option]')");
        for _ in 0..4 {
            if desk.text("return document.querySelector('#offer-list') ? 'open' : ''").is_empty() {
                break;
            }
            let line = desk.value().lines().last().unwrap_or("").to_string();
            if line.contains(": ") && line.chars().last().is_some_and(char::is_alphanumeric) {
                browser.press(&[key::ESCAPE]).expect("closed");
                break;
            }
            browser.press(&[key::TAB]).expect("taken");
        }
        browser.press(&[key::ENTER]).expect("a new line");
    }
    strips(&desk, 6);
    let unknown = desk
        .text("return [...document.querySelectorAll('#strips .aside')].map((e) => e.textContent).join(' ')");
    assert!(!unknown.contains("Not in the catalog"), "{}", desk.value());
    browser.press(&[key::ESCAPE]).expect("no offers");
    // Back, since what is printed with stands above the text.
    reach("Print", "#print", &[key::SHIFT, key::TAB]);
    browser.press(&[key::ENTER]).expect("pressed");
    // Nobody has written a telephone number.
    desk.wait("the question", "return document.activeElement.id === 'look-head'");
    reach("Print all the same", "#all-the-same", &[key::TAB]);
    browser.press(&[key::ENTER]).expect("pressed");
    desk.wait("a printed sheet", "return window.printed === 6");
    desk.quiet();
}

checks! {
    Nothing: the_text_stands_still_while_it_is_typed offers_are_taken_by_one_key_and_by_pointer tab_goes_on_where_nothing_is_offered
        a_strips_controls_edit_the_text_and_show_where the_finder_puts_a_line_in
        the_exercise_at_hand_moves_and_can_be_held_still the_whole_job_is_done_by_keyboard_alone
        a_limit_is_set_on_the_figure an_exercise_is_moved_through_the_week_by_key_and_by_drag;
    Once: a_visit_marks_what_differs_from_the_last;
    Devtools: who_wants_no_motion_sees_none;
}
