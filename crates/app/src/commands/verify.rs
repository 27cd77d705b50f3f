//! `verify`: is the journal whole?

use serde_json::json;

use crate::args::InFolder;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &InFolder) -> Result<String, Refusal> {
    let verified = folder::reading(args)?.verify()?;
    let findings: Vec<String> = verified.findings.iter().map(ToString::to_string).collect();
    let said = if args.json {
        let whole = json!({
            "records": verified.records, "sha256": verified.digest, "findings": findings,
        });
        format!("{whole}\n")
    } else if findings.is_empty() {
        format!("{} records, all whole. SHA-256 {}\n", verified.records, verified.digest)
    } else {
        format!("{} records.\n{}\n", verified.records, findings.join("\n"))
    };
    if findings.is_empty() {
        return Ok(said);
    }
    let error = format!("The journal has {} faults.", findings.len());
    let remedy = "Copy the folder before anything else, then export what can be read.";
    Err(Refusal { said, ..Refusal::new(error, args.data.display().to_string(), remedy) })
}
