//! The browser (wasm) and the native command line: thin doors, no rules of any floor.

#[cfg(target_arch = "wasm32")]
pub mod browser;
#[cfg(not(target_arch = "wasm32"))]
pub mod command;
pub mod reading;
pub mod vector;
