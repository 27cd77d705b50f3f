//! Phones and computers on the local network: each enters a key once and is known from then on.
//!
//! Until there are accounts this keeps the room's neighbours out, no more: whoever knows the key may
//! read and write everything, and plain http can be listened to on the network.

mod book;
pub mod door;
mod guesses;
pub(crate) mod secret;

use std::net::IpAddr;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use store::{Beside, Store, StoreError};
use thiserror::Error;
use units::Day;

use book::Book;
use guesses::Guesses;
use secret::{Key, Token};

/// Where the key and the known phones are kept in the data folder.
const FILE: &str = "phones.txt";

/// Why the key could not be read or made.
#[derive(Debug, Error)]
pub enum PhonesError {
    /// The file could not be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The file was changed by hand, or is damaged.
    #[error(
        "line {line} of {path} cannot be read: start with --new-key, and enter the new key on \
         each phone"
    )]
    Unreadable {
        /// The file.
        path: std::path::PathBuf,
        /// Its line, from 1.
        line: usize,
    },
    /// The system gives no random numbers, and a key that can be guessed is none.
    #[error("this system gives no random numbers for a key: start it again in a minute")]
    NoRandomness,
}

/// The key, the phones that entered it, and the guesses of those that did not.
pub struct Phones {
    file: Beside,
    state: Mutex<State>,
    begun: Instant,
}

struct State {
    book: Book,
    guesses: Guesses,
}

/// What became of a key that was entered.
enum Entered {
    /// Known from now on, by this token.
    Known(Token),
    /// It is another key.
    Wrong,
    /// Not even looked at: that many wrong ones came before that it waits.
    Wait(Duration),
}

impl Phones {
    /// Reads the key of a folder and the phones known to it; makes one where there is none.
    /// `new_key` makes another and forgets all phones.
    ///
    /// # Errors
    /// [`PhonesError`].
    pub fn open(store: &Store, new_key: bool) -> Result<Self, PhonesError> {
        let file = store.beside(FILE);
        let kept = if new_key { None } else { file.read()? };
        let book = match kept {
            Some(text) => Book::read(&text)
                .map_err(|line| PhonesError::Unreadable { path: file.path().to_owned(), line })?,
            None => {
                let book = Book::new(Key::new().ok_or(PhonesError::NoRandomness)?);
                file.write(&book.text())?;
                book
            }
        };
        let state = Mutex::new(State { book, guesses: Guesses::default() });
        Ok(Self { file, state, begun: Instant::now() })
    }

    /// The key, as it is printed and typed.
    #[must_use]
    pub fn key(&self) -> String {
        self.state().book.key.to_string()
    }

    /// Whether the phone with that token entered the key once.
    fn knows(&self, token: &str) -> bool {
        self.state().book.knows(token)
    }

    /// A key is entered. Looked at and counted under one lock, so that many at once are counted
    /// like one after the other.
    fn enter(
        &self,
        typed: &str,
        from: Option<IpAddr>,
        name: &str,
        day: Day,
    ) -> Result<Entered, PhonesError> {
        let now = self.begun.elapsed();
        let mut state = self.state();
        if let Some(wait) = state.guesses.wait(from, now) {
            return Ok(Entered::Wait(wait));
        }
        if !state.book.key.is(typed) {
            state.guesses.wrong(from, now);
            return Ok(Entered::Wrong);
        }
        let token = Token::new().ok_or(PhonesError::NoRandomness)?;
        let mut book = state.book.clone();
        book.add(&token, day, name);
        self.file.write(&book.text())?;
        state.book = book;
        state.guesses.right(from);
        Ok(Entered::Known(token))
    }

    /// A page that fell over while it held the lock has left a whole state.
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
