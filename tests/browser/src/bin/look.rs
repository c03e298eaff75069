//! Takes pictures of a page for the eye: `look ADDRESS NAME` writes `target/look/NAME-WIDTH.png`.

use browser::driver::{Browser, Fault};

fn main() -> Result<(), Fault> {
    let mut arguments = std::env::args().skip(1);
    let (Some(address), Some(name)) = (arguments.next(), arguments.next()) else {
        return Err("look ADDRESS NAME".into());
    };
    let browser = Browser::chromium()?;
    for width in [390, 768, 1440] {
        browser.size(width, 1000)?;
        browser.open(&address)?;
        browser.wait("the page", "return document.readyState === 'complete'")?;
        let height = browser.script("return document.documentElement.scrollHeight")?.as_u64().unwrap_or(1000);
        browser.size(width, u32::try_from(height).unwrap_or(1000).clamp(600, 6000))?;
        browser.look(&format!("{name}-{width}"))?;
    }
    for line in browser.log()? {
        println!("{line}");
    }
    Ok(())
}
