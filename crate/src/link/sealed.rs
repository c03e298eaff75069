//! Links that only a passphrase opens.
//!
//! Argon2id (RFC 9106: 64 MiB, three passes, one lane) over the passphrase and a salt of 16 bytes gives 44 bytes: 32 for
//! the key and 12 for the nonce of ChaCha20-Poly1305 (RFC 8439). A salt is used once, so key and nonce are. What is
//! written is the mark, then salt and sealed bytes in base64url.
//!
//! Random bytes come from the caller.

use super::fault::{Fault, Kind};
use super::pack::MOST_PACKED;
use super::shed;
use super::written::{SEALED, base64, bytes, split};
use argon2::{Algorithm, Argon2, Params};
use chacha20poly1305::aead::{Aead, KeyInit};
use chacha20poly1305::{ChaCha20Poly1305, Key, Nonce};

/// KiB of memory: the second choice of RFC 9106, section 4, for where 2 GiB are too many.
const MEMORY_KIB: u32 = 64 * 1024;
const PASSES: u32 = 3;
const LANES: u32 = 1;
/// Bytes of salt.
pub const SALT: usize = 16;
/// Bytes that sealing adds: the tag of Poly1305.
const TAG: usize = 16;

/// Words of a proposed passphrase.
pub const WORDS: usize = 6;
/// Random bytes that [`propose`] takes: two a word.
pub const RANDOM: usize = 2 * WORDS;

/// 512 words, one a line: nine bits each.
const LIST: &str = include_str!("words.txt");

/// A passphrase of six words, each one of 512: 54 bits, of uniformly random bytes. Guessing half of those costs
/// 2^53 runs of the key derivation.
pub fn propose(random: &[u8; RANDOM]) -> String {
    let list: Vec<&str> = LIST.lines().collect();
    let words = random.chunks(2).map(|pair| {
        let number = pair.iter().fold(0_usize, |n, byte| n << 8 | usize::from(*byte));
        // 512 divides 65,536, so every word is as likely.
        list.get(number % list.len().max(1)).copied().unwrap_or("")
    });
    words.collect::<Vec<_>>().join(" ")
}

