//! `demo`: a made-up room in a folder of its own, with its pages.

use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::path::Path;

use store::{Store, StoreError};
use units::Day;

use crate::args::Demo;
use crate::commands::serve;
use crate::refusal::Refusal;

/// Twelve males and forty females, three seasons and a fourth under way; made by `cargo xtask
/// demo`, see `demo/README.md`.
const JOURNAL: &str = include_str!("../../../../demo/journal.jsonl");

/// The evening on which the room stands when it is made: the last one its records tell of.
const EVENING: &str = "2026-02-13";

/// Where the pages are, unless something else is there.
const PORT: u16 = 7313;

/// Makes the room where there is none, and serves it until it is stopped.
pub fn run(args: &Demo) -> Result<String, Refusal> {
    let store = open(&args.data)?;
    let port = args.port.unwrap_or_else(|| free_port(PORT));
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    let folder = args.data.display().to_string();
    serve::pages(store, address, move |bound| {
        crate::print(&format!(
            "Open http://{bound} in a browser: a made-up room, kept in {folder}. Ctrl-C ends it.\n"
        ));
    })
}

fn open(dir: &Path) -> Result<Store, Refusal> {
    if !Store::exists(dir) {
        let evening: Day = crate::folder::day(EVENING, "demo")?;
        let mut store = Store::create_from_text(dir, JOURNAL.as_bytes())?;
        store.stand_on(evening)?;
        return Ok(store);
    }
    if Store::open_read_only(dir)?.made_up_day().is_none() {
        return Err(Refusal::new(
            "This folder holds the records of a real room.",
            dir.display().to_string(),
            "Name another folder for the made-up one with --data, or open this one with serve.",
        ));
    }
    Store::open(dir).map_err(|why| match why {
        StoreError::Busy { holder, .. } if holder.address.is_some() => Refusal::new(
            "The made-up room is open already.",
            dir.display().to_string(),
            format!("Open {} in a browser.", holder.address.unwrap_or_default()),
        ),
        other => other.into(),
    })
}

/// The port wanted, or 0 for any free one where another program has it.
fn free_port(wanted: u16) -> u16 {
    TcpListener::bind((Ipv4Addr::LOCALHOST, wanted)).map_or(0, |_| wanted)
}
