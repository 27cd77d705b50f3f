//! The door: phones that entered the key come in, nobody else does; guessing is slowed down.
//!
//! The router is served on loopback; a test header says which address the request is from.

use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, mpsc};

use axum::extract::{ConnectInfo, Request};
use axum::middleware::{self, Next};
use store::Store;
use units::{Instant, Zone};
use web::{Phones, Site};

use crate::routes;
use crate::wire::{Answer, get_with, post_from};

struct Lan {
    at: SocketAddr,
    key: String,
    dir: tempfile::TempDir,
}

const PHONE: &str = "192.168.1.20";

/// Serves an empty room to the network, with the key of the folder.
fn lan_in(dir: tempfile::TempDir, new_key: bool) -> Lan {
    let room = dir.path().join("room");
    let zone = Zone::named("Europe/Berlin").unwrap();
    let store = if Store::exists(&room) { Store::open(&room) } else { Store::create(&room, &zone) };
    let store = store.unwrap();
    let phones = Phones::open(&store, new_key).unwrap();
    let key = phones.key();
    let clock: Instant = "2026-02-10T18:00:00Z".parse().unwrap();
    let site = Site::new(store, Arc::new(move || clock)).unwrap();
    let from_there = middleware::from_fn(|mut request: Request, next: Next| {
        let from = request.headers().get("test-from").and_then(|v| v.to_str().ok());
        let from: Option<IpAddr> = from.and_then(|text| text.parse().ok());
        if let Some(from) = from {
            request.extensions_mut().insert(ConnectInfo(SocketAddr::new(from, 5000)));
        }
        next.run(request)
    });
    let pages = web::router(site, Some(phones)).layer(from_there);
    let (tell, told) = mpsc::channel();
    std::thread::spawn(move || {
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
        runtime.block_on(async {
            let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
            tell.send(listener.local_addr().unwrap()).unwrap();
            axum::serve(listener, pages).await.unwrap();
        });
    });
    Lan { at: told.recv().unwrap(), key, dir }
}

fn lan() -> Lan {
    lan_in(tempfile::tempdir().unwrap(), false)
}

impl Lan {
    fn get(&self, from: &str, path: &str, cookie: &str) -> Answer {
        get_with(self.at, path, &format!("Test-From: {from}\r\nCookie: {cookie}"))
    }

    fn post(&self, from: &str, path: &str, fields: &[(&str, &str)], cookie: &str) -> Answer {
        let more = format!("http://{}\r\nTest-From: {from}\r\nCookie: {cookie}", self.at);
        post_from(self.at, path, fields, &more)
    }

    fn enter(&self, from: &str, key: &str) -> Answer {
        self.post(from, "/key", &[("key", key), ("name", "Zoë"), ("back", "/season")], "")
    }

    /// A phone enters the key; the cookie it has then.
    fn known(&self, from: &str) -> String {
        let answer = self.enter(from, &self.key);
        assert_eq!((answer.status, answer.header("location")), (303, Some("/season")));
        token(&answer)
    }

    fn kept(&self) -> String {
        std::fs::read_to_string(self.dir.path().join("room/phones.txt")).unwrap()
    }
}

fn token(answer: &Answer) -> String {
    let line = answer.head.lines().find(|line| line.starts_with("set-cookie: phone=")).unwrap();
    assert!(line.contains("; HttpOnly") && line.contains("; SameSite=Strict"), "{line}");
    line["set-cookie: ".len()..].split(';').next().unwrap().to_owned()
}

/// What a strange phone may see.
const OPEN: [&str; 3] = ["/key", "/style.css", "/theme.css"];

#[test]
fn a_strange_phone_sees_the_key_page_and_the_style_sheets_only() {
    let lan = lan();
    let closed = routes::all().into_iter().filter(|route| !OPEN.contains(&route.path));
    let pages = closed.clone().filter(|route| route.is_page).map(|route| route.filled("F1"));
    for path in pages.chain(["/nowhere".into(), "/key/".into(), "/style.css/x".into()]) {
        let path = &path;
        let answer = lan.get(PHONE, path, "");
        assert_eq!(answer.status, 303, "{path}");
        let to = answer.header("location").unwrap();
        assert!(to.starts_with("/key?back=%2F"), "{path} to {to}");
        let asked = lan.get(PHONE, to, "");
        assert_eq!(asked.status, 200, "{path}");
        assert_eq!(asked.field("back"), *path, "and back to where they wanted to go");
    }
    for path in closed.filter(|route| route.is_form).map(|route| route.filled("F1")) {
        assert_eq!(lan.post(PHONE, &path, &[], "").status, 401, "{path}");
    }
    for path in OPEN {
        assert_eq!(lan.get(PHONE, path, "").status, 200, "{path}");
    }
    let page = lan.get(PHONE, "/key", "").body;
    assert!(page.contains("Who are you?") && !page.contains("<nav") && !page.contains(&lan.key));
}

