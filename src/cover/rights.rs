//! Rights: what may be used on a cover, whose it is, where and until when.

use crate::ground::Spanned;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rights {
    pub all: Vec<Right>,
    /// What a house asks of every picture, font or quotation.
    pub required: Vec<RequiredRight>,
    /// Country codes (ISO 3166-1).
    pub sold_in: Vec<Spanned<String>>,
}

/// What is stated of one picture, font or quotation.
#[derive(Clone, Debug, PartialEq)]
pub struct Right {
    pub of: Licensed,
    /// A path, a family, or the number of a quotation.
    pub name: Spanned<String>,
    pub source: Option<String>,
    pub licence: Option<String>,
    pub credit: Option<String>,
    pub territory: Option<Spanned<String>>,
    /// The last day, YYYY-MM-DD.
    pub until: Option<Spanned<String>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Licensed {
    Picture,
    Font,
    Quote,
}

impl Licensed {
    pub const WORDS: [(&'static str, Licensed); 3] =
        [("picture", Licensed::Picture), ("font", Licensed::Font), ("quote", Licensed::Quote)];

    pub fn word(self) -> &'static str {
        Licensed::WORDS.iter().find(|(_, of)| *of == self).map_or("picture", |(word, _)| word)
    }
}

/// A kind and one part that must be stated of each.
#[derive(Clone, Debug, PartialEq)]
pub struct RequiredRight {
    pub of: Licensed,
    pub part: RightPart,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RightPart {
    Source,
    Licence,
    Credit,
    Territory,
    Until,
}

impl RightPart {
    pub const WORDS: [(&'static str, RightPart); 5] = [
        ("source", RightPart::Source),
        ("licence", RightPart::Licence),
        ("credit", RightPart::Credit),
        ("territory", RightPart::Territory),
        ("until", RightPart::Until),
    ];

    pub fn word(self) -> &'static str {
        RightPart::WORDS.iter().find(|(_, part)| *part == self).map_or("source", |(word, _)| word)
    }
}

impl Right {
    pub fn states(&self, part: RightPart) -> bool {
        match part {
            RightPart::Source => self.source.is_some(),
            RightPart::Licence => self.licence.is_some(),
            RightPart::Credit => self.credit.is_some(),
            RightPart::Territory => self.territory.is_some(),
            RightPart::Until => self.until.is_some(),
        }
    }
}
