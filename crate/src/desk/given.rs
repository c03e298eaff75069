//! The link that was just made, and what to know before it is sent.

use super::Slot;
use crate::markup::Writer;

/// What of a link is on view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// The whole address.
    pub address: String,
    /// The words that open it, where it is sealed.
    pub passphrase: Option<String>,
    /// The patient's name stands in it.
    pub named: bool,
    /// The text or a choice has changed since.
    pub old: bool,
}

/// The patient's link, as the page has it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Link {
    #[default]
    None,
    /// It is being made aside, and can be stopped.
    Making,
    Made(Given),
}

/// As one slot, for the place called `given`; none where there is no link.
pub fn slots(link: &Link) -> Vec<Slot> {
    let mut html = Writer::new();
    let given = match link {
        Link::None => return Vec::new(),
        Link::Making => {
            html.open("div").element("p", "The link is being made…");
            html.open("p")
                .attr("class", "acts")
                .open("button")
                .attr("type", "button")
                .attr("id", "stop-link");
            // The focus goes on to what copies it.
            html.attr("data-focus", "copy again").text("Stop").close().close().close();
            return vec![Slot { key: "given".into(), html: html.finish().into_string() }];
        }
        Link::Made(given) => given,
    };
    html.open("div");
    if given.old {
        html.open("p").attr("class", "grave");
        html.text("The text has changed since this link was made. Copy the link anew before you send it.")
            .close();
    }
    html.open("p").open("label").attr("for", "link").text("The link").close().text(" ");
    html.open("input").attr("id", "link").attr("type", "text").attr("readonly", "");
    html.attr("value", &given.address).empty().close();
    match &given.passphrase {
        Some(words) => {
            html.open("p").text("The passphrase: ").open("b").attr("id", "passphrase").text(words).close();
            html.text(". Tell it in the room or by telephone, never in the same message as the link. It is kept nowhere.");
            html.close();
        }
        None => {
            let whom = if given.named { "the patient’s name, " } else { "" };
            html.open("p").text(&format!(
                "Whoever holds this link can read {whom}the exercises, the doses and what not to do. Send it to the patient only."
            ));
            html.close();
        }
    }
    html.open("p").attr("class", "acts").open("button").attr("type", "button").attr("id", "copy-again");
    html.attr("data-focus", "copy again").text("Copy it").close().text(" ");
    html.open("button").attr("type", "button").attr("class", "quiet").attr("id", "put-away");
    html.attr("data-focus", "put link away").text("Put away").close().close();
    html.close();
    vec![Slot { key: "given".into(), html: html.finish().into_string() }]
}

/// The published address of the patient's page, fit to have a link's fragment put behind it; else a sentence that
/// says what is wanted.
pub fn home_address(typed: &str) -> Result<String, String> {
    let typed = typed.trim();
    let wanted = "such as https://clinic.example/home.html";
    if typed.is_empty() {
        return Err(format!(
            "A link needs the address at which you have published the patient’s page, {wanted}. Without it, print the handout or save the text."
        ));
    }
    let plain = typed.split(['#', '?']).next().unwrap_or_default();
    let rest = plain.strip_prefix("https://").or_else(|| {
        // A server on this very computer, for trying.
        let rest = plain.strip_prefix("http://")?;
        let host = rest.split(['/', ':']).next()?;
        (host == "localhost" || host == "127.0.0.1").then_some(rest)
    });
    let Some(rest) = rest else {
        return Err(format!("The address has to begin with https://, {wanted}."));
    };
    let host = rest.split('/').next().unwrap_or_default();
    let named = host.split(':').next().is_some_and(|name| name.contains('.') || name == "localhost");
    let known = rest.chars().all(|c| c.is_ascii_alphanumeric() || "-._~/:%@!$&'()*+,;=".contains(c));
    if !named || !known || rest.contains('@') {
        return Err(format!("This is no address of a page. Write the whole of it, {wanted}."));
    }
    Ok(plain.to_string())
}

/// A sentence for an address that will not reach a patient.
pub fn only_here(address: &str) -> bool {
    address.starts_with("http://")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_taken_whole_without_what_follows_it() {
        for (typed, taken) in [
            ("https://clinic.example/home.html", "https://clinic.example/home.html"),
            (" https://clinic.example/p/home.html#Labc ", "https://clinic.example/p/home.html"),
            ("https://clinic.example:8443/?q=1", "https://clinic.example:8443/"),
            ("http://127.0.0.1:8097/home.html", "http://127.0.0.1:8097/home.html"),
        ] {
            assert_eq!(home_address(typed).as_deref(), Ok(taken));
        }
    }

    #[test]
    fn what_is_no_published_address_gets_a_sentence() {
        for typed in [
            "",
            "home.html",
            "http://clinic.example/home.html",
            "https://",
            "https://clinic",
            "javascript:alert(1)",
            "https://clinic.example/a b",
            "https://me@clinic.example/",
            "http://localhost.evil.example/",
            "file:///home.html",
            "https://clinic.example/\"><script>",
        ] {
            let sentence = home_address(typed).expect_err(typed);
            assert!(sentence.contains("https://clinic.example/home.html"), "{sentence}");
        }
    }

    #[test]
    fn a_sealed_link_says_how_the_words_are_told() {
        let mut given =
            Given { address: "https://clinic.example/#La".into(), passphrase: None, named: true, old: false };
        let html = |g: &Given| slots(&Link::Made(g.clone())).into_iter().map(|s| s.html).collect::<String>();
        assert!(html(&given).contains("can read the patient’s name"));
        given.passphrase = Some("<b>".into());
        assert!(html(&given).contains("&lt;b&gt;") && !html(&given).contains("can read"));
        given.old = true;
        assert!(html(&given).contains("has changed"));
    }
}
