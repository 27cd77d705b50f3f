//! One file per question a keeper asks.
