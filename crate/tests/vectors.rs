//! Native and wasm give the same bytes for every vector. The native run writes what it got to
//! `out/vectors.json`; the wasm run has that file inside and must get the same.
//!
//! Every file below `tests/vectors` is a vector, whatever its name; so is each of `vector::BUILT_IN`.

#[cfg(not(target_arch = "wasm32"))]
mod native {
    use layfigure::door::vector;
    use std::path::{Path, PathBuf};

    fn files(folder: &Path) -> Vec<PathBuf> {
        let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("a readable folder").path()).collect();
        paths.sort();
        paths.iter().flat_map(|path| if path.is_dir() { files(path) } else { vec![path.clone()] }).collect()
    }

    #[test]
    fn every_vector_gives_an_output() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
        let folder = root.join("tests/vectors");
        let given = files(&folder).into_iter().map(|path| {
            let name = path.strip_prefix(&folder).expect("below tests/vectors").display().to_string();
            let bytes = std::fs::read(&path).expect("a readable file");
            (name, String::from_utf8_lossy(&bytes).into_owned())
        });
        let built_in = vector::BUILT_IN.iter().map(|name| (name.to_string(), String::new()));
        let mut listing = Vec::new();
        for (name, input) in built_in.chain(given) {
            let output = vector::output(&name, &input);
            assert!(!output.is_empty(), "{name} gives nothing");
            assert_eq!(output, vector::output(&name, &input), "{name} gives the same twice");
            listing.push((name, input, output));
        }
        std::fs::create_dir_all(root.join("out")).expect("out/");
        let json = serde_json::to_string(&listing).expect("text");
        std::fs::write(root.join("out/vectors.json"), json).expect("out/vectors.json");
    }
}

#[cfg(target_arch = "wasm32")]
mod wasm {
    use layfigure::door::vector;
    use wasm_bindgen_test::wasm_bindgen_test;

    wasm_bindgen_test::wasm_bindgen_test_configure!(run_in_browser);

    #[wasm_bindgen_test]
    fn every_vector_is_the_same_as_native() {
        let native = include_str!("../../out/vectors.json");
        let listing: Vec<(String, String, String)> =
            serde_json::from_str(native).expect("the native listing");
        assert!(vector::BUILT_IN.len() <= listing.len());
        for (name, input, expected) in &listing {
            let output = vector::output(name, input);
            let line = expected.lines().zip(output.lines()).find(|(native, wasm)| native != wasm);
            assert!(*expected == output, "{name}: the first line that differs (native, wasm): {line:?}");
        }
    }
}
