//! Tables: pictures whose pixels are numbers of mixtures that a table holds.

use crate::printed::{ColourSpace, name_text, number_of};
use crate::returned::byte_budget::ByteBudget;
use crate::returned::colours::plate_space;
use hayro_syntax::object::{Array, Object};
use hayro_syntax::page::Resources;

/// Mixtures by their numbers.
pub struct MixtureTable {
    pub space: ColourSpace,
    channels: usize,
    mixtures: Vec<u8>,
}

impl MixtureTable {
    /// `None` where a space is no table, or one that is not read.
    pub fn of(space: &Object<'_>, resources: &Resources<'_>, budget: &mut ByteBudget) -> Option<MixtureTable> {
        let Object::Array(array) = named(space, resources)? else { return None };
        table(&array, resources, budget)
    }

    /// Samples side by side; a number beyond the table is its last mixture (ISO 32000-1, 8.6.6.3).
    pub fn looked_up(&self, pixels: &[u8]) -> Vec<u8> {
        let last = (self.mixtures.len() / self.channels).saturating_sub(1);
        let mixture = |pixel: &u8| {
            let at = usize::from(*pixel).min(last) * self.channels;
            &self.mixtures[at..at + self.channels]
        };
        pixels.iter().flat_map(mixture).copied().collect()
    }
}

fn named<'a>(space: &Object<'a>, resources: &Resources<'a>) -> Option<Object<'a>> {
    match space {
        Object::Name(name) => resources.get_color_space(name),
        other => Some(other.clone()),
    }
}

fn table(array: &Array<'_>, resources: &Resources<'_>, budget: &mut ByteBudget) -> Option<MixtureTable> {
    let mut parts = array.iter::<Object<'_>>();
    let Some(Object::Name(kind)) = parts.next() else { return None };
    if !matches!(name_text(&kind).as_str(), "Indexed" | "I") {
        return None;
    }
    let (base, last, held) = (parts.next()?, parts.next()?, parts.next()?);
    let space = plate_space(&base, resources);
    let channels = space.channels().filter(|_| !matches!(space, ColourSpace::Rgb | ColourSpace::Other(_)))?;
    let mut mixtures = match held {
        Object::String(held) => held.as_bytes().to_vec(),
        Object::Stream(held) => budget.decoded(&held).ok()?.to_vec(),
        _ => return None,
    };
    // What is held beyond the highest number is no part of it.
    mixtures.truncate((number_of(&last)?.max(0.0) as usize).saturating_add(1).saturating_mul(channels));
    (channels > 0 && mixtures.len() >= channels).then_some(MixtureTable { space, channels, mixtures })
}
