//! Say: words to the terminal or a pipe. A reader who has left is no fault; a place that takes no more is.
#![expect(clippy::disallowed_methods, reason = "how words look may depend on the environment; what is built may not")]

use std::io::{ErrorKind, IsTerminal as _, Write as _};
use std::sync::OnceLock;

/// Why the output stream took no more.
static LOST: OnceLock<String> = OnceLock::new();

pub fn out(words: &str) {
    let mut stream = std::io::stdout().lock();
    if let Err(why) = stream.write_all(words.as_bytes()).and_then(|()| stream.flush()) {
        lost(&why);
    }
}

/// Remembers that the output stream takes no more.
pub fn lost(why: &std::io::Error) {
    if why.kind() != ErrorKind::BrokenPipe {
        LOST.get_or_init(|| why.to_string());
    }
}

/// Whether all words for the output stream came out; if not, it is said on the other.
pub fn came_out() -> bool {
    let Some(why) = LOST.get() else { return true };
    stopped(&format!("the output could not be written: {why}"), "make room where it goes, or send it elsewhere");
    false
}

/// Words for another program, letter by letter; a terminal gets them visible.
pub fn exact(words: &str) {
    if std::io::stdout().is_terminal() { out(&visible(words)) } else { out(words) }
}

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

/// Words that come out of files must not steer the terminal.
pub fn visible(words: &str) -> String {
    let shown = |letter: char| if letter.is_control() && letter != '\n' { char::REPLACEMENT_CHARACTER } else { letter };
    words.chars().map(shown).collect()
}

/// `1 error`, `2 errors`.
pub fn count(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}
