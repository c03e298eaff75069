//! Writes HTML and SVG: escaping and rounding in one place. Knows nothing of what it writes about.
//!
//! Names of elements and attributes are `&'static str`, so no text from outside can become one;
//! every other text passes through [`escaped`]. Finished pieces are [`Markup`], which only a
//! [`Writer`] makes, so what is inserted was escaped once and is never escaped twice.

pub mod path;

use crate::measure::shown;
use core::fmt::{self, Display};

/// Finished, well-formed, escaped HTML or SVG.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Markup(String);

impl Markup {
    pub fn as_str(&self) -> &str {
        &self.0
    }

    pub fn into_string(self) -> String {
        self.0
    }

    /// Bytes in UTF-8.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Display for Markup {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// One element of a place on a page. Two slots of a place with the same key and HTML are the same thing on
/// screen, so what is put in place replaces only those that changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    pub key: String,
    /// One whole element.
    pub html: String,
}

/// Writes elements one after the other.
///
/// ```
/// use layfigure::markup::Writer;
/// let mut w = Writer::new();
/// w.open("p").attr("class", "cue").text("Knee < 60°").close();
/// w.open("hr").empty();
/// assert_eq!(w.finish().as_str(), r#"<p class="cue">Knee &lt; 60°</p><hr/>"#);
/// ```
#[derive(Clone, Debug, Default)]
pub struct Writer {
    out: String,
    open: Vec<&'static str>,
    /// Whether the last start tag still takes attributes.
    in_tag: bool,
}

impl Writer {
    pub fn new() -> Writer {
        Writer::default()
    }

    /// `<!DOCTYPE html>`, before anything else.
    pub fn doctype(&mut self) -> &mut Writer {
        self.end_tag();
        self.out.push_str("<!DOCTYPE html>\n");
        self
    }

    /// Starts an element; attributes follow, then content and [`close`](Writer::close), or
    /// [`empty`](Writer::empty).
    pub fn open(&mut self, element: &'static str) -> &mut Writer {
        self.end_tag();
        self.out.push('<');
        self.out.push_str(element);
        self.open.push(element);
        self.in_tag = true;
        self
    }

    /// An attribute of the element just opened. After content it is left out: there is no place for it.
    pub fn attr(&mut self, name: &'static str, value: &str) -> &mut Writer {
        debug_assert!(self.in_tag, "attribute {name} after content");
        if self.in_tag {
            self.out.push(' ');
            self.out.push_str(name);
            self.out.push_str("=\"");
            escape_into(&mut self.out, value);
            self.out.push('"');
        }
        self
    }

    /// An attribute without a value, as HTML has them (`disabled`, `hidden`).
    pub fn flag(&mut self, name: &'static str) -> &mut Writer {
        debug_assert!(self.in_tag, "attribute {name} after content");
        if self.in_tag {
            self.out.push(' ');
            self.out.push_str(name);
        }
        self
    }

    /// A number as attribute, rounded to `decimals` places.
    pub fn num(&mut self, name: &'static str, value: f64, decimals: u32) -> &mut Writer {
        self.attr(name, &shown(value, decimals))
    }

    /// Text content.
    pub fn text(&mut self, text: &str) -> &mut Writer {
        self.end_tag();
        escape_into(&mut self.out, text);
        self
    }

    /// A line break in the source, for readers of the source.
    pub fn newline(&mut self) -> &mut Writer {
        self.end_tag();
        self.out.push('\n');
        self
    }

    /// Finished markup as content.
    pub fn insert(&mut self, markup: &Markup) -> &mut Writer {
        self.end_tag();
        self.out.push_str(&markup.0);
        self
    }

    /// Our own style sheet or script, word for word, as content of `style` or `script`; never text
    /// from outside.
    pub fn own(&mut self, source: &'static str) -> &mut Writer {
        self.end_tag();
        self.out.push_str(source);
        self
    }

    /// Ends the innermost open element with an end tag.
    pub fn close(&mut self) -> &mut Writer {
        self.end_tag();
        if let Some(element) = self.open.pop() {
            self.out.push_str("</");
            self.out.push_str(element);
            self.out.push('>');
        }
        self
    }

    /// Ends the element just opened without content, `<path …/>`, `<br/>`. Right for void elements of
    /// HTML and for any element of SVG; wrong for `div` and the like, which need [`close`](Writer::close).
    pub fn empty(&mut self) -> &mut Writer {
        debug_assert!(self.in_tag, "content before an empty end");
        if self.in_tag {
            self.out.push_str("/>");
            self.open.pop();
            self.in_tag = false;
        } else {
            self.close();
        }
        self
    }

    /// An element with only text, without attributes.
    pub fn element(&mut self, element: &'static str, text: &str) -> &mut Writer {
        self.open(element).text(text).close()
    }

    /// Bytes written so far.
    pub fn written(&self) -> usize {
        self.out.len()
    }

    /// Closes what is still open and gives the whole.
    pub fn finish(mut self) -> Markup {
        while !self.open.is_empty() {
            self.close();
        }
        Markup(self.out)
    }

    fn end_tag(&mut self) {
        if self.in_tag {
            self.out.push('>');
            self.in_tag = false;
        }
    }
}

/// `text` with what means something to HTML and XML written out, good in content and between double
/// quotes. Characters that XML forbids become U+FFFD.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    escape_into(&mut out, text);
    out
}

fn escape_into(out: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' => out.push(c),
            // XML 1.0, production 2: no other control characters, no non-characters.
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            // Allowed by XML, refused by HTML.
            '\u{7f}'..='\u{9f}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn text_from_outside_stays_text() {
        let mut w = Writer::new();
        w.open("a").attr("title", "\"><script>x</script>").text("</a><b>&amp;").close();
        assert_eq!(
            w.finish().as_str(),
            "<a title=\"&quot;&gt;&lt;script&gt;x&lt;/script&gt;\">&lt;/a&gt;&lt;b&gt;&amp;amp;</a>"
        );
    }

    #[test]
    fn open_elements_are_closed_at_the_end() {
        let mut w = Writer::new();
        w.open("svg").open("g").open("path").num("d", -0.0001, 2).empty();
        assert_eq!(w.finish().as_str(), "<svg><g><path d=\"0\"/></g></svg>");
    }

    proptest! {
        #[test]
        fn escaping_leaves_nothing_that_opens(text in "\\PC*|[\\x00-\\x7f]*") {
            let e = escaped(&text);
            let opens = e.contains(['<', '>', '"', '\0', '\u{7f}']);
            prop_assert!(!opens);
            let back = e.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
            let count = |s: &str| s.chars().count();
            prop_assert_eq!(count(&back), count(&text));
        }
    }
}
