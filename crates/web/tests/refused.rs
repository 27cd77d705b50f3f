//! A refused form comes back on its own page, filled in as it was typed.

use crate::room::{Room, room};
use crate::wire::{Answer, get, post_from};

/// What a form of a page carries unseen.
fn hidden(page: &str, action: &str) -> Vec<(String, String)> {
    let form = page.split(&format!("action=\"{action}\"")).nth(1).unwrap();
    let form = form.split("</form>").next().unwrap();
    let fields = form.split("type=\"hidden\" name=\"").skip(1);
    let value = |field: &str| field.split("value=\"").nth(1)?.split('"').next().map(str::to_owned);
    fields.map(|f| (f.split('"').next().unwrap().to_owned(), value(f).unwrap())).collect()
}

/// The first form of a page that goes there, sent with what is typed into it.
fn sent(room: &Room, path: &str, action: &str, typed: &[(&str, &str)]) -> Answer {
    sent_again(room, &get(room.at, path).body, path, (action, typed))
}

fn sent_again(
    room: &Room,
    page: &str,
    path: &str,
    (action, typed): (&str, &[(&str, &str)]),
) -> Answer {
    let hidden = hidden(page, action);
    let own = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    let all: Vec<(&str, &str)> = own.chain(typed.iter().copied()).collect();
    let from = format!("http://{0}\r\nReferer: http://{0}{path}", room.at);
    post_from(room.at, action, &all, &from)
}

/// The form as it came back.
fn form<'p>(page: &'p str, action: &str) -> &'p str {
    let form = page.split(&format!("action=\"{action}\"")).nth(1).unwrap();
    form.split("</form>").next().unwrap()
}

#[test]
fn a_slip_keeps_what_was_typed_and_says_what_is_wrong() {
    let room = room();
    let before = room.written();
    let typed = [("day", "2026-02-03"), ("grams", "1,5")];
    let page = sent(&room, "/animal/F1", "/weighed", &typed);
    assert_eq!((page.status, room.written()), (400, before));
    assert!(page.body.contains("<h1>F1 Quill</h1>"), "it is her page");
    let back = form(&page.body, "/weighed");
    assert!(back.contains("&#34;1,5&#34; is no weight of a ball python"), "{back}");
    assert!(back.contains("name=\"day\" required value=\"2026-02-03\""), "{back}");
    let field = back.split("name=\"grams\"").nth(1).unwrap().split('>').next().unwrap();
    assert!(field.contains("value=\"1,5\"") && field.contains("aria-invalid=\"true\""), "{field}");
    assert_eq!(page.body.matches("id=\"refused\"").count(), 1, "beside this form alone");

    // The address is that of the form by now; the page it stands on is not forgotten.
    let typed = [("day", "2026-02-03"), ("grams", "9999")];
    let again = sent_again(&room, &page.body, "/weighed", ("/weighed", &typed));
    assert_eq!(again.status, 400);
    assert!(form(&again.body, "/weighed").contains("value=\"9999\""));
    let typed = [("day", "2026-02-03"), ("grams", "1500")];
    let saved = sent_again(&room, &again.body, "/weighed", ("/weighed", &typed));
    assert_eq!((saved.status, room.written()), (303, before + 1));
    assert!(saved.header("location").unwrap().starts_with("/animal/F1?saved="));
}

#[test]
fn an_animal_to_be_added_keeps_every_field() {
    let room = room();
    let typed = [
        ("code", "F9"),
        ("name", "\"Ash\" <b>"),
        ("sex", "female"),
        ("genes", "pastel"),
        ("hatched", "2024-07-01"),
        ("tub", "R3-01"),
        ("grams", "fat"),
        ("day", "2026-02-09"),
    ];
    let page = sent(&room, "/animals", "/added", &typed);
    assert_eq!(page.status, 400);
    let fold = page.body.split("<summary>Add an animal").next().unwrap();
    assert!(fold.ends_with("<details class=\"new no-paper\" open>"), "the fold is open");
    let back = form(&page.body, "/added");
    for value in ["F9", "&#34;Ash&#34; &#60;b&#62;", "pastel", "2024-07-01", "R3-01", "fat"] {
        assert!(back.contains(&format!("value=\"{value}\"")), "{value}");
    }
    assert!(back.contains("value=\"female\" checked>") && !back.contains("\"male\" checked>"));
    assert!(!page.body.contains("<b>\""), "what was typed stays text");
}

