//! Operators: what the instructions of a page paint.

use crate::ground::{Affine, Blend, Cap, FillRule, Join, Path, Point, rect_path};
use crate::printed::{ColourSpace, PrintedColour, number_of};
use crate::returned::byte_budget::ByteBudget;
use crate::returned::colours::plate_space;
use crate::returned::drawn::PagePainter;
use crate::returned::functions::{numbers, word};
use crate::returned::shadings::PageShading;
use crate::returned::state::PagePaint;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Dict, Name, Object};
use hayro_syntax::page::Resources;
use std::sync::Arc;

/// Instructions of a page, elements of one path, and states within each other.
const INSTRUCTIONS: usize = 2_000_000;
const ELEMENTS: usize = 500_000;
const SAVED: usize = 256;

/// The page whose content runs, and how deep it stands in others.
#[derive(Clone, Copy)]
pub struct ContentAround<'a> {
    pub resources: &'a Resources<'a>,
    pub depth: usize,
    /// How many states were saved outside.
    outer: usize,
    /// From the space of this content's patterns to the sheet.
    base: Affine,
}

impl PagePainter<'_> {
    pub fn stream(&mut self, bytes: &[u8], resources: &Resources<'_>, depth: usize) {
        let around = ContentAround { resources, depth, outer: self.saved.len(), base: self.state.to_sheet };
        let mut instructions = UntypedIter::new(bytes);
        while let Some(instruction) = instructions.next() {
            self.instructions += 1;
            if self.instructions > INSTRUCTIONS {
                return self.undrawn("more instructions than are followed");
            }
            if self.budget.is_spent() {
                return self.undrawn(ByteBudget::SPENT);
            }
            let operands: Vec<&Object<'_>> = instruction.operands().collect();
            self.instruction(&instruction.operator.to_string(), &operands, around);
        }
        self.saved.truncate(around.outer);
    }

    fn instruction(&mut self, operator: &str, operands: &[&Object<'_>], around: ContentAround<'_>) {
        let numbers: Vec<f64> = operands.iter().filter_map(|operand| number_of(operand)).collect();
        let name = operands.last().and_then(|operand| match operand {
            Object::Name(name) => Some(name),
            _ => None,
        });
        match (operator, &numbers[..]) {
            ("q", _) if self.saved.len() < SAVED => self.saved.push(self.state.clone()),
            ("q", _) => self.undrawn("more states than are kept"),
            ("Q", _) if self.saved.len() > around.outer => self.state = self.saved.pop().expect("one was saved"),
            ("cm", [a, b, c, d, e, f]) => self.state.to_sheet *= Affine::new([*a, *b, *c, *d, *e, *f]),
            ("gs", _) => {
                if let Some(look) = name.and_then(|name| around.resources.get_ext_g_state(name)) {
                    self.look(&look, around);
                }
            }
            ("Do", _) => {
                if let Some(placed) = name.and_then(|name| around.resources.get_x_object(name)) {
                    self.placed(&placed, around);
                }
            }
            ("sh", _) => self.shade(name, around),
            ("BI", _) => match operands.last() {
                Some(Object::Stream(picture)) => self.photo_inside(picture, around.resources),
                _ => self.undrawn("pictures within the page's content that are damaged"),
            },
            _ if self.path_step(operator, &numbers) => {}
            _ if self.line_look(operator, &numbers, operands) => {}
            _ if self.colour_step(operator, &numbers, name, around) => {}
            _ => self.text_step(operator, &numbers, operands, around),
        }
    }

    fn path_step(&mut self, operator: &str, numbers: &[f64]) -> bool {
        let to_sheet = self.state.to_sheet;
        let at = |x: f64, y: f64| to_sheet * Point::new(x, y);
        let begun = !self.path.elements().is_empty();
        if self.path.elements().len() > ELEMENTS {
            self.undrawn("a path of more corners than are followed");
            self.path = Path::new();
        }
        match (operator, numbers) {
            ("m", [x, y]) => self.path.move_to(at(*x, *y)),
            ("l", [x, y]) if begun => self.path.line_to(at(*x, *y)),
            ("c", [a, b, c, d, x, y]) if begun => self.path.curve_to(at(*a, *b), at(*c, *d), at(*x, *y)),
            ("v", [c, d, x, y]) if begun => {
                let start = self.path.current_position().unwrap_or_default();
                self.path.curve_to(start, at(*c, *d), at(*x, *y));
            }
            ("y", [a, b, x, y]) if begun => self.path.curve_to(at(*a, *b), at(*x, *y), at(*x, *y)),
            ("re", [x, y, w, h]) => {
                self.path.move_to(at(*x, *y));
                for (x, y) in [(x + w, *y), (x + w, y + h), (*x, y + h)] {
                    self.path.line_to(at(x, y));
                }
                self.path.close_path();
            }
            ("h", _) if begun => self.path.close_path(),
            ("W", _) => self.next_clip = Some(FillRule::NonZero),
            ("W*", _) => self.next_clip = Some(FillRule::EvenOdd),
            ("n", _) => self.painted(None, false),
            ("f" | "F", _) => self.painted(Some(FillRule::NonZero), false),
            ("f*", _) => self.painted(Some(FillRule::EvenOdd), false),
            ("S", _) => self.painted(None, true),
            ("B", _) => self.painted(Some(FillRule::NonZero), true),
            ("B*", _) => self.painted(Some(FillRule::EvenOdd), true),
            ("s" | "b" | "b*", _) => {
                if begun {
                    self.path.close_path();
                }
                let rule = if operator == "b*" { FillRule::EvenOdd } else { FillRule::NonZero };
                self.painted((operator != "s").then_some(rule), true);
            }
            ("l" | "c" | "v" | "y" | "h", _) => {}
            _ => return false,
        }
        true
    }

    fn painted(&mut self, fill: Option<FillRule>, stroke: bool) {
        let path = std::mem::take(&mut self.path);
        let clip = self.next_clip.take();
        if let Some(rule) = fill {
            self.fill(&path, rule);
        }
        if stroke {
            self.stroke(&path);
        }
        if let Some(rule) = clip {
            self.cut(path, rule);
        }
    }

    fn line_look(&mut self, operator: &str, numbers: &[f64], operands: &[&Object<'_>]) -> bool {
        let line = &mut self.state.line;
        match (operator, numbers) {
            ("w", [width]) => line.width = *width,
            ("J", [cap]) => line.cap = [Cap::Butt, Cap::Round, Cap::Square][(*cap as usize).min(2)],
            ("j", [join]) => line.join = [Join::Miter, Join::Round, Join::Bevel][(*join as usize).min(2)],
            ("M", [limit]) => line.miter_limit = *limit,
            ("d", _) => {
                if let Some(Object::Array(dashes)) = operands.first() {
                    line.dashes = dashes.iter::<f64>().collect();
                    line.dash_offset = numbers.last().copied().unwrap_or(0.0);
                }
            }
            _ => return false,
        }
        true
    }

    fn look(&mut self, look: &Dict<'_>, around: ContentAround<'_>) {
        self.look_of_lines(look);
        let state = &mut self.state;
        let stroke = look.get::<bool>("OP");
        state.fill.overprint = look.get::<bool>("op").or(stroke).unwrap_or(state.fill.overprint);
        state.stroke.overprint = stroke.unwrap_or(state.stroke.overprint);
        state.by_ink = look.get::<u32>("OPM").map_or(state.by_ink, |mode| mode == 1);
        state.fill.opacity = look.get::<f64>("ca").unwrap_or(state.fill.opacity);
        state.stroke.opacity = look.get::<f64>("CA").unwrap_or(state.stroke.opacity);
        state.line.width = look.get::<f64>("LW").unwrap_or(state.line.width);
        match word(look, "BM").as_deref() {
            None if look.contains_key("BM") => self.undrawn("a list of blends"),
            None => {}
            Some("Normal" | "Compatible") => state.blend = Blend::Normal,
            // Light of a mask is laid as black, and black multiplies the other way round.
            Some("Multiply") if self.spots.of_light => self.undrawn("a soft mask with the blend Multiply"),
            Some("Multiply") => state.blend = Blend::Multiply,
            Some(other) => self.undrawn(&format!("the blend {other}")),
        }
        if let Some(mask) = look.get::<Object<'_>>("SMask") {
            self.state.mask = None;
            if let Object::Dict(mask) = mask {
                match self.soft_mask(&mask, around) {
                    Ok(mask) => self.state.mask = Some(mask),
                    Err(why) => self.undrawn(&why),
                }
            }
        }
    }

    /// What a graphics state says of lines, and what of it is not drawn.
    fn look_of_lines(&mut self, look: &Dict<'_>) {
        for (key, operator) in [("LC", "J"), ("LJ", "j"), ("ML", "M")] {
            if let Some(number) = look.get::<f64>(key) {
                self.line_look(operator, &[number], &[]);
            }
        }
        if let Some(pattern) = look.get::<Array<'_>>("D") {
            let parts: Vec<Object<'_>> = pattern.iter::<Object<'_>>().take(2).collect();
            let offset: Vec<f64> = parts.iter().filter_map(number_of).collect();
            self.line_look("d", &offset, &parts.iter().collect::<Vec<_>>());
        }
        if look.contains_key("Font") {
            self.undrawn("a font that a graphics state sets");
        }
        let curves = ["TR", "TR2"].into_iter().filter(|key| look.contains_key(key));
        let mut kinds = curves.map(|key| word(look, key));
        if kinds.any(|kind| !matches!(kind.as_deref(), Some("Identity" | "Default"))) {
            self.undrawn("transfer curves of a graphics state");
        }
    }

    fn colour_step(
        &mut self,
        operator: &str,
        numbers: &[f64],
        name: Option<&Name<'_>>,
        around: ContentAround<'_>,
    ) -> bool {
        let of_strokes = operator.starts_with(|letter: char| letter.is_ascii_uppercase());
        let space = match (operator, numbers.len()) {
            ("g" | "G", 1) => Some(ColourSpace::Grey),
            ("rg" | "RG", 3) => Some(ColourSpace::Rgb),
            ("k" | "K", 4) => Some(ColourSpace::Cmyk),
            ("cs" | "CS" | "sc" | "SC" | "scn" | "SCN", _) => None,
            _ => return false,
        };
        let pattern = match (operator, name) {
            ("scn" | "SCN", Some(name)) => Some(pattern(name, around, &mut self.budget)),
            _ => None,
        };
        let paint: &mut PagePaint = if of_strokes { &mut self.state.stroke } else { &mut self.state.fill };
        match (space, operator, name) {
            (Some(space), ..) => {
                paint.colour = PrintedColour { space, values: numbers.to_vec() };
                paint.pattern = None;
            }
            (None, "cs" | "CS", Some(name)) => {
                let space = plate_space(&Object::Name(name.clone()), around.resources);
                paint.colour = PrintedColour::first_of(space);
                paint.pattern = None;
            }
            (None, ..) if pattern.is_some() => paint.pattern = pattern,
            (None, ..) => paint.colour.mix(numbers),
        }
        true
    }

    fn shade(&mut self, name: Option<&Name<'_>>, around: ContentAround<'_>) {
        let shading = match name.and_then(|name| around.resources.get_shading(name)) {
            Some(Object::Dict(shading)) => shading,
            Some(Object::Stream(shading)) => shading.dict().clone(),
            _ => return,
        };
        match PageShading::read(&shading, around.resources, self.state.to_sheet, &mut self.budget) {
            Ok(shading) => {
                let kept = self.state.fill.pattern.replace(Ok(Arc::new(shading)));
                self.fill(&rect_path(self.page), FillRule::NonZero);
                self.state.fill.pattern = kept;
            }
            Err(why) => self.undrawn(&why),
        }
    }
}

/// A shading as a pattern.
fn pattern(name: &Name<'_>, around: ContentAround<'_>, budget: &mut ByteBudget) -> Result<Arc<PageShading>, String> {
    let Some(Object::Dict(pattern)) = around.resources.get_pattern(name) else {
        return Err("patterns of tiles".to_owned());
    };
    let shading = match pattern.get::<Object<'_>>("Shading") {
        Some(Object::Dict(shading)) => shading,
        Some(Object::Stream(shading)) => shading.dict().clone(),
        _ => return Err("patterns of a kind that is not drawn".to_owned()),
    };
    let matrix = numbers(&pattern, "Matrix").and_then(|matrix| <[f64; 6]>::try_from(matrix).ok());
    let to_sheet = around.base * matrix.map_or(Affine::IDENTITY, Affine::new);
    PageShading::read(&shading, around.resources, to_sheet, budget).map(Arc::new)
}
