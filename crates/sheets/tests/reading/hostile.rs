//! Whatever comes in, reading ends and says something.

use proptest::prelude::*;
use sheets::read::read;
use sheets::sheet::{FileIn, Hints};

use crate::told::hints;

fn ends(bytes: Vec<u8>) {
    let given = bytes.len();
    let reading = read(&[FileIn { name: "x".to_owned(), bytes }], &hints());
    assert!(given == 0 || !reading.sheets.is_empty() || !reading.refused.is_empty());
    for problem in reading.sheets.iter().flat_map(|s| &s.rows).flat_map(|r| &r.problems) {
        assert!(problem.why.ends_with('.') && problem.why.len() > 10, "{problem:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        ends(bytes);
    }

    #[test]
    fn any_archive(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        ends([b"PK\x03\x04".as_slice(), &bytes, b"PK\x05\x06", &bytes].concat());
    }

    #[test]
    fn any_cells_under_known_headings(
        heading in prop::sample::select(vec![
            "ID,Name,Sex,Hatch date,Genetics,Weight,Notes", "Date,Animal,g", "Date,Animal,Prey,Qty,Ate",
            "Date,Female,How,Size (mm)", "Night,Male,Female,Lock", "Female,Male,Ovulation,Laid,Eggs,Slugs",
            "Date,Clutch,Hatchling,Sex,Looks like,Kept", "Female,Male or gene,Choice,Plan weight",
            "Record,When,Fact,Animal,Other,Value,Note", "Animal,2026-01-10,2026-02-10",
        ]),
        rows in prop::collection::vec(
            prop::collection::vec(
                prop_oneof![
                    "\\PC{0,12}", "[0-9]{1,4}[./-][0-9]{1,2}[./-][0-9]{1,4}", "-?[0-9]{0,4}[.,]?[0-9]{0,3} ?(g|mm|kg)?",
                    Just("sold 3/4/24 to Kim".to_owned()), Just("20x18".to_owned()), Just("x".to_owned()),
                ],
                0..9,
            ),
            0..6,
        ),
    ) {
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(vec![]);
        for row in &rows {
            writer.write_record(row).unwrap();
        }
        let body = String::from_utf8(writer.into_inner().unwrap()).unwrap();
        ends(format!("{heading}\n{body}").into_bytes());
    }
}

#[test]
fn hand_made_horrors_end() {
    let wide = format!("{}\n", "a,".repeat(100_000));
    let long = format!("Date,Animal,g\n2026-02-10,F03,{}\n", "9".repeat(1_000_000));
    let quotes = "\"".repeat(20_001);
    let opened = "x,\"\n".repeat(5_001);
    let nothing: [&[u8]; 14] = [
        b"",
        b"\n\n\n",
        b"\xef\xbb\xbf",
        b"\xff\xfe",
        b"\xfe\xff\0",
        b"\0\0\0\0",
        b",,,\n,,,",
        b"\"",
        b"sep=;",
        b"PK\x03\x04",
        wide.as_bytes(),
        long.as_bytes(),
        quotes.as_bytes(),
        opened.as_bytes(),
    ];
    for bytes in nothing {
        ends(bytes.to_vec());
    }
}

#[test]
fn what_is_too_large_is_refused_with_a_sentence() {
    let file = FileIn { name: "big.csv".to_owned(), bytes: vec![b'a'; (64 << 20) + 1] };
    assert!(read(&[file], &Hints::default()).refused[0].why.contains("64 MiB"));
    let file = FileIn { name: "wide.csv".to_owned(), bytes: b"a,".repeat(3000) };
    assert!(read(&[file], &Hints::default()).refused[0].why.contains("2000 columns"));
}

/// An archive that says it is small but unpacks to ten gigabytes of zeros, by hand from RFC 1951:
/// one dynamic or fixed block of 258-byte copies costs two bits each.
#[test]
fn a_bomb_is_refused_without_being_unpacked() {
    let mut bits: Vec<bool> = Vec::new();
    let push = |value: u32, n: u32, bits: &mut Vec<bool>| {
        (0..n).for_each(|i| bits.push(value >> i & 1 == 1));
    };
    // Fixed Huffman codes: literal 0 is 00110000, length 285 (258 bytes) is 11000101, distance 1 is 00000.
    push(1, 1, &mut bits);
    push(1, 2, &mut bits);
    let msb = |code: u32, n: u32, bits: &mut Vec<bool>| {
        (0..n).rev().for_each(|i| bits.push(code >> i & 1 == 1));
    };
    msb(0b0011_0000, 8, &mut bits);
    for _ in 0..700_000 {
        msb(0b1100_0101, 8, &mut bits);
        msb(0, 5, &mut bits);
    }
    msb(0, 7, &mut bits);
    let packed: Vec<u8> = bits
        .chunks(8)
        .map(|c| c.iter().enumerate().fold(0, |b, (i, on)| b | u8::from(*on) << i))
        .collect();
    let size = u32::try_from(packed.len()).unwrap().to_le_bytes();
    let name = b"xl/workbook.xml";
    let mut zip = Vec::new();
    let fields = |zip: &mut Vec<u8>| {
        zip.extend([20, 0, 0, 0, 8, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
        zip.extend(size);
        zip.extend(10u32.to_le_bytes());
        zip.extend([u8::try_from(name.len()).unwrap(), 0, 0, 0]);
    };
    zip.extend(b"PK\x03\x04");
    fields(&mut zip);
    zip.extend(name);
    zip.extend(&packed);
    let directory = u32::try_from(zip.len()).unwrap();
    zip.extend(b"PK\x01\x02\x14\x00");
    fields(&mut zip);
    zip.extend([0; 14]);
    zip.extend(name);
    let length = u32::try_from(zip.len()).unwrap() - directory;
    zip.extend(b"PK\x05\x06\0\0\0\0\x01\0\x01\0");
    zip.extend(length.to_le_bytes());
    zip.extend(directory.to_le_bytes());
    zip.extend([0, 0]);
    let reading = read(&[FileIn { name: "bomb.xlsx".to_owned(), bytes: zip }], &Hints::default());
    assert!(reading.refused[0].why.contains("unpacks to more"), "{:?}", reading.refused);
}

#[test]
fn wide_tables_of_words_end() {
    let row =
        |n: usize| (0..1_900).map(|c| format!("word{c} of{n} that")).collect::<Vec<_>>().join(",");
    let text: String = (0..40).map(|n| row(n) + "\n").collect();
    ends(text.into_bytes());
}
