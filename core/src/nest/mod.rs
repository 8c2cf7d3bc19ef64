//! Room `nest`.
