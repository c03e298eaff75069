//! The desk as a clinician uses it, in a real browser.

use crate::checks;
use crate::page::{Desk, watch};
use browser::driver::Browser;
use browser::driver::key;

fn it_works_from_the_disk_and_from_a_server(browser: &Browser) {
    for open in [Desk::from_disk, Desk::served] {
        let desk = open(browser);
        let rows = desk.number("return document.querySelectorAll('#mirror > div').length");
        let lines = desk.number("return document.getElementById('text').value.split('\\n').length");
        assert_eq!(rows, lines, "one row behind each line of the demo");
        desk.quiet();
    }
}

fn a_limit_that_is_typed_is_seen_in_figure_notice_and_label(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("start: 2026-11-30\n\n## Loosen\nheel slide, right: 2 x 10, hold 5 s, daily\n");
    desk.wait("a figure", "return document.querySelector('#strips figure svg')");
    let free = desk.text("return document.querySelector('#strips figure').innerHTML");
    desk.browser.press(&[key::CONTROL, key::HOME]).expect("to the top");
    desk.type_text("limit: right knee flexion 0-60\n");
    desk.wait("the label", "return document.querySelector('#strips figcaption')?.textContent.includes('60')");
    let held = desk.text("return document.querySelector('#strips figure').innerHTML");
    assert_ne!(free, held, "the figure is drawn anew");
    let label = desk.text("return document.querySelector('#strips figcaption').textContent");
    assert!(label.contains("right knee flexion"), "the label names the joint: {label}");
    let words = desk.text("return document.querySelector('#strips figure title').textContent");
    assert!(words.to_lowercase().contains("knee"), "the words speak of the knee: {words}");
    let notices = desk.text("return document.getElementById('beside').textContent");
    assert!(notices.contains("knee flexion"), "a notice names it: {notices}");
    desk.browser.look(&format!("limit-{}", browser.engine().name())).expect("a picture");
    desk.quiet();
}

fn a_suggestion_is_taken_by_one_key_and_undone_by_one(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let typed = "limt: right knee flexion 0-90\n";
    desk.write(typed);
    desk.wait("a suggestion", "return document.querySelector('#notes [data-edit]')");
    desk.press_alt("1");
    desk.wait("the edit", "return document.getElementById('text').value.startsWith('limit:')");
    desk.browser.press(&[key::CONTROL, "z"]).expect("undo");
    assert_eq!(desk.value(), typed);
    desk.browser.press(&[key::CONTROL, key::SHIFT, "z"]).expect("redo");
    assert!(desk.value().starts_with("limit:"), "{}", desk.value());
    desk.browser.press(&[key::CONTROL, "z"]).expect("undo");
    desk.browser.click("#notes [data-edit]").expect("the same by pointer");
    assert!(desk.value().starts_with("limit:"), "{}", desk.value());
    desk.quiet();
}

fn a_notice_is_put_away_by_one_key(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("limt: right knee flexion 0-90\n");
    desk.wait("a notice", "return document.querySelector('#notes > li')");
    let before = desk.text("return document.querySelector('#notes > li').textContent");
    desk.press_alt_shift("1");
    desk.wait("the fold", "return document.querySelector('#folded details')");
    let left = desk.text("return document.getElementById('notes').textContent");
    let sentence = before.split("line 1").nth(1).unwrap_or(&before).split('.').next().unwrap_or(&before);
    assert!(!left.contains(sentence), "put away: {sentence}; still there: {left}");
    desk.quiet();
}

fn typing_keeps_the_place_and_redraws_one_strip(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    desk.write("heel slide, right: 2 x 10, daily\nbridge: 3 x 10, 3/week\n");
    desk.wait("two strips", "return document.querySelectorAll('#strips .strip').length === 2");
    desk.browser
        .script("document.querySelectorAll('#strips .strip').forEach((s, i) => s.marked = i + 1)")
        .expect("marked");
    desk.browser.press(&[key::CONTROL, key::END]).expect("to the end");
    desk.type_text("  cue: Press through your heels.\n");
    desk.wait("the cue", "return document.getElementById('strips').textContent.includes('Press through')");
    let kept = desk
        .text("return [...document.querySelectorAll('#strips .strip')].map((s) => s.marked || 'new').join()");
    assert_eq!(kept, "1,new", "only the strip of the changed exercise was drawn anew");
    let focus = desk.text("return document.activeElement.id");
    assert_eq!(focus, "text");
    desk.quiet();
}

