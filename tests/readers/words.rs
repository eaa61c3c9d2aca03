//! words
