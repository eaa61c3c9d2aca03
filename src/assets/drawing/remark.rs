//! Remark: what there is to say of the text and the pictures of a drawing.

use crate::ground::Severity;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrawingRemark {
    pub severity: Severity,
    pub rule: &'static str,
    /// Goes on after the name of the file.
    pub message: String,
    pub help: String,
}

/// Letters of a name that a message shows.
const SHOWN: usize = 60;

/// A name as a message shows it.
pub fn shortened(name: &str) -> String {
    let short: String = name.chars().take(SHOWN).collect();
    if short.len() < name.len() { format!("{short}…") } else { short }
}
