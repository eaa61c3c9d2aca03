//! Rule limit: a number that a rule measures against, as data: its usual value, where that comes from, its range.

use crate::ground::number;
use crate::source::{Slot, Takes, Word, mm, number as bare_number, percent, pt};

/// A house, a printer or a cover may state another value, `limit RULE NAME=…`.
#[derive(Clone, Copy)]
pub struct RuleLimit {
    /// Its name, what it limits, and its usual value as the default.
    pub word: Word,
    /// Where the usual value comes from.
    pub source: &'static str,
    /// A greater number allows more; for others a smaller one does.
    pub is_most: bool,
}

/// Where many of the usual values come from.
pub const PRACTICE: &str = "common practice";
pub const GHENT: &str = "the Ghent Workgroup's 2015 specification, from memory";
pub const GS1: &str = "GS1's size guide";
pub const OURS: &str = "ours";

impl RuleLimit {
    pub const fn new(word: Word, source: &'static str) -> RuleLimit {
        RuleLimit { word, source, is_most: false }
    }

    /// One that a greater number relaxes: the most of something.
    #[must_use]
    pub const fn most(self) -> RuleLimit {
        RuleLimit { is_most: true, ..self }
    }

    /// Whether a value allows more than another.
    pub fn relaxes(&self, value: f64, other: f64) -> bool {
        if self.is_most { value > other } else { value < other }
    }

    /// In millimetres, points or as a share, as readers give it.
    pub fn usual(&self) -> f64 {
        let stated = self.word.default.and_then(|default| default.parse::<f64>().ok());
        stated.expect("a test reads every default") / if self.unit() == "%" { 100.0 } else { 1.0 }
    }

    /// Its unit as reports write it; empty for a bare number.
    pub fn unit(&self) -> &'static str {
        match self.word.takes.first().map(|slot| slot.takes) {
            Some(Takes::Length(unit, ..)) => unit.sign(),
            Some(Takes::Percent(..)) => "%",
            _ => "",
        }
    }

    /// A value as a cover states it: without its unit, shares in percent.
    pub fn counted(&self, value: f64) -> f64 {
        let counted = if self.unit() == "%" { value * 100.0 } else { value };
        (counted * 1000.0).round() / 1000.0
    }

    /// A value with its unit: `3 mm`.
    pub fn shown(&self, value: f64) -> String {
        format!("{} {}", number(self.counted(value)), self.unit()).trim_end().to_owned()
    }
}

// Short, since they stand by the dozen.

/// A limit in millimetres.
pub const fn in_mm(name: &'static str, says: &'static str, usual: &'static str, source: &'static str) -> RuleLimit {
    const SLOT: &[Slot] = &[mm("a length", 0.0, 2000.0)];
    RuleLimit::new(Word::new(name, says).takes(SLOT).default(usual), source)
}

/// A limit in points.
pub const fn in_pt(name: &'static str, says: &'static str, usual: &'static str, source: &'static str) -> RuleLimit {
    const SLOT: &[Slot] = &[pt("a size in points", 0.0, 100.0)];
    RuleLimit::new(Word::new(name, says).takes(SLOT).default(usual), source)
}

/// A limit in percent.
pub const fn in_percent(
    name: &'static str,
    says: &'static str,
    usual: &'static str,
    source: &'static str,
) -> RuleLimit {
    const SLOT: &[Slot] = &[percent(0.0, 100.0)];
    RuleLimit::new(Word::new(name, says).takes(SLOT).default(usual), source)
}

/// A bare number: pixels, a ratio, a count.
pub const fn bare(name: &'static str, says: &'static str, usual: &'static str, source: &'static str) -> RuleLimit {
    const SLOT: &[Slot] = &[bare_number("a number", 0.0, 10_000.0)];
    RuleLimit::new(Word::new(name, says).takes(SLOT).default(usual), source)
}
