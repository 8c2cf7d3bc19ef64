//! Room `finish`.
