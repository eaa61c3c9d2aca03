//! Masks: what is painted through the lightness of a grey picture (ISO 32000-1, 11.6.5.2), as soft shadows and painted drawings are.

use crate::assets::{Model, Picture, Pixels, Separation};
use crate::ground::{Affine, Ink};
use crate::printed::number_of;
use crate::returned::byte_budget::ByteBudget;
use crate::returned::functions::{numbers, word};
use crate::returned::photos::grey;
use crate::scene::PlacedPicture;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Dict, Object, Stream};
use hayro_syntax::page::Resources;
use std::sync::Arc;

/// One picture, and where it lies.
pub struct SoftMask {
    picture: Arc<Picture>,
    /// From the unit square, its foot at 0, to the sheet.
    place: Affine,
}

impl SoftMask {
    pub fn read(dict: &Dict<'_>, to_sheet: Affine, budget: &mut ByteBudget) -> Result<SoftMask, String> {
        let undrawn = || "soft masks of another kind than one grey picture".to_owned();
        let form = dict.get::<Stream<'_>>("G").ok_or_else(undrawn)?;
        let plain = word(dict, "S").as_deref() == Some("Luminosity")
            && numbers(dict, "BC").is_none_or(|backdrop| backdrop.iter().all(|light| *light == 0.0))
            && (!dict.contains_key("TR") || word(dict, "TR").as_deref() == Some("Identity"));
        let resources =
            form.dict().get::<Dict<'_>>("Resources").map(Resources::new).filter(|_| plain).ok_or_else(undrawn)?;
        let matrix = numbers(form.dict(), "Matrix").and_then(|matrix| <[f64; 6]>::try_from(matrix).ok());
        let bytes = budget.decoded(&form)?;
        let (picture, place) = only_picture(&bytes, &resources).ok_or_else(undrawn)?;
        let (size, light) = grey(&picture, budget)?;
        budget.take(2 * light.len() as u64)?;
        let pixels = Pixels { samples: Arc::new(vec![0; light.len()]), fine: None, alpha: Some(light) };
        let picture = Arc::new(Picture::of_samples("soft mask", Model::Grey, size, pixels));
        Ok(SoftMask { picture, place: to_sheet * matrix.map_or(Affine::IDENTITY, Affine::new) * place })
    }

    /// An ink as far as the mask lets it through.
    pub fn inked(&self, ink: Ink) -> PlacedPicture {
        PlacedPicture {
            picture: self.picture.clone(),
            transform: self.place * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 1.0]),
            paint: Some(ink),
            separation: Separation::default(),
        }
    }
}

/// The picture of a form that places one and does nothing else.
fn only_picture<'a>(bytes: &[u8], resources: &Resources<'a>) -> Option<(Stream<'a>, Affine)> {
    let (mut place, mut saved, mut found) = (Affine::IDENTITY, Vec::new(), None);
    let mut instructions = UntypedIter::new(bytes);
    while let Some(instruction) = instructions.next() {
        let operands: Vec<&Object<'_>> = instruction.operands().collect();
        let values: Vec<f64> = operands.iter().filter_map(|operand| number_of(operand)).collect();
        match (instruction.operator.to_string().as_str(), &values[..]) {
            ("q", _) if saved.len() < 32 => saved.push(place),
            ("Q", _) => place = saved.pop()?,
            ("cm", [a, b, c, d, e, f]) => place *= Affine::new([*a, *b, *c, *d, *e, *f]),
            ("Do", _) if found.is_none() => {
                let Some(Object::Name(name)) = operands.last() else { return None };
                found = Some((resources.get_x_object(name)?, place));
            }
            _ => return None,
        }
    }
    found
}
