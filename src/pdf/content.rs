//! Content: the operators of one content stream, written compactly, and the resources they name.

use crate::ground::{Affine, Path, PathEl, Point, Process};
use pdf_writer::writers::Resources;
use pdf_writer::{Name, Ref};
use std::collections::BTreeSet;

/// What a content stream may name; each is called by a letter and its object's number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Resource {
    State,
    Space,
    Font,
    Object,
    Shading,
    Pattern,
    Layer,
}

impl Resource {
    fn words(self) -> (&'static str, char) {
        match self {
            Resource::State => ("ExtGState", 'G'),
            Resource::Space => ("ColorSpace", 'C'),
            Resource::Font => ("Font", 'F'),
            Resource::Object => ("XObject", 'X'),
            Resource::Shading => ("Shading", 'S'),
            Resource::Pattern => ("Pattern", 'P'),
            Resource::Layer => ("Properties", 'L'),
        }
    }
}

/// A colour as a content stream sets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shade {
    Process(Process),
    /// In a Separation.
    Tint(Ref, f64),
    Pattern(Ref),
}

#[derive(Clone, Default)]
struct GraphicsState {
    fill: Option<Shade>,
    stroke: Option<Shade>,
    overprint: bool,
}

pub struct Content {
    pub bytes: Vec<u8>,
    uses: BTreeSet<(Resource, i32)>,
    state: GraphicsState,
    saved: Vec<GraphicsState>,
    /// From sheet millimetres to points.
    pub place: Affine,
    /// Black is written as light, in DeviceGray: a veil shows as much as it lays black.
    pub veil: bool,
}

/// Which colour of the graphics state.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum PaintOp {
    Fill,
    Stroke,
}

impl Content {
    pub fn new(place: Affine) -> Content {
        let (bytes, uses, state) = (Vec::new(), BTreeSet::new(), GraphicsState::default());
        Content { bytes, uses, state, saved: Vec::new(), place, veil: false }
    }

    /// A stream for what is drawn apart and lies in this one.
    pub fn inner(&self) -> Content {
        Content { veil: self.veil, ..Content::new(self.place) }
    }

