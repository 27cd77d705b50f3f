//! The tags of a page, with where they stand.

use std::ops::Range;

use html5gum::emitters::default::{DefaultEmitter, EndTag, StartTag, Token};
use html5gum::{HtmlString, Tokenizer};

/// One tag.
#[derive(Debug)]
pub struct Tag {
    /// Where it stands in the page.
    pub at: Range<usize>,
    /// `input`, or `/form` where one ends.
    pub name: String,
    attributes: Vec<(String, String)>,
}

impl Tag {
    /// The value of an attribute; empty for one that stands alone.
    pub fn value(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(n, _)| n == name).map(|(_, value)| value.as_str())
    }

    /// Whether it has that attribute.
    pub fn has(&self, name: &str) -> bool {
        self.value(name).is_some()
    }

    /// The tag without those attributes, and with others.
    pub fn with(&self, without: &[&str], others: &[(&str, Option<&str>)]) -> String {
        let kept = self.attributes.iter().filter(|(n, _)| !without.contains(&n.as_str()));
        let kept = kept.map(|(name, value)| (name.as_str(), Some(value.as_str())));
        let mut text = format!("<{}", self.name);
        for (name, value) in kept.chain(others.iter().copied()) {
            match value.filter(|value| !value.is_empty()) {
                Some(value) => text.push_str(&format!(" {name}=\"{}\"", escaped(value))),
                None => text.push_str(&format!(" {name}")),
            }
        }
        text.push('>');
        text
    }

    fn begins(tag: StartTag<usize>) -> Self {
        let mut attributes: Vec<_> = tag.attributes.into_iter().collect();
        attributes.sort_by_key(|(_, value)| value.span.start);
        let attributes = attributes.into_iter();
        Self {
            at: tag.span.start..tag.span.end,
            name: text(&tag.name),
            attributes: attributes.map(|(name, value)| (text(&name), text(&value))).collect(),
        }
    }

    fn ends(tag: &EndTag<usize>) -> Self {
        let name = format!("/{}", text(&tag.name));
        Self { at: tag.span.start..tag.span.end, name, attributes: Vec::new() }
    }
}

fn text(bytes: &HtmlString) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// Every tag of a page in its order.
pub fn tags(page: &str) -> Vec<Tag> {
    let mut emitter = DefaultEmitter::<usize>::new_with_span();
    emitter.naively_switch_states(true);
    let tokens = Tokenizer::new_with_emitter(page, emitter).flatten();
    let tags = tokens.filter_map(|token| match token {
        Token::StartTag(tag) => Some(Tag::begins(tag)),
        Token::EndTag(tag) => Some(Tag::ends(&tag)),
        _ => None,
    });
    tags.collect()
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_read_with_their_values() {
        let page = "<p>a <b>&#60;i&#62;</b></p>\n<input disabled hidden name=\"a\" value=\"1 &#62; &#38;#34;\">";
        let all = tags(page);
        let names: Vec<&str> = all.iter().map(|tag| tag.name.as_str()).collect();
        assert_eq!(names, ["p", "b", "/b", "/p", "input"]);
        let input = &all[4];
        assert_eq!(input.value("value"), Some("1 > &#34;"));
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
    fn a_tag_is_written_as_it_reads() {
        for typed in ["", "a \"b\" 'c'", "<&#34;>", "&amp;lt;", "1,5 °C"] {
            let all = tags("<input name=\"a\" value=\"b\" required>");
            let again = all[0].with(&["value"], &[("value", Some(typed)), ("autofocus", None)]);
            let again = &tags(&again)[0];
            assert_eq!(again.value("value"), Some(typed));
            assert_eq!(again.value("name"), Some("a"));
            assert!(again.has("required") && again.has("autofocus"));
        }
    }
}
