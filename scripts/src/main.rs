//! The workspace's own tool. Its shell doors `scripts/serve`, `scripts/test` and `scripts/bench` see to
//! the set-up first and then call it.

mod bench;
mod cargo;
mod commands;
mod gate;
mod page;
mod programs;
mod suite;
mod times;

use browser::server::Server;
use std::process::ExitCode;

const USAGE: &str = "scripts build               assemble the pages in out/
scripts serve [--port N]    build, then serve out/ on localhost
scripts test [PART…]        run every part of the test suite, or the named ones
scripts bench               measure sizes and speed
";

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1).peekable();
    let command = arguments.next().unwrap_or_default();
    // Cargo calls the test runner in the crate's folder with the test's wasm: its arguments are not ours.
    if command == "wasm-test-runner" {
        let own = std::iter::once(command).chain(arguments);
        return finish(
            wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(own).map_err(|e| format!("{e:?}")),
        );
    }
    let rest: Vec<String> = arguments.collect();
    match command.as_str() {
        "build" => finish(page::build().map(|built| println!("{built}"))),
        "serve" => finish(serve(&rest)),
        "bench" => finish(bench::run()),
        "test" => suite::run(&rest),
        _ => {
            eprint!("{USAGE}");
            ExitCode::from(2)
        }
    }
}

fn finish(result: Result<(), String>) -> ExitCode {
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(words) => {
            eprintln!("{words}");
            ExitCode::FAILURE
        }
    }
}

fn serve(arguments: &[String]) -> Result<(), String> {
    let port = match arguments {
        [] => 8097,
        [flag, number] if flag == "--port" => {
            number.parse().map_err(|_| format!("--port needs a number from 0 to 65535, not {number}"))?
        }
        _ => return Err(format!("serve takes only --port N.\n{USAGE}")),
    };
    println!("{}", page::build()?);
    let out = browser::out();
    // Someone else may hold the usual port: any free one does as well.
    let server = Server::start(out.clone(), port).or_else(|_| Server::start(out.clone(), 0));
    let server = server.map_err(|e| format!("No port of 127.0.0.1 could be opened: {e}"))?;
    println!("The desk: {}desk.html", server.address());
    println!("The patient's page: {}home.html", server.address());
    println!("The same pages work from the disk: {}", out.join("desk.html").display());
    println!("Control-C stops serving.");
    loop {
        std::thread::park();
    }
}
