//! The details: what begins a line below an exercise.

use super::{About, Count, Safety};

/// What becomes of a line that begins with the word and lacks its colon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bare {
    /// It is read all the same, and said so.
    Read,
    /// The colon is asked for.
    Asked,
    /// It is no line of this word.
    Never,
}

/// What is made of a line's value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    About(About),
    /// The reason to override a notice.
    Anyway,
    /// What changes then. The words before its colon are read as a condition, so that the row is an example of many.
    Step,
    /// A piece of the dose.
    Dose(Wording),
}

/// How a piece of a dose reads together with its word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wording {
    /// `at: morning` is `morning`.
    Alone,
    /// `hold: 5 s` is `hold 5 s`.
    Before,
    /// `sets: 3` is `3 sets`.
    Behind,
    /// `band: red` is `band "red"`.
    Label,
}

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DetailWord {
    pub below: Below,
    /// As the tidy form has it.
    pub word: &'static str,
    /// Other spellings that are read, folded.
    pub also: &'static [&'static str],
    /// The same, read only before a colon: without it they begin other lines.
    pub before_colon: &'static [&'static str],
    pub takes: Takes,
    /// Below one exercise.
    pub count: Count,
    pub bare: Bare,
    pub safety: Safety,
    /// What stands before its colon in the example, and is offered: the word, and in a step all of a condition.
    pub head: &'static str,
    /// A value as it may be typed.
    pub example: &'static str,
    /// The example's line in the tidy form, without indent.
    pub tidy: &'static str,
    /// What it is, for the one who writes.
    pub says: &'static str,
}

impl DetailWord {
    /// The word and its other spellings, as they are read without their colon too.
    pub fn spellings(&self) -> impl Iterator<Item = &'static str> {
        core::iter::once(self.word).chain(self.also.iter().copied())
    }

    /// All that may stand before its colon: the word and its other spellings, or an example's condition.
    pub fn heads(&self) -> impl Iterator<Item = &'static str> {
        let others = self.also.iter().chain(self.before_colon).copied();
        core::iter::once(self.head).chain(others)
    }
}

macro_rules! details {
    ($(
        $below:ident $word:literal $(as $head:literal)? [$($also:literal),*] $(colon [$($colon:literal),*])?,
            $takes:expr, $count:ident, bare $bare:ident, safety $safety:ident,
            $example:literal => $tidy:literal,
            $says:literal;
    )*) => {
        /// What a line below an exercise begins with.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Below { $($below),* }

        impl Below {
            /// Its row in [`DETAILS`].
            pub const fn row(self) -> &'static DetailWord {
                match self {
                    $(Below::$below => &DetailWord {
                        below: Below::$below,
                        word: $word,
                        also: &[$($also),*],
                        before_colon: &[$($($colon),*)?],
                        takes: $takes,
                        count: Count::$count,
                        bare: Bare::$bare,
                        safety: Safety::$safety,
                        head: details!(@head $word $($head)?),
                        example: $example,
                        tidy: $tidy,
                        says: $says,
                    }),*
                }
            }
        }

        /// Every detail, in the order in which they are offered and listed.
        pub const DETAILS: &[&DetailWord] = &[$(Below::$below.row()),*];
    };
    (@head $word:literal) => { $word };
    (@head $word:literal $head:literal) => { $head };
}

