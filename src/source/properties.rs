//! Properties, typed: each is what its word declares.

use crate::ground::{Length, Spanned};
use crate::source::reader::{Reader, meant};
use crate::source::word::Word;

impl Reader<'_> {
    pub fn text_property(&self, word: &'static Word) -> Option<Spanned<String>> {
        self.property_slot(word).and_then(|(value, _, whose)| self.as_text(value, &whose))
    }

    pub fn number_property(&self, word: &'static Word) -> Option<Spanned<f64>> {
        self.property_slot(word).and_then(|(value, slot, whose)| self.as_number(value, slot, &whose))
    }

    pub fn percent_property(&self, word: &'static Word) -> Option<f64> {
        self.property_slot(word).and_then(|(value, slot, whose)| self.as_percent(value, slot, &whose))
    }

    /// In millimetres.
    pub fn mm_property(&self, word: &'static Word) -> Option<f64> {
        self.length_property(word).map(Length::mm)
    }

    pub fn length_property(&self, word: &'static Word) -> Option<Length> {
        let (value, slot, whose) = self.property_slot(word)?;
        self.as_length(value, slot, &whose).map(|length| length.value)
    }

    pub fn choice_property(&self, word: &'static Word) -> Option<Spanned<&'static str>> {
        self.property_slot(word).and_then(|(value, slot, whose)| self.as_choice(value, slot, &whose))
    }

    pub fn choose_property<T: Copy>(&self, word: &'static Word, table: &[(&'static str, T)]) -> Option<T> {
        self.choice_property(word).and_then(|word| meant(table, word.value))
    }

    pub fn flag_property(&self, word: &'static Word) -> Option<bool> {
        self.property_slot(word).and_then(|(value, _, whose)| self.as_flag(value, &whose))
    }
}
