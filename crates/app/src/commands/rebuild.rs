//! `rebuild`: everything derived, anew.

use serde_json::json;

use crate::args::InFolder;
use crate::folder;
use crate::refusal::Refusal;

pub fn run(args: &InFolder) -> Result<String, Refusal> {
    let rebuilt = folder::writing(args)?.rebuild()?;
    if args.json {
        let counts = json!({
            "records": rebuilt.records,
            "standing": rebuilt.standing,
            "animals": rebuilt.animals,
            "clutches": rebuilt.clutches,
            "doubts": rebuilt.doubts,
        });
        return Ok(format!("{counts}\n"));
    }
    Ok(format!(
        "{} records, {} of them standing: {} animals, {} clutches, {} doubts; {} ms\n",
        rebuilt.records,
        rebuilt.standing,
        rebuilt.animals,
        rebuilt.clutches,
        rebuilt.doubts,
        rebuilt.took.as_millis()
    ))
}
