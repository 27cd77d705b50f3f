//! How large a ZIP archive is once unpacked, measured before anybody unpacks it.
//!
//! Sizes written in an archive can lie, so every entry is run through the decoder of RFC 1951 with
//! its output counted and thrown away: memory stays constant whatever comes.

use crate::limits;

/// Why an archive is not opened.
const TOO_LARGE: &str = "This workbook unpacks to more than can be read safely: delete pictures and \
                         empty sheets from it, or save the sheets as separate .csv files";
const BROKEN: &str = "This workbook is damaged or incomplete: open it in the program that made it, \
                      save it again as .xlsx and choose that file";

/// Checks that an archive is sound enough and small enough to be opened.
///
/// # Errors
/// A sentence for the keeper.
pub fn check(bytes: &[u8]) -> Result<(), String> {
    let mut total = 0;
    for (count, entry) in entries(bytes).ok_or(BROKEN)?.enumerate() {
        if count >= limits::ARCHIVE_ENTRIES {
            return Err(TOO_LARGE.to_owned());
        }
        let (method, data) = entry.ok_or(BROKEN)?;
        let left = limits::UNPACKED_BYTES.saturating_sub(total);
        total += match method {
            0 => data.len() as u64,
            8 => inflated(data, left).ok_or(BROKEN)?,
            _ => return Err(BROKEN.to_owned()),
        };
        if total > limits::UNPACKED_BYTES {
            return Err(TOO_LARGE.to_owned());
        }
    }
    Ok(())
}

fn u16_at(bytes: &[u8], at: usize) -> Option<usize> {
    let b = bytes.get(at..at.checked_add(2)?)?;
    Some(usize::from(u16::from_le_bytes([b[0], b[1]])))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<usize> {
    let b = bytes.get(at..at.checked_add(4)?)?;
    usize::try_from(u32::from_le_bytes([b[0], b[1], b[2], b[3]])).ok()
}

/// Method and packed bytes of each entry of the central directory (APPNOTE 4.3.12, 4.3.16).
fn entries(bytes: &[u8]) -> Option<impl Iterator<Item = Option<(usize, &[u8])>>> {
    let tail = bytes.len().saturating_sub(65_557);
    let end = tail + bytes[tail..].windows(4).rposition(|w| w == b"PK\x05\x06")?;
    let count = u16_at(bytes, end + 10)?;
    let mut at = u32_at(bytes, end + 16)?;
    Some((0..count).map(move |_| {
        if bytes.get(at..at.checked_add(4)?)? != b"PK\x01\x02" {
            return None;
        }
        let method = u16_at(bytes, at + 10)?;
        let packed = u32_at(bytes, at + 20)?;
        let lengths = u16_at(bytes, at + 28)? + u16_at(bytes, at + 30)? + u16_at(bytes, at + 32)?;
        let local = u32_at(bytes, at + 42)?;
        at += 46 + lengths;
        if bytes.get(local..local.checked_add(4)?)? != b"PK\x03\x04" {
            return None;
        }
        let data = local + 30 + u16_at(bytes, local + 26)? + u16_at(bytes, local + 28)?;
        Some((method, bytes.get(data..data.checked_add(packed)?)?))
    }))
}

struct Bits<'a> {
    bytes: &'a [u8],
    at: usize,
    buffer: u32,
    held: u32,
}

impl Bits<'_> {
    fn take(&mut self, n: u32) -> Option<u32> {
        while self.held < n {
            self.buffer |= u32::from(*self.bytes.get(self.at)?) << self.held;
            self.at += 1;
            self.held += 8;
        }
        let value = self.buffer & ((1 << n) - 1);
        self.buffer >>= n;
        self.held -= n;
        Some(value)
    }

    fn drop_partial_byte(&mut self) {
        self.buffer = 0;
        self.held = 0;
    }
}

/// A canonical Huffman code: how many codes have each length, and the symbols in order.
struct Code {
    counts: [u16; 16],
    symbols: Vec<u16>,
}

