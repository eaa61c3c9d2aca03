//! Word: one word of a language as data: what stands after it, what it holds, and what it says.

use crate::source::unit::Unit;

/// Readers take values off a node as its word declares them; tables, the manual and editors look here, too.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    pub name: &'static str,
    /// One line of the manual.
    pub says: &'static str,
    /// What stands after it, in order.
    pub takes: &'static [Slot],
    /// What may stand there instead; the first value tells which it is, by being a number or text.
    pub or: &'static [Slot],
    pub properties: &'static [Word],
    /// In sets, so that several words can share one.
    pub children: &'static [&'static [Word]],
    pub besides: Besides,
    /// What holds where it is left out, as it would be written.
    pub default: Option<&'static str>,
    /// It may be repeated, and all of them together are one thing: a list, a panel.
    pub many: bool,
    pub known_by: KnownBy,
    pub laid: Laid,
    /// Names that it had before.
    pub was: &'static [&'static str],
}

/// A rule's name, and the words of its limits.
pub type RuleWords = (&'static str, Vec<&'static Word>);

/// Which words of the language's own lists may stand inside a word, besides those that it declares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Besides {
    Nothing,
    Elements,
    /// Whatever may stand at the top of a file.
    Everything,
}

/// What takes the place of a word when a tree is laid over another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// The same word.
    Word,
    /// The same word with the same name after it.
    Name,
    /// The same word with the same second value after it.
    Second,
    /// Any word beside it with the same name after it.
    AnyOfName,
    /// Any word that fixes the same thing: `top` and `below`.
    Fixing(&'static str),
}

/// What becomes of a word that is written both in a tree and in the one laid over it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laid {
    /// The one above stands for all of it.
    Whole,
    /// So it does; written without its value, it adds to the one below.
    More,
    /// What both hold is laid over each other, word by word.
    Inside,
    /// Of a property: where the one above says nothing of it, that of the one below stays.
    Stays,
}

/// A place for a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// What stands there, in words: `a width`.
    pub what: &'static str,
    pub takes: Takes,
    pub times: Times,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Times {
    Once,
    /// It may be left out.
    Perhaps,
    /// As often as one likes; no slot follows.
    Any,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Takes {
    /// The author's text.
    Text,
    /// What something of the cover is called.
    Name,
    Choice(&'static [&'static str]),
    Flag,
    Number(f64, f64),
    /// A number without decimals.
    Whole(f64, f64),
    /// From so many to so many percent.
    Percent(f64, f64),
    Length(Unit, f64, f64),
}

impl Word {
    pub const fn new(name: &'static str, says: &'static str) -> Word {
        Word {
            name,
            says,
            takes: &[],
            or: &[],
            properties: &[],
            children: &[],
            besides: Besides::Nothing,
            default: None,
            many: false,
            known_by: KnownBy::Word,
            laid: Laid::Whole,
            was: &[],
        }
    }

