//! Genes, looks, chances.
