//! The command line as typed.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};

use crate::usage;

/// Clutchwright: a snake breeder's season, from the plan to the hatchling.
#[derive(Debug, Parser)]
#[command(name = "clutchwright", version, about)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Read sheets into the records: a preview of every row, and with --yes the commit.
    Import(Import),
    /// Write everything out: a folder of sheets and the journal as text.
    Export(Export),
    /// Drop everything derived and fold it anew from the journal.
    Rebuild(InFolder),
    /// Write one fact down.
    Record(Record),
    /// Check that the journal is whole.
    Verify(InFolder),
    /// Take back what was written last, or the record or batch of that id; says first what that is.
    Undo(Undo),
    /// Where each female stands, and every date to hatch; with --female everything of one.
    Follicles(Follicles),
    /// How long the steps of the breeding year take in this room, from ovulation to the first meal.
    Durations(Ask),
    /// How follicles grow in this room, learned from its finished cycles
    Growth(Ask),
    /// Which eggs lie where, how warm, and when they hatch.
    Eggs(Ask),
    /// What is expected and due, as a calendar: with --out a file that calendar programs open.
    Calendar(Calendar),
    /// Who goes where tonight.
    Tonight(Night),
    /// Who is due a meal, and what to thaw.
    Feeding(Ask),
    /// Feeders to buy for the coming weeks, by kind and size.
    Feeders(Feeders),
    /// Everything that comes due, by date: checks, meals, weights, events, when to call a vet.
    Due(Due),
    /// What your records say: food and growth, locks, laying again, males, slugs, hatching, waiting for ovulation.
    Learned(Ask),
    /// Chances of a planned pair, from what is known or claimed of both.
    Chances(Chances),
    /// What every animal of a pedigree carries, as chances from everything seen of all of them.
    Genes(Genes),
    /// Inbreeding, and how closely animals are related, as far as parents are written.
    Kin(Kin),
    /// Who fathered a clutch, and what its young carry.
    Sire(Sire),
    /// What proves a het cheapest: which test pair or laboratory result tells how much.
    Prove(Prove),
    /// A made-up room to try everything in, in a folder of its own; serves its pages.
    Demo(Demo),
    /// The pages, on this machine; with --lan also for phones on the network.
    Serve(Serve),
    /// Answer a held row: the row then comes in like any other.
    Answer(Answer),
    /// How well earlier forecasts held: each asked again as of then, against what came.
    Track(Ask),
    /// Records that contradict each other, and rows that wait for an answer.
    Doubts(Ask),
    /// Every setting with its value and meaning; with a name that one, with a value it is set.
    Setting(Setting),
}

impl Command {
    /// Whether the answer, and any error, is wanted as JSON.
    pub fn wants_json(&self) -> bool {
        match self {
            Self::Import(a) => a.folder.json,
            Self::Export(a) => a.folder.json,
            Self::Rebuild(a) | Self::Verify(a) => a.json,
            Self::Undo(a) => a.folder.json,
            Self::Answer(a) => a.folder.json,
            Self::Serve(a) => a.folder.json,
            Self::Demo(_) => false,
            Self::Genes(a) => a.ask.folder.json,
            Self::Kin(a) => a.ask.folder.json,
            Self::Sire(a) => a.ask.folder.json,
            Self::Prove(a) => a.ask.folder.json,
            Self::Record(a) => a.folder.json,
            Self::Follicles(a) => a.ask.folder.json,
            Self::Durations(a) | Self::Growth(a) | Self::Learned(a) => a.folder.json,
            Self::Doubts(a) | Self::Eggs(a) | Self::Feeding(a) => a.folder.json,
            Self::Track(a) => a.folder.json,
            Self::Calendar(a) => a.ask.folder.json,
            Self::Tonight(a) => a.ask.folder.json,
            Self::Due(a) => a.ask.folder.json,
            Self::Feeders(a) => a.ask.folder.json,
            Self::Chances(a) => a.ask.folder.json,
            Self::Setting(a) => a.ask.folder.json,
        }
    }
}

