//! What the browser tests stand on: a small WebDriver client, a server that remembers every request,
//! and where things are. Knows nothing of what the pages are about.

pub mod driver;
pub mod engine;
pub mod pdf;
pub mod server;

use std::path::{Path, PathBuf};

/// The workspace's root: the nearest folder above that has a `Cargo.toml` with `[workspace]`.
pub fn root() -> PathBuf {
    let start = std::env::current_dir().unwrap_or_else(|_| PathBuf::from("."));
    let is_root = |folder: &&Path| {
        std::fs::read_to_string(folder.join("Cargo.toml")).is_ok_and(|toml| toml.contains("[workspace]"))
    };
    start.ancestors().find(is_root).map_or(start.clone(), Path::to_path_buf)
}

/// The folder of the assembled pages.
pub fn out() -> PathBuf {
    root().join("out")
}
