//! What a page may not contain. A policy does not stop navigation, `preconnect` or WebRTC, so the build
//! refuses every page in which a way out of the device is as much as named.

/// Names by which a page could reach out; matched as whole words. Those from `preconnect` on are relations of a
/// link (HTML, 4.6.7) and the rules that do the same; a name with a hyphen holds the shorter one.
const WAYS_OUT: [&str; 25] = [
    "fetch",
    "XMLHttpRequest",
    "WebSocket",
    "WebSocketStream",
    "WebTransport",
    "EventSource",
    "sendBeacon",
    "RTCPeerConnection",
    "webkitRTCPeerConnection",
    "RTCDataChannel",
    "SharedWorker",
    "importScripts",
    "window.open",
    "self.open",
    "globalThis.open",
    "location.assign",
    "location.replace",
    "preconnect",
    "dns-prefetch",
    "prefetch",
    "prerender",
    "preload",
    "modulepreload",
    "speculationrules",
    "iframe",
];

/// Attributes that make a browser ask for something, or send it somewhere.
const ASKING: [&str; 14] = [
    "src",
    "href",
    "srcset",
    "imagesrcset",
    "action",
    "formaction",
    "data",
    "poster",
    "ping",
    "background",
    "manifest",
    "codebase",
    "archive",
    "profile",
];

/// Elements that are there to bring something in from elsewhere.
const BRINGING: [&str; 7] = ["iframe", "frame", "form", "object", "embed", "base", "portal"];

/// Refuses `text` (called `what` in the sentence) if a way out is named in it.
pub fn page(what: &str, text: &str) -> Result<(), String> {
    match WAYS_OUT.iter().find(|word| has_word(text, word)) {
        Some(word) => {
            Err(format!("{what} names {word}: nothing may leave the device, so it may not be there."))
        }
        None => elsewhere(text).map_err(|found| {
            format!("{what} has {found}: nothing may be brought from elsewhere or sent there.")
        }),
    }
}

/// What a worker script may say, each in these very words and once, though a way out is named in it: it hears the
/// event by which the browser asks it for the page; it lets the browser's own question go where it would have gone; it
/// asks for the page itself, by the page's own address, and follows nowhere from there.
const ASKED: [&str; 5] = [
    "const PAGE = self.registration.scope;",
    "addEventListener(\"fetch\",",
    "event.request.mode !== \"navigate\"",
    "fetch(event.request)",
    ".add(new Request(PAGE, { cache, signal, redirect: \"error\" }))",
];

/// What it may name nowhere else: ways of asking that only a worker has, of leading a page elsewhere, of bringing in
/// another script, and of reaching any of them by a name put together.
const NEVER_IN_A_WORKER: [&str; 16] = [
    "PAGE =",
    "Request",
    "add",
    "addAll",
    "navigate",
    "openWindow",
    "redirect",
    "preloadResponse",
    "navigationPreload",
    "importScripts",
    "import",
    "eval",
    "Function",
    "constructor",
    "Reflect",
    "self[",
];

/// Refuses a worker script that does more than answer from its cache, ask for its own page, and let the browser ask.
pub fn worker(what: &str, text: &str) -> Result<(), String> {
    let rest = ASKED.iter().fold(text.to_string(), |rest, asked| rest.replacen(asked, "", 1));
    page(what, &rest)?;
    let named =
        |word: &str| if word.ends_with(['=', '[']) { rest.contains(word) } else { has_word(&rest, word) };
    match NEVER_IN_A_WORKER.iter().find(|word| named(word)) {
        Some(word) => Err(format!(
            "{what} names {word}: it may ask for its own page alone, and run nothing but itself."
        )),
        None => Ok(()),
    }
}