// The word and its other spellings, with those that need their colon; then an example's value as typed, and its line in the
// tidy form.
details! {
    Cue "cue" ["cues"], Takes::About(About::Cue), Many, bare Read, safety No,
        "Press through your heels." => "cue: Press through your heels.",
        "a short hint, to the patient";
    Feel "feel" [] colon ["you should feel"], Takes::About(About::Feel), Many, bare Read, safety No,
        "your seat works" => "feel: your seat works",
        "what is felt, and where";
    IfNotFelt "if not felt" [] colon ["not felt", "if you don't feel it"],
        Takes::About(About::IfNotFelt), Many, bare Read, safety No,
        "bring your heels closer" => "if not felt: bring your heels closer",
        "what to change then";
    Why "why" [], Takes::About(About::Why), Many, bare Read, safety No,
        "so you can do stairs" => "why: so you can do stairs",
        "what it is good for, to the patient";
    Note "note" ["notes", "nb"], Takes::About(About::Note), Many, bare Read, safety No,
        "on the firm bed" => "note: on the firm bed",
        "anything else for the sheet";
    StopIf "stop if" [] colon ["stop"], Takes::About(About::StopIf), Many, bare Read, safety Kept,
        "your calf swells" => "stop if: your calf swells",
        "when to stop";
    Easier "easier" ["regression"], Takes::About(About::Easier), Many, bare Read, safety No,
        "lift less" => "easier: lift less",
        "first step down: words, or another exercise";
    Harder "harder" ["progression"], Takes::About(About::Harder), Many, bare Read, safety No,
        "lift one foot" => "harder: lift one foot",
        "first step up: words, or another exercise";
    From "from week" as "from week 3" [], Takes::Step, Many, bare Never, safety No,
        "3x12" => "from week 3: 3 x 12",
        "a step by date: a dose, an exercise";
    When "when easy" [], Takes::Step, Many, bare Never, safety No,
        "plank 3 x 20 s" => "when easy: plank: 3 x 20 s",
        "a step by criterion";
    If "if" as "if pain > 4" [], Takes::Step, Many, bare Never, safety No,
        "2 sets" => "if pain > 4: 2 sets",
        "a step by criterion";
    At "at" [] colon ["dose", "how often", "frequency"], Takes::Dose(Wording::Alone), Many, bare Never, safety No,
        "morning" => "morning",
        "a part of the day, or how often";
    Anyway "anyway" [], Takes::Anyway, Once, bare Asked, safety No,
        "agreed with her surgeon" => "anyway: agreed with her surgeon",
        "why it is kept against a notice; the reason stays in the record";
    Taught "taught" [], Takes::About(About::Taught), Many, bare Never, safety No,
        "needed two prompts" => "taught: needed two prompts",
        "private: how it was taught; indented, else it is the line word";
    Hold "hold" [], Takes::Dose(Wording::Before), Once, bare Never, safety No,
        "3 s" => "hold 3 s",
        "how long each repetition is held";
    Rest "rest" [], Takes::Dose(Wording::Before), Once, bare Never, safety No,
        "60 sec" => "rest 60 s",
        "how long between sets";
    Tempo "tempo" [], Takes::Dose(Wording::Before), Once, bare Never, safety No,
        "3-1-1-0" => "tempo 3-1-1-0",
        "seconds down, pause, up, pause";
    Effort "effort" [] colon ["rpe"], Takes::Dose(Wording::Before), Once, bare Never, safety No,
        "6/10" => "effort 6 of 10",
        "how hard it is";
    Reserve "rir" [], Takes::Dose(Wording::Before), Once, bare Never, safety No,
        "2" => "2 in reserve",
        "how many more would go";
    Load "load" [], Takes::Dose(Wording::Alone), Many, bare Never, safety No,
        "2 kg" => "2 kg",
        "what is lifted or pulled";
    Band "band" [], Takes::Dose(Wording::Label), Many, bare Never, safety No,
        "red" => "band \"red\"",
        "the patient's own label";
    Sets "sets" [], Takes::Dose(Wording::Behind), Once, bare Never, safety No,
        "3" => "3 sets",
        "how many";
    Reps "reps" [], Takes::Dose(Wording::Behind), Once, bare Never, safety No,
        "10" => "10 reps",
        "how many in a set";
}

impl Below {
    /// The detail that folded words before a colon are, in any spelling. A step's words are a condition, and none of these.
    pub fn of(words: &str) -> Option<Below> {
        let is = |row: &&&DetailWord| {
            row.takes != Takes::Step
                && (row.word == words || row.also.contains(&words) || row.before_colon.contains(&words))
        };
        DETAILS.iter().find(is).map(|row| row.below)
    }
}
