//! `layfigure read|handout|figures|figure`: text in, text out.

/// Runs the command line on `args` (without the program's own name) and returns the exit code.
pub fn run(args: impl Iterator<Item = String>) -> i32 {
    let _ = args.count();
    eprintln!("Nothing can be run yet.");
    2
}
