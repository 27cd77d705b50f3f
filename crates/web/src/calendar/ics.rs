//! Content lines of a calendar as RFC 5545 (Desruisseaux 2009) has them.

/// Most octets of a line without its break (section 3.1).
const LINE: usize = 75;

/// Content lines, one after the other.
#[derive(Default)]
pub struct Lines(String);

impl Lines {
    /// One line: name with its parameters, then a value that needs no escapes.
    pub fn line(&mut self, name: &str, value: &str) {
        self.fold(&format!("{name}:{value}"));
    }

    /// One line whose value is text.
    pub fn text(&mut self, name: &str, text: &str) {
        self.line(name, &escaped(text));
    }

    /// All of them.
    pub fn whole(self) -> String {
        self.0
    }

    /// Folds a long line: a break, and a blank before what follows (section 3.1). Between signs
    /// only: a reader that unfolds late would else see half of one.
    fn fold(&mut self, line: &str) {
        let mut room = LINE;
        for sign in line.chars() {
            if sign.len_utf8() > room {
                self.0.push_str("\r\n ");
                room = LINE - 1;
            }
            self.0.push(sign);
            room -= sign.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

/// Text as a value (section 3.3.11): backslash, semicolon, comma and line break are escaped; other
/// control signs but the tab may not stand in it and are left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.replace("\r\n", "\n").chars() {
        match sign {
            '\\' | ';' | ',' => out.extend(['\\', sign]),
            '\n' => out.push_str("\\n"),
            '\t' => out.push('\t'),
            sign if sign.is_control() => {}
            sign => out.push(sign),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn one(name: &str, text: &str) -> String {
        let mut lines = Lines::default();
        lines.text(name, text);
        lines.whole()
    }

    /// Section 3.1: a break directly followed by one blank or tab is taken away.
    fn unfolded(text: &str) -> String {
        text.replace("\r\n ", "").replace("\r\n\t", "")
    }

    /// Section 3.3.11, read backwards.
    fn read(value: &str) -> String {
        let mut out = String::new();
        let mut signs = value.chars();
        while let Some(sign) = signs.next() {
            match (sign, sign == '\\') {
                (_, true) => match signs.next().unwrap() {
                    'n' | 'N' => out.push('\n'),
                    sign => out.push(sign),
                },
                (sign, _) => out.push(sign),
            }
        }
        out
    }

    /// RFC 5545, section 3.3.11: its example of a text of three lines.
    #[test]
    fn text_is_escaped_as_in_the_example_of_the_standard() {
        let meant = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.";
        let written = r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.";
        assert_eq!(escaped(meant), written);
        assert_eq!(escaped("a,b;c\\d:e\"f\"\u{7}\r\ng"), r#"a\,b\;c\\d:e"f"\ng"#);
    }

    /// RFC 5545, section 3.1: its example of a folded line.
    #[test]
    fn the_folded_example_of_the_standard_is_one_line() {
        let folded = "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.";
        let meant = "This is a long description that exists on a long line.";
        assert_eq!(unfolded(folded), format!("DESCRIPTION:{meant}"));
        assert_eq!(unfolded(&one("DESCRIPTION", meant)), format!("DESCRIPTION:{meant}\r\n"));
    }

    #[test]
    fn a_line_is_folded_at_75_octets_and_never_within_a_sign() {
        assert_eq!(one("X", &"a".repeat(73)), format!("X:{}\r\n", "a".repeat(73)));
        assert_eq!(one("X", &"a".repeat(74)), format!("X:{}\r\n a\r\n", "a".repeat(73)));
        // Each of these takes three octets: 2 + 24 * 3 = 74, and the next has no room.
        assert_eq!(one("X", &"–".repeat(25)), format!("X:{}\r\n –\r\n", "–".repeat(24)));
    }

    proptest! {
        #[test]
        fn whatever_is_written_is_read_again(text in "\\PC{0,300}(\n\\PC{0,60})?") {
            let written = one("DESCRIPTION", &text);
            for line in written.split_terminator("\r\n") {
                prop_assert!(line.len() <= LINE, "{} octets", line.len());
                prop_assert!(!line.contains(['\r', '\n']));
            }
            let value = unfolded(&written);
            let value = value.strip_prefix("DESCRIPTION:").unwrap().strip_suffix("\r\n").unwrap();
            prop_assert_eq!(read(value), text);
        }
    }
}
