//! Bytes to text, whatever program wrote them.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// Share of unprintable characters above which bytes are taken for no text; our choice.
const MOST_CONTROL: f64 = 0.05;

/// The text of a file, without its byte order mark.
///
/// UTF-8, UTF-16 of either order with or without mark, else Windows-1252, which contains Latin-1.
///
/// # Errors
/// A sentence where the bytes are no text.
pub fn text(bytes: &[u8]) -> Result<String, String> {
    let encoding = guess(bytes);
    let (text, _, _) = encoding.decode(bytes);
    let looked_at = text.chars().take(4096);
    let (mut all, mut control) = (0u32, 0u32);
    for c in looked_at {
        all += 1;
        control += u32::from(c.is_control() && !matches!(c, '\t' | '\r' | '\n'));
    }
    if f64::from(control) > MOST_CONTROL * f64::from(all) {
        return Err("This file is no text and no workbook: save the sheet as .csv or .xlsx and \
                    choose that file"
            .to_owned());
    }
    Ok(text.into_owned())
}

fn guess(bytes: &[u8]) -> &'static Encoding {
    if let Some((encoding, _)) = Encoding::for_bom(bytes) {
        return encoding;
    }
    if let Some(encoding) = utf16_without_mark(bytes) {
        return encoding;
    }
    if std::str::from_utf8(bytes).is_ok() { UTF_8 } else { WINDOWS_1252 }
}

/// Plain letters in UTF-16 have a zero in every second byte, and only there.
fn utf16_without_mark(bytes: &[u8]) -> Option<&'static Encoding> {
    let head = &bytes[..bytes.len().min(2048) & !1];
    let pairs = head.len() / 2;
    if pairs < 2 {
        return None;
    }
    let zeros = |offset: usize| head.iter().skip(offset).step_by(2).filter(|b| **b == 0).count();
    let (first, second) = (zeros(0), zeros(1));
    if second * 3 > pairs * 2 && first * 10 < pairs {
        Some(UTF_16LE)
    } else if first * 3 > pairs * 2 && second * 10 < pairs {
        Some(UTF_16BE)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_encoding_gives_the_same_text() {
        let wanted = "Größe;♀\r\n1;2\r\n";
        let utf16 = |mark: bool, big: bool| {
            let units = mark.then_some(0xfeff).into_iter().chain(wanted.encode_utf16());
            units
                .flat_map(|u| if big { u.to_be_bytes() } else { u.to_le_bytes() })
                .collect::<Vec<_>>()
        };
        for bytes in [
            wanted.as_bytes().to_vec(),
            [b"\xef\xbb\xbf", wanted.as_bytes()].concat(),
            utf16(true, true),
            utf16(true, false),
            utf16(false, true),
            utf16(false, false),
        ] {
            assert_eq!(text(&bytes).unwrap(), wanted);
        }
        assert_eq!(text(b"Gr\xf6\xdfe \x80").unwrap(), "Größe €");
    }

    #[test]
    fn pictures_are_refused() {
        let bytes: Vec<u8> = (0..2000u32).map(|i| (i * 37 % 251) as u8).collect();
        assert!(text(&bytes).unwrap_err().contains(".csv"));
        assert_eq!(text(b"").unwrap(), "");
    }
}
