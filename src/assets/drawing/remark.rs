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
