//! Separation: how the colours of a picture become ink, as its placing says.

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Separation {
    pub inking: Inking,
    pub intent: RenderingIntent,
    /// The darkest colours are left where they are, and what is darker than the press's black is lost.
    pub keeps_black_point: bool,
    /// The most ink on one spot, in percent of a solid: more is printed with more black and less of the others.
    pub limit: Option<u16>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Inking {
    /// By what the file says its numbers mean; greys in black alone.
    #[default]
    ByProfile,
    /// The numbers of the file are the inks.
    AsTheyAre,
    /// By what the file says, greys in all four inks.
    FourColour,
}

/// The four of ICC.1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RenderingIntent {
    #[default]
    Relative,
    Perceptual,
    Saturation,
    Absolute,
}

impl Separation {
    /// Tells it from others in the names of what is kept.
    pub fn code(self) -> [u8; 5] {
        let [high, low] = self.limit.unwrap_or_default().to_be_bytes();
        [self.inking as u8, self.intent as u8, u8::from(self.keeps_black_point), high, low]
    }

    /// Whether colours become ink in the usual way, whatever becomes of the ink.
    pub fn is_usual(self) -> bool {
        Separation { limit: None, ..self } == Separation::default()
    }

    pub fn compensates(self) -> bool {
        !self.keeps_black_point && self.intent != RenderingIntent::Absolute
    }
}