fn a_script_in_any_field_stays_text(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let script = "<script>window.ran = 1</script><img src=x onerror='window.ran = 1'>";
    let keys = [
        "#",
        "by:",
        "patient:",
        "start:",
        "weeks:",
        "aim:",
        "limit:",
        "range:",
        "weight:",
        "avoid:",
        "cannot:",
        "caution:",
        "body:",
        "kit:",
        "time:",
        "ask:",
        "usual pain:",
        "surgery:",
        "review:",
        "bad day:",
        "flare:",
        "##",
        "bridge:",
        "  cue:",
        "  why:",
        "  from week 2:",
        "  anyway:",
        "//",
        "exercise:",
        "  do:",
        "  pose:",
        "",
    ];
    let text: String = keys.iter().map(|key| format!("{key} {script}\n")).collect();
    let text = format!("{text}bridge {script}: 3 x 10\n{script}, right: 2 x 10\n");
    desk.write(&text);
    desk.wait("the rows", "return document.getElementById('mirror').children.length");
    assert_eq!(desk.value(), text, "nothing typed is lost");
    let made = desk.number(
        "return document.querySelectorAll('#screen script, #screen img, #handout script, #handout img').length",
    );
    assert_eq!(made, 0);
    desk.browser.script("window.dispatchEvent(new Event('beforeprint'))").expect("the handout");
    let made = desk.number("return document.querySelectorAll('#handout script, #handout img').length");
    assert_eq!(made, 0);
    assert!(
        desk.browser.script("return window.ran === undefined").expect("an answer").as_bool() == Some(true)
    );
    desk.quiet();
}

fn bad_input_is_answered_and_nothing_is_lost(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let noise: String = (0..200_000u32)
        .map(|i| char::from_u32((i.wrapping_mul(2_654_435_761) >> 17) % 0x2000).unwrap_or('\u{fffd}'))
        .filter(|c| *c != '\r' && *c != '\0')
        .collect();
    for text in [
        "",
        "\n\n\n",
        "bridge: 3 x",
        "heel slide, right: 2 x 10, hold 5 s, “daily”\u{a0}– done",
        "\u{202e}limit: right knee\u{202c} \u{5e9}\u{5dc}\u{5d5}\u{5dd}: 3 x 10\n\u{645}\u{631}\u{62d}\u{628}\u{627}",
        noise.as_str(),
    ] {
        desk.write(text);
        let shown = desk.value();
        assert!(shown == text, "{} characters became {}", text.chars().count(), shown.chars().count());
        let state = desk.text("return document.getElementById('state').textContent");
        assert!(!state.is_empty() && !state.contains("fault"), "{state}");
    }
    desk.quiet();
}

fn it_is_fit_for_three_widths(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    for width in [390, 768, 1440] {
        let width = desk.browser.size(width, 900).expect("a size");
        let wide = desk.number("return document.documentElement.scrollWidth");
        assert!(wide <= u64::from(width), "at {width} px the page is {wide} px wide");
        let height = desk.number("return document.documentElement.scrollHeight");
        let height = u32::try_from(height).unwrap_or(6000).min(8000);
        desk.browser.size(width, height).expect("a size");
        desk.browser.look(&format!("desk-{}-{width}", browser.engine().name())).expect("a picture");
    }
    desk.quiet();
}

fn text_and_mirror_wrap_alike(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let long =
        "straight leg raise, right: 3 x 8, 3/week, rest 60 s and a good many words after it ".repeat(6);
    desk.write(&format!("{long}\n\ttab and  two  spaces\n\u{5e9}\u{5dc}\u{5d5}\u{5dd} {long}\n"));
    for width in [390, 768, 1440] {
        desk.browser.size(width, 900).expect("a size");
        let apart = desk.browser.script(
            "const t = document.getElementById('text'), m = document.getElementById('mirror');
             return t.scrollHeight - m.offsetHeight",
        );
        assert_eq!(apart.expect("a number").as_i64(), Some(0), "at {width} px");
    }
}

