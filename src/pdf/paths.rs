//! Paths filled and stroked, in an ink or a gradient, and paths that cut.

use crate::ground::{Cap, FillRule, Join, Line, Paint, Path};
use crate::pdf::boxes::SCALE;
use crate::pdf::content::{Content, PaintOp};
use crate::pdf::forme::Forme;
use crate::pdf::gradients::GradientFill;

impl Forme<'_> {
    pub fn fill(&mut self, content: &mut Content, path: &Path, rule: FillRule, paint: &Paint) {
        if path.elements().is_empty() {
            return;
        }
        let ink = match paint {
            Paint::None => return,
            Paint::Ink(ink) => ink,
            Paint::Gradient(gradient) => match &self.gradient(content, gradient) {
                GradientFill::Nothing => return,
                GradientFill::Flat(ink) => return self.fill(content, path, rule, &Paint::Ink(ink.clone())),
                GradientFill::Shading(shading) => {
                    content.save();
                    clip(content, path, rule);
                    self.fill_shading(content, shading);
                    return content.restore();
                }
            },
        };
        self.ink(content, PaintOp::Fill, ink);
        content.path(path);
        content.word(if rule == FillRule::EvenOdd { "f*" } else { "f" });
    }

    pub fn stroke(&mut self, content: &mut Content, path: &Path, line: &Line, paint: &Paint) {
        if path.elements().is_empty() || line.width.is_nan() || line.width <= 0.0 {
            return;
        }
        content.save();
        match paint {
            Paint::None => return content.restore(),
            Paint::Ink(ink) => self.ink(content, PaintOp::Stroke, ink),
            Paint::Gradient(gradient) => match self.gradient(content, gradient) {
                GradientFill::Nothing => return content.restore(),
                GradientFill::Flat(ink) => self.ink(content, PaintOp::Stroke, &ink),
                GradientFill::Shading(shading) => self.set_shading(content, PaintOp::Stroke, &shading),
            },
        }
        set_line(content, line);
        content.path(path);
        content.word("S");
        content.restore();
    }
}

/// What follows prints only within the path.
pub fn clip(content: &mut Content, path: &Path, rule: FillRule) {
    content.path(path);
    content.word(if rule == FillRule::EvenOdd { "W* n" } else { "W n" });
}

fn set_line(content: &mut Content, line: &Line) {
    content.op(&[line.width * SCALE], "w");
    let cap = match line.cap {
        Cap::Butt => 0.0,
        Cap::Round => 1.0,
        Cap::Square => 2.0,
    };
    let join = match line.join {
        Join::Miter => 0.0,
        Join::Round => 1.0,
        Join::Bevel => 2.0,
    };
    content.op(&[cap], "J");
    content.op(&[join], "j");
    content.op(&[line.miter_limit.max(1.0)], "M");
    // All zero would be no dash at all.
    if line.dashes.iter().sum::<f64>() > 0.0 {
        content.bytes.extend_from_slice(b"[");
        line.dashes.iter().for_each(|dash| content.number(dash.max(0.0) * SCALE));
        content.bytes.extend_from_slice(b"] ");
        content.op(&[line.dash_offset * SCALE], "d");
    }
}
