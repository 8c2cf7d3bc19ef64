//! Room `material`.
