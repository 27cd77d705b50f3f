//! Short excerpts of sheets as a keeper keeps them, errors included.

use crate::told::{hints, told};
use sheets::kind::SheetKind;
use sheets::read::read;
use sheets::sheet::FileIn;

const ANIMALS: &str = "ID,Name,Sex,Hatch date,Genetics,Sire,Dam,Weight (g),Tub,Notes\r\n\
F22,Cobble,0.1,2016-07-07,het Piebald,,,\"2,234\",R2-02,sold 2022-07-16\r\n\
F23,Nettle,0.1,2021-07-04,orange dream het axanthic (line A) 50% Het Piebald,M08,F22,\"2,096\",R2-03,\r\n\
M09,Campion,1.0,2021-06-29,mojave 50% Het Axanthic (Line A),M03,F14,993,R3-05,\r\n";
const WEIGHTS: &str = "Date,Animal,g\r\n2020-04-01,F08,\"1,734\"\r\n2020-04-04,M07,928\r\n2020-10-12,F18,\"8,858\"\r\n";
const FEEDINGS: &str = "Date,Animal,Prey,Qty,Ate\r\n2020-03-05,M05,small rat,1,yes\r\n2020-03-06,F10,medium rat,1,ate\r\n2026-02-09,F09,medium rat,1,refused\r\n";
const CHECKS: &str = "Date,Female,How,Size (mm)\r\n2020-11-08,F07,scan,16.0\r\n2020-11-13,F06,felt,pea\r\n2020-11-21,F16,felt,nothing\r\n2024-02-24,F03,felt,marble-ping pong\r\n2024-02-27,F04,scan,108.0\r\n";
const NIGHTS: &str = "Night,Male,Female,Lock\r\n2020-11-04,M01,F10,\r\n2020-11-06,M04,F07,lock\r\n";
const CLUTCHES: &str = "Female,Male,Ovulation,Pre-lay shed,Laid,Eggs,Slugs,Hatched on,Hatchlings\r\nF10,M01,2021-01-24,2021-02-11,2021-03-11,7,2,2021-05-09,4\r\nF30,M16,2026-02-10,,,,,,\r\n";
const HATCHLINGS: &str = "Date,Clutch,Hatchling,Dam,Sire,Sex,Looks like,Weight,Kept\r\n2021-05-09,C21-01,C21-01-1,F10,M01,0.1,normal,66,\r\n2021-07-04,C21-03,C21-03-2,F22,M08,0.1,orange dream,59,kept as F23\r\n";

#[test]
fn animals() {
    assert_eq!(
        told(ANIMALS),
        "animals\n\
        2 F22 Cobble female 2016-07-07 [het Piebald] _x_ 2234g R2-02 sold 2022-07-16 to _\n\
        3 F23 Nettle female 2021-07-04 [orange dream het axanthic (line A) 50% Het Piebald] M08xF22 2096g R2-03\n\
        4 M09 Campion male 2021-06-29 [mojave 50% Het Axanthic (Line A)] M03xF14 993g R3-05"
    );
}

#[test]
fn weights() {
    assert_eq!(
        told(WEIGHTS),
        "weights\n2 2020-04-01 F08 1734 g\n3 2020-04-04 M07 928 g\n\
        4 ? g: 8,858 g is no possible weight of a ball python (20 to 6,000 g). Perhaps a digit too many, \
        or a decimal point was lost. Look it up and correct it."
    );
}

#[test]
fn feedings() {
    assert_eq!(
        told(FEEDINGS),
        "feedings\n2 2020-03-05 M05 1 small rat taken\n\
        3 2020-03-06 F10 1 medium rat taken\n4 2026-02-09 F09 1 medium rat refused"
    );
}

#[test]
fn checks() {
    assert_eq!(
        told(CHECKS),
        "follicle checks\n2 2020-11-08 F07 16 mm\n3 2020-11-13 F06 felt pea (0)\n\
        4 2020-11-21 F16 nothing felt\n5 2024-02-24 F03 felt marble-ping pong (1)\n\
        6 ? Size (mm): 108 mm is no possible size of a follicle (1 to 60 mm). Perhaps a digit too many, \
        or a decimal point was lost. Look it up and correct it."
    );
}

#[test]
fn nights() {
    assert_eq!(
        told(NIGHTS),
        "nights\n2 2020-11-04 M01 F10 none seen (empty)\n3 2020-11-06 M04 F07 seen"
    );
}

#[test]
fn clutches() {
    assert_eq!(
        told(CLUTCHES),
        "clutches\n2 _ F10 M01 2021-01-24 2021-02-11 2021-03-11 2021-05-09 7/2/4 _g\n\
        3 _ F30 M16 2026-02-10 _ _ _ _/_/_ _g"
    );
}

#[test]
fn hatchlings() {
    assert_eq!(
        told(HATCHLINGS),
        "hatchlings\n2 2021-05-09 C21-01 C21-01-1 M01xF10 female [normal] 66g\n\
        3 2021-07-04 C21-03 C21-03-2 M08xF22 female [orange dream] 59g kept F23"
    );
}

#[test]
fn the_name_of_a_file_says_nothing() {
    let all = [ANIMALS, WEIGHTS, FEEDINGS, CHECKS, NIGHTS, CLUTCHES, HATCHLINGS];
    let files: Vec<FileIn> = all
        .iter()
        .map(|t| FileIn { name: "clutches.csv".into(), bytes: t.as_bytes().to_vec() })
        .collect();
    let kinds: Vec<_> = read(&files, &hints()).sheets.iter().map(|s| s.kind).collect();
    assert_eq!(kinds, SheetKind::ALL[..7].iter().map(|k| Some(*k)).collect::<Vec<_>>());
}
