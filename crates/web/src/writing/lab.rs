//! Results from a laboratory.

use axum::response::Response;
use records::Fact;
use records::facts::Tested;
use records::words::LabFound;
use sheets::catalogue_file::builtin;
use sheets::{shorthand, typed};

use super::reading::{unanswered, words};
use super::saved;
use crate::asking::Filled;
use crate::failure::Failure;
use crate::site::Site;

/// Longest name of a laboratory and its method, in characters; our choice.
const LONGEST_LAB: usize = 200;

/// A laboratory found something of one gene.
pub async fn tested(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let typed = form.get("gene").ok_or_else(|| unanswered("which gene was tested"))?;
    let gene = shorthand::gene(typed, builtin()).map_err(|asked| {
        Failure::typed(
            format!("{}; nothing was written.", asked.to_string().trim_end_matches(['.', '?'])),
            "Choose the gene from the list.",
        )
    })?;
    let found = form.get("found").and_then(LabFound::from_word);
    let found = found.ok_or_else(|| unanswered("what was found"))?;
    let error = form.get("error").map(|text| {
        typed::error_rate(text).ok_or_else(|| {
            let text: String = text.chars().take(20).collect();
            Failure::typed(
                format!("\"{text}\" is no error rate of a test; nothing was written."),
                "Write a share below 50 %, such as 0.5, or leave it out.",
            )
        })
    });
    let fact = Fact::Tested(Tested {
        animal,
        gene: builtin().gene_name(gene).to_owned(),
        found,
        lab: words(&form, "words", LONGEST_LAB)?,
        error: error.transpose()?,
    });
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}
