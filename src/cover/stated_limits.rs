//! Stated limits: numbers of rules that a cover, or a file under it, states in place of the usual ones.

use crate::ground::{Span, Spanned};
use std::collections::BTreeMap;

/// What the printer's file asks for, whatever the cover says in its place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PrinterAsks {
    pub limits: StatedLimits,
    /// The most ink on one spot, 1 a solid.
    pub ink_limit: Option<f64>,
    /// What its press keeps pictures within.
    pub limit_inks: Option<f64>,
    /// The output condition of its press.
    pub condition: Option<String>,
}

/// By rule and name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StatedLimits(BTreeMap<(String, &'static str), Spanned<f64>>);

impl StatedLimits {
    /// In millimetres, in points, or as a share.
    pub fn state(&mut self, rule: &str, name: &'static str, value: f64, span: Span) {
        self.0.insert((rule.to_owned(), name), Spanned::new(value, span));
    }

    pub fn get(&self, rule: &str, name: &'static str) -> Option<Spanned<f64>> {
        self.0.get(&(rule.to_owned(), name)).copied()
    }
}
