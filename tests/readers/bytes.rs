//! bytes
