//! `genes`: what animals carry, as chances.

mod alone;
mod colony;

use crate::args::Genes;
use crate::refusal::Refusal;

pub fn run(args: &Genes) -> Result<String, Refusal> {
    match (&args.pedigree, &args.catalogue) {
        (Some(pedigree), Some(catalogue)) => alone::run(pedigree, catalogue, args.ask.folder.json),
        _ => colony::run(args.animal.as_deref(), &args.ask),
    }
}
