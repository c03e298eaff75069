//! The native command line: a thin twin of the browser door.

fn main() {
    #[cfg(not(target_arch = "wasm32"))]
    std::process::exit(layfigure::door::command::run(std::env::args().skip(1)));
}