/// Settings.
#[derive(ClapArgs, Clone, Debug)]
pub struct Setting {
    /// The setting ("rest_after_lock"); all of them where left out.
    pub name: Option<String>,
    /// The new value, from the day asked about on; `default` takes the default again.
    pub value: Option<String>,
    #[command(flatten)]
    pub by: By,
    #[command(flatten)]
    pub ask: Ask,
}

/// Where the records are.
#[derive(ClapArgs, Clone, Debug)]
pub struct InFolder {
    /// The data folder.
    #[arg(long, env = "CLUTCHWRIGHT_DATA", default_value = "clutchwright-data")]
    pub data: PathBuf,
    /// Answer as JSON.
    #[arg(long)]
    pub json: bool,
}

/// Who writes.
#[derive(ClapArgs, Clone, Debug)]
pub struct By {
    /// Who writes this down; may be empty.
    #[arg(long, env = "CLUTCHWRIGHT_WHO", default_value = "", value_name = "NAME")]
    pub who: String,
}

/// A question as of a day.
#[derive(ClapArgs, Clone, Debug)]
pub struct Ask {
    #[command(flatten)]
    pub folder: InFolder,
    /// As of 18:00 of that day (2026-02-10); today where left out.
    #[arg(long, value_name = "DATE")]
    pub on: Option<String>,
    /// Knowing only what was written by that day.
    #[arg(long, value_name = "DATE")]
    pub known_on: Option<String>,
}

/// Follicles.
#[derive(ClapArgs, Clone, Debug)]
pub struct Follicles {
    /// Only this female, with every date, its chance and its reason.
    #[arg(long, value_name = "CODE")]
    pub female: Option<String>,
    #[command(flatten)]
    pub ask: Ask,
}

/// Calendar.
#[derive(ClapArgs, Clone, Debug)]
pub struct Calendar {
    /// The file to write, such as season.ics (RFC 5545); lines on the screen where left out.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub ask: Ask,
}

/// Tonight.
#[derive(ClapArgs, Clone, Debug)]
pub struct Night {
    #[command(flatten)]
    pub ask: Ask,
    /// Plan as if no placement had been made for this night yet.
    #[arg(long)]
    pub fresh: bool,
}

/// Feeders.
#[derive(ClapArgs, Clone, Debug)]
pub struct Feeders {
    /// How many weeks ahead.
    #[arg(long, value_name = "N", default_value_t = 4, allow_negative_numbers = true, value_parser = usage::weeks)]
    pub weeks: u32,
    #[command(flatten)]
    pub ask: Ask,
}

/// Due.
#[derive(ClapArgs, Clone, Debug)]
pub struct Due {
    /// How many days ahead are looked at.
    #[arg(long, value_name = "N", default_value_t = 14, allow_negative_numbers = true, value_parser = usage::days)]
    pub days: u32,
    #[command(flatten)]
    pub ask: Ask,
}

/// Chances of a planned pair.
#[derive(ClapArgs, Clone, Debug)]
pub struct Chances {
    /// The male: his code, or his genes ("Enchi het Clown").
    #[arg(long)]
    pub sire: String,
    /// The female: her code, or her genes.
    #[arg(long)]
    pub dam: String,
    /// What is hoped for ("clown and pastel", "super enchi or het albino", "no spider").
    #[arg(long)]
    pub target: Option<String>,
    /// Fertile eggs in the clutch; a usual clutch where left out.
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = usage::eggs)]
    pub eggs: Option<usize>,
    /// How many looks are listed.
    #[arg(long, value_name = "N", default_value_t = 200, allow_negative_numbers = true, value_parser = usage::most)]
    pub most: usize,
    #[command(flatten)]
    pub ask: Ask,
}