/// Puts a tick into a box, or takes it out, as a click does.
fn choose(desk: &Desk, id: &str, ticked: bool) {
    let change = format!(
        "const box = document.getElementById('{id}'); box.checked = {ticked};
         box.dispatchEvent(new Event('change', {{bubbles: true}}))"
    );
    desk.browser.script(&change).expect("a choice");
}

fn nothing_is_kept_unless_it_is_chosen_and_all_is_forgotten(browser: &Browser) {
    let desk = Desk::served(browser);
    let kept = "return Object.entries(localStorage).map(String).sort().join() + Object.entries(sessionStorage).join() + document.cookie";
    desk.write("patient: K. W.\nbridge: 3 x 10, daily\n");
    desk.wait("the strip", "return document.querySelectorAll('#strips .strip').length === 1");
    assert_eq!(desk.text(kept), "", "nothing is kept unasked");
    choose(&desk, "keep", true);
    desk.type_text("// seen\n");
    desk.wait("the text in the storage", "return Object.values(localStorage).join().includes('// seen')");
    // What listens for faults goes with the page.
    desk.quiet();
    browser.reload().expect("the page again");
    desk.wait("the text again", "return document.getElementById('text').value.includes('// seen')");
    desk.wait("the choice again", "return document.getElementById('keep').checked");
    watch(browser);
    // It asks, and names what goes.
    let before = desk.text(kept);
    browser.click("#shelved-name").expect("unfolded");
    browser.click("#forget").expect("asked for");
    desk.wait("the question", "return document.activeElement.id === 'gone-head'");
    let asked = desk.text("return document.getElementById('gone').textContent");
    assert!(asked.contains("1 prescription and your choices"), "{asked}");
    assert_eq!(desk.text(kept), before, "nothing is deleted yet");
    browser.click("[data-shelf=\"forget yes\"]").expect("forgotten");
    desk.wait("the sentence", "return document.getElementById('said').textContent.includes('deleted')");
    assert_eq!(desk.text(kept), "", "everything is forgotten");
    assert!(desk.value().contains("// seen"), "the text on the page stays");
    // And it can be taken back.
    browser.click("[data-shelf=\"forget back\"]").expect("taken back");
    desk.wait("the choice again", "return document.getElementById('keep').checked");
    assert_eq!(desk.text(kept), before);
    desk.quiet();
}

const ASKS: &str = "const e = new Event('beforeunload', {cancelable: true});
    dispatchEvent(e); return String(e.defaultPrevented)";

fn leaving_asks_only_where_something_would_be_lost(browser: &Browser) {
    let desk = Desk::served(browser);
    assert_eq!(desk.text(ASKS), "false", "the example, untouched");
    desk.write("# Knee\nbridge: 3 x 10, daily\n");
    assert_eq!(desk.text(ASKS), "true", "at once, not a frame later");
    browser
        .script("HTMLAnchorElement.prototype.click = () => {}; document.getElementById('save').click()")
        .expect("saved");
    assert_eq!(desk.text(ASKS), "false", "it is in a file");
    desk.type_text("x");
    assert_eq!(desk.text(ASKS), "true");
    browser.click("#new").expect("another");
    assert_eq!(desk.text(ASKS), "true", "the one before is in no file");
    choose(&desk, "keep", true);
    assert_eq!(desk.text(ASKS), "false", "it is kept");
    desk.quiet();
    // What is typed last is kept, however soon the page goes.
    let body = "const t = document.getElementById('text'); t.value = '# Hip\\n// the last word';
        t.dispatchEvent(new InputEvent('input', {inputType: 'insertText'})); setTimeout(() => location.reload()); return 0";
    browser.script(body).expect("typed and gone");
    desk.wait("it", "return document.getElementById('text')?.value === '# Hip\\n// the last word'");
}

