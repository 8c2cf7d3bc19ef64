//! Room `joints`.
