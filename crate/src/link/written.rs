//! Packed bytes as the part of an address behind `#`: a mark, then letters and digits.
//!
//! | mark | what follows |
//! | --- | --- |
//! | `L` | the packed bytes in base64url (RFC 4648, 5) without padding |
//! | `N` | the same bytes in decimal digits, seven bytes in 17: a QR code holds these in less room |
//! | `S` | salt and sealed bytes in base64url, see [`super::sealed`] |
//!
//! A later way of packing takes another mark, and what was once a good link stays one.

use super::fault::{Fault, Kind};
use super::{Shared, pack, shed};
use crate::catalog::Catalog;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;

pub const LETTERS: char = 'L';
pub const DIGITS: char = 'N';
pub const SEALED: char = 'S';

/// A longer one is not looked at; as many digits as [`pack::MOST_PACKED`] bytes need, and some.
const MOST: usize = 128 * 1024;

/// Packed bytes in letters.
pub fn letters(packed: &[u8]) -> String {
    format!("{LETTERS}{}", base64(packed))
}

/// Packed bytes in digits, for a QR code.
pub fn digits(packed: &[u8]) -> String {
    let mut text = String::from(DIGITS);
    for chunk in packed.chunks(CHUNK) {
        let number = chunk.iter().fold(0_u64, |n, byte| n << 8 | u64::from(*byte));
        text.push_str(&format!("{number:0wide$}", wide = digits_of(chunk.len())));
    }
    text
}

/// Bytes that are written as one number.
const CHUNK: usize = 7;

/// Digits that so many bytes need, up to [`CHUNK`].
fn digits_of(bytes: usize) -> usize {
    [0, 3, 5, 8, 10, 13, 15, 17].get(bytes).copied().unwrap_or(17)
}

pub(super) fn base64(bytes: &[u8]) -> String {
    URL_SAFE_NO_PAD.encode(bytes)
}

/// Opens what stands behind `#`, with or without it and what stands before it.
pub fn open(typed: &str, catalog: &Catalog) -> Result<Shared, Fault> {
    opened(typed, catalog).map(|opened| opened.shared)
}

/// What a link gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    pub shared: Shared,
    /// The link without what was round it, from its mark on.
    pub fragment: String,
}

/// Opens a link, also with what a mail program put round it or into it, see [`super::shed`].
pub fn opened(typed: &str, catalog: &Catalog) -> Result<Opened, Fault> {
    let plain = split(typed).and_then(|(mark, rest)| {
        let shared = exactly(mark, rest, catalog)?;
        Ok(Opened { shared, fragment: format!("{mark}{rest}") })
    });
    let fault = match plain {
        Err(fault) if fault.kind != Kind::TooLong => fault,
        done => return done,
    };
    let candidates = shed::candidates(typed);
    let mut tries = 0;
    for reading in candidates.iter().flat_map(shed::Candidate::readings) {
        let (mark, rest) = split(reading)?;
        let Some(packed) = packed(mark, rest).ok().filter(|packed| pack::is_whole(packed)) else { continue };
        if let Ok(shared) = pack::unpack(&packed, catalog) {
            return Ok(Opened { shared, fragment: reading.to_string() });
        }
        // A wrong length that looks right is one in 256.
        tries += 1;
        if tries == MOST_TRIES {
            break;
        }
    }
    // What is wrong with the link, rather than that there was something round it.
    let first = candidates.first().and_then(|c| c.readings().next());
    let told = first.and_then(|reading| {
        let (mark, rest) = split(reading).ok()?;
        exactly(mark, rest, catalog).err()
    });
    Err(told.unwrap_or(fault))
}

/// Readings of one link that are unpacked in vain before it is refused.
const MOST_TRIES: usize = 4;

fn exactly(mark: char, rest: &str, catalog: &Catalog) -> Result<Shared, Fault> {
    pack::unpack(&packed(mark, rest)?, catalog)
}

/// The packed bytes behind a mark.
fn packed(mark: char, rest: &str) -> Result<Vec<u8>, Fault> {
    match mark {
        LETTERS => bytes(rest),
        DIGITS => from_digits(rest),
        SEALED => Err(Fault::of(Kind::Sealed)),
        _ if mark.is_ascii_alphanumeric() => Err(Fault::of(Kind::Newer)),
        _ => Err(Fault::of(Kind::Damaged)),
    }
}

/// The mark and what follows it.
pub(super) fn split(fragment: &str) -> Result<(char, &str), Fault> {
    let fragment = fragment.trim();
    let fragment = fragment.rsplit_once('#').map_or(fragment, |(_, behind)| behind);
    if MOST < fragment.len() {
        return Err(Fault::of(Kind::TooLong));
    }
    let mut rest = fragment.chars();
    let mark = rest.next().ok_or_else(|| Fault::of(Kind::Empty))?;
    Ok((mark, rest.as_str()))
}

/// The bytes of base64url, which has one way of writing them.
pub(super) fn bytes(text: &str) -> Result<Vec<u8>, Fault> {
    let lost = || Fault::of(if text.len() % 4 == 1 { Kind::Truncated } else { Kind::Damaged });
    let plain = text.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_');
    if !plain {
        return Err(Fault::of(Kind::Damaged));
    }
    // A cut in the middle of a byte leaves bits over; the bytes before it still tell that their end is missing.
    let whole = URL_SAFE_NO_PAD.decode(text).or_else(|_| {
        let kept = text.len() - text.len() % 4;
        let begun = URL_SAFE_NO_PAD.decode(text.get(..kept).unwrap_or("")).map_err(|_| lost())?;
        let told = begun.get(4).ok_or_else(|| Fault::of(Kind::Truncated))?;
        let missing = told.wrapping_sub(begun.len() as u8);
        Err(Fault::of(if (1..240).contains(&missing) { Kind::Truncated } else { Kind::Damaged }))
    })?;
    Ok(whole)
}

fn from_digits(text: &str) -> Result<Vec<u8>, Fault> {
    if !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(Fault::of(Kind::Damaged));
    }
    let mut bytes = Vec::new();
    for chunk in text.as_bytes().chunks(digits_of(CHUNK)) {
        let Some(length) = (1..=CHUNK).find(|n| digits_of(*n) == chunk.len()) else {
            return Err(Fault::of(Kind::Truncated));
        };
        // 17 digits are below 2^64.
        let number = chunk.iter().fold(0_u64, |n, digit| n * 10 + u64::from(digit - b'0'));
        if number >> (8 * length) != 0 {
            return Err(Fault::of(Kind::Damaged));
        }
        bytes.extend((0..length).rev().map(|at| (number >> (8 * at)) as u8));
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_give_the_bytes_back() {
        for length in 0..40 {
            for fill in [0, 1, 0x7f, 0xff] {
                let packed = vec![fill; length];
                let text = digits(&packed);
                let back = from_digits(text.strip_prefix(DIGITS).expect("its mark"));
                assert_eq!(back, Ok(packed));
            }
        }
        assert!(from_digits("99999999999999999").is_err(), "above seven bytes");
        assert!(from_digits("999").is_err(), "above one byte");
    }

    #[test]
    fn there_is_one_way_to_write_bytes() {
        assert_eq!(bytes("TQ"), Ok(vec![0x4d]));
        for other in ["TR", "TQ==", "TQ\n", "T+Q", "T Q"] {
            assert!(bytes(other).is_err(), "{other}");
        }
    }
}
