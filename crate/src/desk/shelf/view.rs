//! The list of kept prescriptions as slots.

use super::leaf::Leaf;
use super::{Item, Open};
use crate::desk::Slot;
use crate::markup::Writer;

/// Where the list is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lasting {
    /// On this computer.
    Here,
    /// In the page, until it is closed.
    Page,
    /// On this computer, but there is no room left.
    Full,
    /// It was chosen, and the browser does not let the page keep anything.
    Forbidden,
}

/// All that the list depends on.
#[derive(Clone, Debug)]
pub struct Shown<'a> {
    pub items: &'a [Item],
    pub open: &'a Open,
    /// Another window has gone on with the one that is open.
    pub is_changed_elsewhere: bool,
    /// Deleted in this visit, the last one last.
    pub deleted: &'a [Leaf],
    pub unread: usize,
    /// The item whose name is being typed.
    pub renaming: Option<&'a str>,
    pub lasting: Lasting,
}

pub fn slots(shown: &Shown<'_>) -> Vec<Slot> {
    let mut all = vec![slot("lasts", |w| lasts(w, shown))];
    if shown.items.is_empty() {
        all.push(slot("none", |w| {
            w.element("p", "None yet. The one on the page stands here as soon as something is typed.");
        }));
    }
    all.extend(shown.items.iter().map(|item| slot(&format!("leaf {}", item.token), |w| row(w, shown, item))));
    all.extend(shown.deleted.iter().enumerate().rev().map(|(index, leaf)| {
        slot(&format!("gone {index}"), |w| {
            w.open("span").text("Deleted: ").open("bdi").text(&leaf.called()).close().close();
            button(w, &format!("back {index}"), "Bring it back", &leaf.called());
        })
    }));
    if 0 < shown.unread {
        let words = match shown.unread {
            1 => "One thing that is kept here can’t be read. It was left as it is; “Save all to a file” has it word for word.".to_string(),
            n => format!("{n} things that are kept here can’t be read. They were left as they are; “Save all to a file” has them word for word."),
        };
        all.push(slot("unread", |w| {
            w.element("p", &words);
        }));
    }
    all
}

fn slot(key: &str, inside: impl FnOnce(&mut Writer)) -> Slot {
    let mut w = Writer::new();
    w.open("div").attr("class", key.split(' ').next().unwrap_or(key));
    inside(&mut w);
    w.close();
    Slot { key: key.into(), html: w.finish().into_string() }
}

/// A button with its word; `of` is for those who listen, who would hear the same word at every row.
fn button(w: &mut Writer, act: &str, word: &str, of: &str) {
    w.open("button")
        .attr("type", "button")
        .attr("data-shelf", act)
        .attr("data-focus", &format!("shelf {act}"));
    w.text(word).open("span").attr("class", "unseen").text(" ").text(of).close().close();
}

fn lasts(w: &mut Writer, shown: &Shown<'_>) {
    let (words, grave) = match shown.lasting {
        Lasting::Here => ("Kept on this computer, in this browser, unencrypted.", false),
        Lasting::Page => (
            "Nothing is kept on this computer: these last until you close this page. Save them to a file to have them next time. On your own computer, choose “This is my own computer” below, and they stay here.",
            false,
        ),
        Lasting::Full => (
            "There is no room left in this browser’s storage: what you typed last is on the page and not kept. Save it to a file, or delete what you no longer need.",
            true,
        ),
        Lasting::Forbidden => (
            "This browser does not let the page keep anything: these last until you close this page. Save them to a file.",
            true,
        ),
    };
    w.open("p").attr("class", if grave { "grave" } else { "aside" }).text(words).close();
    if matches!(shown.lasting, Lasting::Full | Lasting::Forbidden) {
        button(w, "save", "Save this one to a file", "");
    }
}

fn row(w: &mut Writer, shown: &Shown<'_>, item: &Item) {
    let (leaf, token) = (&item.leaf, &item.token);
    let called = leaf.called();
    let is_open = shown.open.is(item);
    if shown.renaming == Some(token) {
        w.open("label").attr("for", "name-of").text("Its name").close();
        w.open("input").attr("id", "name-of").attr("type", "text").attr("maxlength", "120");
        w.attr("autocomplete", "off").attr("data-token", token).attr("value", &called).empty();
        button(w, &format!("named {token}"), "Name it so", &called);
        button(w, "unnamed", "Leave it", &called);
        return;
    }
    w.open("span").attr("class", "called").open("bdi").text(&called).close();
    if item.is_second {
        w.text(" (from another window)");
    }
    w.close();
    let when = leaf.changed.map_or_else(String::new, |c| format!("{}, {}", c.date.words(), c.clock()));
    w.open("span").attr("class", "when").text(&when);
    if leaf.before.is_some() {
        w.text(if when.is_empty() { "goes on from a visit before" } else { ", goes on from a visit before" });
    }
    w.close();
    if is_open {
        w.open("b").attr("class", "open").text("on the page").close();
    }
    if is_open && shown.is_changed_elsewhere {
        button(w, &format!("open {token}"), "Open what another window wrote", &called);
    } else if !is_open {
        button(w, &format!("open {token}"), "Open", &called);
    }
    button(w, &format!("name {token}"), "Rename", &called);
    button(w, &format!("twice {token}"), "Duplicate", &called);
    button(w, &format!("delete {token}"), "Delete", &called);
}
