//! What a keeper writes down, checked once, then immutable; the colony folded from it.
