//! Puts slots in place, touching only those that changed.

use crate::markup::Slot;
use wasm_bindgen::JsCast;
use web_sys::{Document, Element, HtmlElement, HtmlTemplateElement};

/// An element of the page and the slots that stand in it.
pub struct Place {
    element: Element,
    slots: Vec<Slot>,
    nodes: Vec<Element>,
}

impl Place {
    pub fn new(element: Element) -> Place {
        Place { element, slots: Vec::new(), nodes: Vec::new() }
    }

    pub fn nodes(&self) -> &[Element] {
        &self.nodes
    }

    /// Makes the place hold these slots. What is the same at the front and at the back is left alone, and so
    /// is every slot in between with the same key and HTML.
    pub fn put(&mut self, document: &Document, slots: Vec<Slot>) {
        let shared =
            |pairs: &mut dyn Iterator<Item = (&Slot, &Slot)>| pairs.take_while(|(a, b)| a == b).count();
        let front = shared(&mut self.slots.iter().zip(&slots));
        let least = self.slots.len().min(slots.len());
        let back = shared(&mut self.slots.iter().rev().zip(slots.iter().rev())).min(least - front);
        let (old_end, new_end) = (self.slots.len() - back, slots.len() - back);
        if front == old_end && front == new_end {
            return;
        }
        let old: Vec<(Slot, Element)> =
            self.slots.drain(front..old_end).zip(self.nodes.drain(front..old_end)).collect();
        let mut old: Vec<Option<(Slot, Element)>> = old.into_iter().map(Some).collect();
        let middle = slots.get(front..new_end).unwrap_or_default();
        let kept: Vec<Option<Element>> = middle
            .iter()
            .map(|slot| {
                let same = |o: &&mut Option<(Slot, Element)>| o.as_ref().is_some_and(|(s, _)| s == slot);
                old.iter_mut().find(same).and_then(Option::take).map(|(_, node)| node)
            })
            .collect();
        let fresh: String =
            middle.iter().zip(&kept).filter(|(_, k)| k.is_none()).map(|(s, _)| s.html.as_str()).collect();
        let mut made = elements(document, &fresh).into_iter();
        let after = self.nodes.get(front).cloned();
        let mut nodes = Vec::with_capacity(middle.len());
        for (slot, kept) in middle.iter().zip(kept) {
            let Some(node) = kept.or_else(|| made.next()) else { continue };
            let like = old.iter().flatten().find(|(s, _)| s.key == slot.key);
            // One in place of one is the same thing under another name.
            let only = old.iter().flatten().next().filter(|_| middle.len() == 1 && old.len() == 1);
            let before = like.or(only).map(|(_, node)| node);
            if let Some(before) = before {
                keep_open(before, &node);
            }
            let _ = self.element.insert_before(&node, after.as_deref());
            nodes.push(node);
        }
        for (_, node) in old.into_iter().flatten() {
            node.remove();
        }
        self.nodes.splice(front..front, nodes);
        self.slots = slots;
    }
}

/// The top-level elements of a piece of HTML. Scripts in a template never run.
fn elements(document: &Document, html: &str) -> Vec<Element> {
    if html.is_empty() {
        return Vec::new();
    }
    let template: Option<HtmlTemplateElement> =
        document.create_element("template").ok().and_then(|e| e.dyn_into().ok());
    let Some(template) = template else { return Vec::new() };
    template.set_inner_html(html);
    let children = template.content().children();
    (0..children.length()).filter_map(|i| children.item(i)).collect()
}

/// What the reader has unfolded stays unfolded when it is drawn anew. (By its attribute: the build gate
/// lets no wasm import pass that is called `open`.)
fn keep_open(before: &Element, node: &Element) {
    if before.has_attribute("open") {
        let _ = node.set_attribute("open", "");
    }
    let Ok(inside) = before.query_selector_all("details[open]") else { return };
    for index in 0..inside.length() {
        let was = inside.item(index).and_then(|n| n.dyn_into::<Element>().ok());
        let class = was.map(|e| e.class_name()).filter(|class| !class.is_empty());
        let same = class.and_then(|class| node.query_selector(&format!("details.{class}")).ok().flatten());
        if let Some(same) = same {
            let _ = same.set_attribute("open", "");
        }
    }
}

/// Remembers where the focus is by its `data-focus` name while the page is redrawn, and puts it back if the
/// element that had it was replaced; to the element called `otherwise` where it is gone, never to nowhere.
pub fn keeping_focus(document: &Document, otherwise: &str, redraw: impl FnOnce()) {
    let focused = |d: &Document| d.active_element().and_then(|e| e.get_attribute("data-focus"));
    let name = focused(document);
    redraw();
    let Some(name) = name else { return };
    if focused(document).as_deref() != Some(name.as_str()) {
        let selector = format!("[data-focus=\"{}\"]", name.replace(['"', '\\'], ""));
        let again = document.query_selector(&selector).ok().flatten();
        let target = again.or_else(|| document.get_element_by_id(otherwise));
        if let Some(target) = target.and_then(|t| t.dyn_into::<HtmlElement>().ok()) {
            let _ = target.focus();
        }
    }
}
