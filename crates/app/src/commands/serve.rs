//! `serve`: the pages, on this machine, and with `--lan` on its network.

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;

use store::Store;
use units::Zone;
use web::{Options, Phones, PhonesError, ServeError};

use crate::args::Serve;
use crate::refusal::Refusal;
use crate::{folder, network};

/// Runs until it is stopped.
pub fn run(args: &Serve) -> Result<String, Refusal> {
    let store = opened(args)?;
    if !args.lan {
        return pages(store, SocketAddr::from((Ipv4Addr::LOCALHOST, args.port)), |bound| {
            crate::print(&format!("Open http://{bound} in a browser. Ctrl-C ends it.\n"));
        });
    }
    let phones = Phones::open(&store, args.new_key).map_err(unknown_key)?;
    let key = phones.key();
    let everywhere = SocketAddr::from((Ipv4Addr::UNSPECIFIED, args.port));
    serve(store, everywhere, Some(phones), move |bound| {
        crate::print(&network::said(bound, &key));
    })
}

/// The folder, made where there is none.
fn opened(args: &Serve) -> Result<Store, Refusal> {
    if Store::exists(&args.folder.data) {
        return folder::writing(&args.folder);
    }
    let zone = match &args.zone {
        Some(name) => Zone::named(name)
            .map_err(|e| Refusal::new(e, "--zone", "Give a name like Europe/Berlin or UTC."))?,
        None => Zone::of_this_machine(),
    };
    let store = Store::create(&args.folder.data, &zone)?;
    crate::print(&format!(
        "A new room in {}, in the time zone {}; the page Settings changes it.\n",
        args.folder.data.display(),
        zone.name()
    ));
    Ok(store)
}

/// Serves the pages of an open folder on this machine and says once where they are.
pub fn pages(
    store: Store,
    address: SocketAddr,
    ready: impl FnOnce(SocketAddr) + Send + 'static,
) -> Result<String, Refusal> {
    serve(store, address, None, ready)
}

fn serve(
    store: Store,
    address: SocketAddr,
    phones: Option<Phones>,
    ready: impl FnOnce(SocketAddr) + Send + 'static,
) -> Result<String, Refusal> {
    let options = Options { address, clock: Arc::new(store::now), phones, ready: Box::new(ready) };
    web::serve(store, options).map_err(|error| match error {
        ServeError::Store(error) => error.into(),
        other => {
            Refusal::new(other.to_string(), address.to_string(), "Name another port with --port.")
        }
    })?;
    Ok(String::new())
}

fn unknown_key(why: PhonesError) -> Refusal {
    match why {
        PhonesError::Store(error) => error.into(),
        other => {
            let text = other.to_string();
            let (what, todo) = text.rsplit_once(": ").unwrap_or((&text, "Start with --new-key."));
            Refusal::new(what, "phones.txt", todo)
        }
    }
}
