//! The address book, read from its source, so that a page added tomorrow is walked tomorrow.

/// The sources that name addresses.
const BOOKS: [&str; 2] = [include_str!("../src/serve.rs"), include_str!("../src/phones/door.rs")];

/// One entry.
#[derive(Clone, Debug)]
pub struct Route {
    /// Its address, with parts like `{code}` left open.
    pub path: &'static str,
    /// Whether it is a page.
    pub is_page: bool,
    /// Whether it takes a form.
    pub is_form: bool,
}

impl Route {
    /// Whether an address (without what is behind the `?`) is of this entry.
    pub fn is(&self, address: &str) -> bool {
        let (mine, theirs) = (self.path.split('/'), address.split('/'));
        mine.clone().count() == theirs.clone().count()
            && mine.zip(theirs).all(|(a, b)| a == b || (a.starts_with('{') && !b.is_empty()))
    }

    /// The address with every open part filled.
    pub fn filled(&self, with: &str) -> String {
        let part = |part: &str| {
            if part.starts_with('{') { crate::wire::escaped(with) } else { part.to_owned() }
        };
        self.path.split('/').map(part).collect::<Vec<_>>().join("/")
    }
}

/// Every entry.
pub fn all() -> Vec<Route> {
    let entries = BOOKS.into_iter().flat_map(|book| book.split(".route(").skip(1));
    let routes: Vec<Route> = entries
        .map(|entry| {
            let (path, rest) = entry.trim_start()[1..].split_once('"').unwrap();
            let ends =
                ["\n        .", ";\n", "\n}"].map(|end| rest.find(end).unwrap_or(rest.len()));
            let rest = &rest[..ends.into_iter().min().unwrap()];
            Route { path, is_page: rest.contains("get("), is_form: rest.contains("post(") }
        })
        .collect();
    assert!(routes.len() > 35, "the sources are read as they are written: {}", routes.len());
    assert!(routes.iter().all(|route| route.is_page || route.is_form));
    routes
}
