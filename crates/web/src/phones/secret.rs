//! The key that people type and the token that a browser keeps.

use std::fmt::{self, Write};

use sha2::{Digest, Sha256};

/// 32 signs that nobody takes for another: no I, O, 0 and 1.
const SIGNS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
/// Signs of a key: 12 of 32 are 60 bits, more than can be guessed over a network even unslowed.
const LENGTH: usize = 12;
/// Signs in a group, as printed.
const GROUP: usize = 4;

/// What is kept of a token: its SHA-256 (FIPS 180-4). A token is 256 random bits, so no salt and
/// no slow hash are needed.
pub type Hash = [u8; 32];

/// The key a new phone enters.
#[derive(Clone)]
pub struct Key([u8; LENGTH]);

/// What a known phone sends with every request: 64 hexadecimal digits.
pub struct Token(String);

impl Key {
    /// A new one; none where the system gives no random numbers.
    pub fn new() -> Option<Self> {
        let mut random = [0; LENGTH];
        getrandom::fill(&mut random).ok()?;
        Some(Self(random.map(|byte| SIGNS[usize::from(byte) % SIGNS.len()])))
    }

    /// Reads one as printed.
    pub fn read(text: &str) -> Option<Self> {
        let signs: [u8; LENGTH] = plain(text).try_into().ok()?;
        signs.iter().all(|sign| SIGNS.contains(sign)).then_some(Self(signs))
    }

    /// Whether this is what was typed; capitals, blanks and dashes do not matter. Takes as long for
    /// any text of one length: the two are compared by their hashes, and those to the end.
    pub fn is(&self, typed: &str) -> bool {
        same(&hash(&self.0), &hash(&plain(typed)))
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, sign) in self.0.iter().enumerate() {
            if at > 0 && at % GROUP == 0 {
                f.write_char('-')?;
            }
            f.write_char(char::from(*sign))?;
        }
        Ok(())
    }
}

fn plain(typed: &str) -> Vec<u8> {
    let signs = typed.bytes().filter(|b| !b.is_ascii_whitespace() && *b != b'-');
    signs.map(|b| b.to_ascii_uppercase()).collect()
}

impl Token {
    /// A new one; none where the system gives no random numbers.
    pub fn new() -> Option<Self> {
        let mut random = [0; 32];
        getrandom::fill(&mut random).ok()?;
        Some(Self(hex(&random)))
    }

    /// As the cookie carries it.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// The hash of a text.
pub fn hash(text: &[u8]) -> Hash {
    Sha256::digest(text).into()
}

/// Compares to the end, wherever the first difference is.
pub fn same(a: &Hash, b: &Hash) -> bool {
    let differing = a.iter().zip(b).fold(0, |sum, (a, b)| sum | (a ^ b));
    std::hint::black_box(differing) == 0
}

/// Hexadecimal digits.
pub fn hex(bytes: &[u8; 32]) -> String {
    bytes.iter().fold(String::with_capacity(64), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// Reads [`hex`].
pub fn from_hex(text: &str) -> Option<Hash> {
    let mut bytes = [0; 32];
    if text.len() != 64 || !text.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    for (at, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(&text[2 * at..2 * at + 2], 16).ok()?;
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_read_as_people_type_it() {
        let key = Key::read("K7QM-2XHP-9DRT").unwrap();
        assert_eq!(key.to_string(), "K7QM-2XHP-9DRT");
        for typed in ["K7QM-2XHP-9DRT", "k7qm2xhp9drt", " k7qm 2xhp 9drt\n", "K7QM2XHP-9DRT"] {
            assert!(key.is(typed), "{typed}");
        }
        for typed in ["", "K7QM-2XHP-9DRS", "K7QM-2XHP-9DR", "K7QM-2XHP-9DRTT", "K7QM–2XHP–9DRT"]
        {
            assert!(!key.is(typed), "{typed}");
        }
        for bad in ["", "K7QM-2XHP", "K7QM-2XHP-9DR1", "K7QM-2XHP-9DR§"] {
            assert!(Key::read(bad).is_none(), "{bad}");
        }
    }

    #[test]
    fn keys_and_tokens_are_all_different_and_use_every_sign() {
        let keys: Vec<String> = (0..500).map(|_| Key::new().unwrap().to_string()).collect();
        let different: std::collections::HashSet<&String> = keys.iter().collect();
        assert_eq!(different.len(), 500);
        let all = keys.concat();
        assert!(SIGNS.iter().all(|sign| all.as_bytes().contains(sign)));
        assert!(keys.iter().all(|key| key.len() == 14 && Key::read(key).is_some()));
        assert_ne!(Token::new().unwrap().as_str(), Token::new().unwrap().as_str());
    }

    /// FIPS 180-4, the example of one block: "abc".
    #[test]
    fn the_hash_is_sha_256() {
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(hex(&hash(b"abc")), abc);
        assert_eq!(from_hex(abc), Some(hash(b"abc")));
        assert_eq!(from_hex(&abc[1..]), None);
        assert_eq!(from_hex(&abc.replace('b', "g")), None);
    }
}
