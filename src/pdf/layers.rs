//! Layers: every finishing ink lies in an optional content group of its name, so that a printer can look under it.

use crate::ground::{Colour, Ink};
use crate::pdf::content::{Content, Resource};
use crate::pdf::forme::Forme;
use crate::scene::{Item, Mark};
use pdf_writer::writers::Catalog;
use pdf_writer::{Finish, Name, Ref, TextStr};

impl Forme<'_> {
    /// Opens the layer of an item in a finishing ink; `true` when there is one to close.
    pub fn open_layer(&mut self, content: &mut Content, item: &Item) -> bool {
        let Some(name) = finishing(item) else { return false };
        let id = match self.layers.get(&name) {
            Some(id) => *id,
            None => self.write_layer(name),
        };
        content.bytes.extend_from_slice(b"/OC ");
        content.call(Resource::Layer, id, "BDC");
        true
    }

    fn write_layer(&mut self, name: String) -> Ref {
        let id = self.layer(&name);
        self.layers.insert(name, id);
        id
    }

    /// A new optional content group.
    pub fn layer(&mut self, name: &str) -> Ref {
        let id = self.id();
        let mut dict = self.pdf.indirect(id).dict();
        dict.pair(Name(b"Type"), Name(b"OCG")).pair(Name(b"Name"), TextStr(name));
        dict.finish();
        id
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
fn finishing(item: &Item) -> Option<String> {
    if matches!(item.mark, Mark::Group(_)) {
        return None;
    }
    let mut names = Vec::new();
    let mut other = false;
    item.inks(&mut |ink: &Ink| match &ink.colour {
        Colour::Spot(spot, _) if spot.finish.is_some() => names.push(spot.name.clone()),
        _ => other = true,
    });
    names.dedup();
    match &names[..] {
        [name] if !other => Some(name.clone()),
        _ => None,
    }
}
