//! `genes`: what animals carry, as chances.

mod alone;

use crate::args::Genes;
use crate::refusal::Refusal;

pub fn run(args: &Genes) -> Result<String, Refusal> {
    alone::run(&args.pedigree, &args.catalogue, args.json)
}
