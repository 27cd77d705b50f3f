//! Genes as the trade writes them: "Pastel Enchi 66% het Clown".
//!
//! [`read`] turns such a text into a [`Label`](genetics::Label), [`write()`](fn@write) turns it back,
//! [`target::read`] reads what a keeper hopes for. A word that is not understood becomes a
//! [`Question`] and is never dropped; nothing is guessed.

mod claims;
mod gene_words;
mod near;
mod one_gene;
mod phrase;
mod reader;
mod reading;
pub mod target;
mod token;
mod unknown_words;
mod writer;

pub use one_gene::gene;
pub use reader::read;
pub use reading::{Question, Reading, Remark, WrittenSex};
pub use writer::write;

#[cfg(test)]
mod tests;
