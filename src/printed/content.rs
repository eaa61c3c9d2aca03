//! Content: walks what a page paints, through the forms that it places, and notes what it is painted with.

use crate::ground::{Affine, MM_PER_PT, Path, PathEl, Point, Rect};
use crate::printed::colour_space::{ColourSpace, PrintedColour, kind, text};
use crate::printed::page::PrintedPage;
use crate::printed::painted::{PictureSamples, PrintedPicture, add_path, add_words, samples};
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Dict, Name, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Resources;
use std::collections::BTreeMap;

/// Instructions that are looked at, and forms within forms.
const INSTRUCTIONS: usize = 4_000_000;
const DEPTH: usize = 12;
/// Bytes of all forms, each counted where it is placed; and what counts for one that is damaged: nobody knows how far it was
/// followed.
const FORMS: usize = 1 << 30;
const DAMAGED: usize = FORMS / 4;
/// Pictures that are kept, and corners of one path.
const PICTURES: usize = 2000;
const ELEMENTS: usize = 200_000;
/// States that may be saved within each other.
const SAVED: usize = 256;

#[derive(Clone)]
struct PaintState {
    to_page: Affine,
    /// Of fills, and of strokes.
    overprint: [bool; 2],
    colours: [PrintedColour; 2],
    /// Of lines, before they are scaled.
    width: f64,
}

/// A walk over a page.
pub struct Walk<'p> {
    found: &'p mut PrintedPage,
    state: PaintState,
    saved: Vec<PaintState>,
    /// The path under way.
    path: Path,
    left: usize,
    bytes_left: usize,
    /// What the samples of a picture say that is placed again and again; `None` where nobody wants to know.
    samples: Option<BTreeMap<ObjectIdentifier, PictureSamples>>,
}

impl<'p> Walk<'p> {
    /// From the corner of the media box, in points.
    pub fn new(origin: (f64, f64), with_samples: bool, found: &'p mut PrintedPage) -> Walk<'p> {
        let to_page = Affine::scale(MM_PER_PT) * Affine::translate((-origin.0, -origin.1));
        let colours = [PrintedColour::black(), PrintedColour::black()];
        let state = PaintState { to_page, overprint: [false; 2], colours, width: 1.0 };
        let samples = with_samples.then(BTreeMap::new);
        Walk { found, state, saved: Vec::new(), path: Path::new(), left: INSTRUCTIONS, bytes_left: FORMS, samples }
    }

    /// Puts what was found into an order of its own, so that two files can be compared.
    pub fn finish(self) {
        let key = |picture: &PrintedPicture| (picture.width, picture.height, picture.kind.clone());
        self.found.pictures.sort_by_key(key);
        self.found.is_cut_short |= self.left == 0;
    }

    /// Fonts are noted where they are offered: a text may be set in any of them.
    pub fn resources(&mut self, resources: &Resources<'_>) {
        for (name, _) in resources.fonts.entries() {
            let Some(font) = resources.get_font(&name) else { continue };
            let own = font.get::<Array<'_>>("DescendantFonts").and_then(|all| all.iter::<Dict<'_>>().next());
            let described = own.as_ref().unwrap_or(&font).get::<Dict<'_>>("FontDescriptor");
            let inside = described
                .is_some_and(|font| ["FontFile", "FontFile2", "FontFile3"].iter().any(|key| font.contains_key(key)));
            let is_drawn = font.get::<Name<'_>>("Subtype").is_some_and(|kind| text(&kind) == "Type3");
            let called = font.get::<Name<'_>>("BaseFont").map_or_else(|| "unnamed".to_owned(), |name| text(&name));
            let called = called.split_once('+').map_or(called.as_str(), |(_, name)| name).to_owned();
            *self.found.fonts.entry(called).or_insert(true) &= inside || is_drawn;
        }
    }

    /// What a content stream paints.
    pub fn stream(&mut self, bytes: &[u8], resources: &Resources<'_>, depth: usize) {
        let outer = self.saved.len();
        let mut instructions = UntypedIter::new(bytes);
        while let Some(instruction) = instructions.next() {
            let Some(left) = self.left.checked_sub(1) else { break };
            self.left = left;
            let operands: Vec<&Object<'_>> = instruction.operands().collect();
            self.instruction(&instruction.operator.to_string(), &operands, resources, (depth, outer));
        }
    }

