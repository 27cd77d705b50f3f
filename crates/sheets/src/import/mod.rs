//! From typed rows to records: who is meant, what is new, what clashes. Writes nothing.
//!
//! The preview holds the very drafts that a commit writes. Rows are matched by exact keys, never
//! by likeness; what needs an answer is held word for word.

mod animals;
mod answer;
mod book;
mod clutches;
mod doubtful;
mod events;
mod facts;
mod held;
mod kept;
mod key;
pub(crate) mod near;
mod preview;
mod read_as;
mod verdict;
mod waiting;

pub(crate) use facts::day as day_of;

pub use answer::{Answer, Answered, RowAnswered, answer, likely, same_question};
pub use held::{ANSWERED, LEFT_OUT};
pub use preview::{Options, preview};
pub use verdict::{Counts, FilePreview, Preview, Question, RowPreview, Verdict};
