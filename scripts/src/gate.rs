//! What a page may not contain. A policy does not stop navigation, `preconnect` or WebRTC, so the build
//! refuses every page in which a way out of the device is as much as named.

/// Names by which a page could reach out; matched as whole words.
const WAYS_OUT: [&str; 8] = [
    "fetch",
    "XMLHttpRequest",
    "WebSocket",
    "EventSource",
    "sendBeacon",
    "RTCPeerConnection",
    "window.open",
    "preconnect",
];

/// Refuses `text` (called `what` in the sentence) if a way out is named in it.
pub fn page(what: &str, text: &str) -> Result<(), String> {
    match WAYS_OUT.iter().find(|word| has_word(text, word)) {
        Some(word) => {
            Err(format!("{what} names {word}: nothing may leave the device, so it may not be there."))
        }
        None => Ok(()),
    }
}

/// What a worker script may name once, and no more: the event by which the browser asks it for the page.
const ASKED: &str = "addEventListener(\"fetch\",";

/// Refuses a worker script that does more than answer from its cache. It hears one event whose name is that
/// of a way out; it never calls it, and brings in no other script.
pub fn worker(what: &str, text: &str) -> Result<(), String> {
    page(what, &text.replacen(ASKED, "", 1))?;
    match ["importScripts", "import", "eval", "Function"].iter().find(|word| has_word(text, word)) {
        Some(word) => Err(format!("{what} names {word}: it may run nothing but itself.")),
        None => Ok(()),
    }
}

/// Refuses an import of the wasm that is a way out. Import names are like `__wbg_sendBeacon_1f2e`, in the
/// spelling of the browser or of Rust, so they are compared without case and underscores.
pub fn import(name: &str) -> Result<(), String> {
    let plain = |s: &str| s.replace(['_', '.'], "").to_lowercase();
    let bare = plain(name);
    let more = ["websocket", "eventsource", "sendbeacon", "rtcpeer", "xmlhttp", "fetch", "preconnect"];
    let opens = name.starts_with("__wbg_open_") || bare.contains("windowopen");
    match more.iter().find(|word| bare.contains(**word)) {
        Some(word) => Err(format!("The wasm imports {name} ({word}): nothing may leave the device.")),
        None if opens => {
            Err(format!("The wasm imports {name}: a page that opens windows can leak by an address."))
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
    fn a_worker_hears_its_event_and_calls_nothing() {
        let hears = "self.addEventListener(\"fetch\", (event) => event.respondWith(kept(event)))";
        assert!(worker("worker", hears).is_ok());
        for more in [
            "fetch(x)",
            "self.fetch(x)",
            "self[\"fetch\"](x)",
            "const f = fetch;",
            "addEventListener(\"fetch\", again)",
            "addEventListener('fetch', x)",
            "new WebSocket(x)",
            "importScripts(x)",
            "import(x)",
        ] {
            assert!(worker("worker", &format!("{hears};\n{more}")).is_err(), "{more}");
        }
        // A page may not hear it either.
        assert!(page("page", hears).is_err());
    }

    #[test]
    fn imports_are_known_by_either_spelling() {
        for name in ["__wbg_fetch_1f", "__wbg_sendBeacon_2", "__wbg_new_with_WebSocket_3", "__wbg_open_4ac"] {
            assert!(import(name).is_err(), "{name}");
        }
        assert!(import("__wbg_setAttribute_1").is_ok());
    }
}
