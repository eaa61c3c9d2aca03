//! Approval: what somebody has approved of an element, a panel or the cover, by digests.

use crate::cover::Reach;
use crate::ground::{Span, Spanned};

#[derive(Clone, Debug, PartialEq)]
pub struct Approval {
    pub by: String,
    /// Eight hexadecimal digits each, where that was approved.
    pub words: Option<Spanned<String>>,
    pub place: Option<Spanned<String>>,
    pub look: Option<Spanned<String>>,
    pub span: Span,
    pub reach: Reach,
}

impl Approval {
    /// Of each digest.
    pub const DIGITS: usize = 8;
}
