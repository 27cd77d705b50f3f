//! `serve`: the pages, on this machine only.

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;

use web::{Options, ServeError};

use crate::args::Serve;
use crate::refusal::Refusal;
use crate::{folder, genes};

/// Runs until it is stopped.
pub fn run(args: &Serve) -> Result<String, Refusal> {
    let store = folder::writing(&args.folder)?;
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, args.port));
    let options = Options {
        address,
        clock: Arc::new(store::now),
        carries: Arc::new(genes::carries),
        ready: Box::new(|bound| {
            crate::print(&format!("Open http://{bound} in a browser. Ctrl-C ends it.\n"));
        }),
    };
    web::serve(store, options).map_err(|error| match error {
        ServeError::Store(error) => error.into(),
        other => {
            Refusal::new(other.to_string(), address.to_string(), "Name another port with --port.")
        }
    })?;
    Ok(String::new())
}
