//! Room `shadow`.
