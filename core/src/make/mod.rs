//! Room `make`.
