mod questions;
mod room;
mod round_trip;
mod targets;
mod trade;
mod worked;

use std::sync::LazyLock;

use genetics::Catalogue;

static BUILTIN: LazyLock<&Catalogue> = LazyLock::new(crate::catalogue_file::builtin);
