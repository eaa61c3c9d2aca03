//! Drift: how far the machines of a bindery and a press may be off.

/// Millimetres, either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    pub cut: f64,
    pub fold: f64,
    /// Between two plates.
    pub register: f64,
}
