//! The native command line: a thin twin of the browser door, for contributors, tests and batch use.
//! One file for each command; each takes its own words and gives text, or a sentence on what was expected.

mod body;
mod figure;
mod figures;
mod handout;
mod link;
mod open;
mod read;
mod record;
mod residuals;
mod sheet;
mod week;

use crate::body::{Body, Variant};
use crate::measure::Date;
use std::io::{Read, Write};

const USAGE: &str = "layfigure read FILE [--json] [--week N] [--today DATE]
    what a prescription says and what there is to note about it
layfigure handout FILE [--paper a4|letter] [--print normal|large] [--home ADDRESS] [--week N] [--today DATE]
    the sheet for the patient, as HTML; with the code to scan where the home page's address is given
layfigure record FILE [--week N] [--today DATE]
    the text for the notes: what was typed, what was checked and what was not, and what a reporting template asks for
layfigure link FILE [--without-name | --initials] [--home ADDRESS] [--passphrase FILE|new] [--today DATE]
    the link for the patient; locked with the words in a file, or with new ones that are printed below it
layfigure open LINK [--passphrase FILE] [--week N] [--today DATE]
    what a link hands over, and its week
layfigure figures [--out FOLDER [--apart]] [--views] [--bodies] [--sides] [--print] [--clinician] [--body KIND]
    [--stature CM]
    every figure of the catalog with its words and faults, as one page and one file each; with --views also from the
    right, the front and above; --bodies as every kind of body; --sides left and right; --print 45 mm wide and grey;
    --clinician with the muscles that work and with degrees; --apart also writes each frame alone, and the instants of
    the movements
layfigure figure FILE [--views] [--nudge] [--clinician] [--body KIND] [--stature CM]
    the figure of an exercise file, or of the own exercises in a prescription, as SVG;
    with --views a page of it, seen also from the right, from the front and from above;
    with --nudge also how it settles when its numbers and its body are others
layfigure week FILE [--limit STEPS] [--why] [--time] [--week N] [--today DATE]
    the best week of a prescription, or for problems in whole numbers (JSON), as JSON for checking from outside
layfigure week FILE --course|--plot [--today DATE]
    what changes over the weeks of a prescription, with minutes and sets; or its sets by muscle group as SVG
layfigure body [--body KIND] [--stature CM] [--poses N] [--seed K] [--catalog] [--time]
    the body as numbers (JSON) with N random poses, or the catalog's, and what we say of them, for checking from outside
layfigure residuals [--body KIND] [--stature CM]
    answers over a pipe with rows and derivatives of every key pose of the catalog, for checking from outside

FILE and LINK may be - for what is piped in; DATE is like 2026-11-30 and is today's where it isn't given;
KIND is adult, older, child, broad or pregnant.
";

/// Runs the command line on `args` (without the program's own name) and returns the exit code: 0 done, 1 it
/// could not be done, 2 the words were not understood.
pub fn run(args: impl Iterator<Item = String>) -> i32 {
    let args: Vec<String> = args.collect();
    let Some((command, rest)) = args.split_first() else {
        eprint!("{USAGE}");
        return 2;
    };
    let answer = match command.as_str() {
        "body" => body::run(rest),
        "read" => read::run(rest),
        "record" => record::run(rest),
        "residuals" => residuals::run(rest),
        "handout" => handout::run(rest),
        "link" => link::run(rest),
        "open" => open::run(rest),
        "figures" => figures::run(rest),
        "figure" => figure::run(rest),
        "week" => week::run(rest),
        "help" | "--help" | "-h" => Ok(USAGE.to_string()),
        other => Err(Fault::Words(format!("There is no command “{other}”."))),
    };
    match answer {
        Ok(text) => match std::io::stdout().write_all(text.as_bytes()) {
            // A reader that has seen enough and went is no fault.
            Err(fault) if fault.kind() != std::io::ErrorKind::BrokenPipe => {
                eprintln!("What came out could not be written: {fault}");
                1
            }
            _ => 0,
        },
        Err(Fault::Words(words)) => {
            eprint!("{words}\n\n{USAGE}");
            2
        }
        Err(Fault::Outside(words)) => {
            eprintln!("{words}");
            1
        }
    }
}