#[test]
fn only_the_fold_of_the_form_opens() {
    let room = room();
    let typed = [("day", "2026-02-09"), ("eggs", "6"), ("slugs", "7"), ("kept", "with her")];
    let page = sent(&room, "/animal/F1", "/laid", &typed);
    assert_eq!(page.status, 400);
    assert!(page.body.contains("<details id=\"write-laid\" open>"));
    assert_eq!(page.body.matches(" open>").count(), 1);
    let back = form(&page.body, "/laid");
    assert!(back.contains("Count the slugs among the eggs"), "{back}");
    assert!(back.contains("name=\"kept\" value=\"with her\" checked>"), "{back}");
    let words = [("day", "2026-02-30"), ("text", "two lines\r\nof <words>")];
    let page = sent(&room, "/animal/F1", "/noted", &words);
    assert!(form(&page.body, "/noted").contains(">two lines\r\nof &#60;words&#62;</textarea>"));
}

#[test]
fn what_was_typed_of_one_animal_never_stands_in_the_form_of_another() {
    let room = room();
    let page = get(room.at, "/animal/F1").body;
    let typed = [("day", "2026-02-03"), ("grams", "1,5")];
    // Her form, sent while the browser is by now on the page of another.
    let page = sent_again(&room, &page, "/animal/F2", ("/weighed", &typed));
    assert_eq!(page.status, 400);
    assert!(!page.body.contains("F2 Sedge") && page.body.contains("Back to the page"));
    assert!(!page.body.contains("value=\"1,5\""));
}

#[test]
fn a_page_of_another_site_or_none_is_asked_for_nothing() {
    let room = room();
    let fields = hidden(&get(room.at, "/animal/F1").body, "/weighed");
    let own = fields.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    let mut all: Vec<(&str, &str)> = own.filter(|(name, _)| *name != "back").collect();
    all.extend([("day", "2026-02-03"), ("grams", "1,5")]);
    for page in ["//example.org/animal/F1", "http://example.org/", "/nowhere", "/animal/F1 x", "/é"]
    {
        let all: Vec<(&str, &str)> = all.iter().copied().chain([("form-page", page)]).collect();
        let answer = post_from(room.at, "/weighed", &all, &format!("http://{}", room.at));
        assert_eq!(answer.status, 400, "{page}");
        assert!(answer.body.contains("That did not work"), "{page}");
    }
}

#[test]
fn a_browser_that_does_not_say_where_it_was_gets_the_form_back_all_the_same() {
    let room = room();
    let fields = hidden(&get(room.at, "/animal/F1").body, "/weighed");
    let own = fields.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    let all: Vec<(&str, &str)> = own.chain([("day", "2026-02-03"), ("grams", "1,5")]).collect();
    let answer = post_from(room.at, "/weighed", &all, &format!("http://{}", room.at));
    assert_eq!(answer.status, 400);
    let back = form(&answer.body, "/weighed");
    assert!(back.contains("value=\"1,5\"") && back.contains("id=\"refused\""), "{back}");
}

#[test]
fn what_was_written_before_is_not_said_beside_what_was_not() {
    let room = room();
    let typed = [("day", "2026-02-03"), ("grams", "1500")];
    let saved = sent(&room, "/animal/F1", "/weighed", &typed);
    let to = saved.header("location").unwrap().to_owned();
    assert!(get(room.at, &to).body.contains("Written:"));
    let page = sent(&room, &to, "/weighed", &[("day", "2026-02-03"), ("grams", "x")]);
    assert_eq!(page.status, 400);
    assert!(page.body.contains("value=\"x\"") && !page.body.contains("Written:"));
}
