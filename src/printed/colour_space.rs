//! Colour space: which inks a colour of a page is mixed of, as far as its space names them.

use crate::ground::number;
use hayro_syntax::object::{Name, Object};
use hayro_syntax::page::Resources;
use std::collections::BTreeSet;

/// What the numbers of a colour stand for.
#[derive(Clone, Debug, PartialEq)]
pub enum ColourSpace {
    /// From black, 0, to white.
    Grey,
    Rgb,
    Cmyk,
    /// Inks by name.
    Named(Vec<String>),
    /// A pattern, Lab and others.
    Other(String),
}

const PROCESS: [&str; 4] = ["Cyan", "Magenta", "Yellow", "Black"];

impl ColourSpace {
    /// Spaces lead to others by name; so far they are followed.
    const STEPS: usize = 4;

    pub fn of(space: &Object<'_>, resources: &Resources<'_>) -> ColourSpace {
        ColourSpace::followed(space, resources, ColourSpace::STEPS)
    }

    fn followed(space: &Object<'_>, resources: &Resources<'_>, steps: usize) -> ColourSpace {
        let other = || ColourSpace::Other("unknown".to_owned());
        let Some(steps) = steps.checked_sub(1) else { return other() };
        let array = match space {
            Object::Array(array) => array,
            Object::Name(name) => {
                return ColourSpace::plain(&text(name)).unwrap_or_else(|| {
                    let named = resources.get_color_space(name);
                    named.map_or_else(other, |space| ColourSpace::followed(&space, resources, steps))
                });
            }
            _ => return other(),
        };
        let mut parts = array.iter::<Object<'_>>();
        let Some(Object::Name(kind)) = parts.next() else { return other() };
        let kind = text(&kind);
        match (kind.as_str(), parts.next()) {
            ("Separation", Some(Object::Name(name))) => ColourSpace::Named(vec![text(&name)]),
            ("DeviceN", Some(Object::Array(all))) => {
                ColourSpace::Named(all.iter::<Name<'_>>().map(|name| text(&name)).collect())
            }
            ("ICCBased", Some(Object::Stream(profile))) => match profile.dict().get::<u32>("N") {
                Some(1) => ColourSpace::Grey,
                Some(3) => ColourSpace::Rgb,
                Some(4) => ColourSpace::Cmyk,
                _ => other(),
            },
            ("Indexed" | "I", Some(base)) => ColourSpace::followed(&base, resources, steps),
            ("Pattern", Some(base)) => {
                let under = ColourSpace::followed(&base, resources, steps);
                if under.spots().is_empty() { ColourSpace::Other(kind) } else { under }
            }
            _ => ColourSpace::plain(&kind).unwrap_or(ColourSpace::Other(kind)),
        }
    }

    /// Spaces that are only a name.
    fn plain(name: &str) -> Option<ColourSpace> {
        match name {
            "DeviceGray" | "G" | "CalGray" => Some(ColourSpace::Grey),
            "DeviceRGB" | "RGB" | "CalRGB" => Some(ColourSpace::Rgb),
            "DeviceCMYK" | "CMYK" => Some(ColourSpace::Cmyk),
            "Pattern" => Some(ColourSpace::Other("Pattern".to_owned())),
            _ => None,
        }
    }

    /// How many numbers a colour has; `None` where that is not known.
    pub fn channels(&self) -> Option<usize> {
        match self {
            ColourSpace::Grey => Some(1),
            ColourSpace::Rgb => Some(3),
            ColourSpace::Cmyk => Some(4),
            ColourSpace::Named(names) => Some(names.len()),
            ColourSpace::Other(_) => None,
        }
    }

    /// What its channels are called, in reports.
    pub fn names(&self) -> Vec<String> {
        let own = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        match self {
            ColourSpace::Grey => own(&["grey"]),
            ColourSpace::Rgb => own(&["red", "green", "blue"]),
            ColourSpace::Cmyk => own(&PROCESS),
            ColourSpace::Named(names) => names.clone(),
            ColourSpace::Other(_) => Vec::new(),
        }
    }

    /// The inks that it names, process inks left out.
    pub fn spots(&self) -> BTreeSet<String> {
        let ColourSpace::Named(names) = self else { return BTreeSet::new() };
        names.iter().filter(|name| !PROCESS.contains(&name.as_str()) && *name != "None").cloned().collect()
    }
}

/// A colour that something is painted in.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintedColour {
    pub space: ColourSpace,
    pub values: Vec<f64>,
}

impl PrintedColour {
    /// Black, as every page begins (ISO 32000-1, 8.6.5.2).
    pub fn black() -> PrintedColour {
        PrintedColour { space: ColourSpace::Grey, values: vec![0.0] }
    }

    /// The first colour of a space: black, and solid in its inks.
    pub fn first_of(space: ColourSpace) -> PrintedColour {
        let values = match &space {
            ColourSpace::Cmyk => vec![0.0, 0.0, 0.0, 1.0],
            ColourSpace::Named(names) => vec![1.0; names.len()],
            _ => vec![0.0; space.channels().unwrap_or(0)],
        };
        PrintedColour { space, values }
    }

    /// Other shares of the same inks. A pattern has none of its own, and keeps what it had.
    pub fn mix(&mut self, values: &[f64]) {
        if self.space.channels().is_none_or(|channels| channels == values.len()) {
            self.values = values.to_vec();
        }
    }

    /// Ink by ink in whole percent, so that one mixed in another space reads the same: `Cyan 40 %, Black 100 %`.
    pub fn shown(&self) -> String {
        let percent = |value: &f64| (value * 100.0).round();
        let inks: Vec<(String, f64)> = match &self.space {
            ColourSpace::Grey => {
                self.values.iter().map(|value| ("Black".to_owned(), percent(&(1.0 - value)))).collect()
            }
            ColourSpace::Other(kind) => return format!("a colour of the kind {kind}"),
            space => space.names().into_iter().zip(self.values.iter().map(percent)).collect(),
        };
        if self.space == ColourSpace::Rgb {
            let values: Vec<String> = inks.iter().map(|(_, value)| number(*value)).collect();
            return format!("RGB {} %", values.join(" "));
        }
        let mut inks: Vec<(String, f64)> =
            inks.into_iter().filter(|(name, share)| *share > 0.0 && name != "None").collect();
        let rank = |name: &str| PROCESS.iter().position(|process| *process == name).unwrap_or(PROCESS.len());
        inks.sort_by(|a, b| (rank(&a.0), &a.0).cmp(&(rank(&b.0), &b.0)));
        let inks: Vec<String> = inks.into_iter().map(|(name, share)| format!("{name} {} %", number(share))).collect();
        if inks.is_empty() { "paper white".to_owned() } else { inks.join(", ") }
    }
}

/// What a picture's samples are: `DeviceCMYK`, `ICCBased 4`.
pub fn kind(space: Option<&Object<'_>>) -> String {
    match space {
        Some(Object::Name(name)) => text(name),
        Some(Object::Array(array)) => {
            let mut parts = array.iter::<Object<'_>>();
            let first = parts.next().and_then(Object::into_name).map(|kind| text(&kind)).unwrap_or_default();
            match parts.next() {
                Some(Object::Stream(profile)) => format!("{first} {}", profile.dict().get::<u32>("N").unwrap_or(0)),
                _ => first,
            }
        }
        _ => "unknown".to_owned(),
    }
}

/// A name as text.
pub fn text(name: &Name<'_>) -> String {
    String::from_utf8_lossy(name.as_ref()).into_owned()
}
