//! What a laboratory found.

use records::Fact;
use records::facts::Tested;
use records::words::LabFound;
use sheets::catalogue_file::builtin;
use sheets::shorthand;
use sheets::typed::error_rate;

use super::reading::Reading;
use crate::refusal::Refusal;

impl Reading<'_> {
    /// The gene is one word of the command line: `"axanthic (line A)"` in quotes.
    pub fn lab_result(&self) -> Result<Fact, Refusal> {
        let usage = || self.usage();
        let animal = self.animal(0)?;
        let typed = self.value()?;
        let gene = shorthand::gene(typed, builtin()).map_err(|asked| {
            Refusal::new(asked.sentence(), "GENE", "Write the gene\u{2019}s name.")
        })?;
        let found = match self.word(2).ok_or_else(usage)? {
            "none" | "no" | "0" => LabFound::Lacks,
            "one" | "1" => LabFound::OneCopy,
            "two" | "2" => LabFound::TwoCopies,
            word => LabFound::from_word(word).ok_or_else(usage)?,
        };
        let is_rate = self.word(3).is_some_and(|word| word.ends_with('%'));
        let error = self.word(3).filter(|_| is_rate).map(|word| {
            error_rate(word).ok_or_else(|| {
                Refusal::new(
                    format!("\"{word}\" is no error rate of a test."),
                    "WRONG IN",
                    "Give a share below 50 %, such as 0.5%, or leave it out.",
                )
            })
        });
        Ok(Fact::Tested(Tested {
            animal,
            gene: builtin().gene_name(gene).to_owned(),
            found,
            lab: self.rest(if is_rate { 4 } else { 3 }),
            error: error.transpose()?,
        }))
    }
}
