//! Named styles: the one that a text names, or the usual one.

use crate::assets::nearest;
use crate::cover::{Facts, Lettering, TypeStyle};
use crate::ground::Spanned;
use crate::source::Reader;
use crate::typeset::{Signs, Style};

/// A style that nobody has said anything about yet.
pub fn usual(facts: &Facts) -> TypeStyle {
    let style = Style { language: facts.book.language.value.clone(), ..Style::default() };
    let swatch = Spanned::new("black".to_owned(), facts.book.span);
    TypeStyle {
        style,
        swatch,
        percent: 1.0,
        overprint: None,
        lettering: Lettering::default(),
        apart: Vec::new(),
        small_caps_after: 0,
        hyphenate: None,
        chosen_breaks: false,
        alike: None,
        keep_whole: Vec::new(),
        signs: Signs::default(),
        span: facts.book.span,
    }
}

/// A style by name; the usual one, and an error, when nobody defined it.
pub fn find(reader: &Reader<'_>, facts: &Facts, name: &Spanned<String>) -> TypeStyle {
    if let Some(style) = facts.styles.get(&name.value) {
        return style.clone();
    }
    let known = facts.styles.keys().map(String::as_str);
    let help = match nearest(&name.value, known.clone()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if facts.styles.is_empty() => "none is defined so far: see `jaconet explain type`".to_owned(),
        None => format!("styles so far are {}", known.collect::<Vec<_>>().join(", ")),
    };
    reader.error(name.span, format!("there is no style `{}`", name.value), help);
    usual(facts)
}