/// Genes of the colony, or of a pedigree of its own.
#[derive(ClapArgs, Clone, Debug)]
#[command(override_usage = "clutchwright genes [ANIMAL] [OPTIONS]\n       \
                            clutchwright genes --pedigree <FILE> --catalogue <FILE> [OPTIONS]")]
pub struct Genes {
    /// One animal, with what made its chances so; everybody where left out.
    #[arg(conflicts_with = "pedigree")]
    pub animal: Option<String>,
    /// A pedigree of its own: columns id,sire,dam,sex and what was seen.
    #[arg(long, value_name = "FILE", requires = "catalogue")]
    pub pedigree: Option<PathBuf>,
    /// Its loci: alleles, frequencies, looks, linkage (docs/methods/genes.md).
    #[arg(long, value_name = "FILE", requires = "pedigree")]
    pub catalogue: Option<PathBuf>,
    #[command(flatten)]
    pub ask: Ask,
}

/// Inbreeding and kinship.
#[derive(ClapArgs, Clone, Debug)]
pub struct Kin {
    /// Two animals; may be given several times. Left out: every female with every male of the house
    /// that could be put together, or all pairs of the file.
    #[arg(long, num_args = 2, value_names = ["A", "B"])]
    pub pair: Vec<String>,
    /// A pedigree of its own in place of the colony: columns id,sire,dam,sex and any others.
    #[arg(long, value_name = "FILE")]
    pub pedigree: Option<PathBuf>,
    /// Most pairs listed where none is named; more than that are not listed at all.
    #[arg(long, value_name = "N", default_value_t = 20_000, allow_negative_numbers = true, value_parser = usage::most)]
    pub most: usize,
    #[command(flatten)]
    pub ask: Ask,
}

/// Sire.
#[derive(ClapArgs, Clone, Debug)]
pub struct Sire {
    /// The code of a clutch, or a female, for all her clutches; where left out, every clutch of this
    /// season and the last whose father is in doubt.
    #[arg(value_name = "CLUTCH|FEMALE")]
    pub of: Option<String>,
    #[command(flatten)]
    pub ask: Ask,
}

/// Prove.
#[derive(ClapArgs, Clone, Debug)]
pub struct Prove {
    /// The animal.
    pub animal: String,
    /// The gene it may carry ("clown"); every gene in question where left out.
    pub gene: Option<String>,
    /// What a female's season spent on a test pair costs you; the setting female_season_costs where
    /// left out.
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true, value_parser = usage::amount)]
    pub season_costs: Option<f64>,
    /// Price of one laboratory result; the setting lab_test_costs where left out.
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true, value_parser = usage::amount)]
    pub lab_costs: Option<f64>,
    /// Most proofs listed for a gene.
    #[arg(long, value_name = "N", default_value_t = 10, allow_negative_numbers = true, value_parser = usage::most)]
    pub most: usize,
    #[command(flatten)]
    pub ask: Ask,
}

/// Import.
#[derive(ClapArgs, Clone, Debug)]
pub struct Import {
    /// Files or folders of sheets, or an exported folder.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    #[command(flatten)]
    pub folder: InFolder,
    /// Order of day, month and year where the sheets leave it open.
    #[arg(long, value_enum)]
    pub dates: Option<Dates>,
    /// What a column means: HEADING=MEANING, or FILE:HEADING=MEANING; `column 3` for one without
    /// a heading. May be given several times.
    #[arg(long, value_name = "COLUMN=MEANING")]
    pub map: Vec<String>,
    /// What a sheet lists: FILE=KIND.
    #[arg(long, value_name = "FILE=KIND")]
    pub kind: Vec<String>,
    /// What an empty lock cell means: none-seen (which it is if nothing is said) or not-looked; for
    /// all, or FILE=...
    #[arg(long, value_name = "MEANING")]
    pub empty_lock: Vec<String>,
    /// Sign of decimals where the sheets leave it open: comma or point; for all, or FILE=...
    #[arg(long, value_name = "SIGN")]
    pub decimal: Vec<String>,
    /// Year of the first date across a grid whose dates have none; for all, or FILE=...
    #[arg(long, value_name = "YEAR")]
    pub year: Vec<String>,
    /// Write what is in, in with doubt and held; guesses nothing.
    #[arg(long)]
    pub yes: bool,
    /// Zone of the room (Europe/Berlin), for a new data folder; the machine's where left out.
    #[arg(long)]
    pub zone: Option<String>,
    #[command(flatten)]
    pub by: By,
}