/// What is meant by what is typed: small letters, and one space for spaces, hyphens and full stops between words.
pub fn meant(typed: &str) -> String {
    let small = typed.to_lowercase();
    let apart = |c: char| c.is_whitespace() || matches!(c, '-' | '‐' | '‑' | '–' | '—' | '_' | '.' | ',');
    small.split(apart).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Packed bytes sealed, as a fragment. An error is a sentence for the clinician. Takes about a tenth of a second and
/// 64 MiB.
pub fn seal(packed: &[u8], passphrase: &str, salt: &[u8; SALT]) -> Result<String, String> {
    if meant(passphrase).is_empty() {
        return Err(
            "A locked link needs a passphrase: write some words, or take the ones proposed.".to_owned()
        );
    }
    let fault = || "The link could not be locked on this device: it has too little memory.".to_owned();
    let (key, nonce) = derived(passphrase, salt).ok_or_else(fault)?;
    let sealed = ChaCha20Poly1305::new(&key).encrypt(&nonce, packed).map_err(|_| fault())?;
    Ok(format!("{SEALED}{}", base64(&[salt, sealed.as_slice()].concat())))
}

/// The packed bytes of a sealed link, for [`super::pack::unpack`], also with what a mail program put round it or into
/// it, see [`super::shed`]. Takes about a tenth of a second, however many readings there are.
pub fn unseal(typed: &str, passphrase: &str) -> Result<Vec<u8>, Fault> {
    let candidates = shed::candidates(typed);
    let readings: Vec<&str> = candidates.iter().flat_map(shed::Candidate::readings).collect();
    let plain = read(typed);
    // What is wrong with the link, rather than that there was something round it.
    let told = |fault: Fault| readings.first().and_then(|reading| read(reading).err()).unwrap_or(fault);
    let sealed: Vec<Sealed> =
        plain.clone().into_iter().chain(readings.iter().filter_map(|reading| read(reading).ok())).collect();
    let Some(first) = sealed.first() else { return Err(plain.err().map_or(Fault::of(Kind::Empty), told)) };
    let (key, nonce) = derived(passphrase, &first.salt).ok_or_else(|| Fault {
        kind: Kind::Sealed,
        sentence: "This device has too little memory to open a locked plan. Try another phone or computer."
            .to_owned(),
    })?;
    let cipher = ChaCha20Poly1305::new(&key);
    let mut same = sealed.iter().filter(|other| other.salt == first.salt);
    same.find_map(|one| cipher.decrypt(&nonce, one.sealed.as_slice()).ok())
        .ok_or_else(|| Fault::of(Kind::Passphrase))
}

/// What a sealed link carries.
#[derive(Clone)]
struct Sealed {
    salt: [u8; SALT],
    sealed: Vec<u8>,
}

/// Everything that can be told of a sealed link without the passphrase.
fn read(fragment: &str) -> Result<Sealed, Fault> {
    let text = match split(fragment)? {
        (SEALED, rest) => rest,
        (mark, _) if mark.is_ascii_alphanumeric() => return Err(Fault::of(Kind::Newer)),
        _ => return Err(Fault::of(Kind::Damaged)),
    };
    let all = bytes(text).map_err(|fault| match fault.kind {
        Kind::Truncated => Fault::of(Kind::Truncated),
        _ => Fault::of(Kind::Damaged),
    })?;
    if MOST_PACKED + SALT + TAG < all.len() {
        return Err(Fault::of(Kind::TooLong));
    }
    let split = all.split_first_chunk::<SALT>().filter(|(_, sealed)| TAG < sealed.len());
    let (salt, sealed) = split.ok_or_else(|| Fault::of(Kind::Truncated))?;
    Ok(Sealed { salt: *salt, sealed: sealed.to_vec() })
}

/// [`seal`] and [`unseal`] as text in, text out, for a worker that does nothing else. What is asked has lines:
///
/// * `seal`, a fragment of mark `L`, the passphrase, the salt as 32 hexadecimal digits; or
/// * `unseal`, a fragment of mark `S`, the passphrase.
///
/// The answer is `good` and a fragment, or `bad` and a sentence, on two lines.
pub fn work(ask: &str) -> String {
    let lines: Vec<&str> = ask.split('\n').collect();
    let done = match lines.as_slice() {
        ["seal", fragment, passphrase, salt] => match (packed_of(fragment), hexadecimal(salt)) {
            (Some(packed), Some(salt)) => seal(&packed, passphrase, &salt),
            _ => Err("There is nothing to lock.".to_owned()),
        },
        ["unseal", fragment, passphrase] => unseal(fragment, passphrase)
            .map(|packed| super::written::letters(&packed))
            .map_err(|f| f.sentence),
        _ => Err("The worker was asked for something that it does not know.".to_owned()),
    };
    match done {
        Ok(fragment) => format!("good\n{fragment}"),
        Err(sentence) => format!("bad\n{sentence}"),
    }
}

fn packed_of(fragment: &str) -> Option<Vec<u8>> {
    match split(fragment).ok()? {
        (super::written::LETTERS, rest) => bytes(rest).ok(),
        _ => None,
    }
}

fn hexadecimal(text: &str) -> Option<[u8; SALT]> {
    let digits: Vec<u8> = text.chars().map(|c| c.to_digit(16).map(|d| d as u8)).collect::<Option<_>>()?;
    let bytes: Vec<u8> = digits.chunks_exact(2).map(|pair| pair.iter().fold(0, |n, d| n << 4 | d)).collect();
    if digits.len() == 2 * SALT { bytes.try_into().ok() } else { None }
}

/// Key and nonce; None where the memory can't be had.
fn derived(passphrase: &str, salt: &[u8; SALT]) -> Option<(Key, Nonce)> {
    let mut out = [0_u8; 44];
    let params = Params::new(MEMORY_KIB, PASSES, LANES, Some(out.len())).ok()?;
    let argon = Argon2::new(Algorithm::Argon2id, argon2::Version::V0x13, params);
    argon.hash_password_into(meant(passphrase).as_bytes(), salt, &mut out).ok()?;
    let (key, nonce) = out.split_at(32);
    Some((Key::try_from(key).ok()?, Nonce::try_from(nonce).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use argon2::ParamsBuilder;
    use chacha20poly1305::aead::Payload;

    /// RFC 9106, section 5.3: Argon2id.
    #[test]
    fn argon2id_gives_the_tag_of_the_standard() {
        let params = ParamsBuilder::new()
            .m_cost(32)
            .t_cost(3)
            .p_cost(4)
            .data(argon2::AssociatedData::new(&[4; 12]).expect("12 bytes"))
            .output_len(32)
            .build()
            .expect("the standard's own");
        let argon = Argon2::new_with_secret(&[3; 8], Algorithm::Argon2id, argon2::Version::V0x13, params)
            .expect("a secret of 8 bytes");
        let mut tag = [0; 32];
        argon.hash_password_into(&[1; 32], &[2; 16], &mut tag).expect("it can be hashed");
        assert_eq!(
            tag,
            [
                0x0d, 0x64, 0x0d, 0xf5, 0x8d, 0x78, 0x76, 0x6c, 0x08, 0xc0, 0x37, 0xa3, 0x4a, 0x8b, 0x53,
                0xc9, 0xd0, 0x1e, 0xf0, 0x45, 0x2d, 0x75, 0xb6, 0x5e, 0xb5, 0x25, 0x20, 0xe9, 0x6b, 0x01,
                0xe6, 0x59
            ]
        );
    }

    /// RFC 8439, section 2.8.2: the first bytes of the ciphertext and the whole tag.
    #[test]
    fn the_cipher_gives_the_text_of_the_standard() {
        let key: Vec<u8> = (0x80..0xa0).collect();
        let nonce = [7, 0, 0, 0, 0x40, 0x41, 0x42, 0x43, 0x44, 0x45, 0x46, 0x47];
        let aad = [0x50, 0x51, 0x52, 0x53, 0xc0, 0xc1, 0xc2, 0xc3, 0xc4, 0xc5, 0xc6, 0xc7];
        let msg =
            b"Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, \
                    sunscreen would be it.";
        let cipher = ChaCha20Poly1305::new(&Key::try_from(key.as_slice()).expect("32 bytes"));
        let sealed = cipher.encrypt(&Nonce::from(nonce), Payload { msg, aad: &aad }).expect("it is sealed");
        assert_eq!(sealed[..8], [0xd3, 0x1a, 0x8d, 0x34, 0x64, 0x8e, 0x60, 0xdb]);
        assert_eq!(
            sealed[114..],
            [0x1a, 0xe1, 0x0b, 0x59, 0x4f, 0x09, 0xe2, 0x6a, 0x7e, 0x90, 0x2e, 0xcb, 0xd0, 0x60, 0x06, 0x91]
        );
    }

    #[test]
    fn a_passphrase_opens_what_it_sealed_however_it_is_typed() {
        let (packed, salt) = (b"any bytes at all".as_slice(), [9; SALT]);
        let fragment = seal(packed, "amber river stone", &salt).expect("sealed");
        assert_eq!(unseal(&fragment, " Amber-River  STONE.").as_deref(), Ok(packed));
        let kind = |fragment: &str, words: &str| unseal(fragment, words).map_err(|f| f.kind);
        assert_eq!(kind(&fragment, "amber river stones"), Err(Kind::Passphrase));
        assert_eq!(kind(&fragment[..20], "amber river stone"), Err(Kind::Truncated));
        assert_eq!(kind("S", "amber"), Err(Kind::Truncated));
        assert_eq!(kind("SAA==", "amber"), Err(Kind::Damaged));
        assert!(seal(packed, " - ", &salt).is_err());
        let asked = format!("seal\nL{}\namber river stone\n{}", base64(packed), "09".repeat(SALT));
        assert_eq!(work(&asked), format!("good\n{fragment}"));
        assert_eq!(
            work(&format!("unseal\n{fragment}\namber river stone")),
            format!("good\nL{}", base64(packed))
        );
        assert!(work("open sesame").starts_with("bad\n"));
    }

    #[test]
    fn every_word_is_its_own_and_easy_to_type() {
        let mut words: Vec<&str> = LIST.lines().collect();
        assert_eq!(words.len(), 512);
        assert!(
            words.iter().all(|w| (3..=6).contains(&w.len()) && w.bytes().all(|b| b.is_ascii_lowercase()))
        );
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), 512);
        assert_eq!(propose(&[0; RANDOM]).split(' ').count(), WORDS);
        assert_eq!(meant(&propose(&[255; RANDOM])), propose(&[255; RANDOM]));
    }
}
