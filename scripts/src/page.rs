//! Assembles each page of `www/` into one HTML file in `out/`: style, glue, wasm and boot script inline,
//! under a policy that names each by its hash and allows no connection. A page that is to open without a
//! connection has a worker script beside it, the one file that it asks for. The last line of a page is its end
//! mark: which page it is, and the hash of all that stands before, so that it can be told whether it came whole.

use crate::{cargo, gate};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::path::Path;

/// What the browser gets of one package: the glue without its loader, and the wasm.
pub struct Module {
    pub glue: String,
    pub wasm: Vec<u8>,
}

/// The pages, by the names of their files in `www/`.
pub const PAGES: [&str; 2] = ["desk", "home"];

/// A page put together, and the worker script that it names.
struct Assembled {
    html: String,
    /// File name and text.
    worker: Option<(String, String)>,
}

/// Under which names worker scripts were handed out once, when each had a name of its own. A phone that has one asks
/// under that name for a newer one, whatever its page has become: so the newest is there.
const EARLIER_WORKERS: [&str; 2] = ["home-a6c8a75c6769.js", "home-cdf9059f417d.js"];

/// Builds every page and says what was written. Worker scripts that no page names any more go.
pub fn build() -> Result<String, String> {
    let module = module("layfigure")?;
    let out = browser::out();
    for entry in std::fs::read_dir(&out).into_iter().flatten().flatten() {
        if entry.path().extension().is_some_and(|end| end == "js") {
            std::fs::remove_file(entry.path()).map_err(|e| format!("{}: {e}", entry.path().display()))?;
        }
    }
    let mut told = Vec::new();
    for name in PAGES {
        let page = assemble(&browser::root().join("www"), name, &module)?;
        write(&format!("{name}.html"), &page.html)?;
        told.push(format!("out/{name}.html: {} KB", page.html.len() / 1000));
        if let Some((file, text)) = page.worker {
            write(&file, &text)?;
            told.push(format!("out/{file}: {} bytes", text.len()));
            for earlier in EARLIER_WORKERS.iter().filter(|earlier| earlier.starts_with(name)) {
                write(earlier, &text)?;
            }
        }
    }
    Ok(told.join("\n"))
}

/// A page with a module and nothing else, for measuring; no policy, since nothing in it is the product.
pub fn bare(module: &Module) -> String {
    format!(
        "<!doctype html><meta charset=\"utf-8\"><title>speed</title>\
         <script type=\"application/octet-stream\" id=\"wasm\">{}</script><script>{}\n\
         wasm_bindgen.initSync({{module: Uint8Array.from(atob(document.getElementById('wasm').textContent), \
         (c) => c.charCodeAt(0))}});</script>",
        STANDARD.encode(&module.wasm),
        module.glue
    )
}

/// Writes one file to `out/`.
pub fn write(name: &str, html: &str) -> Result<(), String> {
    let out = browser::out();
    std::fs::create_dir_all(&out).map_err(|e| format!("{}: {e}", out.display()))?;
    let path = out.join(name);
    std::fs::write(&path, html).map_err(|e| format!("{}: {e}", path.display()))
}

/// Compiles a package, binds it and gates what comes out.
pub fn module(package: &str) -> Result<Module, String> {
    let input = cargo::wasm(package)?;
    let fault = |e| format!("{package}: {e:?}");
    let mut output = wasm_bindgen_cli_support::Bindgen::new()
        .input_path(input)
        .no_modules(true)
        .map_err(fault)?
        .typescript(false)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()
        .map_err(fault)?;
    let snippets = output.snippets().values().flatten().chain(output.local_modules().keys());
    let brought: Vec<&String> = snippets.collect();
    if !brought.is_empty() {
        return Err(format!("A dependency of {package} brings JavaScript, which isn't inlined: {brought:?}"));
    }
    for import in output.wasm().imports.iter() {
        gate::import(&import.name)?;
    }
    let glue = without_loader(output.js())?;
    let wasm = output.wasm_mut().emit_wasm();
    gate::page("The glue", &glue)?;
    gate::folders(&wasm)?;
    gate::words(&wasm)?;
    Ok(Module { glue, wasm })
}

