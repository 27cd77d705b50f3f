//! The tags of our own pages, read back: templates write lower-case names, values in double quotes
//! and text escaped, so that a `<` always begins a tag.

use std::ops::Range;

/// One tag.
#[derive(Debug)]
pub struct Tag<'p> {
    /// Where it stands in the page.
    pub at: Range<usize>,
    /// `input`, or `/form` where one ends.
    pub name: &'p str,
    attributes: Vec<(&'p str, &'p str)>,
}

impl<'p> Tag<'p> {
    /// The value of an attribute as meant, not as escaped; empty for one that stands alone.
    pub fn value(&self, name: &str) -> Option<String> {
        self.attributes.iter().find(|(n, _)| *n == name).map(|(_, value)| unescaped(value))
    }

    /// Whether it has that attribute.
    pub fn has(&self, name: &str) -> bool {
        self.attributes.iter().any(|(n, _)| *n == name)
    }

    /// The tag without those attributes, and with others.
    pub fn with(&self, without: &[&str], others: &[(&str, Option<&str>)]) -> String {
        let mut text = format!("<{}", self.name);
        for (name, value) in self.attributes.iter().filter(|(n, _)| !without.contains(n)) {
            text.push_str(&format!(" {name}=\"{value}\""));
        }
        for (name, value) in others {
            match value {
                Some(value) => text.push_str(&format!(" {name}=\"{}\"", escaped(value))),
                None => text.push_str(&format!(" {name}")),
            }
        }
        text.push('>');
        text
    }
}

/// Every tag of a page in its order.
pub fn tags(page: &str) -> Vec<Tag<'_>> {
    let mut all = Vec::new();
    let mut at = 0;
    while let Some(begin) = page[at..].find('<').map(|found| at + found) {
        let (tag, end) = tag(page, begin);
        all.extend(tag);
        at = end;
    }
    all
}

fn tag(page: &str, begin: usize) -> (Option<Tag<'_>>, usize) {
    let is_name = |c: char| c.is_ascii_alphanumeric() || c == '/';
    let rest = &page[begin + 1..];
    let n = rest.find(|c| !is_name(c)).unwrap_or(rest.len());
    if n == 0 {
        return (None, begin + 1);
    }
    let name = &rest[..n];
    let mut at = begin + 1 + n;
    let mut attributes = Vec::new();
    loop {
        at += page[at..].len() - page[at..].trim_start_matches([' ', '\n', '/']).len();
        let rest = &page[at..];
        let end = rest.find(['=', ' ', '\n', '>']).unwrap_or(rest.len());
        if end == 0 {
            let is_whole = rest.starts_with('>');
            let to = (at + 1).min(page.len());
            return (is_whole.then_some(Tag { at: begin..to, name, attributes }), to);
        }
        let quoted = rest[end..].strip_prefix("=\"");
        let value = quoted.and_then(|value| value.split_once('"')).map(|(value, _)| value);
        attributes.push((&rest[..end], value.unwrap_or_default()));
        at += end + value.map_or(0, |value| value.len() + 3);
        if value.is_none() && rest[end..].starts_with('=') {
            return (None, at);
        }
    }
}

/// Text as a page writes it.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' | '<' | '>' | '"' | '\'' => out.push_str(&format!("&#{};", u32::from(c))),
            other => out.push(other),
        }
    }
    out
}

fn unescaped(text: &str) -> String {
    const MARKS: [(&str, char); 9] = [
        ("&#34;", '"'),
        ("&#39;", '\''),
        ("&#60;", '<'),
        ("&#62;", '>'),
        ("&#38;", '&'),
        ("&quot;", '"'),
        ("&lt;", '<'),
        ("&gt;", '>'),
        ("&amp;", '&'),
    ];
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let (mark, c) = MARKS.into_iter().find(|(m, _)| rest.starts_with(m)).unwrap_or(("&", '&'));
        out.push(c);
        rest = &rest[mark.len()..];
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_read_with_their_values() {
        let page = "<p>a <b>&#60;i&#62;</b></p>\n<input disabled hidden name=\"a\" value=\"1 &#62; &#38;#34;\">";
        let all = tags(page);
        let names: Vec<&str> = all.iter().map(|tag| tag.name).collect();
        assert_eq!(names, ["p", "b", "/b", "/p", "input"]);
        let input = &all[4];
        assert_eq!(input.value("value").as_deref(), Some("1 > &#34;"));
        assert!(input.has("hidden") && !input.has("checked"));
        assert_eq!(&page[all[1].at.clone()], "<b>");
    }

    #[test]
    fn a_broken_page_gives_what_can_be_read() {
        for page in
            ["<", "<p", "a < b", "<p a", "<p a=", "<p a=\"", "<p a=b>", "<<p>", "</", "<p é"]
        {
            assert!(tags(page).len() <= 1, "{page}");
        }
    }

    #[test]
    fn what_is_escaped_reads_back() {
        for text in ["", "a \"b\" 'c'", "<&#34;>", "&amp;lt;", "1,5 °C"] {
            assert_eq!(unescaped(&escaped(text)), text);
        }
    }
}
