//! The form that was sent, found on its page again and filled with what was typed.

use super::tags::{Tag, escaped, tags};

/// A field as sent: name and value.
pub type Sent = (String, String);

/// The page a form stands on, in the form itself: the address after a refusal is that of the form.
pub const PAGE: &str = "form-page";

/// Hidden fields that differ each time a page is shown: ids of records that it would make, and the
/// way back.
fn is_made_anew(name: &str) -> bool {
    matches!(name, "record" | "second" | "third" | "batch" | "beside" | "back")
        || name.starts_with("record.")
}

/// One form of a page, by the places of its tags.
struct Form {
    open: usize,
    close: usize,
}

/// The page with that form filled in and the sentence above its fields; none where the page has no
/// form that asks the same.
pub fn filled(
    page: &str,
    address: &str,
    action: &str,
    sent: &[Sent],
    said: &str,
) -> Option<String> {
    let tags = tags(page);
    let form = forms(&tags).into_iter().find(|form| asks_the_same(&tags, form, action, sent))?;
    let changes = Filling { page, tags: &tags, form, sent, said }.changes(address);
    let mut out = String::with_capacity(page.len() + 1024);
    let mut at = 0;
    for (range, text) in changes {
        out.push_str(page.get(at..range.start)?);
        out.push_str(&text);
        at = range.end;
    }
    out.push_str(page.get(at..)?);
    Some(out)
}

fn forms(tags: &[Tag]) -> Vec<Form> {
    let opens = tags.iter().enumerate().filter(|(_, tag)| tag.name == "form");
    opens
        .filter_map(|(open, _)| {
            let close = tags[open..].iter().position(|tag| tag.name == "/form")?;
            Some(Form { open, close: open + close })
        })
        .collect()
}

/// Whether it would be sent there, and what it carries unseen is what was sent: of the same animal,
/// in the same unit. What one typed of F03 must not stand in the form of F04.
fn asks_the_same(tags: &[Tag], form: &Form, action: &str, sent: &[Sent]) -> bool {
    let inside = &tags[form.open..form.close];
    let leads = |tag: &Tag| {
        let to = tag.value(if tag.name == "form" { "action" } else { "formaction" });
        to == Some(action)
    };
    let is_post = inside[0].value("method") == Some("post");
    let agrees = |tag: &Tag| {
        let is_hidden = tag.name == "input" && tag.value("type") == Some("hidden");
        let name = tag.value("name").unwrap_or_default();
        let value = tag.value("value").unwrap_or_default();
        !is_hidden || is_made_anew(name) || sent.iter().any(|(n, v)| *n == name && *v == value)
    };
    is_post && inside.iter().any(leads) && inside.iter().all(agrees)
}

struct Filling<'a> {
    page: &'a str,
    tags: &'a [Tag],
    form: Form,
    sent: &'a [Sent],
    said: &'a str,
}

type Change = (std::ops::Range<usize>, String);

impl Filling<'_> {
    /// What is to stand in the place of what, in the order of the page.
    fn changes(&self, address: &str) -> Vec<Change> {
        let mut changes = Vec::new();
        let mut taken: Vec<&str> = Vec::new();
        let at = self.below_heading();
        changes.push((at..at, self.head(address)));
        let mut folds: Vec<usize> = self.around();
        let mut inner: Vec<usize> = Vec::new();
        for at in self.form.open + 1..self.form.close {
            match self.tags[at].name.as_str() {
                "details" => inner.push(at),
                "/details" => drop(inner.pop()),
                _ => {
                    let Some((change, is_other)) = self.field(at, &mut taken) else { continue };
                    if is_other {
                        folds.extend(&inner);
                    }
                    changes.push(change);
                }
            }
        }
        folds.sort_unstable();
        folds.dedup();
        let shut = folds.into_iter().map(|at| &self.tags[at]).filter(|tag| !tag.has("open"));
        changes.extend(shut.map(|tag| (tag.at.clone(), tag.with(&[], &[("open", None)]))));
        changes.sort_by_key(|(range, _)| range.start);
        changes
    }

    /// Where the form begins, below its heading.
    fn below_heading(&self) -> usize {
        let inside = &self.tags[self.form.open..=self.form.close];
        let has_heading = inside.get(1).is_some_and(|tag| tag.name == "h2");
        let heading = inside.iter().find(|tag| has_heading && tag.name == "/h2");
        heading.unwrap_or(&inside[0]).at.end
    }

    fn head(&self, address: &str) -> String {
        format!(
            "<p class=\"problem\" id=\"refused\" role=\"alert\" tabindex=\"-1\" autofocus>{}</p>\
             <input type=\"hidden\" name=\"{PAGE}\" value=\"{}\">",
            escaped(self.said),
            escaped(address)
        )
    }

    /// The folds in which the form stands.
    fn around(&self) -> Vec<usize> {
        let mut open = Vec::new();
        for (at, tag) in self.tags[..self.form.open].iter().enumerate() {
            match tag.name.as_str() {
                "details" => open.push(at),
                "/details" => drop(open.pop()),
                _ => {}
            }
        }
        open
    }

    /// A field as it was sent, and whether that is other than the page had it.
    fn field<'s>(&'s self, at: usize, taken: &mut Vec<&'s str>) -> Option<(Change, bool)> {
        let tag = &self.tags[at];
        match tag.name.as_str() {
            "input" => match tag.value("type") {
                Some("hidden" | "submit" | "button" | "file" | "password") => None,
                Some("radio" | "checkbox") => Some(self.choice(tag, "checked", tag.value("name")?)),
                _ => {
                    let value = self.typed(tag, taken)?;
                    let is_other = tag.value("value").unwrap_or_default() != value;
                    Some(((tag.at.clone(), self.input(tag, value)), is_other))
                }
            },
            "option" => {
                let select = self.tags[..at].iter().rfind(|tag| tag.name == "select")?;
                let name = select.value("name").filter(|_| tag.has("value"))?;
                Some(self.choice(tag, "selected", name))
            }
            "textarea" => {
                let value = self.typed(tag, taken)?;
                let end = self.tags.get(at + 1).filter(|tag| tag.name == "/textarea")?;
                let change = (tag.at.end..end.at.start, escaped(value));
                let is_other = self.page.get(change.0.clone()) != Some(change.1.as_str());
                Some((change, is_other))
            }
            _ => None,
        }
    }

    /// The value sent for a field; of several of one name, each its own.
    fn typed<'s>(&'s self, tag: &Tag, taken: &mut Vec<&'s str>) -> Option<&'s str> {
        let name = tag.value("name")?;
        let before = taken.iter().filter(|known| **known == name).count();
        let (name, value) = self.sent.iter().filter(|(n, _)| *n == name).nth(before)?;
        taken.push(name);
        Some(value)
    }

    fn input(&self, tag: &Tag, value: &str) -> String {
        let mut others = vec![("value", Some(value))];
        let typed = value.trim();
        if !typed.is_empty() && self.said.contains(&format!("\"{typed}\"")) {
            others.extend([("aria-invalid", Some("true")), ("aria-describedby", Some("refused"))]);
        }
        tag.with(&["value"], &others)
    }

    fn choice(&self, tag: &Tag, mark: &'static str, name: &str) -> (Change, bool) {
        let value = tag.value("value").unwrap_or("on");
        let is_chosen = self.sent.iter().any(|(n, v)| n == name && v == value);
        let marked: &[(&str, Option<&str>)] = if is_chosen { &[(mark, None)] } else { &[] };
        let is_other = is_chosen != tag.has(mark);
        ((tag.at.clone(), tag.with(&[mark], marked)), is_other)
    }
}
