//! Who goes where tonight: bands, rules, exact assignment, reasons.
