//! Text in few bytes: PPMd (variant H) that has read a primer of typical lines first. What the primer alone gives
//! is the same for every text and is left out; so are the zeros at the end. An encoder of this kind has no freedom:
//! the same text gives the same bytes, now and later.

use ppmd_rust::{Ppmd7Decoder, Ppmd7Encoder};
use std::io::{Read, Write};
use std::sync::OnceLock;

/// Frozen with the mark: order, memory in bytes, and primer.
const ORDER: u32 = 5;
const MEMORY: u32 = 1 << 18;
const PRIMER: &str = include_str!("primer.txt");
/// In the primer's file, where the name of an exercise stands.
const NAME_SIGN: char = '@';
/// Of the range coder's last four bytes, the last three are never needed: any number of its last range will do, and
/// that range is never smaller than 2^24.
const NEVER_NEEDED: usize = 3;

struct Primed {
    primer: Vec<u8>,
    /// What the primer's bytes give, as far as nothing after them can change it.
    prefix: Vec<u8>,
}

fn primed() -> Option<&'static Primed> {
    static PRIMED: OnceLock<Option<Primed>> = OnceLock::new();
    let make = || {
        let sign = char::from(super::text::NAME);
        let primer = PRIMER.replace(NAME_SIGN, sign.encode_utf8(&mut [0; 4])).into_bytes();
        let mut encoder = Ppmd7Encoder::new(Vec::new(), ORDER, MEMORY).ok()?;
        encoder.write_all(&primer).ok()?;
        let prefix = encoder.get_ref().clone();
        Some(Primed { primer, prefix })
    };
    PRIMED.get_or_init(make).as_ref()
}

/// The text in few bytes; None where that would not give it back.
pub(super) fn squeeze(text: &[u8]) -> Option<Vec<u8>> {
    let bytes = squeezed(text)?;
    (open(&bytes, text.len()).as_deref() == Some(text)).then_some(bytes)
}

/// Without the proof that it can be read again.
pub(super) fn squeezed(text: &[u8]) -> Option<Vec<u8>> {
    let Primed { primer, prefix } = primed()?;
    let mut encoder = Ppmd7Encoder::new(Vec::new(), ORDER, MEMORY).ok()?;
    encoder.write_all(primer).ok()?;
    encoder.write_all(text).ok()?;
    let whole = encoder.finish(false).ok()?;
    let mut bytes = whole.strip_prefix(prefix.as_slice())?.to_vec();
    let kept = bytes.len().checked_sub(NEVER_NEEDED)?;
    if bytes.split_off(kept).iter().any(|b| *b != 0) {
        // Rounded up, with its carries.
        for byte in bytes.iter_mut().rev() {
            *byte = byte.wrapping_add(1);
            if *byte != 0 {
                break;
            }
        }
    }
    while bytes.last() == Some(&0) {
        bytes.pop();
    }
    Some(bytes)
}

/// `length` bytes of text; any bytes give some text or none.
pub(super) fn open(bytes: &[u8], length: usize) -> Option<Vec<u8>> {
    let Primed { primer, prefix } = primed()?;
    let source = prefix.as_slice().chain(bytes).chain(std::io::repeat(0));
    let mut decoder = Ppmd7Decoder::new(source, ORDER, MEMORY).ok()?;
    let mut text = vec![0; primer.len() + length];
    decoder.read_exact(&mut text).ok()?;
    let rest = text.split_off(primer.len());
    (text == *primer).then_some(rest)
}