fn the_page_answers_while_a_link_is_made(browser: &Browser) {
    let desk = Desk::served(browser);
    desk.write("by: R. O., 01632 960 123\nstart: 2026-11-30\nweeks: 4\nbridge: 3 x 10, daily\nheel slide, left: 2 x 10, daily\n");
    desk.wait("the strips", "return document.querySelectorAll('#strips .strip').length === 2");
    // All in one go of the page: it can't be made before this ends.
    let made = desk.text(
        "const says = () => document.getElementById('given').textContent, seen = [];
         document.getElementById('copy').click();
         seen.push(says());
         document.getElementById('stop-link').click();
         seen.push(says());
         document.getElementById('copy').click();
         const text = document.getElementById('text');
         text.value += '// while it is made';
         text.dispatchEvent(new InputEvent('input', {inputType: 'insertFromPaste'}));
         seen.push(says(), document.getElementById('mirror').lastElementChild.textContent);
         return seen.join('|')",
    );
    assert_eq!(made, "The link is being made…Stop||The link is being made…Stop|// while it is made");
    desk.wait("the link", "return document.querySelector('#given input')?.value.includes('#L')");
    let given = desk.text("return document.getElementById('given').textContent");
    assert!(given.contains("The text has changed since"), "{given}");
    desk.quiet();
}

fn what_is_missing_is_asked_about_once_before_it_is_handed_over(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    browser.script("window.printed = 0; window.print = () => { window.printed += 1 }").expect("watched");
    desk.write("by: R. O.\nbridge: 3 x 10, daily\n");
    browser.click("#print").expect("pressed");
    desk.wait("the question", "return document.activeElement.id === 'look-head'");
    let asked = desk.text("return document.getElementById('look').textContent");
    assert!(asked.contains("no telephone number") && asked.contains("line 1"), "{asked}");
    browser.look(&format!("look-{}", browser.engine().name())).expect("a picture");
    browser.click("#look-away").expect("not yet");
    browser.click("#print").expect("pressed");
    browser.click("#all-the-same").expect("decided");
    desk.wait("a print", "return window.printed === 1");
    browser.click("#print").expect("pressed");
    desk.wait("a print", "return window.printed === 2");
    assert_eq!(desk.text("return document.getElementById('look').textContent"), "");
    desk.quiet();
}

fn a_repair_of_the_week_is_written_and_undone(browser: &Browser) {
    let desk = Desk::from_disk(browser);
    let typed =
        "time: Mon-Fri morning 6 min\n\nbridge: 3 x 10, hold 3 s, 3/week\nsit to stand: 3 x 8, 3/week\n";
    desk.write(typed);
    desk.wait("a repair", "return document.querySelector('[data-repair]')");
    browser.click("[data-repair]").expect("written");
    desk.wait("the line", "return document.getElementById('text').value.split('\\n').filter((l) => l.startsWith('time:')).length > 1");
    desk.wait("a week that fits", "return !document.querySelector('#week .over')");
    browser.press(&[key::CONTROL, "z"]).expect("undone");
    desk.wait(
        "the text before",
        "return !document.querySelector('#week .grave') || document.querySelector('[data-repair]')",
    );
    desk.quiet();
}

checks! {
    Nothing: nothing_is_kept_unless_it_is_chosen_and_all_is_forgotten leaving_asks_only_where_something_would_be_lost
        the_page_answers_while_a_link_is_made it_works_from_the_disk_and_from_a_server
        a_limit_that_is_typed_is_seen_in_figure_notice_and_label typing_keeps_the_place_and_redraws_one_strip
        a_script_in_any_field_stays_text it_is_fit_for_three_widths text_and_mirror_wrap_alike;
    Once: what_is_missing_is_asked_about_once_before_it_is_handed_over a_repair_of_the_week_is_written_and_undone a_suggestion_is_taken_by_one_key_and_undone_by_one
        a_notice_is_put_away_by_one_key bad_input_is_answered_and_nothing_is_lost;
}
