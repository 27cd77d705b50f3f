//! The journal on disk: SQLite, wire format, text export.
//!
//! The only crate that knows SQL and the written form of a record. Everyone else sees [`Store`]:
//! open a folder, append drafts, read records, ask for the colony. Reading order: [`Store`],
//! [`text`] (the journal as lines of text), then the private modules `folder`, `lock`, `sqlite`
//! and `wire`.

mod beside;
mod device;
mod error;
mod folded;
mod folder;
mod lock;
mod made_up;
mod sqlite;
mod store;
pub mod text;
mod verify;
mod wire;

pub use beside::Beside;
pub use device::{new_id, now};
pub use error::StoreError;
pub use folded::Rebuilt;
pub use lock::Holder;
pub use sqlite::{Already, Appended, Refusal, Refused};
pub use store::{Store, ZONE_SETTING};
pub use text::TextError;
pub use verify::{Finding, Verified};
pub use wire::{NEWEST as WIRE_VERSION, Row, RowSource, WireError};
