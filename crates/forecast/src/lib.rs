//! Follicle growth and what follows from it.