/// Refuses an import of the wasm that is a way out. Import names are like `__wbg_sendBeacon_1f2e`, in the
/// spelling of the browser or of Rust, so they are compared without case and underscores.
pub fn import(name: &str) -> Result<(), String> {
    let plain = |s: &str| s.replace(['_', '.'], "").to_lowercase();
    let bare = plain(name);
    let more = [
        "websocket",
        "webtransport",
        "eventsource",
        "sendbeacon",
        "rtcpeer",
        "rtcdata",
        "xmlhttp",
        "fetch",
        "preconnect",
        "prerender",
        "importscripts",
        "sharedworker",
        "requestsubmit",
        "setlocation",
    ];
    // By the name alone it can't be told whose `open` or `replace` it is; none is needed.
    let opens = ["__wbg_open_", "__wbg_assign_", "__wbg_replace_", "__wbg_submit_"]
        .iter()
        .any(|start| name.starts_with(start))
        || bare.contains("windowopen");
    match more.iter().find(|word| bare.contains(**word)) {
        Some(word) => Err(format!("The wasm imports {name} ({word}): nothing may leave the device.")),
        None if opens => {
            Err(format!("The wasm imports {name}: a page that opens others can leak by an address."))
        }
        None => Ok(()),
    }
}

/// Refuses wasm in whose own words an element or a relation is named that makes a browser connect before it asks
/// the policy: Chromium does so for frames and forms, every browser for `preconnect`.
pub fn words(wasm: &[u8]) -> Result<(), String> {
    let never = ["iframe", "<form", "preconnect", "prefetch", "prerender", "RTCPeerConnection", "sendBeacon"];
    match never.iter().find(|word| wasm.windows(word.len()).any(|w| w == word.as_bytes())) {
        Some(word) => {
            Err(format!("The wasm has the word {word}: browsers connect for it whatever the policy says."))
        }
        None => Ok(()),
    }
}

/// Refuses wasm in which a folder of this machine is written.
pub fn folders(wasm: &[u8]) -> Result<(), String> {
    let home = std::env::var("HOME").unwrap_or_default();
    let cargo = crate::cargo::cargo_home().map(|p| p.display().to_string()).unwrap_or_default();
    let root = browser::root().display().to_string();
    for folder in [home + "/", cargo, root] {
        // "/" alone is no name of a folder worth looking for.
        if 2 < folder.len() && wasm.windows(folder.len()).any(|w| w == folder.as_bytes()) {
            return Err(format!(
                "The wasm names the folder {folder} of this machine; see the flags in cargo.rs."
            ));
        }
    }
    Ok(())
}

/// What in a page's markup, style or script names a place that is not the page: an attribute, an element, a rule
/// of a style, an address in a script. Pictures and links within the page (`data:`, `blob:`, `#`) are let be.
fn elsewhere(text: &str) -> Result<(), String> {
    let (scripts, rest) = parted(&text.to_ascii_lowercase());
    for open in ["://", "\"//", "'//", "`//"] {
        if scripts.contains(open) {
            return Err(format!("an address ({open}) in its script"));
        }
    }
    if called(&scripts, "import") {
        return Err("an import(…) in its script".into());
    }
    for rule in ["@import", "image-set("] {
        if rest.contains(rule) {
            return Err(format!("{rule} in its style"));
        }
    }
    if let Some(at) = rest.match_indices("url(").find(|(at, open)| !is_inside(&rest[at + open.len()..])) {
        return Err(format!("{} in its style", start_of(&rest[at.0..])));
    }
    for element in BRINGING {
        if rest.match_indices(&format!("<{element}")).any(|(at, open)| !goes_on(&rest[at + open.len()..])) {
            return Err(format!("an element <{element}>"));
        }
    }
    for (at, name) in rest.match_indices("http-equiv") {
        let value = rest[at + name.len()..].trim_start_matches([' ', '=', '"', '\'']);
        if !value.starts_with("content-security-policy") {
            return Err(start_of(&rest[at..]));
        }
    }
    for attribute in ASKING {
        for (at, name) in rest.match_indices(attribute) {
            let before = rest[..at].chars().next_back();
            let after = rest[at + name.len()..].trim_start();
            let is_attribute = before.is_some_and(|c| c.is_whitespace() || "\"'/:".contains(c));
            if let Some(value) = after.strip_prefix('=')
                && is_attribute
                && !is_inside(value)
            {
                return Err(start_of(&rest[at..]));
            }
        }
    }
    Ok(())
}

