//! Why a row could not be read or written.

use thiserror::Error;

use super::NEWEST;

/// Why a row could not be read or written.
#[derive(Debug, Error, Clone, PartialEq, Eq)]
pub enum WireError {
    /// A later program wrote it.
    #[error(
        "it was written in version {0} and this program reads up to version {NEWEST}: install the \
         newest program and open the folder again"
    )]
    NewerVersion(u32),
    /// The text does not read as its version says it should.
    #[error(
        "its text is not understood ({0}): if a later program wrote it, install that one; if the \
         text was changed by hand or damaged, restore the journal from its last text export"
    )]
    NotUnderstood(String),
    /// Something in it has no written form.
    #[error("it cannot be written so that it reads back the same ({0}): correct the value")]
    CannotBeKept(String),
}
