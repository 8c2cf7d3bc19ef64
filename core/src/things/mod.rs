//! Room `things`.
