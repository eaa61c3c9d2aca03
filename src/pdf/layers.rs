//! Layers: every finishing ink lies in an optional content group of its name, so that a printer can look under it; the group
//! says which processing step it is.

use crate::ground::{Colour, Finish, Ink, Spot};
use crate::pdf::content::{Content, Resource};
use crate::pdf::forme::Forme;
use crate::scene::{Item, Mark};
use pdf_writer::writers::Catalog;
use pdf_writer::{Finish as _, Name, Ref, TextStr};
use std::sync::Arc;

impl Forme<'_> {
    /// Opens the layer of an item in a finishing ink; `true` when there is one to close.
    pub fn open_layer(&mut self, content: &mut Content, item: &Item) -> bool {
        let Some(spot) = finishing(item).filter(|_| self.layered) else { return false };
        let id = match self.layers.get(&spot.name) {
            Some(id) => *id,
            None => self.write_layer(&spot),
        };
        content.bytes.extend_from_slice(b"/OC ");
        content.call(Resource::Layer, id, "BDC");
        true
    }

    fn write_layer(&mut self, spot: &Spot) -> Ref {
        let id = self.layer(&spot.name, spot.finish.map(step));
        self.layers.insert(spot.name.clone(), id);
        id
    }

    /// A new optional content group, and which processing step it is.
    pub fn layer(&mut self, name: &str, step: Option<ProcessingStep>) -> Ref {
        let id = self.id();
        let mut dict = self.pdf.indirect(id).dict();
        dict.pair(Name(b"Type"), Name(b"OCG")).pair(Name(b"Name"), TextStr(name));
        if let Some((group, kind)) = step {
            let mut metadata = dict.insert(Name(b"GTS_Metadata")).dict();
            metadata.pair(Name(b"GTS_ProcStepsGroup"), Name(group.as_bytes()));
            if let Some(kind) = kind {
                metadata.pair(Name(b"GTS_ProcStepsType"), Name(kind.as_bytes()));
            }
        }
        dict.finish();
        id
    }
}

/// A group of steps, and the step in it where the group has several.
pub type ProcessingStep = (&'static str, Option<&'static str>);

/// What ISO 19593-1 calls a finish. The names and the keys are those of public code that reads such files; they are not
/// checked against the standard itself.
fn step(finish: Finish) -> ProcessingStep {
    match finish {
        Finish::Foil => ("Structural", Some("FoilStamping")),
        Finish::Emboss => ("Structural", Some("Embossing")),
        Finish::Deboss => ("Structural", Some("Debossing")),
        Finish::DieLine => ("Structural", Some("Cutting")),
        Finish::Varnish => ("Varnish", None),
        Finish::White => ("White", None),
    }
}

/// One configuration, named, that orders every layer; none switches itself.
pub fn write(layers: &[Ref], name: &str, catalog: &mut Catalog<'_>) {
    if layers.is_empty() {
        return;
    }
    let mut properties = catalog.insert(Name(b"OCProperties")).dict();
    properties.insert(Name(b"OCGs")).array().items(layers.iter().copied());
    let mut usual = properties.insert(Name(b"D")).dict();
    usual.pair(Name(b"Name"), TextStr(name));
    usual.insert(Name(b"Order")).array().items(layers.iter().copied());
}

/// The finishing ink that an item is printed in, and nothing else. Groups are left to their items.
pub fn finishing(item: &Item) -> Option<Arc<Spot>> {
    if matches!(item.mark, Mark::Group(_)) {
        return None;
    }
    let mut spots: Vec<Arc<Spot>> = Vec::new();
    let mut other = false;
    item.inks(&mut |ink: &Ink| match &ink.colour {
        Colour::Spot(spot, _) if spot.finish.is_some() => spots.push(spot.clone()),
        _ => other = true,
    });
    spots.dedup_by(|a, b| a.name == b.name);
    match &spots[..] {
        [spot] if !other => Some(spot.clone()),
        _ => None,
    }
}
