//! Takes pictures of a page for the eye: `look ADDRESS NAME [TEXT-FILE]` writes `target/look/NAME-WIDTH.png`,
//! with the file's text typed into the desk where one is given.

use browser::driver::{Browser, Fault};
use browser::engine::Engine;
use serde_json::json;

fn main() -> Result<(), Fault> {
    let mut arguments = std::env::args().skip(1);
    let (Some(address), Some(name)) = (arguments.next(), arguments.next()) else {
        return Err("look ADDRESS NAME [TEXT-FILE]".into());
    };
    let text =
        arguments.next().map(|file| std::fs::read_to_string(&file).map_err(|e| format!("{file}: {e}")));
    let text = text.transpose()?;
    let browser = Browser::start(Engine::Chromium)?;
    for width in [390, 768, 1440] {
        browser.size(width, 1000)?;
        browser.open(&address)?;
        browser.wait("the page", "return document.readyState === 'complete'")?;
        if let Some(text) = &text {
            browser.script_with(
                "const t = document.getElementById('text'); t.focus(); t.value = arguments[0];
                 t.dispatchEvent(new InputEvent('input', {inputType: 'insertFromPaste'}))",
                json!([text]),
            )?;
        }
        let height = browser.script("return document.documentElement.scrollHeight")?.as_u64().unwrap_or(1000);
        browser.size(width, u32::try_from(height).unwrap_or(1000).clamp(600, 6000))?;
        browser.look(&format!("{name}-{width}"))?;
    }
    for line in browser.log()? {
        println!("{line}");
    }
    Ok(())
}
