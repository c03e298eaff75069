//! The native test programs: compiled once, all together, and then run one by one by whichever part they belong to.
//!
//! Together, since cargo unites the features of dependencies over the packages that it is asked for: asked for them one
//! after another, it would compile the crate anew for each.

use crate::cargo;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Whose tests are compiled with the crate in its own profile. The tool's own are not: it has another.
const PACKAGES: [&str; 4] = ["layfigure", "fuzz", "raster", "browser"];

/// A test program that was compiled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Program {
    /// Of its package, below the workspace's root: cargo runs tests there.
    pub folder: PathBuf,
    /// `all`, `pages`; of unit tests the package's own.
    pub name: String,
    pub path: PathBuf,
}

impl Program {
    pub fn command(&self) -> Command {
        let folder = browser::root().join(&self.folder);
        let mut command = Command::new(&self.path);
        command.env("CARGO_MANIFEST_DIR", &folder).current_dir(folder);
        command
    }
}

/// Compiles all of them, and the crate's own program.
pub fn compile() -> Command {
    let mut cargo = cargo::cargo();
    cargo.args(["test", "--locked", "--no-run", "--message-format", "json-render-diagnostics"]);
    PACKAGES.iter().for_each(|package| {
        cargo.args(["-p", package]);
    });
    cargo
}

/// The examples in the documentation, which are compiled as they are run.
pub fn documentation() -> Command {
    let mut cargo = cargo::cargo();
    cargo.args(["test", "--locked", "--doc", "--no-fail-fast"]);
    PACKAGES.iter().for_each(|package| {
        cargo.args(["-p", package]);
    });
    cargo
}

/// What cargo says of a test program that it has compiled, in a line of its own.
pub fn told(line: &str, root: &Path) -> Option<Program> {
    let said: Value = serde_json::from_str(line).ok()?;
    if said["reason"] != "compiler-artifact" || said["profile"]["test"] != true {
        return None;
    }
    let manifest = Path::new(said["manifest_path"].as_str()?);
    Some(Program {
        folder: manifest.parent()?.strip_prefix(root).ok()?.to_path_buf(),
        name: said["target"]["name"].as_str()?.to_string(),
        path: said["executable"].as_str()?.into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_test_program_is_told_from_what_else_is_compiled() {
        let line = |test: bool, executable: &str| {
            format!(
                "{{\"reason\":\"compiler-artifact\",\"package_id\":\"path+file:///src/tests/fuzz#0.1.0\",\
                 \"manifest_path\":\"/src/tests/fuzz/Cargo.toml\",\"target\":{{\"kind\":[\"bin\"],\"name\":\"fuzz\"}},\
                 \"profile\":{{\"opt_level\":\"1\",\"test\":{test}}},\"executable\":{executable},\"fresh\":false}}"
            )
        };
        let found = told(&line(true, "\"/src/target/debug/deps/fuzz-1\""), Path::new("/src"));
        let wanted = Program {
            folder: "tests/fuzz".into(),
            name: "fuzz".into(),
            path: "/src/target/debug/deps/fuzz-1".into(),
        };
        assert_eq!(found, Some(wanted));
        assert_eq!(told(&line(false, "\"/src/target/debug/fuzz\""), Path::new("/src")), None);
        assert_eq!(told(&line(true, "null"), Path::new("/src")), None);
        assert_eq!(told("{\"reason\":\"build-finished\",\"success\":true}", Path::new("/src")), None);
        assert_eq!(told("Compiling", Path::new("/src")), None);
    }

    /// A package with tests that nobody compiles would be left out in silence.
    #[test]
    fn every_package_of_the_workspace_is_run_by_some_part() {
        let manifest = std::fs::read_to_string(browser::root().join("Cargo.toml")).expect("a manifest");
        let members =
            manifest.split("members = [").nth(1).and_then(|s| s.split(']').next()).expect("members");
        for member in members.split(',').map(|name| name.trim().trim_matches('"')) {
            let own = std::fs::read_to_string(browser::root().join(member).join("Cargo.toml")).expect(member);
            let name = own.split("name = \"").nth(1).and_then(|s| s.split('"').next()).expect("a name");
            // The tool tests itself; what is timed by `scripts bench` has no tests.
            assert!(PACKAGES.contains(&name) || ["scripts", "speed"].contains(&name), "{name}");
        }
    }
}