/// One page: `www/NAME.html` with its style and script put in place.
///
/// In the template stand, once each, `<link rel="stylesheet" href="X.css">` for every style and
/// `<script src="X.js"></script>` for the boot script, after others that it needs (`src="X.js Y.js"`); `<pre data-text="X.txt"></pre>`-like insertions are
/// written `{{X.txt}}`. `data-offline="X.js"` names the page's worker script; in its place comes the name
/// under which it is written. That stays the same for ever, since a browser looks for a newer one under it. The policy
/// goes first in the head: it must come before any style or script.
fn assemble(www: &Path, name: &str, module: &Module) -> Result<Assembled, String> {
    let read = |file: &str| std::fs::read_to_string(www.join(file)).map_err(|e| format!("www/{file}: {e}"));
    let mut html = read(&format!("{name}.html"))?;
    let mut styles = Vec::new();
    while let Some((before, file, after)) = cut(&html, "<link rel=\"stylesheet\" href=\"", "\">") {
        let css = read(&file)?;
        let id = file.trim_end_matches(".css").to_string();
        styles.push(hash(&css));
        html = format!("{before}<style id=\"style-{id}\">{css}</style>{after}");
    }
    let mut worker = None;
    if let Some((before, file, after)) = cut(&html, OFFLINE, "\"") {
        let text = read(&file)?;
        gate::worker(&format!("www/{file}"), &text)?;
        let named = format!("{name}-{file}");
        html = format!("{before}{OFFLINE}{named}\"{after}");
        worker = Some((named, text));
    }
    let Some((before, file, after)) = cut(&html, "<script src=\"", "\"></script>") else {
        return Err(format!("www/{name}.html has no boot script."));
    };
    let own = file.split(' ').map(read).collect::<Result<Vec<String>, String>>()?.join("\n");
    let script = format!("{}\n{}\n{own}", module.glue, read("aside.js")?);
    if script.contains("</script") || script.contains("<!--") {
        return Err("The script holds a text that would end its own element.".into());
    }
    let policy = policy(&styles, &hash(&script), worker.is_some());
    html = format!(
        "{before}<script type=\"application/octet-stream\" id=\"wasm\"></script><script>{script}</script>{after}"
    );
    while let Some((before, file, after)) = cut(&html, "{{", "}}") {
        let text = read(&file)?.replace('&', "&amp;").replace('<', "&lt;");
        html = format!("{before}{text}{after}");
    }
    let head = "<meta charset=\"utf-8\">";
    html = html.replacen(head, &format!("{head}\n{policy}"), 1);
    if !html.contains(&policy) {
        return Err(format!("www/{name}.html has no {head} to put the policy behind."));
    }
    gate::page(&format!("{name}.html"), &html)?;
    // The wasm goes in last: its base64 could spell anything.
    let data = STANDARD.encode(&module.wasm);
    html = html.replacen("id=\"wasm\"></script>", &format!("id=\"wasm\">{data}</script>"), 1);
    Ok(Assembled { html: marked(name, &html), worker })
}

/// A page with its end mark, as `www/offline.js` reads it: the hash is of every byte before the mark's own line. Pages
/// are kept by it on phones, so its form stays the same for ever.
fn marked(name: &str, html: &str) -> String {
    let html = html.trim_end();
    let hash: String = Sha256::digest(html.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
    format!("{html}\n<!-- layfigure {name} sha256 {hash} -->\n")
}

/// Where a page names its worker script.
const OFFLINE: &str = "data-offline=\"";

/// The policy: only this page's own script and styles, pictures from data, its worker script where it has
/// one, and no connection at all.
fn policy(styles: &[String], script: &str, has_worker: bool) -> String {
    // `blob:` is the page's own script once more, for what is done aside.
    let worker = if has_worker { "worker-src 'self' blob:; " } else { "worker-src blob:; " };
    let styles = if styles.is_empty() { "'none'".to_string() } else { styles.join(" ") };
    format!(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
         script-src 'wasm-unsafe-eval' {script}; style-src {styles}; img-src data: blob:; \
         {worker}base-uri 'none'; form-action 'none'\">"
    )
}

fn hash(text: &str) -> String {
    format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text.as_bytes())))
}

/// Splits `html` around the first `open…close`: what is before, between and after.
fn cut(html: &str, open: &str, close: &str) -> Option<(String, String, String)> {
    let (before, rest) = html.split_once(open)?;
    let (between, after) = rest.split_once(close)?;
    Some((before.to_string(), between.to_string(), after.to_string()))
}

/// The glue has a loader that asks a server for the wasm. Ours is in the page: its functions are cut, and
/// the name that would export the loader with them.
fn without_loader(glue: &str) -> Result<String, String> {
    let mut kept = glue.to_string();
    for name in
        ["async function __wbg_load(", "async function __wbg_init_once(", "async function __wbg_init("]
    {
        kept = without_function(&kept, name).ok_or_else(|| {
            format!("The glue has no `{name}`: wasm-bindgen changed its shape, so the cut must be looked at.")
        })?;
    }
    let export = "__wbg_init, ";
    if !kept.contains(export) {
        return Err("The glue does not export its loader as it used to: the cut must be looked at.".into());
    }
    Ok(kept.replacen(export, "", 1))
}

