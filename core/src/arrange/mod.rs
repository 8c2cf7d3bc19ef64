//! Room `arrange`.