#[test]
fn a_phone_that_enters_the_key_is_known_and_keeps_its_name() {
    let lan = lan();
    let cookie = lan.known(PHONE);
    for path in ["/", "/season", "/desk", "/you"] {
        assert_eq!(lan.get(PHONE, path, &cookie).status, 200, "{path}");
    }
    // Its token counts, not its address.
    assert_eq!(lan.get("192.168.1.99", "/season", &cookie).status, 200);
    assert_eq!(lan.get(PHONE, "/season", "").status, 303);
    let other = lan.known(PHONE);
    assert_ne!(cookie, other);
    let answer = lan.enter(PHONE, &lan.key.to_lowercase().replace('-', " "));
    assert!(answer.head.contains("set-cookie: name=Zo%C3%AB;"), "{}", answer.head);
    assert!(lan.kept().contains("Zoë"));
    let secret = cookie.strip_prefix("phone=").unwrap();
    assert_eq!(secret.len(), 64);
    assert!(!lan.kept().contains(secret), "only its hash is kept");
}

#[test]
fn what_is_like_a_token_is_none() {
    let lan = lan();
    let cookie = lan.known(PHONE);
    let hash = lan.kept().split("phone ").nth(1).unwrap()[..64].to_owned();
    let mut other = cookie.clone();
    other.pop();
    let flipped = if cookie.ends_with('0') { "1" } else { "0" };
    for forged in [
        String::new(),
        "phone=".into(),
        format!("phone={hash}"),
        format!("phone={}", lan.key),
        other.clone(),
        format!("{other}{flipped}"),
        cookie.to_uppercase(),
        format!("x{cookie}"),
        format!("phone=%{cookie}"),
    ] {
        assert_eq!(lan.get(PHONE, "/season", &forged).status, 303, "{forged}");
    }
}

#[test]
fn phones_stay_known_after_a_restart_and_a_new_key_forgets_them() {
    let first = lan();
    let cookie = first.known(PHONE);
    let (key, dir) = (first.key.clone(), first.dir);
    // The first server still holds the folder; the next one works on a copy of what is on disk.
    let copy = tempfile::tempdir().unwrap();
    std::fs::create_dir(copy.path().join("room")).unwrap();
    for file in ["journal.sqlite", "journal.sqlite-wal", "phones.txt"] {
        let from = dir.path().join("room").join(file);
        if from.exists() {
            std::fs::copy(from, copy.path().join("room").join(file)).unwrap();
        }
    }
    let again = lan_in(copy, false);
    assert_eq!(again.key, key);
    assert_eq!(again.get(PHONE, "/season", &cookie).status, 200);
    let copy = tempfile::tempdir().unwrap();
    std::fs::create_dir(copy.path().join("room")).unwrap();
    std::fs::copy(again.dir.path().join("room/phones.txt"), copy.path().join("room/phones.txt"))
        .unwrap();
    let renewed = lan_in(copy, true);
    assert_ne!(renewed.key, key);
    assert_eq!(renewed.get(PHONE, "/season", &cookie).status, 303, "forgotten");
    assert_eq!(renewed.enter(PHONE, &key).status, 403, "the old key is none");
    assert_eq!(renewed.get(PHONE, "/season", &renewed.known(PHONE)).status, 200);
}

#[test]
fn the_machine_itself_needs_no_key() {
    let lan = lan();
    for from in ["127.0.0.1", "127.8.8.8", "::1", "::ffff:127.0.0.1"] {
        assert_eq!(lan.get(from, "/season", "").status, 200, "{from}");
    }
    for from in [PHONE, "10.0.0.1", "fe80::1", "::ffff:192.168.1.20", "::", "0.0.0.0", "nobody"] {
        assert_eq!(lan.get(from, "/season", "").status, 303, "{from}");
    }
    for header in ["Forwarded: for=1.2.3.4", "X-Forwarded-For: 1.2.3.4", "Via: 1.1 x"] {
        let passed_on = get_with(lan.at, "/season", &format!("Test-From: 127.0.0.1\r\n{header}"));
        assert_eq!(passed_on.status, 303, "{header}");
    }
}