/// `source` without the function that starts with `head`, by counting braces. Good enough for the few
/// functions it is used on: their only braces in strings are balanced.
fn without_function(source: &str, head: &str) -> Option<String> {
    let start = source.find(head)?;
    let mut depth = 0usize;
    for (i, c) in source[start..].char_indices() {
        match c {
            '{' => depth += 1,
            '}' => {
                depth = depth.checked_sub(1)?;
                if depth == 0 {
                    return Some(format!("{}{}", &source[..start], &source[start + i + 1..]));
                }
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_function_is_cut_whole() {
        let source = "a; async function f(x) { if (x) { `${y}` } } b;";
        assert_eq!(without_function(source, "async function f(").as_deref(), Some("a;  b;"));
        assert_eq!(without_function("async function f(x) {", "async function f("), None);
    }

    /// The pages as they are, with something planted in one of their files, go through the build's own door.
    #[test]
    fn a_way_out_that_is_planted_in_any_file_stops_the_build() {
        let own = browser::root().join("www");
        let folder = browser::root().join("target/planted");
        let build = |file: &str, find: &str, plant: &str| -> Result<(), String> {
            let _ = std::fs::remove_dir_all(&folder);
            std::fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
            for entry in std::fs::read_dir(&own).map_err(|e| e.to_string())?.flatten() {
                std::fs::copy(entry.path(), folder.join(entry.file_name())).map_err(|e| e.to_string())?;
            }
            if !file.is_empty() {
                let text = std::fs::read_to_string(folder.join(file)).map_err(|e| e.to_string())?;
                assert!(text.contains(find), "www/{file} has {find}");
                let text = text.replacen(find, &format!("{plant}{find}"), 1);
                std::fs::write(folder.join(file), text).map_err(|e| e.to_string())?;
            }
            let module = Module { glue: "let wasm_bindgen;".into(), wasm: Vec::new() };
            PAGES.iter().try_for_each(|name| assemble(&folder, name, &module).map(drop))
        };
        assert_eq!(build("", "", ""), Ok(()));
        for (file, find, plant) in [
            ("desk.html", "</body>", "<img src=\"http://elsewhere.example/a.png\">"),
            ("desk.html", "</head>", "<link rel=\"preconnect\" href=\"#\">"),
            ("desk.html", "</head>", "<link rel=\"dns-prefetch\" href=\"#\">"),
            ("home.html", "</body>", "<a href=\"https://elsewhere.example\">there</a>"),
            ("home.html", "</body>", "<form></form>"),
            ("desk.css", "body", "@import \"a.css\";\n"),
            ("home.css", "/*", "b { background: url(http://elsewhere.example/a.png) }\n"),
            ("handout.css", ".handout", "b { background: url(a.png) }\n"),
            ("boot.js", "try", "fetch(x);\n"),
            ("boot.js", "try", "new XMLHttpRequest();\n"),
            ("boot.js", "try", "new WebSocket(x);\n"),
            ("boot.js", "try", "new EventSource(x);\n"),
            ("boot.js", "try", "navigator.sendBeacon(x);\n"),
            ("boot.js", "try", "new RTCPeerConnection();\n"),
            ("boot.js", "try", "window.open(x);\n"),
            ("home.js", "try", "importScripts(x);\n"),
            ("home.js", "try", "import(\"./a.js\");\n"),
            ("offline.js", "const PAGE", "fetch(x);\n"),
            ("offline.js", "const PAGE", "fetch(event.request);\n"),
            ("offline.js", "const PAGE", "caches.open(x).then((c) => c.add(x));\n"),
        ] {
            assert!(build(file, find, plant).is_err(), "{plant} in {file}");
        }
        let _ = std::fs::remove_dir_all(&folder);
    }

    #[test]
    fn a_page_ends_with_its_name_and_the_hash_of_the_rest() {
        // FIPS 180-4's example: the hash of "abc".
        let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(marked("home", "abc\n"), format!("abc\n<!-- layfigure home sha256 {hash} -->\n"));
        let worker =
            std::fs::read_to_string(browser::root().join("www/offline.js")).expect("the worker script");
        assert!(worker.contains("<!-- layfigure home sha256 ([0-9a-f]{64}) -->"), "it reads the same form");
    }

    #[test]
    fn hashes_are_those_of_the_policy() {
        // The worked example of Content Security Policy Level 3, 8.4 (alert('Hello, world.');).
        assert_eq!(hash("alert('Hello, world.');"), "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='");
    }
}
