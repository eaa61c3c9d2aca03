//! Change: one thing that differs between two designs.

use serde::Serialize;

/// What a change is about, in the order of telling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Topic {
    Sheet,
    Place,
    Element,
    Words,
    Type,
    Ink,
    Picture,
    Drawing,
    Plates,
    Finding,
}

/// `was` and `now` are the two sides of it; a side that has nothing of the kind is `None`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Change {
    pub topic: Topic,
    /// `sheet`, a panel, or `panel / element`.
    pub place: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub was: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<String>,
    /// The sentence.
    pub says: String,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Changes(pub Vec<Change>);

impl Topic {
    pub fn word(self) -> &'static str {
        match self {
            Topic::Sheet => "sheet",
            Topic::Place => "place",
            Topic::Element => "element",
            Topic::Words => "words",
            Topic::Type => "type",
            Topic::Ink => "ink",
            Topic::Picture => "picture",
            Topic::Drawing => "drawing",
            Topic::Plates => "plates",
            Topic::Finding => "finding",
        }
    }
}

impl Changes {
    pub fn push(
        &mut self,
        topic: Topic,
        place: impl Into<String>,
        (was, now): (Option<String>, Option<String>),
        says: impl Into<String>,
    ) {
        self.0.push(Change { topic, place: place.into(), was, now, says: says.into() });
    }

    /// Whether something of an element is reported already.
    pub fn tells(&self, place: &str) -> bool {
        self.0.iter().any(|change| change.place == place)
    }

    /// By topic; within a topic in the order of telling.
    pub fn sort(&mut self) {
        self.0.sort_by_key(|change| change.topic);
    }
}

/// Both sides of a change.
pub fn sides(was: impl Into<String>, now: impl Into<String>) -> (Option<String>, Option<String>) {
    (Some(was.into()), Some(now.into()))
}
