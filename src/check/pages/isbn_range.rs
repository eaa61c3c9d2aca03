//! An ISBN that lies in no known range.
//!
//! Hyphens go where the International ISBN Agency's table of ranges puts them. A number that checks but lies in no range
//! is newer than the table, whose date the message names, or has two typing errors.
//!
//! A warning: the number is printed without hyphens.
//!
//! Way out: compare it with the letter of the ISBN agency.
