//! The journal from outside: what it promises, and what must never get lost.

#![expect(clippy::unwrap_used, reason = "a test helper that fails should fail the test")]

mod any_draft; // random drafts of every kind
mod conformance; // the story every implementation of the journal must tell
mod damage; // folders that are not, or no longer, a journal
mod every_kind; // one made-up draft of each kind
mod formats; // texts of every released version load for ever
mod killed; // a writer killed at any moment
mod round_trip; // draft to disk or text and back
mod writers; // one writer, any number of readers
