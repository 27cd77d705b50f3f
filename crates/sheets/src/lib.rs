//! Reads files and trade shorthand into checked input; writes nothing.

pub mod catalogue_file;
pub mod kind;
pub mod meaning;
pub mod rows;
pub mod sheet;
pub mod shorthand;