impl Code {
    fn of_lengths(lengths: &[u8]) -> Self {
        let mut counts = [0; 16];
        for length in lengths {
            counts[usize::from(*length & 15)] += 1;
        }
        counts[0] = 0;
        let mut symbols = Vec::with_capacity(lengths.len());
        for wanted in 1..16u8 {
            let with = lengths.iter().enumerate().filter(|(_, l)| **l == wanted);
            symbols.extend(with.map(|(symbol, _)| symbol as u16));
        }
        Self { counts, symbols }
    }

    fn next(&self, bits: &mut Bits<'_>) -> Option<u16> {
        let (mut code, mut first, mut index) = (0i32, 0i32, 0i32);
        for count in &self.counts[1..] {
            code |= i32::try_from(bits.take(1)?).ok()?;
            let count = i32::from(*count);
            if code - count < first {
                let at = usize::try_from(index + code - first).ok()?;
                return self.symbols.get(at).copied();
            }
            index += count;
            first = (first + count) << 1;
            code <<= 1;
        }
        None
    }
}

/// Extra bits of length symbols 257 to 285 and of distance symbols (RFC 1951, 3.2.5).
const LENGTH_BASE: [u16; 29] = [
    3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131,
    163, 195, 227, 258,
];
const LENGTH_EXTRA: [u8; 29] =
    [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
const ORDER: [usize; 19] = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

/// The unpacked size of a deflated stream, up to just past a limit; none where it is broken.
fn inflated(data: &[u8], limit: u64) -> Option<u64> {
    let mut bits = Bits { bytes: data, at: 0, buffer: 0, held: 0 };
    let mut total = 0u64;
    loop {
        let last = bits.take(1)? == 1;
        match bits.take(2)? {
            0 => {
                bits.drop_partial_byte();
                let length = u16_at(data, bits.at)?;
                bits.at = bits.at + 4 + length;
                if bits.at > data.len() {
                    return None;
                }
                total += length as u64;
            }
            1 => {
                let mut lengths = [8u8; 288];
                lengths[144..256].fill(9);
                lengths[256..280].fill(7);
                let codes = (Code::of_lengths(&lengths), Code::of_lengths(&[5; 30]));
                block(&mut bits, &codes, &mut total, limit)?;
            }
            2 => {
                let codes = own_codes(&mut bits)?;
                block(&mut bits, &codes, &mut total, limit)?;
            }
            _ => return None,
        }
        if last || total > limit {
            return Some(total);
        }
    }
}

fn block(bits: &mut Bits<'_>, codes: &(Code, Code), total: &mut u64, limit: u64) -> Option<()> {
    while *total <= limit {
        let symbol = usize::from(codes.0.next(bits)?);
        match symbol {
            0..256 => *total += 1,
            256 => return Some(()),
            _ => {
                let extra = bits.take(u32::from(*LENGTH_EXTRA.get(symbol - 257)?))?;
                *total += u64::from(LENGTH_BASE[symbol - 257]) + u64::from(extra);
                let distance = u32::from(codes.1.next(bits)?);
                bits.take((distance / 2).saturating_sub(1))?;
            }
        }
    }
    Some(())
}

fn own_codes(bits: &mut Bits<'_>) -> Option<(Code, Code)> {
    let literals = bits.take(5)? as usize + 257;
    let distances = bits.take(5)? as usize + 1;
    let count = bits.take(4)? as usize + 4;
    let mut lengths = [0u8; 19];
    for place in &ORDER[..count] {
        lengths[*place] = bits.take(3)? as u8;
    }
    let code = Code::of_lengths(&lengths);
    let mut all: Vec<u8> = Vec::with_capacity(320);
    while all.len() < literals + distances {
        let (value, times) = match code.next(bits)? {
            n @ 0..16 => (n as u8, 1),
            16 => (*all.last()?, 3 + bits.take(2)?),
            17 => (0, 3 + bits.take(3)?),
            _ => (0, 11 + bits.take(7)?),
        };
        all.extend(std::iter::repeat_n(value, times as usize));
    }
    let (first, second) = all.split_at(literals);
    Some((Code::of_lengths(first), Code::of_lengths(&second[..distances])))
}
