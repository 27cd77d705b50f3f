//! Server-rendered pages: tonight, the round, the season, animals, the desk.
//!
//! Reading order: [`site`] (what every page shares), `asking` (addresses and forms), `frame` (what
//! stands around a page), then one module per page; `strip` draws a female's season, `writing`
//! takes the forms.

mod animal;
mod animals;
mod asking;
mod assets;
mod calendar;
mod carrying;
mod chances;
mod chart;
mod correct;
mod desk;
mod eggs;
mod failure;
mod family;
mod frame;
mod genes;
mod hatchlings;
mod history;
mod import;
mod keys;
mod learned;
mod learning;
mod notice;
mod phones;
mod refused;
mod round;
mod said;
mod season;
mod serve;
mod settings;
mod site;
mod step;
mod strip;
mod theme;
mod tonight;
mod track;
mod worked_out;
mod writing;
mod you;

use answers::rack;

pub use calendar::{CHECK_DAYS, text as calendar_text, uid as calendar_uid};
pub use carrying::Carrying;
pub use genes::read_label;
pub use phones::{Phones, PhonesError};
pub use serve::{Options, ServeError, on_this_machine, router, serve};
pub use site::{Clock, Site};