/// Order of day, month and year.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Dates {
    /// 2026-02-10
    Ymd,
    /// 10.02.2026
    Dmy,
    /// 2/10/2026
    Mdy,
}

/// Export.
#[derive(ClapArgs, Clone, Debug)]
pub struct Export {
    /// A folder that does not exist yet, or is empty.
    pub to: PathBuf,
    #[command(flatten)]
    pub folder: InFolder,
}

/// Undo.
#[derive(ClapArgs, Clone, Debug)]
pub struct Undo {
    /// A record or batch id; what was written last where left out, with its whole batch.
    pub id: Option<String>,
    /// Withdraw what was written last without being asked.
    #[arg(long)]
    pub yes: bool,
    #[command(flatten)]
    pub by: By,
    #[command(flatten)]
    pub folder: InFolder,
}

/// One fact.
#[derive(ClapArgs, Clone, Debug)]
pub struct Record {
    /// Kind of fact: added, named, genes, look, sex, retagged, moved, left, came-back, borrowed,
    /// weighed, fed, shed, in-blue, quarantine, treatment, planned, check, placed, taken-out, lock,
    /// warmed-up, settled, ovulated, resorbed, laid, incubated, reading, hatched, lab, note. A kind
    /// alone shows what follows.
    pub fact: String,
    /// The animal or the pair, and the value ("record lock M06 F13 seen").
    pub rest: Vec<String>,
    /// The day it happened; now where nothing is said.
    #[arg(long, value_name = "DATE", conflicts_with_all = ["night", "at"])]
    pub day: Option<String>,
    /// The night it speaks of, by its evening.
    #[arg(long, value_name = "DATE", conflicts_with = "at")]
    pub night: Option<String>,
    /// The moment it happened.
    #[arg(long, value_name = "TIME")]
    pub at: Option<String>,
    #[command(flatten)]
    pub by: By,
    #[command(flatten)]
    pub folder: InFolder,
}

/// Serve.
#[derive(ClapArgs, Clone, Debug)]
pub struct Serve {
    /// The port; 0 takes any free one.
    #[arg(long, default_value_t = 7313, allow_negative_numbers = true, value_parser = usage::port)]
    pub port: u16,
    /// Also for phones on the local network; each enters a key once.
    #[arg(long)]
    pub lan: bool,
    /// With --lan: another key; all phones are forgotten.
    #[arg(long, requires = "lan")]
    pub new_key: bool,
    /// The room's time zone where the folder is new, such as Europe/Berlin; else the machine's.
    #[arg(long)]
    pub zone: Option<String>,
    #[command(flatten)]
    pub folder: InFolder,
}

/// Demo.
#[derive(ClapArgs, Clone, Debug)]
pub struct Demo {
    /// The folder of the made-up room; never that of a real one.
    #[arg(long, default_value = "clutchwright-demo")]
    pub data: PathBuf,
    /// The port; another free one where it is taken, unless it was named.
    #[arg(long, allow_negative_numbers = true, value_parser = usage::port)]
    pub port: Option<u16>,
}

/// The answer to a held row.
#[derive(ClapArgs, Clone, Debug)]
pub struct Answer {
    /// The id of the held row, from `doubts --json`.
    pub record: String,
    /// What should stand in the place of what was wrong; for a sheet nobody recognised, its kind.
    pub value: String,
    /// Answer every waiting row with the same question.
    #[arg(long)]
    pub all: bool,
    #[command(flatten)]
    pub by: By,
    #[command(flatten)]
    pub folder: InFolder,
}
