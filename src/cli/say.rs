//! Say: words to the terminal or a pipe. A reader who has left is no fault; a place that takes no more is.
#![expect(clippy::disallowed_methods, reason = "how words look may depend on the environment; what is built may not")]

use std::io::{ErrorKind, IsTerminal as _, Write as _};
use std::sync::OnceLock;

/// Why the output stream took no more.
static LOST: OnceLock<String> = OnceLock::new();

/// Words for people. What came out of files cannot steer the terminal.
pub fn out(words: &str) {
    raw(&visible(words));
}

/// Remembers that the output stream takes no more.
pub fn lost(why: &std::io::Error) {
    if why.kind() != ErrorKind::BrokenPipe {
        LOST.get_or_init(|| why.to_string());
    }
}

/// Whether all words for the output stream came out; if not, it is reported on the other.
pub fn came_out() -> bool {
    let Some(why) = LOST.get() else { return true };
    stopped(&format!("the output could not be written: {why}"), "make room where it goes, or send it elsewhere");
    false
}

/// A document of JSON, for another program or a terminal: it means the same however its letters are written.
pub fn json(document: &impl std::fmt::Display) -> String {
    let shown = |letter: char| {
        if letter != '\n' && steers(letter) { format!("\\u{:04x}", u32::from(letter)) } else { letter.to_string() }
    };
    format!("{document}\n").chars().map(shown).collect()
}

/// Words for another program, letter by letter; a terminal gets them visible.
pub fn exact(words: &str) {
    if std::io::stdout().is_terminal() { out(words) } else { raw(words) }
}

fn raw(words: &str) {
    let mut stream = std::io::stdout().lock();
    if let Err(why) = stream.write_all(words.as_bytes()).and_then(|()| stream.flush()) {
        lost(&why);
    }
}

/// Words that are visible already, perhaps in colours.
pub fn error(words: &str) {
    let _ = std::io::stderr().lock().write_all(words.as_bytes());
}

/// Why a command could not run, and a way out.
pub fn stopped(why: &str, help: &str) {
    let help = if help.is_empty() { String::new() } else { format!("  help: {}\n", visible(help)) };
    error(&format!("jaconet: {}\n{help}", visible(why)));
}

/// Whether colours are welcome on the error stream: on a terminal, unless NO_COLOR (https://no-color.org) forbids.
pub fn colourful() -> bool {
    let forbidden = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
    std::io::stderr().is_terminal() && !forbidden && !dumb
}

/// Words with every letter written out that would steer the terminal: `\u{1b}`, `\r`, `\u{202e}`.
pub fn visible(words: &str) -> String {
    let mut shown = String::with_capacity(words.len());
    for letter in words.chars() {
        if letter != '\n' && steers(letter) { shown.extend(letter.escape_default()) } else { shown.push(letter) }
    }
    shown
}

/// Controls (ISO 6429), and the marks that turn the direction of what follows (UAX 9, 2).
pub fn steers(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::visible;

    #[test]
    fn letters_that_steer_are_written_out() {
        assert_eq!(visible("a\u{1b}[31m\rb\u{202e}c\u{2066}\n\td"), "a\\u{1b}[31m\\rb\\u{202e}c\\u{2066}\n\\td");
        assert_eq!(visible("שָׁלוֹם é 日本"), "שָׁלוֹם é 日本");
    }
}
