//! Identities. All are record ids in the end: a thing is known by the record that brought it in.

use std::fmt;
use std::str::FromStr;

/// One record. Never changes, never is given again.
///
/// A device makes version 7 of RFC 9562 (time-ordered). A row of a sheet gets version 8, derived
/// from what the row says, so that the same row is the same record wherever it is read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecordId(u128);

/// Text that is no record id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IdError(pub String);

impl fmt::Display for IdError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\" is no record id (32 hexadecimal digits in five groups)", self.0)
    }
}

impl std::error::Error for IdError {}

impl RecordId {
    /// Version 7 of RFC 9562: milliseconds since 1970 and ten random bytes.
    #[must_use]
    pub fn made_at(milliseconds: u64, random: [u8; 10]) -> Self {
        let mut bytes = [0; 16];
        bytes[..6].copy_from_slice(&milliseconds.to_be_bytes()[2..]);
        bytes[6..].copy_from_slice(&random);
        Self::with_version(bytes, 0x70)
    }

    /// Version 8 of RFC 9562: the first sixteen bytes of a digest of what the row says.
    #[must_use]
    pub fn of_digest(digest: [u8; 16]) -> Self {
        Self::with_version(digest, 0x80)
    }

    fn with_version(mut bytes: [u8; 16], version: u8) -> Self {
        bytes[6] = (bytes[6] & 0x0f) | version;
        bytes[8] = (bytes[8] & 0x3f) | 0x80;
        Self(u128::from_be_bytes(bytes))
    }

    /// The sixteen bytes.
    #[must_use]
    pub const fn bytes(self) -> [u8; 16] {
        self.0.to_be_bytes()
    }

    /// From the sixteen bytes, as stored.
    #[must_use]
    pub const fn from_bytes(bytes: [u8; 16]) -> Self {
        Self(u128::from_be_bytes(bytes))
    }
}

impl fmt::Display for RecordId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hex = format!("{:032x}", self.0);
        let (a, b, c) = (&hex[..8], &hex[8..12], &hex[12..16]);
        write!(f, "{a}-{b}-{c}-{}-{}", &hex[16..20], &hex[20..])
    }
}

impl fmt::Debug for RecordId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for RecordId {
    type Err = IdError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let shaped = text.len() == 36
            && text.bytes().enumerate().all(|(i, b)| match i {
                8 | 13 | 18 | 23 => b == b'-',
                _ => b.is_ascii_hexdigit(),
            });
        if !shaped {
            return Err(IdError(text.to_owned()));
        }
        u128::from_str_radix(&text.replace('-', ""), 16)
            .map(Self)
            .map_err(|_| IdError(text.to_owned()))
    }
}

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub RecordId);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

id!(
    /// One animal: the record that added it. Stays through every re-tag, sale and correction.
    AnimalId
);
id!(
    /// One clutch: the record of its laying.
    ClutchId
);
id!(
    /// Records written together and undone together, such as one import.
    BatchId
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rfc_9562_appendix_a6_example() {
        // RFC 9562, appendix A.6: 2022-02-22T14:22:22-05:00, rand_a CC3, rand_b 18C4DC0C0C07398F.
        let random = [0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f];
        let id = RecordId::made_at(0x017F_22E2_79B0, random);
        assert_eq!(id.to_string(), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
        assert_eq!(id.to_string().parse(), Ok(id));
    }

    #[test]
    fn refuses_what_is_no_id() {
        for bad in [
            "",
            "017f22e2",
            "017f22e279b07cc398c4dc0c0c07398f",
            "g17f22e2-79b0-7cc3-98c4-dc0c0c07398f",
            "+17f22e2-79b0-7cc3-98c4-dc0c0c07398f",
        ] {
            assert!(bad.parse::<RecordId>().is_err(), "{bad}");
        }
    }
}
