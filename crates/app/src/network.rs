//! The addresses by which phones on the local network reach this machine.

use std::net::{Ipv4Addr, SocketAddr};

/// An address of this machine and the interface that has it.
struct Own {
    address: Ipv4Addr,
    interface: String,
}

/// Addresses that others on a network can open; none where the machine is on no network.
fn own() -> Vec<Own> {
    let found = if_addrs::get_if_addrs().unwrap_or_default();
    let mut all: Vec<Own> = found
        .into_iter()
        .filter_map(|interface| match interface.ip() {
            std::net::IpAddr::V4(address) => Some(Own { address, interface: interface.name }),
            std::net::IpAddr::V6(_) => None,
        })
        .filter(|own| !own.address.is_loopback() && !own.address.is_link_local())
        .collect();
    all.sort_by_key(|own| (!own.address.is_private(), own.address));
    all
}

/// What is printed when the pages are open to the network.
pub fn said(bound: SocketAddr, key: &str) -> String {
    let port = bound.port();
    let own: Vec<String> = own()
        .iter()
        .map(|own| format!("  http://{}:{port}  ({})\n", own.address, own.interface))
        .collect();
    let addresses = if own.is_empty() {
        "This machine is on no network: join one by Wi-Fi or cable, then start it again.\n".into()
    } else {
        format!("On a phone in the same network open\n{}", own.concat())
    };
    format!(
        "On this machine open\n  http://{}\n{addresses}\
         The key that each new phone enters once: {key}\n\
         Whoever listens in on the network can read along: use it only where you know everybody.\n\
         serve --lan --new-key makes another key and forgets all phones. Ctrl-C ends it.\n",
        web::on_this_machine(bound)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn says_the_key_and_only_addresses_that_others_reach() {
        let said = said(SocketAddr::from(([0, 0, 0, 0], 7313)), "K7QM-2XHP-9DRT");
        assert!(said.contains("  http://127.0.0.1:7313\n") && said.contains("K7QM-2XHP-9DRT"));
        assert!(!said.contains("0.0.0.0"));
        let others = said.split("On a phone").nth(1).unwrap_or_default();
        assert!(!others.contains("127.") && !others.contains("169.254."), "{others}");
    }
}
