//! Numbers of the command line, and what is said where one cannot be taken.

use std::error::Error;
use std::ops::RangeInclusive;
use std::str::FromStr;

use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::refusal::Refusal;

/// Weeks ahead.
pub fn weeks(text: &str) -> Result<u32, String> {
    within(text, 1..=26, "a whole number of weeks from 1 to 26, such as 4")
}

/// Days ahead.
pub fn days(text: &str) -> Result<u32, String> {
    within(text, 0..=400, "a whole number of days from 0 to 400, such as 14")
}

/// A port of this machine.
pub fn port(text: &str) -> Result<u16, String> {
    within(text, 0..=u16::MAX, "a port from 0 to 65535, such as 7313")
}

/// Fertile eggs.
pub fn eggs(text: &str) -> Result<usize, String> {
    within(text, 0..=usize::MAX, "a whole number of eggs, such as 7")
}

/// How many are listed.
pub fn most(text: &str) -> Result<usize, String> {
    within(text, 0..=usize::MAX, "a whole number of lines, such as 20")
}

/// An amount of money; how large it may be the command says.
pub fn amount(text: &str) -> Result<f64, String> {
    text.trim().parse().map_err(|_| "an amount with a point, such as 40 or 12.50".to_owned())
}

fn within<T: FromStr + PartialOrd>(
    text: &str,
    range: RangeInclusive<T>,
    what: &str,
) -> Result<T, String> {
    let number = text.trim().parse().ok().filter(|number| range.contains(number));
    number.ok_or_else(|| what.to_owned())
}

/// What was typed for an option and cannot be taken, with what can be; none for other mistakes.
pub fn refused(usage: &clap::Error) -> Option<Refusal> {
    let text = |kind| match usage.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        _ => None,
    };
    let (option, typed) = (text(ContextKind::InvalidArg)?, text(ContextKind::InvalidValue)?);
    let option = option.split(' ').next().unwrap_or_default();
    let what = match (usage.kind(), usage.get(ContextKind::ValidValue)) {
        (ErrorKind::ValueValidation, _) => usage.source()?.to_string(),
        (ErrorKind::InvalidValue, Some(ContextValue::Strings(all))) if !typed.is_empty() => {
            format!("one of {}", all.join(", "))
        }
        _ => return None,
    };
    let typed: String = typed.chars().take(40).collect();
    Some(Refusal::new(
        format!("\"{typed}\" cannot be taken for {option}."),
        option,
        format!("Write {what}."),
    ))
}
