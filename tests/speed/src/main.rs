//! Prints the native times as JSON.

fn main() {
    #[cfg(not(target_arch = "wasm32"))]
    {
        let start = std::time::Instant::now();
        println!("{}", speed::run(&|| start.elapsed().as_secs_f64() * 1000.0));
    }
}
