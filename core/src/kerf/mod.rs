//! Room `kerf`.
