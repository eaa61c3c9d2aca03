//! Stated colours: what a picture file says that its numbers mean.

#[derive(Clone, Debug, Default, PartialEq)]
pub enum StatedColours {
    /// The file says nothing.
    #[default]
    Unstated,
    Srgb,
    /// An ICC profile for the picture's model.
    Profile(Vec<u8>),
    /// PNG's own statement: the exponent of `gAMA`, and the chromaticities of `cHRM`, where the file has them.
    Light {
        gamma: f64,
        primaries: Option<Primaries>,
    },
    /// A statement that cannot be used, and why.
    Unusable(String),
}

/// CIE x and y of white, red, green and blue.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Primaries {
    pub white: [f64; 2],
    pub red: [f64; 2],
    pub green: [f64; 2],
    pub blue: [f64; 2],
}

impl Primaries {
    /// IEC 61966-2-1.
    pub const SRGB: Primaries =
        Primaries { white: [0.3127, 0.3290], red: [0.64, 0.33], green: [0.30, 0.60], blue: [0.15, 0.06] };

    /// As near as the five decimals of a PNG.
    pub fn near(&self, other: &Primaries) -> bool {
        let all = |of: &Primaries| [of.white, of.red, of.green, of.blue];
        all(self).as_flattened().iter().zip(all(other).as_flattened()).all(|(one, other)| (one - other).abs() < 2e-4)
    }
}
