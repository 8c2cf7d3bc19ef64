//! Room `formats`.