    /// The choice that a word means as a value here: capitals, `pdf` before it and signs within it do not count.
    pub fn choice_of(&self, text: &str) -> Option<&'static str> {
        let bare = |text: &str| {
            let text = text.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_lowercase();
            text.strip_prefix("pdf").map_or_else(|| text.clone(), str::to_owned)
        };
        let choices = self.takes.iter().chain(self.or).filter_map(|slot| match slot.takes {
            Takes::Choice(choices) => Some(choices),
            _ => None,
        });
        let meant = bare(text);
        choices.flatten().copied().find(|choice| !meant.is_empty() && bare(choice) == meant)
    }

    #[must_use]
    pub const fn takes(self, takes: &'static [Slot]) -> Word {
        Word { takes, ..self }
    }

    #[must_use]
    pub const fn or(self, or: &'static [Slot]) -> Word {
        Word { or, ..self }
    }

    #[must_use]
    pub const fn properties(self, properties: &'static [Word]) -> Word {
        Word { properties, ..self }
    }

    #[must_use]
    pub const fn holds(self, children: &'static [&'static [Word]]) -> Word {
        Word { children, ..self }
    }

    #[must_use]
    pub const fn besides(self, besides: Besides) -> Word {
        Word { besides, ..self }
    }

    #[must_use]
    pub const fn default(self, default: &'static str) -> Word {
        Word { default: Some(default), ..self }
    }

    #[must_use]
    pub const fn many(self) -> Word {
        Word { many: true, ..self }
    }

    #[must_use]
    pub const fn known_by(self, known_by: KnownBy) -> Word {
        Word { known_by, ..self }
    }

    #[must_use]
    pub const fn laid(self, laid: Laid) -> Word {
        Word { laid, ..self }
    }

    #[must_use]
    pub const fn was(self, was: &'static [&'static str]) -> Word {
        Word { was, ..self }
    }

    /// The words that may stand inside it.
    pub fn inside(&self) -> impl Iterator<Item = &'static Word> {
        self.children.iter().flat_map(|set| set.iter())
    }

    pub fn child(&self, name: &str) -> Option<&'static Word> {
        self.inside().find(|word| word.name == name)
    }

    pub fn property(&self, name: &str) -> Option<&'static Word> {
        self.properties.iter().find(|word| word.name == name)
    }

    /// Whether a number, with or without a unit, stands after it.
    pub fn is_number(&self) -> bool {
        let number = |slot: &Slot| {
            matches!(slot.takes, Takes::Number(..) | Takes::Whole(..) | Takes::Percent(..) | Takes::Length(..))
        };
        self.takes.first().is_some_and(number)
    }

    /// Whether the author's own text stands after it.
    pub fn is_text(&self) -> bool {
        matches!(self.takes.first(), Some(Slot { takes: Takes::Text, .. }))
    }

    /// Whether it takes a number or a length.
    pub fn is_measure(&self) -> bool {
        matches!(self.takes.first(), Some(Slot { takes: Takes::Number(..) | Takes::Length(..), .. }))
    }
}

impl Slot {
    pub const fn new(what: &'static str, takes: Takes) -> Slot {
        Slot { what, takes, times: Times::Once }
    }

    #[must_use]
    pub const fn perhaps(self) -> Slot {
        Slot { times: Times::Perhaps, ..self }
    }

    #[must_use]
    pub const fn any(self) -> Slot {
        Slot { times: Times::Any, ..self }
    }
}

// Short, since they stand by the dozen.

pub const fn text(what: &'static str) -> Slot {
    Slot::new(what, Takes::Text)
}

pub const fn name(what: &'static str) -> Slot {
    Slot::new(what, Takes::Name)
}

pub const fn choice(what: &'static str, words: &'static [&'static str]) -> Slot {
    Slot::new(what, Takes::Choice(words))
}

pub const fn flag() -> Slot {
    Slot::new("#true or #false", Takes::Flag)
}

pub const fn number(what: &'static str, least: f64, most: f64) -> Slot {
    Slot::new(what, Takes::Number(least, most))
}

pub const fn whole(what: &'static str, least: f64, most: f64) -> Slot {
    Slot::new(what, Takes::Whole(least, most))
}

pub const fn percent(least: f64, most: f64) -> Slot {
    Slot::new("a percentage", Takes::Percent(least, most))
}

pub const fn mm(what: &'static str, least: f64, most: f64) -> Slot {
    Slot::new(what, Takes::Length(Unit::Mm, least, most))
}

pub const fn pt(what: &'static str, least: f64, most: f64) -> Slot {
    Slot::new(what, Takes::Length(Unit::Pt, least, most))
}

/// The words of a table that says what each stands for.
pub const fn words_of<T: Copy, const N: usize>(table: &[(&'static str, T); N]) -> [&'static str; N] {
    let mut words = [""; N];
    let mut at = 0;
    while at < N {
        words[at] = table[at].0;
        at += 1;
    }
    words
}
