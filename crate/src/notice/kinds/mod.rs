//! The kinds of notices, each with what its sentence needs: as data, in no language.
//!
//! One table for each floor that tells something. A row has the stable word, and below it what can be wrong that way,
//! each with its severity. The sentences stand in [`super::english`].

pub mod catalog;
pub mod dose;
pub mod pose;
pub mod prescription;
pub mod programme;

use self::catalog::OfCatalog;
use self::dose::Doubt;
use self::pose::OfPose;
use self::prescription::OfPrescription;
use self::programme::OfProgramme;
use super::Severity;

/// What is told: the kind and its data, by the floor that tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    Pose(OfPose),
    /// What of the text is meant, and what is doubtful about it.
    Dose {
        typed: String,
        doubt: Doubt,
    },
    Catalog(OfCatalog),
    Prescription(OfPrescription),
    Programme(OfProgramme),
}

impl What {
    /// The stable word for this sort of notice, such as `unknown-exercise`; tests and silencing key on it.
    pub fn word(&self) -> &'static str {
        match self {
            What::Pose(what) => what.word(),
            What::Dose { doubt, .. } => doubt.word(),
            What::Catalog(what) => what.word(),
            What::Prescription(what) => what.word(),
            What::Programme(what) => what.word(),
        }
    }

    pub fn severity(&self) -> Severity {
        match self {
            What::Pose(what) => what.severity(),
            What::Dose { doubt, .. } => doubt.severity(),
            What::Catalog(what) => what.severity(),
            What::Prescription(what) => what.severity(),
            What::Programme(what) => what.severity(),
        }
    }
}

macro_rules! gathered {
    ($($floor:ident: $kinds:ty;)*) => {$(
        impl From<$kinds> for What {
            fn from(what: $kinds) -> What {
                What::$floor(what)
            }
        }
    )*};
}

gathered! {
    Pose: OfPose;
    Catalog: OfCatalog;
    Prescription: OfPrescription;
    Programme: OfProgramme;
}

/// A table of kinds: `"word" => { Variant { data }: severity }`. A severity may look at the data.
macro_rules! kinds {
    ($(#[$doc:meta])* pub enum $name:ident {$(
        $word:literal => {$(
            $(#[$about:meta])* $variant:ident $({ $($field:ident: $type:ty),* $(,)? })?: $severity:expr
        ),+ $(,)?}
    )*}) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub enum $name {$($(
            $(#[$about])* $variant $({ $($field: $type),* })?,
        )+)*}

        impl $name {
            /// The stable word for this sort of notice.
            pub fn word(&self) -> &'static str {
                match self {$($(
                    Self::$variant { .. } => $word,
                )+)*}
            }

            #[allow(unused_variables)]
            pub fn severity(&self) -> crate::notice::Severity {
                use crate::notice::Severity::*;
                match self {$($(
                    Self::$variant $({ $($field),* })? => $severity,
                )+)*}
            }

            /// The words of the table, in its order.
            #[cfg(test)]
            pub(crate) const WORDS: &[&str] = &[$($word),*];

            /// Some of every kind.
            #[cfg(test)]
            pub(crate) fn samples() -> Vec<Self> {
                (0..crate::notice::kinds::sample::SPREAD)
                    .flat_map(|n| [$($(
                        Self::$variant $({ $($field: crate::notice::kinds::sample::Sample::sample(n)),* })?,
                    )+)*])
                    .collect()
            }
        }
    };
}
use kinds;

#[cfg(test)]
pub(crate) mod sample;

#[cfg(test)]
mod tests {
    use super::*;

    /// Some of every kind of every floor.
    fn all() -> Vec<What> {
        let mut all: Vec<What> = OfPose::samples().into_iter().map(What::from).collect();
        all.extend(
            Doubt::samples().into_iter().map(|doubt| What::Dose { typed: "3 x 4 x 5 m".to_string(), doubt }),
        );
        all.extend(OfCatalog::samples().into_iter().map(What::from));
        all.extend(OfPrescription::samples().into_iter().map(What::from));
        all.extend(OfProgramme::samples().into_iter().map(What::from));
        all
    }

    #[test]
    fn every_kind_has_a_word_of_its_own() {
        let tables =
            [OfPose::WORDS, Doubt::WORDS, OfCatalog::WORDS, OfPrescription::WORDS, OfProgramme::WORDS];
        let mut words: Vec<&str> = tables.concat();
        let count = words.len();
        words.sort_unstable();
        let twice: Vec<&str> =
            words.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| pair[0]).collect();
        assert_eq!(twice, Vec::<&str>::new());
        assert!(100 < count);
        for word in words {
            let plain = word.chars().all(|c| c.is_ascii_lowercase() || c == '-');
            assert!(plain && !word.is_empty(), "{word}");
        }
    }

    #[test]
    fn every_kind_is_told_in_whole_sentences() {
        for what in all() {
            let sentence = crate::notice::english::sentence(&what);
            // A recorded decision ends with the reason as it was typed.
            let typed = what.word() == "decision-recorded";
            let is_whole = sentence.ends_with(['.', '?']) || typed && sentence.ends_with(sample::TYPED);
            assert!(is_whole, "{what:?}: {sentence}");
            assert!(!sentence.contains("  ") && sentence.trim() == sentence, "{what:?}: {sentence}");
            assert!(!sentence.contains(['{', '}']), "{what:?}: {sentence}");
        }
    }

    #[test]
    fn a_severity_may_hang_on_the_data() {
        let of = |is_apart| OfProgramme::TieElsewhere { name: "squat".to_string(), is_apart }.severity();
        assert_eq!((of(true), of(false)), (Severity::Precaution, Severity::Advice));
    }
}
