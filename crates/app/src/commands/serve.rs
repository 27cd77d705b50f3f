//! `serve`: the pages, on this machine only.

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;

use store::Store;
use web::{Options, ServeError};

use crate::args::Serve;
use crate::refusal::Refusal;
use crate::{folder, genes};

/// Runs until it is stopped.
pub fn run(args: &Serve) -> Result<String, Refusal> {
    let store = folder::writing(&args.folder)?;
    pages(store, SocketAddr::from((Ipv4Addr::LOCALHOST, args.port)), |bound| {
        crate::print(&format!("Open http://{bound} in a browser. Ctrl-C ends it.\n"));
    })
}

/// Serves the pages of an open folder and says once where they are.
pub fn pages(
    store: Store,
    address: SocketAddr,
    ready: impl FnOnce(SocketAddr) + Send + 'static,
) -> Result<String, Refusal> {
    let options = Options {
        address,
        clock: Arc::new(store::now),
        carries: Arc::new(genes::carries),
        ready: Box::new(ready),
    };
    web::serve(store, options).map_err(|error| match error {
        ServeError::Store(error) => error.into(),
        other => {
            Refusal::new(other.to_string(), address.to_string(), "Name another port with --port.")
        }
    })?;
    Ok(String::new())
}
