//! The crate from outside, in one program: it is linked once, its checks run beside each other, and what several of
//! them look at is settled once (`known`). `cargo test -p layfigure --test all week::` runs one file's.
//!
//! The vectors are a program of their own, since they run in wasm too.

mod answers;
mod conditions;
mod days;
mod details;
mod diary;
mod facts;
mod figure_files;
mod figures;
mod floors;
mod handout;
mod home;
mod known;
mod language;
mod laws;
mod line_words;
mod link;
mod moving;
mod night;
mod noted;
mod offers;
mod programme;
mod progress;
mod record;
mod restrictions;
mod said;
mod settling;
mod spans;
mod statics;
mod things;
mod week;
mod words;
