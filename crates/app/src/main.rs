//! The one binary. Parses the command line, asks, prints; folds every error to one place.
#![expect(clippy::print_stderr, reason = "this is the command line")]

mod args;
mod commands;
mod folder;
mod genes;
mod network;
mod pedigree;
mod refusal;
mod shapes;
mod told;
mod usage;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};
use refusal::Refusal;

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(usage) => {
            if let Some(refusal) = usage::refused(&usage) {
                complain(&refusal, std::env::args().any(|arg| arg == "--json"));
                return ExitCode::from(2);
            }
            let _ = usage.print();
            return ExitCode::from(if usage.use_stderr() { 2 } else { 0 });
        }
    };
    let as_json = args.command.wants_json();
    match run(args.command) {
        Ok(text) => {
            print(&text);
            ExitCode::SUCCESS
        }
        Err(refusal) => {
            print(&refusal.said);
            complain(&refusal, as_json);
            ExitCode::FAILURE
        }
    }
}

fn complain(refusal: &Refusal, as_json: bool) {
    if as_json {
        eprintln!("{}", refusal.json());
    } else {
        eprintln!("{}\n{}", refusal.error, refusal.remedy);
    }
}

/// A reader that closes the pipe early is no error.
fn print(text: &str) {
    use std::io::Write;
    let _ = std::io::stdout().write_all(text.as_bytes());
}

fn run(command: Command) -> Result<String, Refusal> {
    match command {
        Command::Import(args) => commands::import::run(&args),
        Command::Export(args) => commands::export::run(&args),
        Command::Rebuild(args) => commands::rebuild::run(&args),
        Command::Record(args) => commands::record::run(&args),
        Command::Verify(args) => commands::verify::run(&args),
        Command::Undo(args) => commands::undo::run(&args),
        Command::Eggs(args) => commands::eggs::run(&args),
        Command::Durations(args) => commands::durations::run(&args),
        Command::Growth(args) => commands::growth::run(&args),
        Command::Follicles(args) => commands::follicles::run(&args),
        Command::Calendar(args) => commands::calendar::run(&args),
        Command::Tonight(args) => commands::tonight::run(&args),
        Command::Due(args) => commands::due::run(&args),
        Command::Feeders(args) => commands::feeders::run(&args),
        Command::Feeding(args) => commands::feeding::run(&args),
        Command::Learned(args) => commands::learned::run(&args),
        Command::Chances(args) => commands::chances::run(&args),
        Command::Genes(args) => commands::genes::run(&args),
        Command::Kin(args) => commands::kin::run(&args),
        Command::Sire(args) => commands::sire::run(&args),
        Command::Prove(args) => commands::prove::run(&args),
        Command::Demo(args) => commands::demo::run(&args),
        Command::Serve(args) => commands::serve::run(&args),
        Command::Answer(args) => commands::answer::run(&args),
        Command::Track(args) => commands::track::run(&args),
        Command::Doubts(args) => commands::doubts::run(&args),
        Command::Setting(args) => commands::setting::run(&args),
    }
}