    /// The colour space of a group in it.
    pub fn space(&self) -> &'static [u8] {
        if self.veil { b"DeviceGray" } else { b"DeviceCMYK" }
    }

    /// Operands, then the operator.
    pub fn op(&mut self, operands: &[f64], operator: &str) {
        for operand in operands {
            self.number(*operand);
        }
        self.word(operator);
    }

    pub fn word(&mut self, operator: &str) {
        self.bytes.extend_from_slice(operator.as_bytes());
        self.bytes.push(b'\n');
    }

    /// A number to 1e-4, and a space.
    pub fn number(&mut self, value: f64) {
        write_number(&mut self.bytes, value, 4);
        self.bytes.push(b' ');
    }

    /// Its turning part is written finer than its shift: a line of text may run far along it.
    pub fn matrix(&mut self, matrix: Affine, operator: &str) {
        let [a, b, c, d, e, f] = matrix.as_coeffs();
        for value in [a, b, c, d] {
            write_number(&mut self.bytes, value, 7);
            self.bytes.push(b' ');
        }
        self.op(&[e, f], operator);
    }

    /// Writes a resource's name and remembers it.
    pub fn name(&mut self, resource: Resource, id: Ref) {
        self.uses.insert((resource, id.get()));
        self.bytes.push(b'/');
        self.bytes.push(resource.words().1 as u8);
        write_number(&mut self.bytes, f64::from(id.get()), 0);
        self.bytes.push(b' ');
    }

    pub fn call(&mut self, resource: Resource, id: Ref, operator: &str) {
        self.name(resource, id);
        self.word(operator);
    }

    pub fn save(&mut self) {
        self.saved.push(self.state.clone());
        self.word("q");
    }

    pub fn restore(&mut self) {
        self.state = self.saved.pop().unwrap_or_default();
        self.word("Q");
    }

    pub fn shade(&mut self, op: PaintOp, shade: Shade) {
        let (known, process, space, colour) = match op {
            PaintOp::Fill => (&mut self.state.fill, "k", "cs", "scn"),
            PaintOp::Stroke => (&mut self.state.stroke, "K", "CS", "SCN"),
        };
        if known.replace(shade) == Some(shade) {
            return;
        }
        match shade {
            Shade::Process(inks) if self.veil => self.op(&inks[3..], if op == PaintOp::Fill { "g" } else { "G" }),
            Shade::Process(inks) => self.op(&inks, process),
            Shade::Tint(id, tint) => {
                self.call(Resource::Space, id, space);
                self.op(&[tint], colour);
            }
            Shade::Pattern(id) => {
                self.bytes.extend_from_slice(b"/Pattern ");
                self.word(space);
                self.call(Resource::Pattern, id, colour);
            }
        }
    }

    /// Whether the state given has to be set for `overprint`.
    pub fn turn_overprint(&mut self, overprint: bool) -> bool {
        std::mem::replace(&mut self.state.overprint, overprint) != overprint
    }

    /// A path in sheet millimetres, ready to be painted; `false` when there is nothing to paint.
    pub fn path(&mut self, path: &Path) -> bool {
        let place = self.place;
        let mut last = Point::ZERO;
        for element in path.elements() {
            let element = place * *element;
            match element {
                PathEl::MoveTo(to) => self.op(&[to.x, to.y], "m"),
                PathEl::LineTo(to) => self.op(&[to.x, to.y], "l"),
                PathEl::QuadTo(by, to) => {
                    let (one, two) = (last.lerp(by, 2.0 / 3.0), to.lerp(by, 2.0 / 3.0));
                    self.op(&[one.x, one.y, two.x, two.y, to.x, to.y], "c");
                }
                PathEl::CurveTo(one, two, to) => self.op(&[one.x, one.y, two.x, two.y, to.x, to.y], "c"),
                PathEl::ClosePath => self.word("h"),
            }
            last = element.end_point().unwrap_or(last);
        }
        !path.elements().is_empty()
    }

    /// Writes the resources named so far.
    pub fn resources(&self, resources: &mut Resources<'_>) {
        let mut kind = None;
        let ids =
            |wanted: Resource| self.uses.iter().filter(move |(resource, _)| *resource == wanted).map(|(_, id)| *id);
        for (resource, _) in &self.uses {
            if kind.replace(*resource) == Some(*resource) {
                continue;
            }
            let (key, letter) = resource.words();
            let mut dict = resources.insert(Name(key.as_bytes())).dict();
            for id in ids(*resource) {
                dict.pair(Name(format!("{letter}{id}").as_bytes()), Ref::new(id));
            }
        }
    }
}

/// Fixed decimals without trailing zeros; what is not a number is 0.
pub fn write_number(bytes: &mut Vec<u8>, value: f64, decimals: u32) {
    const LARGEST: f64 = 1e9;
    let unit = 10_u64.pow(decimals);
    let value = if value.is_finite() { value.clamp(-LARGEST, LARGEST) } else { 0.0 };
    let scaled = (value.abs() * unit as f64).round() as u64;
    if value < 0.0 && scaled > 0 {
        bytes.push(b'-');
    }
    let (whole, mut rest) = (scaled / unit, scaled % unit);
    if whole > 0 || rest == 0 {
        push_digits(bytes, whole, 1);
    }
    if rest > 0 {
        let mut width = decimals;
        while rest % 10 == 0 {
            rest /= 10;
            width -= 1;
        }
        bytes.push(b'.');
        push_digits(bytes, rest, width as usize);
    }
}

fn push_digits(bytes: &mut Vec<u8>, mut value: u64, width: usize) {
    let mut digits = [b'0'; 20];
    let mut start = digits.len();
    while value > 0 {
        start -= 1;
        digits[start] = b'0' + (value % 10) as u8;
        value /= 10;
    }
    bytes.extend_from_slice(&digits[start.min(digits.len() - width)..]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_right() {
        let written = |value| {
            let mut bytes = Vec::new();
            write_number(&mut bytes, value, 4);
            String::from_utf8(bytes).expect("digits")
        };
        let all = [0.0, -0.000_01, 1.0, -12.5, 0.05, 803.149_64, -0.25, f64::NAN, 100.0].map(written);
        assert_eq!(all, ["0", "0", "1", "-12.5", ".05", "803.1496", "-.25", "0", "100"]);
    }
}
