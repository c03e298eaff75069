//! Calls cargo for the crate's wasm.

use std::path::PathBuf;
use std::process::Command;

pub const WASM: &str = "wasm32-unknown-unknown";

/// Cargo at the workspace's root, with flags that keep folders of this machine out of the wasm:
/// panic messages would otherwise name them, and two builders would get two different pages.
pub fn cargo() -> Command {
    let root = browser::root();
    let mut flags = vec![format!("--remap-path-prefix={}=/src", root.display())];
    if let Some(home) = cargo_home() {
        // The folder below has a name of its own for each registry; `=/deps` keeps it, but not the home folder.
        flags.push(format!("--remap-path-prefix={}=/deps", home.join("registry/src").display()));
    }
    let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.current_dir(root).env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags.join(" "));
    cargo
}

pub fn cargo_home() -> Option<PathBuf> {
    let home = std::env::var_os("HOME").map(PathBuf::from);
    std::env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| home.map(|h| h.join(".cargo")))
}

/// Builds one package's cdylib for the browser and says where it is.
pub fn wasm(package: &str) -> Result<PathBuf, String> {
    let status = cargo()
        .args(["build", "--locked", "--lib", "--profile", "web", "--target", WASM, "-p", package])
        .status()
        .map_err(|e| format!("cargo did not start: {e}"))?;
    if !status.success() {
        return Err(format!("{package} does not compile for {WASM}."));
    }
    Ok(browser::root()
        .join("target")
        .join(WASM)
        .join("web")
        .join(format!("{}.wasm", package.replace('-', "_"))))
}
