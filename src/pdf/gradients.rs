//! Gradients: a run from ink to ink as an axial or radial shading, plate by plate.
//!
//! Process inks run in DeviceCMYK, tints of one spot in its Separation, anything else in a DeviceN of the plates
//! it uses. An overprinting run names its plates too, because overprint mode 1 does not reach shadings.

use crate::ground::{Affine, Colour, Course, Gradient, Ink, PROCESS_PLATES};
use crate::pdf::content::{Content, PaintOp, Resource, Shade};
use crate::pdf::forme::Forme;
use crate::pdf::inks::Colorant;
use pdf_writer::types::FunctionShadingType;
use pdf_writer::{Name, Ref};

/// What a gradient comes to.
pub enum GradientFill {
    Nothing,
    /// No way from one ink to another: one ink all over.
    Flat(Ink),
    Shading(Shading),
}

pub struct Shading {
    pub id: Ref,
    pub overprint: bool,
    /// From its space to points.
    matrix: Affine,
}

impl Forme<'_> {
    pub fn gradient(&mut self, content: &Content, gradient: &Gradient) -> GradientFill {
        let (place, mut matrix) = (content.place, Affine::IDENTITY);
        let Some((_, last)) = gradient.stops.last() else { return GradientFill::Nothing };
        let scale = place.determinant().abs().sqrt();
        let (kind, coordinates, length) = match gradient.course {
            Course::Linear { from, to } => {
                let (from, to) = (place * from, place * to);
                (FunctionShadingType::Axial, vec![from.x, from.y, to.x, to.y], from.distance(to))
            }
            Course::Radial { centre, radius } => {
                let (at, radius) = (place * centre, radius * scale);
                (FunctionShadingType::Radial, vec![at.x, at.y, 0.0, at.x, at.y, radius], radius)
            }
            Course::Oval { place: oval, focus, inner } => {
                matrix = place * oval;
                let length = matrix.determinant().abs().sqrt();
                (FunctionShadingType::Radial, vec![focus.x, focus.y, inner, 0.0, 0.0, 1.0], length)
            }
        };
        let same = gradient.stops.iter().all(|(_, ink)| ink == last);
        if same || !length.is_finite() || length <= 0.0 {
            return GradientFill::Flat(last.clone());
        }
        let overprint = gradient.overprints();
        let plates = if content.veil { vec![light()] } else { plates(gradient, overprint) };
        let function = self.stitched(gradient, &plates);
        let space = match &plates[..] {
            [] => None,
            _ if content.veil => None,
            [(name, look)] => Some(self.separation(name, *look)),
            _ => Some(self.mixture(&plates)),
        };
        let id = self.id();
        let mut shading = self.pdf.function_shading(id);
        shading.shading_type(kind);
        match space {
            Some(space) => shading.pair(Name(b"ColorSpace"), space),
            None => shading.pair(Name(b"ColorSpace"), Name(content.space())),
        };
        shading.coords(coordinates.iter().map(|number| *number as f32)).function(function).extend([true; 2]);
        drop(shading);
        GradientFill::Shading(Shading { id, overprint, matrix })
    }

    /// Fills what the content is cut to.
    pub fn fill_shading(&mut self, content: &mut Content, shading: &Shading) {
        self.overprint(content, shading.overprint);
        if shading.matrix != Affine::IDENTITY {
            content.matrix(shading.matrix, "cm");
        }
        content.call(Resource::Shading, shading.id, "sh");
    }

    /// Sets it as a colour.
    pub fn set_shading(&mut self, content: &mut Content, op: PaintOp, shading: &Shading) {
        let id = self.id();
        let mut pattern = self.pdf.shading_pattern(id);
        pattern.shading_ref(shading.id);
        if shading.matrix != Affine::IDENTITY {
            pattern.matrix(shading.matrix.as_coeffs().map(|number| number as f32));
        }
        drop(pattern);
        self.overprint(content, shading.overprint);
        content.shade(op, Shade::Pattern(id));
    }

    /// One linear function a stretch between two stops; stops at one place make a hard edge.
    fn stitched(&mut self, gradient: &Gradient, plates: &[Colorant]) -> Ref {
        let mut stops: Vec<(f64, Vec<f32>)> =
            gradient.stops.iter().map(|(at, ink)| (at.clamp(0.0, 1.0), amounts(ink, plates))).collect();
        // Before the first stop and after the last its ink goes on.
        let ends = [(0.0, stops.first().cloned()), (1.0, stops.last().cloned())];
        let [first, last] = ends.map(|(at, stop)| (at, stop.map(|stop| stop.1).unwrap_or_default()));
        stops.insert(0, first);
        stops.push(last);
        let stretches: Vec<_> = stops.windows(2).filter(|pair| pair[0].0 < pair[1].0).collect();
        let mut parts = Vec::with_capacity(stretches.len());
        for pair in &stretches {
            let id = self.id();
            let (from, to) = (pair[0].1.iter().copied(), pair[1].1.iter().copied());
            self.pdf.exponential_function(id).domain([0.0, 1.0]).c0(from).c1(to).n(1.0);
            parts.push(id);
        }
        if let [only] = parts[..] {
            return only;
        }
        let id = self.id();
        let bounds = stretches.iter().skip(1).map(|pair| pair[0].0 as f32);
        let mut whole = self.pdf.stitching_function(id);
        whole.domain([0.0, 1.0]).bounds(bounds).encode(parts.iter().flat_map(|_| [0.0, 1.0]));
        whole.functions(parts.iter().copied());
        drop(whole);
        id
    }
}

/// The plate of a veil: what it lays black is light.
fn light() -> Colorant {
    (PROCESS_PLATES[3].to_owned(), [0.0, 0.0, 0.0, 1.0])
}

/// The plates to be named; none for DeviceCMYK.
fn plates(gradient: &Gradient, overprint: bool) -> Vec<Colorant> {
    let mut process = [false; 4];
    let mut named: Vec<Colorant> = Vec::new();
    for (_, ink) in &gradient.stops {
        match &ink.colour {
            Colour::Process(inks) => (0..4).for_each(|plate| process[plate] |= inks[plate] > 0.0),
            Colour::Spot(spot, _) if named.iter().all(|(name, _)| *name != spot.name) => {
                named.push((spot.name.clone(), spot.look));
            }
            Colour::Spot(..) => {}
        }
    }
    if named.is_empty() && !overprint {
        return named;
    }
    let used = (0..4).filter(|plate| process[*plate]).map(|plate| {
        let look = std::array::from_fn(|ink| f64::from(u8::from(ink == plate)));
        (PROCESS_PLATES[plate].to_owned(), look)
    });
    used.chain(named.clone()).collect()
}

/// How much of each plate an ink lays down.
fn amounts(ink: &Ink, plates: &[Colorant]) -> Vec<f32> {
    if plates.is_empty() {
        return ink.look().map(|share| share as f32).to_vec();
    }
    let amount = |name: &str| match &ink.colour {
        Colour::Process(inks) => PROCESS_PLATES.iter().position(|plate| *plate == name).map_or(0.0, |at| inks[at]),
        Colour::Spot(spot, tint) => {
            if spot.name == name {
                *tint
            } else {
                0.0
            }
        }
    };
    plates.iter().map(|(name, _)| amount(name) as f32).collect()
}