/// Why a command gives nothing.
#[derive(Debug)]
pub enum Fault {
    /// The command line was not understood.
    Words(String),
    /// A file could not be read or written.
    Outside(String),
}

impl From<lexopt::Error> for Fault {
    fn from(fault: lexopt::Error) -> Fault {
        Fault::Words(format!("{fault}."))
    }
}

/// What most commands take: a file, a week, and a day.
#[derive(Debug, Default)]
struct Given {
    file: Option<String>,
    week: Option<u32>,
    today: Option<Date>,
    json: bool,
    views: bool,
    clinician: bool,
    nudge: bool,
    bodies: bool,
    apart: bool,
    sides: bool,
    variant: Variant,
    stature: Option<f64>,
    poses: Option<usize>,
    seed: Option<u64>,
    catalog: bool,
    time: bool,
    paper: Option<String>,
    print: Option<String>,
    out: Option<String>,
    home: Option<String>,
    passphrase: Option<String>,
    without_name: bool,
    initials: bool,
}

impl Given {
    /// How figures are wished.
    fn look(&self) -> crate::figure::Look {
        use crate::figure::{Look, Reader};
        if self.clinician {
            Look { reader: Reader::Clinician, muscles: true, ..Look::default() }
        } else {
            Look::default()
        }
    }

    /// Reads a command's words; `takes` are the options that this command has.
    fn read(args: &[String], takes: &[&str]) -> Result<Given, Fault> {
        use lexopt::Arg;
        let mut parser = lexopt::Parser::from_args(args);
        let mut given = Given { today: today(), ..Given::default() };
        while let Some(arg) = parser.next()? {
            match arg {
                Arg::Long(name) if !takes.contains(&name) => {
                    return Err(Fault::Words(format!("This command has no option --{name}.")));
                }
                Arg::Long("json") => given.json = true,
                Arg::Long("views") => given.views = true,
                Arg::Long("clinician") => given.clinician = true,
                Arg::Long("nudge") => given.nudge = true,
                Arg::Long("bodies") => given.bodies = true,
                Arg::Long("apart") => given.apart = true,
                Arg::Long("sides") => given.sides = true,
                // The contact sheet's stands alone; the handout's takes a size.
                Arg::Long("print") if takes.contains(&"bodies") => given.print = Some("grey".into()),
                Arg::Long("catalog") => given.catalog = true,
                Arg::Long("time") => given.time = true,
                Arg::Long("poses") => {
                    let word = parser.value()?.to_string_lossy().into_owned();
                    let count = word.parse().ok().filter(|n| *n <= 100_000);
                    let expected =
                        || Fault::Words(format!("--poses needs a number up to 100000, not “{word}”."));
                    given.poses = Some(count.ok_or_else(expected)?);
                }
                Arg::Long("seed") => {
                    let word = parser.value()?.to_string_lossy().into_owned();
                    let expected = || Fault::Words(format!("--seed needs a whole number, not “{word}”."));
                    given.seed = Some(word.parse().map_err(|_| expected())?);
                }
                Arg::Long("body") => {
                    let word = parser.value()?.to_string_lossy().into_owned();
                    let expected = || {
                        let all = Variant::ALL.map(Variant::word).join(", ");
                        Fault::Words(format!("--body needs one of {all}, not “{word}”."))
                    };
                    given.variant = Variant::of_word(&word).ok_or_else(expected)?;
                }
                Arg::Long("stature") => {
                    let word = parser.value()?.to_string_lossy().into_owned();
                    let cm = word.parse().ok().filter(|cm: &f64| (80.0..=230.0).contains(cm));
                    let expected =
                        || Fault::Words(format!("--stature needs centimetres from 80 to 230, not “{word}”."));
                    given.stature = Some(cm.ok_or_else(expected)?);
                }
                Arg::Long("without-name") => given.without_name = true,
                Arg::Long("initials") => given.initials = true,
                Arg::Long("home") => given.home = Some(parser.value()?.to_string_lossy().into_owned()),
                Arg::Long("passphrase") => {
                    given.passphrase = Some(parser.value()?.to_string_lossy().into_owned());
                }
                Arg::Long("week") => {
                    let word = parser.value()?.to_string_lossy().into_owned();
                    let number = word.parse().ok().filter(|n| (1..=520).contains(n));
                    let expected =
                        || Fault::Words(format!("--week needs a number from 1 to 520, not “{word}”."));
                    given.week = Some(number.ok_or_else(expected)?);
                }
                Arg::Long("today") => {
                    let word = parser.value()?.to_string_lossy().into_owned();
                    let expected =
                        || Fault::Words(format!("--today needs a date like 2026-11-30, not “{word}”."));
                    given.today = Some(Date::iso(&word).ok_or_else(expected)?);
                }
                Arg::Long("paper") => given.paper = Some(parser.value()?.to_string_lossy().into_owned()),
                Arg::Long("print") => given.print = Some(parser.value()?.to_string_lossy().into_owned()),
                Arg::Long("out") => given.out = Some(parser.value()?.to_string_lossy().into_owned()),
                Arg::Value(word)
                    if given.file.is_none() && (takes.contains(&"FILE") || takes.contains(&"LINK")) =>
                {
                    given.file = Some(word.to_string_lossy().into_owned());
                }
                other => return Err(other.unexpected().into()),
            }
        }
        Ok(given)
    }

