//! The line words: what begins a line of the head.

use super::{Count, Safety};
use crate::notice::kinds::prescription::Expected;

/// When a line is meant that begins with the word and lacks its colon: it is told then, and taken for nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bare {
    /// Whatever stands behind it.
    Always,
    /// Unless it has a dose.
    Undosed,
    /// Of three words or more, without a dose.
    Sentence,
    /// With a number that is no dose.
    Number,
    /// With a date, or a number that is no dose.
    Date,
    /// With a joint, without a dose.
    Joint,
    /// With a side or a word of weight bearing.
    Bearing,
    /// With a day or a part of it.
    Day,
    /// Never: without its colon the line is read as it stands.
    Never,
}

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineWord {
    pub key: Key,
    /// As the tidy form has it.
    pub word: &'static str,
    /// Other spellings that are read, folded.
    pub also: &'static [&'static str],
    /// In one text.
    pub count: Count,
    pub bare: Bare,
    pub safety: Safety,
    /// A value as it may be typed.
    pub example: &'static str,
    /// The example's line in the tidy form.
    pub tidy: &'static str,
    /// What stands behind its colon, for a notice on what does not.
    pub value: Expected,
    /// What it is, for the one who writes.
    pub says: &'static str,
}

impl LineWord {
    /// The word and its other spellings.
    pub fn spellings(&self) -> impl Iterator<Item = &'static str> {
        core::iter::once(self.word).chain(self.also.iter().copied())
    }
}

macro_rules! line_words {
    ($(
        $key:ident $word:literal [$($also:literal),*] $count:ident, bare $bare:ident, safety $safety:ident,
            $example:literal => $tidy:literal,
            value $value:ident, $says:literal;
    )*) => {
        /// A line word.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Key { $($key),* }

        impl Key {
            pub const ALL: &[Key] = &[$(Key::$key),*];

            /// Its row in [`LINE_WORDS`].
            pub const fn row(self) -> &'static LineWord {
                match self {
                    $(Key::$key => &LineWord {
                        key: Key::$key,
                        word: $word,
                        also: &[$($also),*],
                        count: Count::$count,
                        bare: Bare::$bare,
                        safety: Safety::$safety,
                        example: $example,
                        tidy: concat!($word, ": ", $tidy),
                        value: Expected::$value,
                        says: $says,
                    }),*
                }
            }
        }

        /// Every line word, in the order in which they are offered and listed.
        pub const LINE_WORDS: &[&LineWord] = &[$(Key::$key.row()),*];
    };
}

