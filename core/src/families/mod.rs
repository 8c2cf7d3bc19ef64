//! Room `families`.
