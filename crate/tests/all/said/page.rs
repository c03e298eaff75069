//! What can be read on a page of HTML: its words without marks, and what stands under each heading.

/// A page's words.
#[derive(Clone, Debug, Default)]
pub struct Page {
    pub words: String,
    /// What stands under each heading, up to the next one or the end of what the heading stands in.
    pub parts: Vec<Part>,
    /// Each exercise's strip, with its heading.
    pub strips: Vec<Part>,
}

/// A heading and what belongs to it.
#[derive(Clone, Debug, Default)]
pub struct Part {
    pub heading: String,
    pub words: String,
    /// Its items, where it is a list.
    pub items: Vec<String>,
    depth: usize,
    open: bool,
}

const VOID: [&str; 8] = ["br", "col", "img", "input", "meta", "link", "hr", "wbr"];
/// They stand in a line of text, and part no words.
const INLINE: [&str; 9] = ["span", "b", "bdi", "strong", "small", "em", "i", "a", "sup"];
/// Not read.
const SILENT: [&str; 4] = ["svg", "style", "script", "head"];

impl Page {
    pub fn read(html: &str) -> Page {
        let mut page = Page::default();
        let mut open: Vec<&str> = Vec::new();
        for (i, piece) in html.split('<').enumerate() {
            let (tag, text) = match piece.split_once('>') {
                Some((tag, text)) if 0 < i => (tag, text),
                _ => ("", piece),
            };
            let name = tag.trim_start_matches('/').split([' ', '\n', '/']).next().unwrap_or("");
            if tag.starts_with('/') {
                if let Some(at) = open.iter().rposition(|n| *n == name) {
                    open.truncate(at);
                }
                for part in &mut page.parts {
                    part.open &= part.depth <= open.len();
                }
            } else if !tag.is_empty() && !tag.starts_with('!') && !VOID.contains(&name) && !tag.ends_with('/')
            {
                if matches!(name, "h1" | "h2") {
                    page.parts.iter_mut().for_each(|part| part.open = false);
                    page.parts.push(Part { depth: open.len(), open: true, ..Part::default() });
                }
                if name == "article" {
                    page.strips.push(Part::default());
                }
                if name == "li"
                    && let Some(part) = page.parts.last_mut().filter(|p| p.open)
                {
                    part.items.push(String::new());
                }
                open.push(name);
            }
            if open.iter().any(|n| SILENT.contains(n)) {
                continue;
            }
            let gap = if tag.is_empty() || INLINE.contains(&name) { "" } else { "\n" };
            let text = gap.to_string() + &plain(text);
            page.words.push_str(&text);
            let in_heading = open.iter().any(|n| matches!(*n, "h1" | "h2"));
            if open.contains(&"article")
                && let Some(strip) = page.strips.last_mut()
            {
                if in_heading { &mut strip.heading } else { &mut strip.words }.push_str(&text);
            }
            if let Some(part) = page.parts.last_mut().filter(|p| p.open) {
                if in_heading {
                    part.heading.push_str(&text);
                } else {
                    part.words.push_str(&text);
                    if let Some(item) = part.items.last_mut() {
                        item.push_str(&text);
                    }
                }
            }
        }
        page
    }

    /// The parts under this heading.
    pub fn under<'a>(&'a self, heading: &'a str) -> impl Iterator<Item = &'a Part> {
        self.parts.iter().filter(move |p| p.heading.trim() == heading)
    }
}

fn plain(text: &str) -> String {
    let marks =
        [("&quot;", "\""), ("&#39;", "'"), ("&lt;", "<"), ("&gt;", ">"), ("&nbsp;", " "), ("&amp;", "&")];
    marks.iter().fold(text.to_string(), |text, (mark, sign)| text.replace(mark, sign))
}
