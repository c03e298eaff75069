//! Before a plan is open: how to open one, and why one does not open.

use super::piece::{button, heading, slot};
use super::{Gone, Home, Opening};
use crate::link::fault::Kind;
use crate::markup::{Slot, Writer};

pub fn top(home: &Home) -> Vec<Slot> {
    if !home.around.in_app {
        return Vec::new();
    }
    vec![slot("note app", |w| {
        w.element(
            "p",
            "You opened this page inside another app. Open the menu of that app and choose to open the page in \
             your browser.",
        );
    })]
}

pub fn view(home: &Home) -> Vec<Slot> {
    let mut all = Vec::new();
    match &home.opening {
        Opening::Nothing | Opening::Open => {
            if let Some(gone) = home.gone {
                all.push(slot("gone", |w| no_more(w, gone)));
            }
            all.push(slot("title", |w| {
                heading(w, "Your exercises");
                w.element("p", "Open the message from your clinician. Tap the link in it again.");
                w.element("p", "If that does not help, copy the link and put it here.");
            }));
            all.push(field());
        }
        Opening::Refused(fault) => {
            all.push(slot("title", |w| {
                heading(w, "The link does not open");
                w.element("p", &fault.sentence);
            }));
            if fault.kind == Kind::Newer && home.around.served {
                all.push(slot("renew", |w| button(w, "main", "renew", "Load this page again")));
            }
            all.push(field());
        }
        Opening::Sealed { wrong, busy } => {
            all.push(slot("title", |w| {
                heading(w, "This plan is locked");
                w.element("p", "Type the words that your clinician gave you.");
            }));
            // The field stays as it is while the words under it change: what was typed is not lost.
            all.push(slot("locked", |w| {
                w.open("label").attr("for", "phrase").text("The words").close();
                w.open("input").attr("id", "phrase").attr("type", "text").attr("autocomplete", "off");
                w.attr("autocapitalize", "off").attr("spellcheck", "false").attr("data-enter", "unseal");
                w.attr("aria-describedby", "phrase-told").empty();
            }));
            all.push(slot("unlocking", |w| {
                w.open("p").attr("id", "phrase-told").attr("role", "status");
                if *busy {
                    w.text("Opening. This can take some seconds.");
                } else if *wrong {
                    w.text("These are not the right words. Check each one, or call your clinician.");
                }
                w.close();
                if !busy {
                    button(w, "main", "unseal", "Open");
                }
            }));
        }
        Opening::Which(shared) => {
            all.push(slot("title", |w| {
                heading(w, "Which plan?");
                w.element("p", "There is another plan on this phone. Both are kept, with their ticks.");
            }));
            all.push(slot("which", |w| {
                let of = shared.issued.map_or(String::new(), |d| format!(" of {}", d.words()));
                button(w, "main", "use new", &format!("Show the plan in the link{of}"));
                let mine = home.plan.as_ref().and_then(|p| p.shared.issued);
                let of = mine.map_or(String::new(), |d| format!(" of {}", d.words()));
                button(w, "plain", "use kept", &format!("Show the plan I had{of}"));
                w.element("p", "In doubt, show the newer one and bin older sheets.");
            }));
        }
    }
    let has_plan = home.plan.is_some();
    if !matches!(home.opening, Opening::Which(_)) && (has_plan || !home.others.is_empty()) {
        all.push(slot("others", |w| others(w, home, has_plan)));
    }
    all
}

/// What no page can take away.
pub fn history(w: &mut Writer) {
    w.element(
        "p",
        "Your browser may still have this page in its history, with the link to your plan. To clear that, open the \
         menu of your browser. Choose History, then clear it.",
    );
    w.element(
        "p",
        "The message with the link is still in your mail or chat. Bin it there if you want it gone too.",
    );
}

fn no_more(w: &mut Writer, gone: Gone) {
    w.element("p", gone.words());
    if gone == Gone::Forgotten {
        history(w);
    }
}

fn others(w: &mut Writer, home: &Home, has_plan: bool) {
    w.element("h2", "On this phone");
    if has_plan {
        button(w, "plain", "use kept", "Show the plan I had");
        return;
    }
    for other in &home.others {
        let words = other
            .issued
            .map_or("Show a kept plan".to_string(), |d| format!("Show the plan of {}", d.words()));
        button(w, "plain", &format!("show {}", other.key), &words);
    }
}

/// Where a link can be put by hand.
fn field() -> Slot {
    slot("field", |w| {
        w.open("label").attr("for", "link").text("The link").close();
        w.open("textarea").attr("id", "link").attr("rows", "3").attr("autocomplete", "off");
        w.attr("autocapitalize", "off").attr("spellcheck", "false").close();
        button(w, "main", "paste", "Open the plan");
    })
}
