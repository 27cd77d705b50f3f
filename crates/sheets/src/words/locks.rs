//! Words for what was seen of a pair.

use records::words::Lock;

const SEEN: &[&str] = &[
    "lock",
    "locked",
    "locks",
    "locked up",
    "l",
    "lk",
    "y",
    "yes",
    "x",
    "✓",
    "✔",
    "✔️",
    "√",
    "1",
    "true",
    "seen",
    "lock seen",
    "cop",
    "copulation",
    "copulated",
    "copulating",
    "mated",
    "mating",
    "in lock",
    "full lock",
    "observed",
    "confirmed",
    "confirmed lock",
    "saw lock",
    "good lock",
    "locked overnight",
    "+",
    "ja",
    "still locked",
];
const SUSPECTED: &[&str] = &[
    "?",
    "??",
    "maybe",
    "suspected",
    "possible",
    "possibly",
    "probable",
    "probably",
    "likely",
    "l?",
    "lock?",
    "locked?",
    "perhaps",
    "unsure",
    "not sure",
    "think so",
    "poss",
    "possible lock",
    "suspected lock",
    "maybe lock",
    "maybe locked",
    "y?",
    "yes?",
    "vielleicht",
    "might have",
];
const NONE_SEEN: &[&str] = &[
    "n",
    "no",
    "none",
    "0",
    "false",
    "no lock",
    "not locked",
    "none seen",
    "nothing",
    "nothing seen",
    "unlocked",
    "not seen",
    "no locks",
    "nope",
    "separate",
    "apart",
    "no interest",
    "no luck",
    "nein",
    "not mated",
    "✗",
    "✘",
    "❌",
    "no action",
    "not interested",
    "no copulation",
];
const NOT_LOOKED: &[&str] = &[
    "didn't look",
    "didnt look",
    "did not look",
    "not looked",
    "not checked",
    "unchecked",
    "nc",
    "nl",
    "dnl",
    "dnc",
    "unknown",
    "n/a",
    "na",
    "no check",
    "not observed",
    "didn't check",
    "didnt check",
    "did not check",
    "missed",
    "not watched",
    "wasn't there",
    "nobody looked",
    "unk",
];

/// Reads a filled cell; none where the word is not known.
#[must_use]
pub fn read(cell: &str) -> Option<Lock> {
    let word = super::plain(cell);
    let word = word.as_str();
    [
        (SEEN, Lock::Seen),
        (SUSPECTED, Lock::Suspected),
        (NONE_SEEN, Lock::NoneSeen),
        (NOT_LOOKED, Lock::NotLooked),
    ]
    .into_iter()
    .find(|(words, lock)| words.contains(&word) || word == lock.word())
    .map(|(_, lock)| lock)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_means_one_thing() {
        let all: Vec<&str> = [SEEN, SUSPECTED, NONE_SEEN, NOT_LOOKED].concat();
        for (at, word) in all.iter().enumerate() {
            assert!(!all[at + 1..].contains(word), "{word}");
        }
        for lock in Lock::ALL {
            assert_eq!(read(lock.word()), Some(*lock));
        }
        assert_eq!(read("Locked!"), Some(Lock::Seen));
        assert_eq!(read("Didn’t look"), Some(Lock::NotLooked));
        assert_eq!(read("purple"), None);
    }
}
