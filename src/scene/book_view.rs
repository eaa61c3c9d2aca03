//! Book view: a picture that a cover asks for of the book as it stands.

use crate::ground::Ink;

#[derive(Clone, Debug, PartialEq)]
pub struct BookView {
    pub name: String,
    pub pose: Pose,
    /// Degrees round the book, from its front towards its spine; by default as the pose has it.
    pub round: Option<f64>,
    /// Degrees above the ground.
    pub above: Option<f64>,
    /// Millimetres from the middle of the book.
    pub distance: Option<f64>,
    pub pixels: (u32, u32),
    pub backdrop: Backdrop,
    /// How strong shadow and mirror image are, 0 to 1.
    pub shadow: f64,
    pub mirror: f64,
    /// Whether its layers are wanted as pictures, too.
    pub layers: bool,
}

impl BookView {
    /// What the files of its layers add to its name: book, shadow, mirror image, ground.
    pub const LAYERS: [&'static str; 4] = ["-book", "-shadow", "-mirror", "-ground"];
}

impl Default for BookView {
    fn default() -> BookView {
        BookView {
            name: String::new(),
            pose: Pose::Standing,
            round: None,
            above: None,
            distance: None,
            pixels: (1600, 1300),
            backdrop: Backdrop::Studio,
            shadow: 1.0,
            mirror: 0.12,
            layers: false,
        }
    }
}

/// What the book stands on and before.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Backdrop {
    /// A pale grey, paler at the back.
    #[default]
    Studio,
    Plain(Ink),
    /// The ground, and what it passes into at the back.
    Passing(Ink, Ink),
    /// Nothing: the picture is transparent.
    Clear,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Pose {
    #[default]
    Standing,
    Behind,
    SpineOn,
    Lying,
    Leaning,
    Open,
}

impl Pose {
    pub const WORDS: [(&'static str, Pose); 6] = [
        ("standing", Pose::Standing),
        ("behind", Pose::Behind),
        ("spine-on", Pose::SpineOn),
        ("lying", Pose::Lying),
        ("leaning", Pose::Leaning),
        ("open", Pose::Open),
    ];
}

/// How several books stand or lie together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grouping {
    Row,
    Pile,
    Fan,
}
