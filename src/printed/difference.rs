//! Difference: one thing that is otherwise in a PDF than in another, or than on our sheet.

use crate::ground::Severity;

/// One thing that is otherwise.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct PdfDifference {
    /// Lost for the press, an error; changed, a warning; or only to be known, a note.
    pub severity: Severity,
    /// `boxes`, `folds`, `spots`, `inks`, `fonts`, `overprint`, `pictures`, `pages`, `condition`, `text`.
    pub about: &'static str,
    pub message: String,
}

/// What takes up each difference: how grave it is, what it is about, and the message.
pub type Tell<'a> = dyn FnMut(Severity, &'static str, String) + 'a;
