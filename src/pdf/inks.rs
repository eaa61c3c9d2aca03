//! Inks: one colour space a spot name, one a mixture of plates; and how an ink is set.

use crate::ground::{Colour, Ink, PROCESS_PLATES, Process};
use crate::pdf::content::{Content, PaintOp, Shade};
use crate::pdf::forme::Forme;
use pdf_writer::{Name, Ref};
use std::fmt::Write as _;

/// What a colour space names: a plate, and its look in process inks.
pub type Colorant = (String, Process);

impl Forme<'_> {
    /// Sets an ink with its overprint.
    pub fn ink(&mut self, content: &mut Content, op: PaintOp, ink: &Ink) {
        self.overprint(content, ink.overprints());
        let shade = match &ink.colour {
            Colour::Process(inks) => Shade::Process(*inks),
            Colour::Spot(spot, tint) => Shade::Tint(self.separation(&spot.name, spot.look), *tint),
        };
        content.shade(op, shade);
    }

    /// The colour space of a plate; a name has one definition in the file, the first.
    pub fn separation(&mut self, name: &str, look: Process) -> Ref {
        if let Some(id) = self.separations.get(name) {
            return *id;
        }
        let id = self.id();
        self.separations.insert(name.to_owned(), id);
        let mut space = self.pdf.color_space(id).separation(Name(name.as_bytes()));
        space.alternate_color_space().device_cmyk();
        space
            .tint_exponential()
            .domain([0.0, 1.0])
            .range([0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0])
            .c0([0.0; 4])
            .c1(look.map(|ink| ink as f32))
            .n(1.0);
        id
    }

    /// The colour space of several plates at once, each with its look. It names the Separation of every spot among
    /// them, as standards built on this version of PDF ask (PDF/A-2, from memory).
    pub fn mixture(&mut self, plates: &[Colorant]) -> Ref {
        let names: Vec<String> = plates.iter().map(|(name, _)| name.clone()).collect();
        if let Some(id) = self.mixtures.get(&names) {
            return *id;
        }
        let spots: Vec<(&str, Ref)> = plates
            .iter()
            .filter(|(name, _)| !PROCESS_PLATES.contains(&name.as_str()))
            .map(|(name, look)| (name.as_str(), self.separation(name, *look)))
            .collect();
        let (id, tint) = (self.id(), self.id());
        let code = sum_of_looks(plates);
        let mut function = self.pdf.post_script_function(tint, code.as_bytes());
        function.domain(plates.iter().flat_map(|_| [0.0, 1.0])).range([0.0, 1.0].repeat(4));
        drop(function);
        let mut space = self.pdf.indirect(id).array();
        space.item(Name(b"DeviceN"));
        space.push().array().items(names.iter().map(|name| Name(name.as_bytes())));
        space.item(Name(b"DeviceCMYK")).item(tint);
        if !spots.is_empty() {
            let mut attributes = space.push().dict();
            let mut colorants = attributes.insert(Name(b"Colorants")).dict();
            colorants.pairs(spots.iter().map(|(name, space)| (Name(name.as_bytes()), *space)));
        }
        drop(space);
        self.mixtures.insert(names, id);
        id
    }
}

/// A calculator function: tints in, the sum of their looks in process inks out.
fn sum_of_looks(plates: &[Colorant]) -> String {
    let mut code = String::from("{");
    let mut say = |text: std::fmt::Arguments<'_>| code.write_fmt(text).expect("a string takes every word");
    for ink in 0..4 {
        say(format_args!("0 "));
        for (place, (_, look)) in plates.iter().enumerate() {
            let depth = plates.len() + ink - place;
            say(format_args!("{depth} index {:.4} mul add ", look[ink]));
        }
    }
    say(format_args!("{} 4 roll ", plates.len() + 4));
    for _ in plates {
        say(format_args!("pop "));
    }
    code.push('}');
    code
}
