//! Colours of a page as the inks that are laid one over the other to print them.

use crate::ground::{ALL_PLATES, Colour, Ink, PROCESS_PLATES, Process, Spot};
use crate::printed::{ColourSpace, name_text};
use hayro_syntax::object::{Name, Object};
use hayro_syntax::page::Resources;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The spot inks of a page.
#[derive(Default)]
pub struct PageSpots {
    by_name: BTreeMap<String, Arc<Spot>>,
    /// A mask is painted: its light is laid as black.
    pub of_light: bool,
}

/// How a colour overprints.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Overprint {
    pub on: bool,
    /// `OPM 1`: of process inks those that are blank leave their plates alone.
    pub by_ink: bool,
}

impl PageSpots {
    pub fn named(names: impl IntoIterator<Item = String>) -> PageSpots {
        let spot = |name: String| (name.clone(), Arc::new(Spot { name, look: [0.0; 4], finish: None }));
        PageSpots { by_name: names.into_iter().map(spot).collect(), of_light: false }
    }

    fn ink(&mut self, name: &str, tint: f64, overprint: bool) -> Ink {
        let new = || Arc::new(Spot { name: name.to_owned(), look: [0.0; 4], finish: None });
        let spot = self.by_name.entry(name.to_owned()).or_insert_with(new).clone();
        Ink { colour: Colour::Spot(spot, tint), overprint }
    }

    /// A spot ink in full, over what lies there.
    pub fn solid(&mut self, name: &str) -> Ink {
        self.ink(name, 1.0, true)
    }

    /// What is laid for a colour: the first knocks out, unless it overprints, and the others leave what lies under them.
    pub fn layers(&mut self, space: &ColourSpace, values: &[f64], overprint: Overprint) -> Result<Vec<Ink>, String> {
        if values.iter().any(|value| !value.is_finite()) {
            return Err("a colour without numbers".to_owned());
        }
        let share = |value: f64| value.clamp(0.0, 1.0);
        match (space, values) {
            (ColourSpace::Grey, [light]) if self.of_light => Ok(vec![Ink::process(0.0, 0.0, 0.0, share(*light))]),
            _ if self.of_light => Err("soft masks in other colours than grey".to_owned()),
            // Mode 1 is for device CMYK alone (ISO 32000-1, 8.6.7): grey knocks out all process inks.
            (ColourSpace::Grey, _) if overprint.on => Err("grey that overprints spot inks alone".to_owned()),
            (ColourSpace::Grey, [light]) => process([0.0, 0.0, 0.0, share(1.0 - light)], overprint),
            (ColourSpace::Cmyk, [c, m, y, k]) => process([*c, *m, *y, *k].map(share), overprint),
            (ColourSpace::Named(names), values) if names.len() == values.len() => {
                let tints: Vec<(&str, f64)> =
                    names.iter().map(String::as_str).zip(values.iter().copied().map(share)).collect();
                self.named_inks(&tints, overprint.on)
            }
            (ColourSpace::Rgb, _) => Err("colours in RGB".to_owned()),
            (ColourSpace::Other(kind), _) => Err(format!("colours of the kind {kind}")),
            _ => Err("a colour whose numbers do not fit its space".to_owned()),
        }
    }

    fn named_inks(&mut self, tints: &[(&str, f64)], overprint: bool) -> Result<Vec<Ink>, String> {
        let of_process = |name: &str| PROCESS_PLATES.iter().position(|process| *process == name);
        let mut shares: Process = [0.0; 4];
        let (mut spots, mut named_process) = (Vec::new(), false);
        for (name, tint) in tints.iter().filter(|(name, _)| *name != "None") {
            if *name == ALL_PLATES {
                shares = [*tint; 4];
                spots.extend(self.by_name.keys().cloned().map(|name| (name, *tint)));
                named_process = true;
            } else if let Some(at) = of_process(name) {
                shares[at] = *tint;
                named_process = true;
            } else {
                spots.push(((*name).to_owned(), *tint));
            }
        }
        if overprint && tints.iter().any(|(name, tint)| *tint <= 0.0 && *name != "None") {
            let blank = tints.iter().all(|(_, tint)| *tint <= 0.0);
            return if blank && spots.is_empty() {
                Ok(Vec::new())
            } else {
                Err("a blank ink that overprints".to_owned())
            };
        }
        if let ([(name, tint)], false, false) = (&spots[..], named_process, overprint) {
            return Ok(vec![if *tint > 0.0 { self.ink(name, *tint, false) } else { Ink::PAPER }]);
        }
        let mut all = Vec::new();
        if !overprint || named_process {
            let [c, m, y, k] = shares;
            all.push(Ink { overprint, ..Ink::process(c, m, y, k) });
        }
        all.extend(spots.iter().filter(|(_, tint)| *tint > 0.0).map(|(name, tint)| self.ink(name, *tint, true)));
        Ok(all)
    }
}

/// A space as plates have it: what a profile of its own or a table of colours stands for is no share of ink yet.
pub fn plate_space(space: &Object<'_>, resources: &Resources<'_>) -> ColourSpace {
    let mut followed = space.clone();
    for _ in 0..NAMES {
        let Object::Name(name) = &followed else { break };
        let Some(named) = resources.get_color_space(name) else { break };
        followed = named;
    }
    let kind = match &followed {
        Object::Array(parts) => parts.iter::<Name<'_>>().next().map(|kind| name_text(&kind)),
        _ => None,
    };
    match kind {
        Some(kind) if matches!(kind.as_str(), "ICCBased" | "Indexed" | "I" | "CalGray" | "CalRGB") => {
            ColourSpace::Other(kind)
        }
        _ => ColourSpace::of(space, resources),
    }
}

/// Names of spaces that stand for names.
const NAMES: usize = 4;

fn process([c, m, y, k]: Process, overprint: Overprint) -> Result<Vec<Ink>, String> {
    let ink = Ink::process(c, m, y, k);
    let (full, blank) = ([c, m, y, k].iter().all(|share| *share > 0.0), ink.total() <= 0.0);
    match overprint {
        Overprint { on: false, .. } => Ok(vec![ink]),
        Overprint { by_ink: true, .. } if blank => Ok(Vec::new()),
        Overprint { by_ink, .. } if by_ink || full => Ok(vec![Ink { overprint: true, ..ink }]),
        Overprint { .. } => Err("process inks that overprint spot inks alone (OPM 0)".to_owned()),
    }
}
