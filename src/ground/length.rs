//! Length: a finite measure on paper, kept in millimetres.

use std::fmt;

pub const MM_PER_INCH: f64 = 25.4;
pub const PT_PER_INCH: f64 = 72.0;
pub const MM_PER_PT: f64 = MM_PER_INCH / PT_PER_INCH;

/// A finite length. The unit never shows in arithmetic; ask for it at the door.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

impl Length {
    /// `None` when the number is not finite.
    pub fn from_mm(mm: f64) -> Option<Length> {
        mm.is_finite().then_some(Length(mm))
    }

    pub fn from_pt(pt: f64) -> Option<Length> {
        Length::from_mm(pt * MM_PER_PT)
    }

    pub fn from_inch(inch: f64) -> Option<Length> {
        Length::from_mm(inch * MM_PER_INCH)
    }

    pub fn mm(self) -> f64 {
        self.0
    }

    pub fn pt(self) -> f64 {
        self.0 / MM_PER_PT
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", number(self.0))
    }
}

/// A number as a person writes it: at most three decimals, no trailing zeros.
pub fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inch_and_point_are_exact() {
        // 1 in = 25.4 mm by definition (international inch, 1959); 1 pt = 1/72 in (ISO 32000, user space unit).
        assert_eq!(Length::from_inch(1.0).map(Length::mm), Some(25.4));
        let pt = Length::from_pt(72.0).expect("finite");
        assert!((pt.mm() - 25.4).abs() < 1e-12);
        assert!(Length::from_mm(f64::NAN).is_none());
    }

    #[test]
    fn numbers_read_plainly() {
        assert_eq!(number(19.8), "19.8");
        assert_eq!(number(-0.0001), "0");
        assert_eq!(number(12.0), "12");
    }
}
