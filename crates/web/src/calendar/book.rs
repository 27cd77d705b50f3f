//! The calendars' addresses, as a text of one line each: `calendar HASH DAY NAME`.
//!
//! The secret itself is not in it: whoever reads the file cannot open a calendar with it.

use store::Beside;
use units::Day;

use crate::failure::Failure;
use crate::phones::secret::{Hash, Token, from_hex, hash, hex, same};
use crate::site::Site;

/// Where they are kept in the data folder.
const FILE: &str = "calendar.txt";
/// Addresses at most; our choice.
pub const MOST: usize = 50;

/// The addresses of one room.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Book(Vec<Address>);

/// One address, without its secret.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Address {
    secret: Hash,
    /// The day it was made.
    pub since: Day,
    /// For whom or what.
    pub name: String,
}

impl Book {
    /// As it is on disk.
    pub fn open(site: &Site) -> Result<Self, Failure> {
        let file = site.with_store(|store| store.beside(FILE));
        read(&file)
    }

    /// Changes it, so that nobody else does meanwhile.
    pub fn change<T>(site: &Site, act: impl FnOnce(&mut Self) -> T) -> Result<T, Failure> {
        site.with_store(|store| {
            let file = store.beside(FILE);
            let mut book = read(&file)?;
            let done = act(&mut book);
            file.write(&book.text())?;
            Ok(done)
        })
    }

    fn read(text: &str) -> Result<Self, usize> {
        let lines = text.lines().enumerate();
        lines
            .map(|(at, line)| Address::read(line).ok_or(at + 1))
            .collect::<Result<_, _>>()
            .map(Self)
    }

    fn text(&self) -> String {
        let line = |a: &Address| format!("calendar {} {} {}\n", hex(&a.secret), a.since, a.name);
        self.0.iter().map(line).collect()
    }

    /// Whether an address with that secret was made and not taken back. Every one is compared, to the
    /// end.
    pub fn knows(&self, secret: &str) -> bool {
        let sent = hash(secret.as_bytes());
        self.0.iter().fold(false, |known, address| known | same(&address.secret, &sent))
    }

    /// All of them, as they were made.
    pub fn all(&self) -> &[Address] {
        &self.0
    }

    /// One more. `name` is one line.
    pub fn add(&mut self, secret: &Token, since: Day, name: &str) {
        let secret = hash(secret.as_str().as_bytes());
        self.0.push(Address { secret, since, name: name.to_owned() });
    }

    /// Takes one back; none where it was taken back before.
    pub fn remove(&mut self, mark: &str) -> Option<Address> {
        let at = self.0.iter().position(|address| address.mark() == mark)?;
        Some(self.0.remove(at))
    }
}

fn read(file: &Beside) -> Result<Book, Failure> {
    let text = file.read()?.unwrap_or_default();
    Book::read(&text).map_err(|line| {
        Failure::typed(
            format!("Line {line} of {} cannot be read.", file.path().display()),
            "Take that line away; the address it stood for has to be made anew.",
        )
    })
}

impl Address {
    fn read(line: &str) -> Option<Self> {
        let mut parts = line.strip_prefix("calendar ")?.splitn(3, ' ');
        Some(Self {
            secret: from_hex(parts.next()?)?,
            since: parts.next()?.parse().ok()?,
            name: parts.next()?.to_owned(),
        })
    }

    /// What tells it from the others on a page, without telling its secret.
    pub fn mark(&self) -> String {
        hex(&self.secret)[..16].to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_read_again_and_holds_no_secret() {
        let mut book = Book::default();
        let (first, second) = (Token::new().unwrap(), Token::new().unwrap());
        book.add(&first, "2026-02-10".parse().unwrap(), "Zoë’s phone");
        book.add(&second, "2026-02-11".parse().unwrap(), "");
        assert!(!book.text().contains(first.as_str()));
        let mut read = Book::read(&book.text()).unwrap();
        assert_eq!(read, book);
        assert!(read.knows(first.as_str()) && read.knows(second.as_str()));
        for stranger in ["", "x", &hex(&hash(first.as_str().as_bytes()))] {
            assert!(!read.knows(stranger), "{stranger}");
        }
        let mark = read.all()[0].mark();
        assert_eq!(read.remove(&mark).unwrap().name, "Zoë’s phone");
        assert!(!read.knows(first.as_str()) && read.knows(second.as_str()));
        assert!(read.remove(&mark).is_none());
    }

    #[test]
    fn the_line_that_cannot_be_read_is_named() {
        let good = format!("calendar {} 2026-02-10 Anna\n", hex(&hash(b"x")));
        assert_eq!(Book::read(&format!("{good}calendar 12 2026-02-10 \n")), Err(2));
        assert_eq!(Book::read("phone\n"), Err(1));
        assert_eq!(Book::read(""), Ok(Book::default()));
    }
}
