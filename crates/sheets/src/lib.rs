//! Reads files and trade shorthand into checked input; writes nothing.
