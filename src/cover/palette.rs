//! Palette: the swatches of a cover, by name, in ink.

use crate::assets::nearest;
use crate::ground::{Findings, Ink, Span, Spanned};
use std::collections::BTreeMap;

#[derive(Clone, Debug, PartialEq)]
pub struct Palette {
    inks: BTreeMap<String, Spanned<Ink>>,
    /// What spot inks look like by themselves, as their makers state it: CIELAB (D50).
    colours: BTreeMap<String, [f64; 3]>,
    /// A swatch could not be read: others stand in for what it would be, and nothing can be said of its ink.
    pub stands_in: bool,
}

impl Default for Palette {
    /// Two are always there: bare paper and solid black.
    fn default() -> Palette {
        let inks = [("unprinted", Ink::PAPER), ("black", Ink::black(1.0))];
        let inks = inks
            .into_iter()
            .map(|(name, ink)| (name.to_owned(), Spanned { value: ink, ..Spanned::new(Ink::PAPER, Span::default()) }));
        Palette { inks: inks.collect(), colours: BTreeMap::new(), stands_in: false }
    }
}

impl Palette {
    pub fn insert(&mut self, name: String, ink: Spanned<Ink>) {
        self.inks.insert(name, ink);
    }

    pub fn state_colour(&mut self, name: String, lab: [f64; 3]) {
        self.colours.insert(name, lab);
    }

    /// The colour that the spot ink of a swatch states for itself.
    pub fn colour(&self, name: &str) -> Option<[f64; 3]> {
        self.colours.get(name).copied()
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
            _ if ready_mixed(&name.value) => spot_of(&name.value),
            _ if name.value == "none" => {
                "`none` is a stop of a `gradient`, which fades to nothing there; leave the word out \
                                          where nothing is drawn, or write `unprinted` where the paper shows"
                    .to_owned()
            }
            _ if name.value == "paper" => "bare paper is called `unprinted` now".to_owned(),
            Some(near) => format!("did you mean `{near}`?"),
            None if name.value.starts_with('#') => {
                format!("name the colour first, in `swatches {{ rgb NAME {:?} }}`", name.value)
            }
            None if name.value.contains('(') => {
                "inks are stated once, in `swatches { swatch night c=92 m=74 y=38 k=42 }`, and then called by name"
                    .to_owned()
            }
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

/// A name as makers of ready-mixed inks give them: a number, and a letter for coated or uncoated paper.
pub fn ready_mixed(name: &str) -> bool {
    let paper = |number: &str| number.trim_end().ends_with(|letter: char| letter.is_ascii_digit());
    let capitals = name.trim().to_uppercase();
    capitals.strip_suffix('C').or(capitals.strip_suffix('U')).is_some_and(paper) && !capitals.starts_with('#')
}

/// How a ready-mixed ink is stated.
pub fn spot_of(name: &str) -> String {
    format!(
        "an ink that is mixed before printing has a plate of its own: `spot NAME ink={name:?} c= m= y= k=` in `swatches`, with \
         the percentages from your printer's ink book for the picture"
    )
}