    /// The body that was asked for; else the usual one.
    fn body(&self) -> Body {
        let usual = Body::of(self.variant);
        self.stature.map_or(usual, |cm| Body::of_stature(cm / 100.0).with(self.variant))
    }

    /// The text of the file. Bytes that are no UTF-8 are shown as such and lose nothing else.
    fn text(&self) -> Result<String, Fault> {
        let Some(file) = &self.file else { return Err(Fault::Words("A file was expected.".into())) };
        let mut bytes = Vec::new();
        let read = match file.as_str() {
            "-" => std::io::stdin().read_to_end(&mut bytes).map(drop),
            path => std::fs::read(path).map(|content| bytes = content),
        };
        read.map_err(|fault| Fault::Outside(format!("{file} could not be read: {fault}")))?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }
}

/// The words in a file, or in what is piped in; a passphrase is no argument, since other programs can read those.
fn words_of(file: &str) -> Result<String, Fault> {
    Given { file: Some(file.to_string()), ..Given::default() }.text()
}

/// The day by the clock, in universal time; `--today` says another.
fn today() -> Option<Date> {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).ok()?;
    let days = i32::try_from(since.as_secs() / 86_400).ok()?;
    Some(Date::new(1970, 1, 1)?.plus_days(days))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(args: &[&str]) -> Result<Given, Fault> {
        let args: Vec<String> = args.iter().map(|a| a.to_string()).collect();
        Given::read(&args, &["FILE", "json", "week", "today"])
    }

    #[test]
    fn options_are_read_in_any_order() {
        let given = words(&["--week", "3", "a.txt", "--json", "--today=2026-12-01"]).expect("good words");
        assert_eq!((given.file.as_deref(), given.week, given.json), (Some("a.txt"), Some(3), true));
        assert_eq!(given.today, Date::iso("2026-12-01"));
    }

    #[test]
    fn a_wrong_word_is_named() {
        for (args, named) in [
            (&["--week", "0"][..], "“0”"),
            (&["--week"], "--week"),
            (&["--today", "soon"], "“soon”"),
            (&["--paper", "a4"], "--paper"),
            (&["a", "b"], "\"b\""),
        ] {
            match words(args) {
                Err(Fault::Words(said)) => assert!(said.contains(named), "{said}"),
                other => panic!("{args:?} gave {other:?}"),
            }
        }
    }
}