// The word and its other spellings; then an example's value as typed, and in the tidy form.
line_words! {
    By "by" [] Once, bare Sentence, safety No,
        "R. O., physiotherapist" => "R. O., physiotherapist",
        value Words, "who prescribes";
    Patient "patient" [] Once, bare Undosed, safety No,
        "T. B., 58" => "T. B., 58",
        value Words, "name or initials, then the age";
    Start "start" [] Once, bare Date, safety No,
        "30 Nov 2026" => "2026-11-30",
        value Words, "the first day of week 1";
    Weeks "weeks" ["duration"] Once, bare Number, safety No,
        "6/52" => "6",
        value Weeks, "how long the course is";
    Review "review" ["r/v", "rv", "next review"] Once, bare Undosed, safety No,
        "14 Dec 2026" => "2026-12-14",
        value Words, "the next visit";
    Surgery "surgery" ["op", "operation"] Once, bare Always, safety Kept,
        "2 Nov 2026, right hip" => "2026-11-02, right hip",
        value Words, "what “after surgery” counts from";
    Injury "injury" [] Once, bare Always, safety Kept,
        "1 Nov 2026, left ankle" => "2026-11-01, left ankle",
        value Words, "what “after injury” counts from";
    Due "due" [] Once, bare Always, safety Kept,
        "1 Mar 2027" => "2027-03-01",
        value Words, "when a baby is due";
    Aim "aim" ["aims", "goal", "goals"] Many, bare Undosed, safety No,
        "climb stairs" => "climb stairs",
        value Words, "in the patient's words";
    Limit "limit" ["limits", "rom limit", "rom limits"] Many, bare Always, safety Restricts,
        "right knee flexion 0-90" => "right knee flexion 0-90",
        value Limit, "a joint must stay within";
    Range "range" ["ranges"] Many, bare Joint, safety Restricts,
        "left shoulder elevation to 100" => "left shoulder elevation at most 100",
        value Range, "how far a joint goes today";
    Weight "weight" ["weight bearing", "weight-bearing", "wb"] Many, bare Bearing, safety Restricts,
        "right, 50 % until 6/52 post op" => "right, 50 %, until 6 weeks after surgery",
        value Weight, "how much a leg or an arm may carry";
    Avoid "avoid" [] Many, bare Always, safety Restricts,
        "kneeling, impact" => "kneeling, impact",
        value Words, "what must not be done";
    Cannot "cannot" [] Many, bare Always, safety Kept,
        "get up from the floor" => "get up from the floor",
        value Words, "what is not possible";
    Caution "caution" ["cautions", "precaution", "precautions"] Many, bare Always, safety Kept,
        "raised blood pressure" => "raised blood pressure",
        value Words, "what needs care";
    DoNot "do not" ["don't", "dont", "must not"] Many, bare Never, safety Restricts,
        "lift more than 2 kg" => "lift more than 2 kg",
        value Words, "stands under “Do not”, word for word";
    May "may" ["may do", "allowed", "permitted"] Many, bare Never, safety Kept,
        "shower" => "shower",
        value Words, "stands under “What you may do”";
    Rule "rule" ["rules", "wear"] Many, bare Never, safety Kept,
        "sling at night" => "sling at night",
        value Words, "stands under “Keep to this”";
    Advice "advice" [] Many, bare Never, safety Kept,
        "sleep on your back" => "sleep on your back",
        value Words, "stands under “As your clinician wrote”";
    Body "body" ["height", "stature"] Once, bare Number, safety No,
        "158 cm, 71 kg" => "158 cm, 71 kg",
        value Body, "for the figures and the loads";
    Kit "kit" ["equip", "equipment", "needs", "bring", "requires", "you need"] Many, bare Sentence, safety No,
        "chair, towel" => "chair, towel",
        value Words, "what is at home; “none” for nothing";
    Time "time" ["times"] Many, bare Day, safety No,
        "Mon-Fri mornings 15 min, Thu evening swimming, Sun rest day"
            => "Mon-Fri morning 15 min, Thu evening swimming, Sun rest",
        value Time, "the patient's time";
    Ask "ask" [] Once, bare Undosed, safety No,
        "pain" => "pain",
        value Words, "what the patient is asked to score";
    UsualPain "usual pain" ["usual-pain"] Once, bare Always, safety No,
        "3 of 10" => "3 of 10",
        value UsualPain, "as it is on most days";
    OkayPain "okay pain" [
        "ok pain", "acceptable pain", "allowed pain", "pain limit", "pain allowed", "pain rule", "max pain"
    ] Once, bare Never, safety Kept,
        "4/10 or less, settles overnight" => "up to 4 of 10, settles overnight",
        value UsualPain, "how much pain the whole plan allows, and what is typed of it; “none” for no pain";
    Irritability "irritability" [] Once, bare Always, safety No,
        "moderate" => "moderate",
        value Words, "how easily pain is stirred up, and how long it stays";
    Finding "finding" ["findings", "c/o", "o/e"] Many, bare Always, safety No,
        "extension lag 5" => "extension lag 5",
        value Words, "what was found; for the clinician alone";
    Measure "measure" ["measures"] Many, bare Sentence, safety No,
        "grip right 24 kg" => "grip right 24 kg",
        value Words, "what was measured; for the clinician alone";
    Screened "screened" [] Once, bare Always, safety No,
        "25/11/2026" => "2026-11-25",
        value Words, "when it was asked about warning signs";
    Taught "taught" [] Many, bare Undosed, safety No,
        "her daughter too" => "her daughter too",
        value Words, "private: how it was taught";
    BadDay "bad day" ["bad days"] Many, bare Always, safety No,
        "breathe, then the first two" => "breathe, then the first two",
        value Words, "what to do on one";
    Flare "flare" ["flare-up", "flare up", "flare plan", "flare up plan", "flare-up plan", "if flared", "flares"] Many, bare Undosed, safety No,
        "halve it for three days" => "halve it for three days",
        value Words, "what to do when pain flares up";
    Emergency "emergency" [
        "emergency number", "emergency numbers", "emergency no", "emergency phone", "emergency tel", "emergencies",
        "in an emergency"
    ] Many, bare Number, safety No,
        "999" => "999",
        value Words, "whom to call for help at once, where the patient lives";
    OutOfHours "out of hours" [
        "out-of-hours", "out of hours number", "out of hours phone", "ooh", "after hours"
    ] Many, bare Number, safety No,
        "111" => "111",
        value Words, "whom to call when the clinic is closed";
    Discharge "discharge" [] Many, bare Undosed, safety No,
        "when stairs are easy" => "when stairs are easy",
        value Words, "when the course is over";
    Exercise "exercise" [] Many, bare Never, safety No,
        "Ladder reach\n  feel: your shoulder works" => "Ladder reach\n  feel: your shoulder works",
        value Words, "an own exercise, see below";
    Net "safety net" ["safety-net", "safety netting", "safetynet"] Once, bare Always, safety No,
        "back, calf, wound" => "back, calf, wound",
        value Net,
        "what else the sheet says on when to get help, by its topics; “operation” is calf, lungs, wound and fever";
}

impl Key {
    /// The key as written.
    pub fn word(self) -> &'static str {
        self.row().word
    }

    /// Whether what stands under it is about safety: never lost, and said to be unchecked where unread.
    pub fn is_safety(self) -> bool {
        self.row().safety.is_kept()
    }

    /// Whether it restricts by itself.
    pub fn restricts(self) -> bool {
        self.row().safety == Safety::Restricts
    }

    /// The key that folded words are, in any spelling.
    pub fn of(words: &str) -> Option<Key> {
        LINE_WORDS.iter().find(|row| row.word == words || row.also.contains(&words)).map(|row| row.key)
    }
}