#[test]
fn wrong_keys_wait_and_even_the_right_one_is_not_looked_at_meanwhile() {
    let lan = lan();
    for n in 0..5 {
        let answer = lan.enter(PHONE, "K7QM-2XHP-9DRT");
        assert_eq!(answer.status, 403, "{n}");
        assert!(answer.body.contains("This is not the key") && !answer.body.contains("phone="));
    }
    for key in ["K7QM-2XHP-9DRT", &lan.key.clone()] {
        let answer = lan.enter(PHONE, key);
        assert_eq!(answer.status, 429);
        let wait: u64 = answer.header("retry-after").unwrap().parse().unwrap();
        assert!((1..=11).contains(&wait), "{wait}");
        assert!(!answer.head.contains("set-cookie"));
        assert!(answer.body.contains("Wait "));
    }
    assert_eq!(lan.enter("192.168.1.21", &lan.key).status, 303, "others may");
}

#[test]
fn many_addresses_together_are_looked_at_fifty_times_at_most() {
    let lan = lan();
    let mut looked = 0;
    for n in 0..70 {
        let answer = lan.enter(&format!("10.0.0.{n}"), "K7QM-2XHP-9DRT");
        assert!([403, 429].contains(&answer.status));
        looked += u32::from(answer.status == 403);
    }
    assert!((50..=51).contains(&looked), "{looked}");
}

#[test]
fn nonsense_at_the_door_is_answered_in_words() {
    let lan = lan();
    let long = "x".repeat(10_000);
    let nonsense = ["", "\u{0}", "<script>alert(1)</script>", "🐍", &long];
    for (at, text) in nonsense.into_iter().enumerate() {
        let from = format!("10.0.1.{at}");
        let key = lan.post(&from, "/key", &[("key", text), ("back", text)], "");
        assert_eq!(key.status, 403, "{text:.20}");
        let name = lan.post(&from, "/key", &[("key", "x"), ("name", text)], "");
        assert!([400, 403].contains(&name.status), "{text:.20}");
        assert!(!key.body.contains("<script>") && !name.body.contains("<script>"));
        assert_eq!(lan.get(&from, "/season", "phone=; phone=\"<b>").status, 303);
    }
    let foreign = format!("http://evil.example\r\nTest-From: {PHONE}");
    assert_eq!(post_from(lan.at, "/key", &[("key", &lan.key)], &foreign).status, 403);
    assert!(!lan.kept().contains("phone "), "nobody came in");
}

#[test]
fn where_only_this_machine_comes_no_key_is_asked_for() {
    let room = crate::room::room();
    assert_eq!(crate::wire::get(room.at, "/season").status, 200);
    assert_eq!(crate::wire::get(room.at, "/key?back=/desk").header("location"), Some("/desk"));
}

/// A calendar program has no cookie: the address alone opens it, and nothing beside it.
#[test]
fn a_calendar_is_open_by_its_address_alone() {
    let lan = lan();
    let cookie = lan.known(PHONE);
    let page = lan.post(PHONE, "/calendar", &[("name", "")], &cookie);
    let path = page.body.split("<code>http://").nth(1).unwrap().split("</code>").next().unwrap();
    let path = &path[path.find('/').unwrap()..];
    let stranger = "192.168.1.77";
    let answer = lan.get(stranger, path, "");
    assert_eq!((answer.status, answer.header("set-cookie")), (200, None));
    assert!(
        answer.body.starts_with("BEGIN:VCALENDAR\r\n")
            && answer.body.ends_with("END:VCALENDAR\r\n")
    );
    for wrong in [path.replace(&path[10..14], "0000"), path.replace(".ics", "x.ics")] {
        let answer = lan.get(stranger, &wrong, "");
        assert_eq!(answer.status, 404, "{wrong}");
        assert!(answer.body.contains("There is no such calendar"), "{wrong}");
    }
    for closed in ["/calendar", "/calendar/away", "/calendar/", path.trim_end_matches(".ics")] {
        assert_eq!(lan.get(stranger, closed, "").status, 303, "{closed}");
    }
    for closed in ["/calendar", "/calendar/away", path] {
        assert_eq!(lan.post(stranger, closed, &[], "").status, 401, "{closed}");
    }
    let which = lan.get(PHONE, "/calendar", &cookie).field("which");
    assert_eq!(lan.post(PHONE, "/calendar/away", &[("which", &which)], &cookie).status, 303);
    assert_eq!(lan.get(stranger, path, "").status, 404, "taken back");
}
