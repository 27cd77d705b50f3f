//! The key and the phones that entered it, as a text of one line each.
//!
//! `key K7QM-2XHP-9DRT`, then `phone HASH DAY NAME`. A phone's token is not in it, only its hash:
//! whoever reads the file learns the key, but cannot pass for a phone.

use units::Day;

use super::secret::{Hash, Key, Token, from_hex, hash, hex, same};

/// Phones known at most; the one known longest is forgotten for a new one.
const MOST: usize = 200;

/// The key and the known phones.
#[derive(Clone)]
pub struct Book {
    /// The key.
    pub key: Key,
    phones: Vec<Phone>,
}

#[derive(Clone)]
struct Phone {
    token: Hash,
    since: Day,
    name: String,
}

impl Book {
    /// A key that no phone has entered yet.
    pub const fn new(key: Key) -> Self {
        Self { key, phones: Vec::new() }
    }

    /// Reads [`Self::text`]; the number of the line that cannot be read, from 1.
    pub fn read(text: &str) -> Result<Self, usize> {
        let mut lines = text.lines();
        let key = lines.next().and_then(|line| Key::read(line.strip_prefix("key ")?));
        let phones = lines.enumerate().map(|(at, line)| Phone::read(line).ok_or(at + 2));
        Ok(Self { key: key.ok_or(1usize)?, phones: phones.collect::<Result<_, _>>()? })
    }

    /// As it is kept.
    pub fn text(&self) -> String {
        let phones = self
            .phones
            .iter()
            .map(|phone| format!("phone {} {} {}\n", hex(&phone.token), phone.since, phone.name));
        std::iter::once(format!("key {}\n", self.key)).chain(phones).collect()
    }

    /// Whether a phone with that token entered the key.
    pub fn knows(&self, token: &str) -> bool {
        let sent = hash(token.as_bytes());
        self.phones.iter().any(|phone| same(&phone.token, &sent))
    }

    /// Knows a phone from now on. `name` is one line.
    pub fn add(&mut self, token: &Token, since: Day, name: &str) {
        if self.phones.len() >= MOST {
            self.phones.remove(0);
        }
        let token = hash(token.as_str().as_bytes());
        self.phones.push(Phone { token, since, name: name.to_owned() });
    }
}

impl Phone {
    fn read(line: &str) -> Option<Self> {
        let mut parts = line.strip_prefix("phone ")?.splitn(3, ' ');
        Some(Self {
            token: from_hex(parts.next()?)?,
            since: parts.next()?.parse().ok()?,
            name: parts.next()?.to_owned(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day() -> Day {
        "2026-02-10".parse().unwrap()
    }

    #[test]
    fn what_is_kept_is_read_again_and_holds_no_token() {
        let mut book = Book::new(Key::new().unwrap());
        let (first, second) = (Token::new().unwrap(), Token::new().unwrap());
        book.add(&first, day(), "Zoë of the barn");
        book.add(&second, day(), "");
        let text = book.text();
        assert!(!text.contains(first.as_str()));
        let read = Book::read(&text).unwrap();
        assert_eq!(read.text(), text);
        assert!(read.knows(first.as_str()) && read.knows(second.as_str()));
        for stranger in ["", "x", Token::new().unwrap().as_str(), &hex(&hash(b"x"))] {
            assert!(!read.knows(stranger));
        }
    }

    #[test]
    fn the_line_that_cannot_be_read_is_named() {
        for (text, line) in [
            ("", 1),
            ("key ABC\n", 1),
            ("phone\n", 1),
            ("key K7QM-2XHP-9DRT\nphone 12 2026-02-10 Anna\n", 2),
            ("key K7QM-2XHP-9DRT\n\n", 2),
        ] {
            assert_eq!(Book::read(text).err(), Some(line), "{text}");
        }
    }

    #[test]
    fn the_phone_known_longest_makes_room() {
        let mut book = Book::new(Key::new().unwrap());
        let tokens: Vec<Token> = (0..=MOST).map(|_| Token::new().unwrap()).collect();
        for token in &tokens {
            book.add(token, day(), "");
        }
        assert!(!book.knows(tokens[0].as_str()));
        assert!(tokens[1..].iter().all(|token| book.knows(token.as_str())));
    }
}
