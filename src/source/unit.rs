//! Unit: what a bare number of lengths means.

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Mm,
    Pt,
}

impl Unit {
    pub fn sign(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Pt => "pt",
        }
    }

    pub fn word(self) -> &'static str {
        match self {
            Unit::Mm => "millimetres",
            Unit::Pt => "points",
        }
    }
}