    fn instruction(
        &mut self,
        operator: &str,
        operands: &[&Object<'_>],
        resources: &Resources<'_>,
        (depth, outer): (usize, usize),
    ) {
        let numbers: Vec<f64> = operands.iter().filter_map(|operand| number(operand)).collect();
        let name = operands.last().and_then(|operand| match operand {
            Object::Name(name) => Some(name),
            _ => None,
        });
        match (operator, &numbers[..]) {
            ("q", _) if self.saved.len() < SAVED => self.saved.push(self.state.clone()),
            ("Q", _) if self.saved.len() > outer => self.state = self.saved.pop().unwrap_or_else(|| self.state.clone()),
            ("cm", [a, b, c, d, e, f]) => self.state.to_page *= Affine::new([*a, *b, *c, *d, *e, *f]),
            ("m", [x, y]) => self.draw(|at| PathEl::MoveTo(at(*x, *y))),
            ("l", [x, y]) => self.draw(|at| PathEl::LineTo(at(*x, *y))),
            ("c", [a, b, c, d, x, y]) => self.draw(|at| PathEl::CurveTo(at(*a, *b), at(*c, *d), at(*x, *y))),
            ("v", [c, d, x, y]) => {
                let start = self.path.current_position().unwrap_or_default();
                self.draw(|at| PathEl::CurveTo(start, at(*c, *d), at(*x, *y)));
            }
            ("y", [a, b, x, y]) => self.draw(|at| PathEl::CurveTo(at(*a, *b), at(*x, *y), at(*x, *y))),
            ("re", [x, y, w, h]) => {
                self.draw(|at| PathEl::MoveTo(at(*x, *y)));
                for (x, y) in [(x + w, *y), (x + w, y + h), (*x, y + h)] {
                    self.draw(|at| PathEl::LineTo(at(x, y)));
                }
                self.close();
            }
            ("h", _) => self.close(),
            ("w", [width]) => self.state.width = *width,
            ("gs", _) => {
                if let Some(state) = name.and_then(|name| resources.get_ext_g_state(name)) {
                    self.look(&state);
                }
            }
            ("cs" | "CS", _) => {
                let space = name.map(|name| ColourSpace::of(&Object::Name(name.clone()), resources));
                let space = space.unwrap_or(ColourSpace::Grey);
                self.state.colours[usize::from(operator == "CS")] = PrintedColour::first_of(space);
            }
            ("sc" | "scn", _) => self.state.colours[0].mix(&numbers),
            ("SC" | "SCN", _) => self.state.colours[1].mix(&numbers),
            ("g" | "G", [_]) => self.colour(operator == "G", ColourSpace::Grey, &numbers),
            ("rg" | "RG", [_, _, _]) => self.colour(operator == "RG", ColourSpace::Rgb, &numbers),
            ("k" | "K", [_, _, _, _]) => self.colour(operator == "K", ColourSpace::Cmyk, &numbers),
            ("f" | "F" | "f*", _) => self.paint(&[0], true),
            ("S", _) => self.paint(&[1], true),
            ("s", _) => {
                self.close();
                self.paint(&[1], true);
            }
            ("B" | "B*", _) => self.paint(&[0, 1], true),
            ("b" | "b*", _) => {
                self.close();
                self.paint(&[0, 1], true);
            }
            ("n", _) => self.path = Path::new(),
            ("Tj" | "TJ" | "'" | "\"", _) => {
                self.found.texts += 1;
                self.paint(&[0], false);
                let fits = add_words(&mut self.found.colours, &self.state.colours[0], self.state.overprint[0]);
                self.found.is_cut_short |= !fits;
            }
            ("sh", _) => self.paint(&[0], false),
            ("Do", _) => {
                if let Some(placed) = name.and_then(|name| resources.get_x_object(name)) {
                    self.placed(&placed, resources, depth);
                }
            }
            _ => {}
        }
    }

    /// Adds to the path under way.
    fn draw(&mut self, element: impl FnOnce(&dyn Fn(f64, f64) -> Point) -> PathEl) {
        let to_page = self.state.to_page;
        let element = element(&|x, y| to_page * Point::new(x, y));
        match element {
            _ if self.path.elements().len() >= ELEMENTS => self.found.is_cut_short = true,
            PathEl::MoveTo(point) => self.path.move_to(point),
            PathEl::LineTo(point) if self.path.elements().is_empty() => self.path.move_to(point),
            _ if self.path.elements().is_empty() => {}
            _ => self.path.push(element),
        }
    }

    fn close(&mut self) {
        self.draw(|_| PathEl::ClosePath);
    }

    fn colour(&mut self, of_strokes: bool, space: ColourSpace, values: &[f64]) {
        self.state.colours[usize::from(of_strokes)] = PrintedColour { space, values: values.to_vec() };
    }

    fn look(&mut self, state: &Dict<'_>) {
        let stroke = state.get::<bool>("OP");
        let fill = state.get::<bool>("op").or(stroke);
        self.state.overprint[0] = fill.unwrap_or(self.state.overprint[0]);
        self.state.overprint[1] = stroke.unwrap_or(self.state.overprint[1]);
    }

    /// Something is painted: filled (0), stroked (1) or both.
    fn paint(&mut self, how: &[usize], is_path: bool) {
        self.found.painted += 1;
        self.found.overprinted += usize::from(how.iter().any(|how| self.state.overprint[*how]));
        for how in how {
            self.found.spots.extend(self.state.colours[*how].space.spots());
        }
        if is_path {
            let path = std::mem::take(&mut self.path);
            let scale = self.state.to_page.determinant().abs().sqrt();
            // The inks of patterns are not looked at.
            let is_pattern = |how: &&usize| matches!(self.state.colours[**how].space, ColourSpace::Other(_));
            let known: Vec<usize> = how.iter().filter(|how| !is_pattern(how)).copied().collect();
            for how in &known {
                let width = (*how == 1).then_some(self.state.width * scale);
                let fits = add_path(
                    &mut self.found.colours,
                    &self.state.colours[*how],
                    &path,
                    width,
                    self.state.overprint[*how],
                );
                self.found.is_cut_short |= !fits;
            }
            self.found.keep_lines(&path);
        }
    }

    /// A picture, or a form with content of its own.
    fn placed(&mut self, placed: &Stream<'_>, around: &Resources<'_>, depth: usize) {
        let kind = placed.dict().get::<Name<'_>>("Subtype").map(|kind| text(&kind));
        match kind.as_deref() {
            Some("Image") => self.picture(placed, around),
            Some("Form") if depth < DEPTH && self.bytes_left > 0 => {
                let Ok(bytes) = placed.decoded_data() else {
                    self.bytes_left = self.bytes_left.saturating_sub(DAMAGED);
                    self.found.is_cut_short = true;
                    return;
                };
                self.bytes_left = self.bytes_left.saturating_sub(bytes.len());
                let own = placed.dict().get::<Dict<'_>>("Resources").map(Resources::new);
                let resources = own.as_ref().unwrap_or(around);
                let kept = self.state.clone();
                let matrix: Vec<f64> =
                    placed.dict().get::<Array<'_>>("Matrix").map(|all| all.iter::<f64>().collect()).unwrap_or_default();
                if let Ok(matrix) = <[f64; 6]>::try_from(matrix) {
                    self.state.to_page *= Affine::new(matrix);
                }
                self.resources(resources);
                self.stream(&bytes, resources, depth + 1);
                self.state = kept;
            }
            _ => self.found.is_cut_short |= kind.as_deref() == Some("Form"),
        }
    }

    fn picture(&mut self, picture: &Stream<'_>, resources: &Resources<'_>) {
        if self.found.pictures.len() == PICTURES {
            self.found.is_cut_short = true;
            return;
        }
        let dict = picture.dict();
        let side = |key: &str| dict.get::<u32>(key).unwrap_or(0);
        let stated = dict.get::<Object<'_>>("ColorSpace");
        let space = stated.as_ref().map(|space| ColourSpace::of(space, resources));
        let space = space.unwrap_or_else(|| ColourSpace::Other("unknown".to_owned()));
        self.found.spots.extend(space.spots());
        let kind =
            if dict.get::<bool>("ImageMask").unwrap_or(false) { "mask".to_owned() } else { kind(stated.as_ref()) };
        let samples = self.samples.as_mut().map(|known| {
            let found = known.entry(picture.obj_id()).or_insert_with(|| samples(picture, &space, kind == "Indexed"));
            found.clone()
        });
        let place = self.state.to_page.transform_rect_bbox(Rect::new(0.0, 0.0, 1.0, 1.0));
        let samples = samples.unwrap_or_default();
        self.found.pictures.push(PrintedPicture { width: side("Width"), height: side("Height"), kind, place, samples });
        self.found.painted += 1;
        self.found.overprinted += usize::from(self.state.overprint[0]);
    }
}

pub fn number(object: &Object<'_>) -> Option<f64> {
    match object {
        Object::Number(number) => Some(number.as_f64()),
        _ => None,
    }
}
