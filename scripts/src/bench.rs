//! Measures sizes and speed, and prints them with the machine and the target of each.

use crate::{cargo, page};
use browser::driver::Browser;
use browser::engine::Engine;
use browser::server::Server;
use serde_json::Value;
use std::io::Write as _;

/// The targets of the design, section 16, in the unit of the figure.
const WASM_BROTLI_KB: f64 = 350.0;
const VISIT_BROTLI_KB: f64 = 450.0;
const KEY_MS: f64 = 16.0;

pub fn run() -> Result<(), String> {
    println!("machine: {}", machine());
    println!("\nsize                          bytes    target   part of it");
    let module = page::module("layfigure")?;
    page::build()?;
    size("wasm", module.wasm.len(), None);
    size("wasm, gzip -9", gzip(&module.wasm)?, None);
    size("wasm, brotli 11", brotli(&module.wasm)?, Some(WASM_BROTLI_KB));
    for name in page::PAGES {
        let path = browser::out().join(format!("{name}.html"));
        let html = std::fs::read(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        size(name, html.len(), None);
        size(&format!("{name}, gzip -9"), gzip(&html)?, None);
        size(&format!("{name}, brotli 11"), brotli(&html)?, Some(VISIT_BROTLI_KB));
    }

    let native = native()?;
    let wasm = wasm()?;
    println!(
        "\ntime, ms                                   native median  slowest   wasm median  slowest   wasm/native"
    );
    for (name, here) in native["work"].as_object().into_iter().flatten() {
        let there = &wasm["work"][name.as_str()];
        let number = |value: &Value, which: &str| value[which].as_f64().unwrap_or(f64::NAN);
        let (n, w) = (number(here, "median"), number(there, "median"));
        println!(
            "{name:<42} {n:>13.3} {:>8.3} {w:>13.3} {:>8.3} {:>13.2}",
            number(here, "slowest"),
            number(there, "slowest"),
            w / n
        );
    }
    figures(&native["figures"], &wasm["figures"]);
    keys()
}

/// The catalog's figures step by step, each with its target: what is wanted of the median natively, and in wasm.
fn figures(native: &Value, wasm: &Value) {
    let number = |value: &Value, which: &str| value[which].as_f64().unwrap_or(f64::NAN);
    println!(
        "\na figure, of {} in the catalog   native median   target     worst   wasm median   target     worst   the worst",
        native["bytes"]["count"]
    );
    for (step, name, target, in_wasm) in [
        // Two key poses and the way between them: the targets of section 16 for each, added up.
        ("settle", "settle, ms", "6", "12"),
        ("draw", "draw, ms", "2", ""),
        ("words", "words, ms", "", ""),
    ] {
        let (here, there) = (&native[step], &wasm[step]);
        println!(
            "{name:<33} {:>13.3} {target:>8} {:>9.3} {:>13.3} {in_wasm:>8} {:>9.3}   {}",
            number(here, "median"),
            number(here, "most"),
            number(there, "median"),
            number(there, "most"),
            here["which"].as_str().unwrap_or("?")
        );
    }
    let bytes = &native["bytes"];
    println!(
        "bytes: {} at least, {} median (target 4096), {} at most (target 6144): {}",
        bytes["least"],
        bytes["median"],
        bytes["most"],
        bytes["which"].as_str().unwrap_or("?")
    );
}

/// Processor, cores and memory, as the system says.
fn machine() -> String {
    let read = |path: &str| std::fs::read_to_string(path).unwrap_or_default();
    let value = |text: &str, key: &str| {
        let line = text.lines().find(|line| line.starts_with(key))?;
        line.split_once(':').map(|(_, value)| value.trim().to_string())
    };
    let cpu = read("/proc/cpuinfo");
    let model = value(&cpu, "model name").unwrap_or_else(|| "unknown processor".into());
    let cores = std::thread::available_parallelism().map_or(0, |n| n.get());
    let memory = value(&read("/proc/meminfo"), "MemTotal").unwrap_or_default();
    let load = read("/proc/loadavg");
    let load = load.split(' ').next().unwrap_or("?");
    format!("{model}, {cores} cores, memory {memory}, load at the start {load}")
}

fn size(name: &str, bytes: usize, target_kb: Option<f64>) {
    let target = target_kb
        .map_or(String::new(), |kb| format!("{:>9.0} {:>10.0} %", kb * 1000.0, bytes as f64 / (kb * 10.0)));
    println!("{name:<25} {bytes:>9} {target}");
}

fn gzip(bytes: &[u8]) -> Result<usize, String> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder.write_all(bytes).and_then(|()| encoder.finish()).map(|out| out.len()).map_err(|e| e.to_string())
}

