//! Leftovers: what nobody took off a node is reported when its reader goes, with the word that was meant.

use crate::assets::offer;
use crate::ground::{Findings, Span, Spanned};
use crate::source::habits::{TEXTS, habit};
use crate::source::tree::{Datum, Node, Value};
use crate::source::word::Word;

/// A node, and what was asked of it.
pub struct Leftovers<'a> {
    pub node: &'a Node,
    /// Values that nobody took.
    pub values: &'a [Value],
    pub properties: &'a [(&'static str, &'static Word)],
    pub children: &'a [(&'static str, &'static Word)],
    /// Someone else answers for the properties, or for the children.
    pub free: bool,
    pub open: bool,
}

impl Leftovers<'_> {
    /// Whether there was something to report.
    pub fn report(&self, findings: &mut Findings) -> bool {
        self.report_values(findings);
        let mut any = !self.values.is_empty();
        let name = &self.node.name.value;
        let strange = |key: &Spanned<String>| !self.free && !knows(self.properties, &key.value);
        for (key, value) in self.node.properties.iter().filter(|(key, _)| strange(key)) {
            any = true;
            findings.unknown(key.span, || {
                let how = format!("write it inside the braces: `{} {}`", key.value, value.written());
                let help = misplaced(&key.value, self.properties, self.children, how);
                (format!("`{name}` has no property `{}`", key.value), help)
            });
        }
        let strange = |child: &&Node| !self.open && !knows(self.children, &child.name.value);
        for child in self.node.children.iter().filter(strange) {
            any = true;
            findings.unknown(child.name.span, || {
                let word = &child.name.value;
                let value = child.values.first().map_or_else(|| "…".to_owned(), Value::written);
                let how = format!("write it before the braces: `{name} … {word}={value}`");
                let help = misplaced(word, self.children, self.properties, how);
                (format!("`{word}` is unknown inside `{name}`"), help)
            });
        }
        any
    }

    /// All of them at once: they have one cause.
    fn report_values(&self, findings: &mut Findings) {
        let (Some(first), Some(last)) = (self.values.first(), self.values.last()) else { return };
        let name = &self.node.name.value;
        let span = Span { end: last.span.end, ..first.span };
        if let Some((before, start)) = self.begun(first) {
            let words: Vec<String> = std::iter::once(before).chain(self.values).map(Value::plain).collect();
            let words = words.join(" ");
            let message = format!("`{words}` stands without quotes");
            return findings
                .unknown(Span { start, ..span }, || (message, format!("put the words in quotes: \"{words}\"")));
        }
        let shown = self.values.iter().map(|value| if value.is_bare() { value.plain() } else { value.shown() });
        let shown: Vec<String> = shown.collect();
        let help = match (&first.datum, self.values.get(1)) {
            (Datum::Text(word), Some(value)) if first.is_bare() && knows(self.properties, word) => {
                format!("properties take `=`: `{word}={}`", value.written())
            }
            (Datum::Text(word), None) if let Some((property, choice)) = self.choice(word) => {
                format!("write `{name} {property}={choice}`")
            }
            (Datum::Text(word), None)
                if let Some(habit) = habit(word).filter(|habit| habit.says.contains(&format!(" {name} "))) =>
            {
                habit.says.to_owned()
            }
            (Datum::Text(word), _) if first.is_bare() => {
                format!("if `{word}` is a word of its own, put `;` or a new line before it; otherwise take it away")
            }
            (Datum::Text(_), None) if let Some(property) = self.unstated(Word::is_text) => {
                format!("write `{property}={}`", first.shown())
            }
            (Datum::Number(_), None) if let Some(property) = self.unstated(Word::is_measure) => {
                format!("if it is `{property}`, write `{property}={}`; otherwise take it away", first.written())
            }
            _ => format!("take it away, or put `;` or a new line between it and `{name}`"),
        };
        findings.unknown(span, || (format!("`{name}` does not know what to do with {}", shown.join(" ")), help));
    }

    /// A property of a kind that was asked for and does not stand there.
    fn unstated(&self, is: fn(&Word) -> bool) -> Option<&'static str> {
        let stands = |name: &str| self.node.properties.iter().any(|(key, _)| key.value == name);
        self.properties.iter().find(|(name, word)| is(word) && !stands(name)).map(|(name, _)| *name)
    }

    /// A property that takes a word of the author's, and how it writes it.
    fn choice(&self, text: &str) -> Option<(&'static str, &'static str)> {
        self.properties.iter().find_map(|(name, word)| Some((*name, word.choice_of(text)?)))
    }

    /// The bare word that leftover words go on, where words were meant as one text, and where that begins.
    fn begun(&self, first: &Value) -> Option<(&Value, usize)> {
        let before = |value: &&Value| value.span.file == first.span.file && value.span.end < first.span.start;
        let words = self.node.properties.iter().map(|(key, value)| (key.value.as_str(), value));
        let taken = &self.node.values[..self.node.values.len() - self.values.len()];
        let name = self.node.name.value.as_str();
        let all = words.chain(taken.iter().map(|value| (name, value))).filter(|(_, value)| before(value));
        let (whose, value) = all.max_by_key(|(_, value)| value.span.end)?;
        // Words after other values begin a node more often than they go on a text.
        let texts = TEXTS.contains(&whose);
        let plain = self.values.iter().all(|value| !matches!(value.datum, Datum::Text(_)) || value.is_bare());
        let meant = plain && (value.is_bare() || (texts && matches!(value.datum, Datum::Number(_))));
        let only_words = self.values.iter().all(|value| matches!(value.datum, Datum::Text(_)));
        (meant && (texts || (only_words && self.values.len() > 1))).then_some((value, value.span.start))
    }
}

/// What to say after an unknown word of the language: what it is called here, or the nearest known one and all.
pub fn offer_word(word: &str, known: &[&str]) -> String {
    habit(word).map_or_else(|| offer(word, known), |habit| habit.says.to_owned())
}

type Asked = (&'static str, &'static Word);

fn knows(asked: &[Asked], name: &str) -> bool {
    asked.iter().any(|(known, _)| *known == name)
}

/// What to write instead: an old name has a new one, and some words stand where the other kind belongs.
fn misplaced(key: &str, known: &[Asked], others: &[Asked], how: String) -> String {
    if let Some((name, _)) = known.iter().find(|(_, word)| word.was.contains(&key)) {
        return format!("it is called `{name}` now");
    }
    let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
    if !knows(known, key) && knows(others, key) {
        how
    } else if let Some(one) = key.strip_suffix('s').filter(|one| names.contains(one)) {
        format!("did you mean `{one}`?")
    } else {
        offer_word(key, &names)
    }
}
