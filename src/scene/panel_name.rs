//! Names of panels, and of the whole wrap.

use std::fmt;

/// In the order in which they lie on a book that is bound on the left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PanelName {
    BackFlap,
    Back,
    BackJoint,
    Spine,
    FrontJoint,
    Front,
    FrontFlap,
}

/// What an element stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(into = "&'static str")]
pub enum Surface {
    Panel(PanelName),
    /// The whole flat, across folds.
    Wrap,
}

impl PanelName {
    pub const WORDS: [(&'static str, PanelName); 7] = [
        ("back-flap", PanelName::BackFlap),
        ("back", PanelName::Back),
        ("back-joint", PanelName::BackJoint),
        ("spine", PanelName::Spine),
        ("front-joint", PanelName::FrontJoint),
        ("front", PanelName::Front),
        ("front-flap", PanelName::FrontFlap),
    ];

    pub fn named(word: &str) -> Option<PanelName> {
        PanelName::WORDS.iter().find(|(known, _)| *known == word).map(|(_, name)| *name)
    }

    pub fn word(self) -> &'static str {
        PanelName::WORDS[self as usize].0
    }

    pub fn is_joint(self) -> bool {
        matches!(self, PanelName::BackJoint | PanelName::FrontJoint)
    }

    pub fn is_flap(self) -> bool {
        matches!(self, PanelName::BackFlap | PanelName::FrontFlap)
    }
}

impl Surface {
    pub const SPINE: Surface = Surface::Panel(PanelName::Spine);
    pub const FRONT: Surface = Surface::Panel(PanelName::Front);
    pub const BACK: Surface = Surface::Panel(PanelName::Back);

    pub fn named(word: &str) -> Option<Surface> {
        if word == Surface::Wrap.word() { Some(Surface::Wrap) } else { PanelName::named(word).map(Surface::Panel) }
    }

    pub fn word(self) -> &'static str {
        match self {
            Surface::Panel(name) => name.word(),
            Surface::Wrap => "wrap",
        }
    }
}

impl fmt::Display for PanelName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

impl fmt::Display for Surface {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

impl From<Surface> for &'static str {
    fn from(surface: Surface) -> &'static str {
        surface.word()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_found_by_its_word() {
        for (word, name) in PanelName::WORDS {
            assert_eq!((name.word(), PanelName::named(word)), (word, Some(name)));
            assert_eq!(Surface::named(word), Some(Surface::Panel(name)));
        }
        assert_eq!((Surface::named("wrap"), Surface::named("sheet")), (Some(Surface::Wrap), None));
    }
}
