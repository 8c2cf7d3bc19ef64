//! Room `route`.
