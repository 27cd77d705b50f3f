//! How a record is written down: one row of plain columns and a JSON text, by version.
//!
//! Records know nothing of this. Each version has a folder of its own that is never edited once
//! released; a new kind of fact or field begins the next version, and old rows keep theirs.

mod error;
mod row;
mod v1;

pub use error::WireError;
pub use row::{Row, RowSource};

use records::Fact;

/// The version in which new rows are written.
pub const NEWEST: u32 = 1;

/// The JSON text of a fact, in the newest version.
pub(crate) fn encode(fact: &Fact) -> Result<String, WireError> {
    serde_json::to_string(&v1::Fact::from(fact)).map_err(|e| WireError::CannotBeKept(e.to_string()))
}

/// Reads the JSON text of a fact as the given version wrote it.
pub(crate) fn decode(version: u32, body: &str) -> Result<Fact, WireError> {
    match version {
        1 => serde_json::from_str::<v1::Fact>(body)
            .map(Fact::from)
            .map_err(|e| WireError::NotUnderstood(e.to_string())),
        newer => Err(WireError::NewerVersion(newer)),
    }
}
