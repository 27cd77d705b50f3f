//! The journal on disk: SQLite, wire format, text export.
