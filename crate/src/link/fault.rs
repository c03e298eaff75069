//! Why a link does not open, in a sentence for the patient.

/// What is wrong with a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// There is nothing behind the address.
    Empty,
    /// Letters were changed, lost or added.
    Damaged,
    /// Its end is missing.
    Truncated,
    /// Made by a later version of the program.
    Newer,
    /// It could be read, but is not what this program would have written.
    NotCanonical,
    /// More than a link may hold.
    TooLong,
    /// It asks for a passphrase.
    Sealed,
    /// Not the passphrase that it was sealed with.
    Passphrase,
}

/// Why a link does not open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    pub kind: Kind,
    /// For the patient: what is wrong and what to do.
    pub sentence: String,
}

impl Fault {
    pub fn of(kind: Kind) -> Fault {
        let sentence = match kind {
            Kind::Empty => "There is no exercise plan in this link. Open the link that your clinician sent.",
            Kind::Damaged => {
                "This link was damaged on its way, so nothing of it is shown. Open the link again from the message, or ask your clinician to send it again."
            }
            Kind::Truncated => {
                "The end of this link is missing, so nothing of it is shown. Copy the whole link, or ask your clinician to send it again."
            }
            Kind::Newer => {
                "This link needs a newer version of this page. Go online, reload the page and open the link again."
            }
            Kind::NotCanonical => {
                "This link was changed after it was made, so nothing of it is shown. Ask your clinician to send it again."
            }
            Kind::TooLong => {
                "This link is longer than a plan can be, so nothing of it is shown. Ask your clinician to send it again."
            }
            Kind::Sealed => "This plan is locked. Type the passphrase that your clinician gave you.",
            Kind::Passphrase => {
                "That is not the passphrase of this plan. Check each word, or ring your clinician."
            }
        };
        Fault { kind, sentence: sentence.to_owned() }
    }
}

impl core::fmt::Display for Fault {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.sentence)
    }
}
