//! What inputs are made from: the repository's own vectors, the catalog, and what the crate itself stores.

use layfigure::catalog::Catalog;
use layfigure::desk::choices::Kept;
use layfigure::desk::shelf::leaf::Stamp;
use layfigure::desk::shelf::store::Memory;
use layfigure::desk::shelf::{add, file, found, fresh};
use layfigure::link::{Shared, pack, written};
use std::path::{Path, PathBuf};

pub struct Seeds {
    /// Lines of prescriptions, doses included.
    pub lines: Vec<Box<str>>,
    /// Whole texts, the catalog's exercises as own ones included.
    pub texts: Vec<Box<str>>,
    pub fragments: Vec<Box<str>>,
    pub shared: Vec<Shared>,
    pub packed: Vec<Box<[u8]>>,
    /// Files, choices and versions as the desk stores them.
    pub stored: Vec<Box<str>>,
    pub diaries: Vec<Box<str>>,
}

/// Passages of diaries as they are stored, and some that are torn or of a later page.
const DIARIES: [&str; 5] = [
    "layfigure diary 1\n2026-12-01 morning done 1 2; pain 4; mood fair\nweather: rain\n",
    "layfigure diary 1\n2026-12-01 evening done 3; pain 10; settled no\n2026-12-02 afternoon why forgot\n",
    "layfigure diary 1\n2026-12-03 all-day done 1 1 7 040; pain 11; settled perhaps; why\n\n2026-13-40 morning done 1\n",
    "layfigure diary 2\n2026-12-01 morning done 1; sleep 7 h\n2026-12-01 morning pain 3; pain 4\n",
    "layfigure diary 1\n2026-12-01",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// All text files below a folder, in the order of their names.
fn files(folder: &str) -> Result<Vec<String>, String> {
    let mut folders = vec![root().join(folder)];
    let mut paths = Vec::new();
    while let Some(folder) = folders.pop() {
        let entries = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
        for path in entries.flatten().map(|entry| entry.path()) {
            if path.is_dir() { folders.push(path) } else { paths.push(path) }
        }
    }
    paths.sort();
    paths.retain(|path| path.extension().is_some_and(|end| end == "txt"));
    paths.iter().map(|p| std::fs::read_to_string(p).map_err(|e| format!("{}: {e}", p.display()))).collect()
}

fn typed(file: &str) -> Result<Vec<Box<str>>, String> {
    let path = root().join("tests/vectors").join(file);
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    let lines = text.lines().filter(|line| !line.starts_with("# "));
    Ok(lines.filter_map(|line| line.split_once(" => ")).map(|(typed, _)| typed.into()).collect())
}

/// A part of a link's vector, `=== fragment` or `=== text`.
fn part<'a>(vector: &'a str, name: &str) -> Option<&'a str> {
    let (_, rest) = vector.split_once(&format!("=== {name}\n"))?;
    Some(rest.split_once("\n===").map_or(rest, |(part, _)| part).trim_end())
}

impl Seeds {
    pub fn gathered() -> Result<Seeds, String> {
        let mut lines = typed("lines.pairs")?;
        lines.extend(typed("doses.pairs")?.iter().map(|dose| format!("bridge {dose}").into()));
        let links = files("tests/vectors/link")?;
        let mut texts = files("tests/vectors/prescriptions")?;
        texts.extend(files("tests/vectors/checks")?);
        texts.extend(files("www")?);
        texts.extend(links.iter().filter_map(|link| part(link, "text")).map(str::to_owned));
        lines.extend(texts.iter().flat_map(|text| text.lines()).map(Box::from));
        texts.extend(files("catalog")?.iter().map(|own| own.replace('\n', "\n  ")));
        let fragments: Vec<Box<str>> =
            links.iter().filter_map(|link| part(link, "fragment")).map(Box::from).collect();
        let catalog = Catalog::embedded();
        let shared: Vec<Shared> = fragments.iter().filter_map(|f| written::open(f, catalog).ok()).collect();
        let packed = shared.iter().filter_map(|s| pack::pack(s, catalog).ok()).map(Into::into).collect();
        Ok(Seeds {
            stored: stored(&texts).into_iter().map(Into::into).collect(),
            lines,
            texts: texts.into_iter().map(Into::into).collect(),
            fragments,
            shared,
            packed,
            diaries: DIARIES.map(Box::from).into(),
        })
    }
}

/// The desk's own writing of a few prescriptions, in each of its forms.
fn stored(texts: &[String]) -> Vec<String> {
    let mut store = Memory::default();
    let now = Stamp::iso("2026-12-01T14:05:30.250");
    let mut out = Vec::new();
    for (at, text) in texts.iter().take(4).enumerate() {
        let name = (at % 2 == 0).then(|| format!("Name {at}"));
        let before = (at == 1).then(|| "bridge: 2 x 10\n".to_owned());
        let leaf = fresh(format!("id{at}"), "writer", name, text.clone(), before, now);
        out.push(leaf.write());
        // In memory nothing is denied.
        let _ = add(&mut store, &leaf);
        out.push(Kept { text: text.clone(), by: "M. A.".into(), ..Kept::default() }.write());
    }
    out.extend(found(&store).map(|found| file::write(&found, vec!["torn".into()])));
    out
}
