//! Content: walks what a page paints, through the forms that it places, and notes what it is painted with.

use crate::ground::{Affine, MM_PER_PT, Point};
use crate::printed::page::{PageLine, PrintedPage};
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Dict, Name, Object, Stream};
use hayro_syntax::page::Resources;
use std::collections::BTreeSet;

/// Instructions that are looked at, forms within forms, and lines that are kept.
const INSTRUCTIONS: usize = 4_000_000;
const DEPTH: usize = 12;
const LINES: usize = 20_000;
/// States that may be saved within each other.
const SAVED: usize = 256;
/// Millimetres by which an upright line may lean.
const STRAIGHT: f64 = 0.02;

#[derive(Clone)]
struct PaintState {
    to_page: Affine,
    /// Of fills, and of strokes.
    overprint: [bool; 2],
    spots: [BTreeSet<String>; 2],
}

/// A walk over a page.
pub struct Walk<'p> {
    found: &'p mut PrintedPage,
    state: PaintState,
    saved: Vec<PaintState>,
    /// The corners of the path under way, part by part.
    path: Vec<Vec<Point>>,
    left: usize,
}

impl<'p> Walk<'p> {
    /// From the corner of the media box, in points.
    pub fn new(origin: (f64, f64), found: &'p mut PrintedPage) -> Walk<'p> {
        let to_page = Affine::scale(MM_PER_PT) * Affine::translate((-origin.0, -origin.1));
        let state = PaintState { to_page, overprint: [false; 2], spots: [BTreeSet::new(), BTreeSet::new()] };
        Walk { found, state, saved: Vec::new(), path: Vec::new(), left: INSTRUCTIONS }
    }

    /// Puts what was found into an order of its own, so that two files can be compared.
    pub fn finish(self) {
        self.found.pictures.sort();
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
            ("m", [x, y]) => self.path.push(vec![self.point(*x, *y)]),
            ("l", [x, y]) => self.to(*x, *y),
            ("c" | "v" | "y", [.., x, y]) => {
                // A curve is no edge: what follows begins another part.
                let point = self.point(*x, *y);
                self.path.push(vec![point]);
            }
            ("re", [x, y, w, h]) => {
                let corners = [(*x, *y), (x + w, *y), (x + w, y + h), (*x, y + h), (*x, *y)];
                self.path.push(corners.map(|(x, y)| self.point(x, y)).to_vec());
            }
            ("h", _) => self.close(),
            ("gs", _) => {
                if let Some(state) = name.and_then(|name| resources.get_ext_g_state(name)) {
                    self.look(&state);
                }
            }
            ("cs" | "CS", _) => {
                let spots = name.map(|name| spots(name, resources)).unwrap_or_default();
                self.state.spots[usize::from(operator == "CS")] = spots;
            }
            ("g" | "rg" | "k", _) => self.state.spots[0].clear(),
            ("G" | "RG" | "K", _) => self.state.spots[1].clear(),
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
            ("n", _) => self.path.clear(),
            ("Tj" | "TJ" | "'" | "\"", _) => {
                self.found.texts += 1;
                self.paint(&[0], false);
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

    fn point(&self, x: f64, y: f64) -> Point {
        self.state.to_page * Point::new(x, y)
    }

    fn to(&mut self, x: f64, y: f64) {
        let point = self.point(x, y);
        match self.path.last_mut() {
            Some(part) => part.push(point),
            None => self.path.push(vec![point]),
        }
    }

    fn close(&mut self) {
        if let Some(part) = self.path.last_mut()
            && let Some(first) = part.first().copied()
        {
            part.push(first);
        }
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
            let spots = std::mem::take(&mut self.state.spots[*how]);
            self.found.spots.extend(spots.iter().cloned());
            self.state.spots[*how] = spots;
        }
        if is_path {
            let parts = std::mem::take(&mut self.path);
            for pair in parts.iter().flat_map(|part| part.windows(2)) {
                self.line(pair[0], pair[1]);
            }
        }
    }

    fn line(&mut self, one: Point, other: Point) {
        let upright = (one.x - other.x).abs() < STRAIGHT;
        if upright == ((one.y - other.y).abs() < STRAIGHT) {
            return;
        }
        if self.found.lines.len() == LINES {
            self.found.is_cut_short = true;
            return;
        }
        let (at, a, b) = if upright { (one.x, one.y, other.y) } else { (one.y, one.x, other.x) };
        self.found.lines.push(PageLine { upright, at, from: a.min(b), to: a.max(b) });
    }

    /// A picture, or a form with content of its own.
    fn placed(&mut self, placed: &Stream<'_>, around: &Resources<'_>, depth: usize) {
        let kind = placed.dict().get::<Name<'_>>("Subtype").map(|kind| text(&kind));
        match kind.as_deref() {
            Some("Image") => self.picture(placed, around),
            Some("Form") if depth < DEPTH => {
                let Ok(bytes) = placed.decoded_data() else { return };
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
        let dict = picture.dict();
        let side = |key: &str| dict.get::<u32>(key).unwrap_or(0);
        let space = dict.get::<Object<'_>>("ColorSpace");
        let found = space.as_ref().map(|space| inks(space, resources)).unwrap_or_default();
        self.found.spots.extend(found);
        let kind =
            if dict.get::<bool>("ImageMask").unwrap_or(false) { "mask".to_owned() } else { kind(space.as_ref()) };
        self.found.pictures.push((side("Width"), side("Height"), kind));
        self.found.painted += 1;
        self.found.overprinted += usize::from(self.state.overprint[0]);
    }
}

fn number(object: &Object<'_>) -> Option<f64> {
    match object {
        Object::Number(number) => Some(number.as_f64()),
        _ => None,
    }
}

/// The spot inks of a colour space that is called by name.
fn spots(name: &Name<'_>, resources: &Resources<'_>) -> BTreeSet<String> {
    resources.get_color_space(name).map(|space| inks(&space, resources)).unwrap_or_default()
}

/// The inks that a colour space names, process inks left out.
fn inks(space: &Object<'_>, resources: &Resources<'_>) -> BTreeSet<String> {
    let process = ["Cyan", "Magenta", "Yellow", "Black", "None"];
    let array = match space {
        Object::Array(array) => array,
        Object::Name(name) => return resources.get_color_space(name).map_or_else(BTreeSet::new, |space| flat(&space)),
        _ => return BTreeSet::new(),
    };
    let mut parts = array.iter::<Object<'_>>();
    let (Some(Object::Name(kind)), Some(second)) = (parts.next(), parts.next()) else { return BTreeSet::new() };
    let names = match (text(&kind).as_str(), second) {
        ("Separation", Object::Name(name)) => vec![text(&name)],
        ("DeviceN", Object::Array(all)) => all.iter::<Name<'_>>().map(|name| text(&name)).collect(),
        ("Indexed" | "Pattern", base) => return flat(&base),
        _ => Vec::new(),
    };
    names.into_iter().filter(|name| !process.contains(&name.as_str())).collect()
}

/// The same of a space that names no other.
fn flat(space: &Object<'_>) -> BTreeSet<String> {
    if matches!(space, Object::Array(_)) { inks(space, &Resources::new(Dict::empty())) } else { BTreeSet::new() }
}

/// What a picture's samples are: `DeviceCMYK`, `ICCBased 4`.
fn kind(space: Option<&Object<'_>>) -> String {
    match space {
        Some(Object::Name(name)) => text(name),
        Some(Object::Array(array)) => {
            let mut parts = array.iter::<Object<'_>>();
            let first = parts.next().and_then(Object::into_name).map(|kind| text(&kind)).unwrap_or_default();
            match parts.next() {
                Some(Object::Stream(profile)) => {
                    format!("{first} {}", profile.dict().get::<u32>("N").unwrap_or(0))
                }
                _ => first,
            }
        }
        _ => "unknown".to_owned(),
    }
}

/// A name as text.
fn text(name: &Name<'_>) -> String {
    String::from_utf8_lossy(name.as_ref()).into_owned()
}
