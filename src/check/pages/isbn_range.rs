//! The ISBN ranges do not know a number.
//!
//! Hyphens go where the International ISBN Agency's table of ranges puts them. A number that checks but lies in no range
//! is younger than the table, whose day the message names, or mistyped twice.
//!
//! A warning: the number is printed without hyphens.
//!
//! Way out: compare it with the agency's letter.
