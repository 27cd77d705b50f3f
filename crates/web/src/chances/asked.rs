//! What the address asks: her, him, the wish, the eggs.

use answers::GeneChances;
use answers::gene_chances::GenotypeChance;
use answers::pair_genes::Side;
use genetics::catalogue::Mode;
use genetics::{Gene, Target};
use records::Sex;
use records::colony::Bearer;
use sheets::catalogue_file::builtin;
use sheets::codes::{has_form_of_code, near_codes};
use sheets::shorthand::{self, Question, Reading, target};

use super::words;
use crate::asking::{Fields, with_field};
use crate::failure::Failure;
use crate::site::View;

/// Longest text of genes or of a wish, in characters; our choice, far above what is written.
const LONGEST: usize = 300;

/// Chances below this are not told of a parent; our own choice.
const LEAST_TOLD: f64 = 0.005;

/// The parts of the address, as typed.
#[derive(Clone, Debug, Default)]
pub struct Query {
    /// Her code, or her genes.
    pub her: Option<String>,
    /// His code, or his genes.
    pub him: Option<String>,
    /// What is hoped for.
    pub wish: Option<String>,
    /// Fertile eggs reckoned with.
    pub eggs: Option<String>,
    /// `wish` puts the males most likely to fulfil it first.
    pub sort: Option<String>,
    /// Whether males below breeding size are reckoned too.
    pub small: Option<String>,
}

impl Query {
    pub fn of(fields: &Fields) -> Result<Self, Failure> {
        let read = |name: &str| match fields.get(name) {
            Some(text) if text.chars().count() > LONGEST => Err(Failure::typed(
                format!("That is longer than {LONGEST} characters."),
                "Write the genes alone, such as \"Pastel het Clown\".",
            )),
            text => Ok(text.map(str::to_owned)),
        };
        Ok(Self {
            her: read("her")?,
            him: read("him")?,
            wish: read("wish")?,
            eggs: read("eggs")?,
            sort: read("sort")?,
            small: read("small")?,
        })
    }

    /// The address that asks this.
    pub fn link(&self, view: &View) -> String {
        view.link(&self.path())
    }

    /// The same without its day.
    pub fn path(&self) -> String {
        let fields = [
            ("her", &self.her),
            ("him", &self.him),
            ("wish", &self.wish),
            ("eggs", &self.eggs),
            ("sort", &self.sort),
            ("small", &self.small),
        ];
        fields.into_iter().fold("/chances".to_owned(), |path, (name, value)| {
            value.as_ref().map_or_else(|| path.clone(), |value| with_field(&path, name, value))
        })
    }

    pub fn with_him(&self, him: impl Into<String>) -> Self {
        Self { him: Some(him.into()), ..self.clone() }
    }

    /// The number of eggs typed, or what is wrong with it.
    pub fn eggs(&self) -> Result<Option<usize>, String> {
        let Some(text) = &self.eggs else { return Ok(None) };
        let most = genetics::chances::MOST_EGGS;
        text.parse().ok().filter(|n| (1..=most).contains(n)).map(Some).ok_or_else(|| {
            format!("\"{text}\" is no number of eggs: write one from 1 to {most}, or nothing.")
        })
    }
}

/// A question with what could be written instead.
#[derive(Clone)]
pub struct Asks {
    /// The words in doubt.
    pub words: String,
    /// What is asked.
    pub why: String,
    /// What could be written instead, with the page that asks so where it is only typed here.
    pub choices: Vec<(String, Option<String>)>,
}

/// `again` gives the page on which `text` reads otherwise.
fn asks(question: &Question, text: &str, again: Option<&dyn Fn(String) -> String>) -> Asks {
    let instead = |choice: &String| {
        let (before, after) = (text.get(..question.at.start), text.get(question.at.end..));
        let link = again.and_then(|again| Some(again([before?, choice, after?].concat())));
        (choice.clone(), link)
    };
    Asks {
        words: question.words.clone(),
        why: match question.why.ends_with(['.', '?', '!']) {
            true => question.why.clone(),
            false => format!("{}.", question.why),
        },
        choices: question.choices.iter().map(instead).collect(),
    }
}

/// A word that has the form of a code that nobody bears.
fn nobody(view: &View, text: &str, again: &dyn Fn(String) -> String) -> Asks {
    let near = near_codes(&view.colony, text);
    let choices = near.into_iter().map(|code| (code.to_owned(), Some(again(code.to_owned()))));
    Asks {
        words: text.to_owned(),
        why: format!(
            "No animal is called {text} on {}, and no gene of the catalogue is.",
            view.day.spoken()
        ),
        choices: choices.collect(),
    }
}

