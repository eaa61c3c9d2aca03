//! Palette: the swatches of a cover, by name, in ink.

use crate::assets::nearest;
use crate::ground::{Findings, Ink, Span, Spanned};
use std::collections::BTreeMap;

#[derive(Clone, Debug, PartialEq)]
pub struct Palette {
    inks: BTreeMap<String, Spanned<Ink>>,
}

impl Default for Palette {
    /// Two need no saying: bare paper and solid black.
    fn default() -> Palette {
        let inks = [("paper", Ink::PAPER), ("black", Ink::black(1.0))];
        let inks = inks
            .into_iter()
            .map(|(name, ink)| (name.to_owned(), Spanned { value: ink, ..Spanned::new(Ink::PAPER, Span::default()) }));
        Palette { inks: inks.collect() }
    }
}

impl Palette {
    pub fn insert(&mut self, name: String, ink: Spanned<Ink>) {
        self.inks.insert(name, ink);
    }

    pub fn get(&self, name: &str) -> Option<&Ink> {
        self.inks.get(name).map(|ink| &ink.value)
    }

    /// The ink of a name; black, and an error, when nobody defined it.
    pub fn ink(&self, findings: &mut Findings, name: &Spanned<String>) -> Ink {
        if let Some(ink) = self.get(&name.value) {
            return ink.clone();
        }
        let known = self.inks.keys().map(String::as_str);
        let help = match nearest(&name.value, known.clone()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("swatches are {}", known.collect::<Vec<_>>().join(", ")),
        };
        findings.error(name.span, format!("there is no swatch `{}`", name.value), help);
        Ink::black(1.0)
    }

    /// Every swatch and where it was stated.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Spanned<Ink>)> {
        self.inks.iter().map(|(name, ink)| (name.as_str(), ink))
    }
}
