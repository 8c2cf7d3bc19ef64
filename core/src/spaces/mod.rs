//! Room `spaces`.