/// What stands in script elements, and everything else. A text without markup is all script.
fn parted(text: &str) -> (String, String) {
    if !text.trim_start().starts_with('<') {
        return (text.to_string(), String::new());
    }
    let (mut scripts, mut rest) = (String::new(), String::new());
    let mut left = text;
    while let Some((before, after)) = left.split_once("<script") {
        let (attributes, after) = after.split_once('>').unwrap_or((after, ""));
        let (script, after) = after.split_once("</script").unwrap_or((after, ""));
        rest.extend([before, "<script", attributes, ">"]);
        scripts.extend([script, "\n"]);
        left = after;
    }
    rest.push_str(left);
    (scripts, rest)
}

/// Whether the value that starts here stays within the page.
fn is_inside(value: &str) -> bool {
    let value = value.trim_start().trim_start_matches(['"', '\'']).trim_start();
    let is_end = value.is_empty() || value.starts_with(['"', '\'', '>', ')']);
    is_end || ["#", "data:", "blob:"].iter().any(|start| value.starts_with(start))
}

/// Whether a word goes on here.
fn goes_on(after: &str) -> bool {
    after.starts_with(|c: char| c.is_alphanumeric() || c == '-')
}

/// Whether a function is called by this name.
fn called(script: &str, name: &str) -> bool {
    script.match_indices(name).any(|(at, _)| {
        let before = script[..at].chars().next_back();
        let is_whole = before.is_none_or(|c| !c.is_alphanumeric() && c != '_' && c != '$');
        is_whole && script[at + name.len()..].trim_start().starts_with('(')
    })
}

fn start_of(text: &str) -> String {
    text.chars().take(40).collect()
}

