//! Tests over the whole project live in this package's `tests/` folder.
