//! Room `solid`.