/// The wish as read.
pub enum Wish {
    /// None was written.
    Unsaid,
    /// Read.
    Read(Target),
    /// Something must be answered first.
    Unclear(Asks),
}

impl Wish {
    pub fn of(query: &Query, view: &View) -> Self {
        let Some(text) = &query.wish else { return Self::Unsaid };
        match target::read(text, builtin()) {
            Ok(target) => Self::Read(target),
            Err(question) => {
                let again = |wish| Query { wish: Some(wish), ..query.clone() }.link(view);
                Self::Unclear(asks(&question, text, Some(&again)))
            }
        }
    }

    pub fn target(&self) -> Option<&Target> {
        if let Self::Read(target) = self { Some(target) } else { None }
    }

    pub fn asks(&self) -> Option<&Asks> {
        if let Self::Unclear(asks) = self { Some(asks) } else { None }
    }
}

/// One of the two, an animal of the house or one only thought of.
pub struct Parent {
    /// Place in the colony; none for one that is only thought of.
    pub place: Option<usize>,
    /// Code and name, or the genes as typed.
    pub name: String,
    /// The page of the animal.
    pub link: Option<String>,
    /// Its genes in the keeper's words; empty where nothing is written.
    pub genes: String,
    /// What was read of them.
    pub reading: Reading,
    /// What must be answered before anything can be reckoned.
    pub asks: Vec<Asks>,
}

impl Parent {
    /// An animal of the house.
    pub fn of_house(view: &View, place: usize) -> Self {
        let animal = &view.colony.animals[place];
        let genes = sheets::told::told(animal).unwrap_or_default().to_owned();
        let reading = sheets::told::read(animal, builtin());
        let asks = reading.questions.iter().map(|q| asks(q, &genes, None)).collect();
        Self {
            place: Some(place),
            name: view.called(place),
            link: Some(view.animal_link(place)),
            genes,
            reading,
            asks,
        }
    }

    /// A code goes before genes of the same spelling; an id is as good as a code.
    pub fn of_text(view: &View, text: &str, again: &dyn Fn(String) -> String) -> Self {
        let by_id = || text.parse().ok().and_then(|id| view.colony.place_of(records::AnimalId(id)));
        let place = match view.colony.bearer(text, Some(view.day)) {
            Bearer::One(place) => Some(place),
            Bearer::Several(places) => places.first().copied(),
            Bearer::Nobody => by_id(),
        };
        if let Some(place) = place {
            return Self::of_house(view, place);
        }
        let reading = shorthand::read(text, builtin()).thought_of(builtin());
        let asks = if !reading.questions.is_empty() && has_form_of_code(text) {
            vec![nobody(view, text, again)]
        } else {
            reading.questions.iter().map(|q| asks(q, text, Some(again))).collect()
        };
        Self {
            place: None,
            name: text.to_owned(),
            link: None,
            genes: text.to_owned(),
            reading,
            asks,
        }
    }

    /// What its young are reckoned from: all records, or the label of one only thought of.
    pub fn side(&self) -> Side<'_> {
        self.place.map_or(Side::Label(&self.reading.label), Side::Animal)
    }

    /// What is wrong with its sex for this side of the pair.
    pub fn wrong_sex(&self, view: &View, needed: Sex) -> Option<String> {
        let sex = view.colony.animals[self.place?].sex()?;
        let sentence = || format!("{} is a {}, and a {} is needed here.", self.name, sex, needed);
        (sex != needed).then(sentence)
    }

    /// Hidden genes with their chances by all records: "het clown 47.5 %, het hypo 14.7 %".
    pub fn hidden(&self, chances: &GeneChances) -> Option<String> {
        let place = self.place?;
        let mut told = Vec::new();
        for locus in &chances.loci {
            for allele in locus.play.alleles.iter().filter(|allele| !allele.is_wild()) {
                let gene = Gene { locus: locus.play.id, allele: *allele };
                let is_hidden = builtin().allele(gene).is_some_and(|a| a.mode == Mode::Recessive);
                let one = |g: &GenotypeChance| g.genotype.copies(*allele) == 1;
                let p: f64 =
                    locus.genotypes(place).iter().filter(|g| one(g)).map(|g| g.chance).sum();
                if is_hidden && p >= LEAST_TOLD {
                    told.push(words::het(builtin().gene_name(gene), p));
                }
            }
        }
        (!told.is_empty()).then(|| told.join(", "))
    }

    /// One sentence about what the reckoning rests on.
    pub fn rests_on(&self, whose: &str) -> String {
        if self.genes.is_empty() {
            format!(
                "No genes of {whose} are written: reckoned by relatives, and by what is common. Write them if you know them"
            )
        } else {
            self.genes.clone()
        }
    }
}
