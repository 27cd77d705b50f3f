//! Wrong keys, counted by address and in total, and the waits that follow.

use std::collections::HashMap;
use std::net::IpAddr;
use std::time::Duration;

/// Wrong keys of one address before it waits; our choice: people mistype.
pub const FREE: u32 = 5;
/// Its first wait; each further wrong key doubles it.
const FIRST_WAIT: Duration = Duration::from_secs(10);
/// Its longest wait.
const LONGEST_WAIT: Duration = Duration::from_secs(3600);
/// Wrong keys of all addresses together before all of them wait: many addresses are easily had.
pub const FREE_IN_TOTAL: u32 = 50;
/// The wait of all. Short, for it also meets whoever knows the key.
const TOTAL_WAIT: Duration = Duration::from_secs(10);
/// Addresses counted at most; the one quiet longest is forgotten for a new one.
const MOST: usize = 1000;

/// Wrong keys so far. Time is told by the caller, as what has passed since some beginning.
#[derive(Default)]
pub struct Guesses {
    by_address: HashMap<Option<IpAddr>, Count>,
    total: Count,
}

#[derive(Clone, Copy, Default)]
struct Count {
    wrong: u32,
    last: Duration,
}

impl Guesses {
    /// How long this address has to wait yet; none where it may try.
    pub fn wait(&self, from: Option<IpAddr>, now: Duration) -> Option<Duration> {
        let own = self.by_address.get(&from).copied().unwrap_or_default();
        let mut until = Duration::ZERO;
        if own.wrong >= FREE {
            let doubled = 2u32.saturating_pow(own.wrong - FREE);
            until = own.last + FIRST_WAIT.saturating_mul(doubled).min(LONGEST_WAIT);
        }
        if self.total.wrong >= FREE_IN_TOTAL {
            until = until.max(self.total.last + TOTAL_WAIT);
        }
        until.checked_sub(now).filter(|wait| !wait.is_zero())
    }

    /// A wrong key came from there.
    pub fn wrong(&mut self, from: Option<IpAddr>, now: Duration) {
        if self.by_address.len() >= MOST && !self.by_address.contains_key(&from) {
            let quietest = self.by_address.iter().min_by_key(|(_, count)| count.last);
            if let Some(address) = quietest.map(|(address, _)| *address) {
                self.by_address.remove(&address);
            }
        }
        for count in [self.by_address.entry(from).or_default(), &mut self.total] {
            count.wrong = count.wrong.saturating_add(1);
            count.last = now;
        }
    }

    /// The right key came from there: it is no guesser.
    pub fn right(&mut self, from: Option<IpAddr>) {
        self.by_address.remove(&from);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn phone(n: u32) -> Option<IpAddr> {
        Some(std::net::Ipv4Addr::from_bits(0xc0a8_0000 + n).into())
    }

    fn seconds(n: u64) -> Duration {
        Duration::from_secs(n)
    }

    /// Keys that one address gets looked at within that many seconds, trying every second.
    fn looked_at(within: u64) -> u32 {
        let mut guesses = Guesses::default();
        let mut looked = 0;
        for now in 0..within {
            if guesses.wait(phone(1), seconds(now)).is_none() {
                guesses.wrong(phone(1), seconds(now));
                looked += 1;
            }
        }
        looked
    }

    #[test]
    fn one_address_is_slowed_down_ever_more() {
        assert_eq!(looked_at(5), 5);
        assert_eq!(looked_at(14), 5);
        assert_eq!(looked_at(15), 6, "after ten seconds");
        assert_eq!(looked_at(34), 6);
        assert_eq!(looked_at(35), 7, "after twenty more");
        let in_a_day = looked_at(86_400);
        assert!(in_a_day <= 5 + 9 + 24, "{in_a_day} in a day");
    }

    #[test]
    fn others_are_not_slowed_down_by_one_and_a_right_key_clears() {
        let mut guesses = Guesses::default();
        for _ in 0..FREE {
            assert_eq!(guesses.wait(phone(1), seconds(0)), None);
            guesses.wrong(phone(1), seconds(0));
        }
        assert_eq!(guesses.wait(phone(1), seconds(0)), Some(seconds(10)));
        assert_eq!(guesses.wait(phone(1), seconds(7)), Some(seconds(3)));
        assert_eq!(guesses.wait(phone(2), seconds(0)), None);
        assert_eq!(guesses.wait(phone(1), seconds(10)), None);
        guesses.right(phone(1));
        guesses.wrong(phone(1), seconds(11));
        assert_eq!(guesses.wait(phone(1), seconds(11)), None);
    }

    #[test]
    fn many_addresses_together_are_slowed_down_too() {
        let mut guesses = Guesses::default();
        let mut looked = 0;
        for now in 0..3600 {
            for n in 0..100 {
                if guesses.wait(phone(now * 100 + n), seconds(now.into())).is_none() {
                    guesses.wrong(phone(now * 100 + n), seconds(now.into()));
                    looked += 1;
                }
            }
        }
        assert!(looked <= FREE_IN_TOTAL + 360, "{looked} in an hour");
        assert!(guesses.by_address.len() <= MOST);
        assert_eq!(guesses.total.wrong, looked);
    }

    #[test]
    fn counting_never_runs_over() {
        let mut guesses = Guesses::default();
        for n in 0..200u64 {
            guesses.wrong(phone(1), seconds(n));
        }
        assert_eq!(guesses.wait(phone(1), seconds(199)), Some(LONGEST_WAIT));
    }
}
