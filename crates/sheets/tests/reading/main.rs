//! The reading layer from bytes to typed rows. Nothing here needs a colony.

mod dirt;
mod excerpts;
mod headings;
mod hostile;
mod pedigree_genes;
mod round_trip;
mod told;
mod workbooks;
mod yearless;