fn brotli(bytes: &[u8]) -> Result<usize, String> {
    let mut out = Vec::new();
    let parameters = brotli::enc::BrotliEncoderParams { quality: 11, lgwin: 22, ..Default::default() };
    brotli::BrotliCompress(&mut &bytes[..], &mut out, &parameters).map_err(|e| e.to_string())?;
    Ok(out.len())
}

fn native() -> Result<Value, String> {
    let output = cargo::cargo()
        .args(["run", "--locked", "--quiet", "--release", "-p", "speed"])
        .stderr(std::process::Stdio::inherit())
        .output()
        .map_err(|e| format!("cargo did not start: {e}"))?;
    serde_json::from_slice(&output.stdout).map_err(|e| format!("the native times: {e}"))
}

/// The same in wasm, built with the flags of the page, in a page of its own.
fn wasm() -> Result<Value, String> {
    let module = page::module("speed")?;
    let html = page::bare(&module);
    page::write("speed.html", &html)?;
    let browser = Browser::start(Engine::Chromium)?;
    let server = Server::start(browser::out(), 0).map_err(|e| e.to_string())?;
    browser.open(&format!("{}speed.html", server.address()))?;
    let text = browser.text("return wasm_bindgen.speed()")?;
    serde_json::from_str(&text).map_err(|e| format!("the times in wasm: {e}"))
}

/// From a key pressed to everything redrawn, in the real page: until the handlers are through and the page is
/// laid out (painting comes after and is not ours).
fn keys() -> Result<(), String> {
    let browser = Browser::start(Engine::Chromium)?;
    let server = Server::start(browser::out(), 0).map_err(|e| e.to_string())?;
    browser.size(1440, 1000)?;
    browser.open(&format!("{}desk.html", server.address()))?;
    browser.wait("the desk", "return document.getElementById('mirror').children.length")?;
    let twelve =
        std::fs::read_to_string(browser::root().join("tests/speed/twelve.txt")).map_err(|e| e.to_string())?;
    browser.script_with(
        "const t = document.getElementById('text'); t.focus(); t.value = arguments[0];
         t.dispatchEvent(new InputEvent('input', {inputType: 'insertFromPaste'}));",
        serde_json::json!([twelve]),
    )?;
    println!("\nkey to redraw, 12 exercises, ms        p50      p95  slowest   target p95");
    // A cue in the text's middle, a dose, and a limit: the last has every figure drawn anew.
    for (name, line, text, rounds) in [
        ("in a cue", "  cue: ", "Breathe out as you lift, and keep your heels down.", 3),
        ("in a dose", "rest 6", "0505050505", 3),
        ("in a limit", "limit: right knee flexion 0-1", "15", 2),
    ] {
        let times = browser.script_with(KEYS, serde_json::json!([line, text, rounds]))?;
        let mut times: Vec<f64> = times.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
        times.sort_by(f64::total_cmp);
        if times.is_empty() {
            return Err(format!("tests/speed/twelve.txt has no “{line}” to type behind."));
        }
        let at = |part: f64| times[((times.len() - 1) as f64 * part).round() as usize];
        println!("{name:<34} {:>7.2}  {:>7.2}  {:>7.2} {:>12.0}", at(0.5), at(0.95), at(1.0), KEY_MS);
    }
    Ok(())
}

/// Types characters behind a marker, as a keyboard would, and takes them back; returns the time of each.
const KEYS: &str = "
  const [marker, text, rounds] = arguments;
  const t = document.getElementById('text');
  const at = t.value.indexOf(marker);
  if (at < 0) return [];
  const times = [];
  const strike = (with_, from, to, type) => {
    const start = performance.now();
    t.setRangeText(with_, from, to, 'end');
    t.dispatchEvent(new InputEvent('input', {inputType: type}));
    document.body.offsetHeight;
    times.push(performance.now() - start);
  };
  for (let round = 0; round < rounds; round++) {
    let caret = at + marker.length;
    for (const c of text) { strike(c, caret, caret, 'insertText'); caret++; }
    while (at + marker.length < caret) { strike('', caret - 1, caret, 'deleteContentBackward'); caret--; }
  }
  return times;
";
