//! Joins the catalog's files into one text, so that the native program and the page carry the same.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR").unwrap_or_default()).join("../catalog");
    let mut paths = Vec::new();
    gather(&root, &mut paths)?;
    paths.sort();
    let mut all = String::new();
    for path in &paths {
        let name = path.strip_prefix(&root).unwrap_or(path).with_extension("");
        // Slashes on every machine; a line that starts with `@` opens a file.
        let name = name.iter().map(|part| part.to_string_lossy()).collect::<Vec<_>>().join("/");
        writeln!(all, "@ {name}").map_err(io::Error::other)?;
        all.push_str(fs::read_to_string(path)?.trim_end());
        all.push('\n');
    }
    fs::write(PathBuf::from(env::var("OUT_DIR").unwrap_or_default()).join("catalog.txt"), all)
}

/// Every exercise file, one folder a region; watches folders too, so that a new file is seen.
fn gather(folder: &Path, paths: &mut Vec<PathBuf>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            for file in fs::read_dir(&path)? {
                let file = file?.path();
                if file.extension().is_some_and(|e| e == "txt") {
                    println!("cargo::rerun-if-changed={}", file.display());
                    paths.push(file);
                }
            }
            println!("cargo::rerun-if-changed={}", path.display());
        }
    }
    Ok(())
}