fn has_word(text: &str, word: &str) -> bool {
    let is_part = |c: char| c.is_alphanumeric() || c == '_' || c == '$';
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back().is_some_and(is_part);
        let after = text[at + word.len()..].chars().next().is_some_and(is_part);
        !before && !after
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_out_is_refused() {
        for word in WAYS_OUT {
            assert!(page("page", &format!("a;{word}(x)")).is_err(), "{word}");
        }
        assert!(page("page", "the fetching of wool; prefetched; webSocketLike").is_ok());
    }

    #[test]
    fn wasm_names_nothing_that_connects() {
        assert!(words(b"\0asm create form and frame").is_ok());
        for word in ["iframe", "<form", "preconnect", "dns-prefetch", "RTCPeerConnection", "sendBeacon"] {
            assert!(words(format!("\0asm{word}\0").as_bytes()).is_err(), "{word}");
        }
    }

    /// A page as the build makes them, with a place for something in each of its parts.
    fn built(head: &str, style: &str, body: &str, script: &str) -> String {
        format!(
            "<!doctype html><meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'\">\
             <link rel=\"icon\" href=\"data:,\">{head}<style>a {{ background: url(#x) }} {style}</style>\
             <a href=\"#text\">Go</a><label data-src=\"x\">src = 1</label>{body}\
             <script type=\"application/octet-stream\" id=\"wasm\"></script>\
             <script>a.href = b; new URL(c.src, location.href); // why\n{script}</script>"
        )
    }

    #[test]
    fn nothing_is_brought_from_elsewhere() {
        assert_eq!(page("page", &built("", "", "", "")), Ok(()));
        for head in [
            "<link rel=\"stylesheet\" href=\"https://elsewhere.example/a.css\">",
            "<link rel=preconnect href=//elsewhere.example>",
            "<link rel=\"dns-prefetch\" href=\"#\">",
            "<link rel=\"prefetch\" href=\"#\">",
            "<link rel=\"modulepreload\" href=\"#\">",
            "<meta http-equiv=\"refresh\" content=\"0;url=x\">",
            "<base href=\"#\">",
            "<script type=\"speculationrules\">{}</script>",
            "<script src=\"https://elsewhere.example/a.js\"></script>",
            "<script src='a.js'></script>",
        ] {
            assert!(page("page", &built(head, "", "", "")).is_err(), "{head}");
        }
        for style in [
            "@import \"a.css\";",
            "@IMPORT url(a.css);",
            "b { background: url(http://elsewhere.example/a.png) }",
            "b { background: URL( \"//elsewhere.example/a.png\" ) }",
            "b { background: image-set(\"a.png\" 1x) }",
            "@font-face { src: url(a.woff2) }",
        ] {
            assert!(page("page", &built("", style, "", "")).is_err(), "{style}");
        }
        for body in [
            "<img src=\"http://elsewhere.example/a.png\">",
            "<img src=a.png>",
            "<img SRC = 'a.png'>",
            "<img alt=\"\"src=\"a.png\">",
            "<img srcset=\"a.png 2x\">",
            "<image xlink:href=\"a.png\"/>",
            "<a href=\"https://elsewhere.example\">there</a>",
            "<a href=\"#\" ping=\"/p\">there</a>",
            "<form action=\"/a\"></form>",
            "<form></form>",
            "<button formaction=\"/a\"></button>",
            "<video poster=\"a.png\"></video>",
            "<iframe srcdoc=\"x\"></iframe>",
            "<object data=\"a\"></object>",
            "<embed>",
        ] {
            assert!(page("page", &built("", "", body, "")).is_err(), "{body}");
        }
        for script in [
            "const to = \"https://elsewhere.example\"",
            "i.src = '//elsewhere.example/a'",
            "import(\"a.js\")",
            "importScripts(x)",
            "location.assign(x)",
            "new XMLHttpRequest()",
        ] {
            assert!(page("page", &built("", "", "", script)).is_err(), "{script}");
            assert!(page("glue", script).is_err(), "{script}");
        }
    }

    #[test]
    fn a_worker_asks_for_its_own_page_alone() {
        let own = "const PAGE = self.registration.scope;\n\
                   const ask = (fresh) => fresh.add(new Request(PAGE, { cache, signal, redirect: \"error\" }));\n\
                   self.addEventListener(\"fetch\", (event) => {\n\
                   if (event.request.mode !== \"navigate\") return;\n\
                   event.respondWith(kept(event).then((page) => page ?? fetch(event.request)));\n});";
        assert_eq!(worker("worker", own), Ok(()));
        for more in [
            "fetch(x)",
            "fetch(event.request)",
            "fetch(event.request.url)",
            "self.fetch(x)",
            "self[\"fetch\"](x)",
            "self[\"fe\" + \"tch\"](x)",
            "const f = fetch;",
            "addEventListener(\"fetch\", again)",
            "addEventListener('fetch', x)",
            "new WebSocket(x)",
            "importScripts(x)",
            "import(x)",
            "cache.add(x)",
            "cache[\"add\"](x)",
            "cache.addAll([x])",
            "cache.add(new Request(PAGE, { cache, signal, redirect: \"error\" }))",
            "new Request(x)",
            "const PAGE = x;",
            "client.navigate(x)",
            "self.clients.openWindow(x)",
            "Response.redirect(x)",
            "self.registration.navigationPreload.enable()",
            "await event.preloadResponse",
            "(() => {}).constructor(x)()",
            "Reflect.get(self, x)(y)",
            "eval(x)",
            "caches.put(\"https://elsewhere.example\", x)",
        ] {
            assert!(worker("worker", &format!("{own};\n{more}")).is_err(), "{more}");
        }
        // What it may say it may say in these words only.
        for (word, other) in
            [("(event.request)", "(x)"), ("Request(PAGE,", "Request(x,"), ("\"error\"", "\"follow\"")]
        {
            assert!(own.contains(word));
            assert!(worker("worker", &own.replace(word, other)).is_err(), "{other}");
        }
        // A page may not hear it either.
        assert!(page("page", own).is_err());
    }

    #[test]
    fn imports_are_known_by_either_spelling() {
        for name in [
            "__wbg_fetch_1f",
            "__wbg_sendBeacon_2",
            "__wbg_new_with_WebSocket_3",
            "__wbg_open_4ac",
            "__wbg_new_with_event_source_1",
            "__wbg_instanceof_XmlHttpRequest_1",
            "__wbg_RTCPeerConnection_1",
            "__wbg_window_open_1",
            "__wbg_preconnect_1",
            "__wbg_importScripts_1",
            "__wbg_assign_1",
            "__wbg_replace_1",
            "__wbg_submit_1",
        ] {
            assert!(import(name).is_err(), "{name}");
        }
        for name in ["__wbg_setAttribute_1", "__wbg_replaceState_1", "__wbg_replaceWith_1", "__wbg_opener_1"]
        {
            assert!(import(name).is_ok(), "{name}");
        }
    }
}
