//! Measure: a number of the sheet and the sum it came from.

use crate::ground::number;

#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Measure {
    pub name: String,
    pub value: f64,
    /// `mm`, `pages`, or `°` clockwise.
    pub unit: &'static str,
    pub sum: String,
}

impl Measure {
    pub fn length(name: impl Into<String>, mm: f64, sum: impl Into<String>) -> Measure {
        Measure { name: name.into(), value: mm, unit: "mm", sum: sum.into() }
    }

    pub fn count(name: &str, pages: u32, sum: impl Into<String>) -> Measure {
        Measure { name: name.to_owned(), value: f64::from(pages), unit: "pages", sum: sum.into() }
    }

    pub fn turn(name: &str, degrees: f64, sum: impl Into<String>) -> Measure {
        Measure { name: name.to_owned(), value: degrees, unit: "°", sum: sum.into() }
    }

    /// `spine  19.32 mm  as computed`
    pub fn line(&self, name_width: usize) -> String {
        let value = format!("{} {}", number(self.value), self.unit);
        format!("{:name_width$}  {value:>12}  {}", self.name, self.sum)
    }
}
