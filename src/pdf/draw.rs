//! The items of a scene, bottom to top, as operators of a content stream.

use crate::ground::{Blend, Cap, FillRule, Join, Line, Paint, Path, Rect, rect_path};
use crate::pdf::content::{Content, Named, Side};
use crate::pdf::forme::{Forme, State};
use crate::pdf::gradients::Run;
use crate::pdf::inks::Shade;
use crate::pdf::opening::Opening;
use crate::pdf::paper::SCALE;
use crate::scene::{Group, Item, Mark};
use std::sync::Arc;

/// Room around a group's own bounds for miters and rounding, in millimetres.
const GROUP_ROOM: f64 = 2.0;

impl Forme<'_> {
    pub fn draw(&mut self, content: &mut Content, items: &[Item]) {
        let mut items = items.iter().peekable();
        while let Some(item) = items.next() {
            let layered = self.open_layer(content, item);
            match &item.mark {
                Mark::Fill { path, rule, paint } => self.fill(content, path, *rule, paint),
                Mark::Stroke { path, line, paint } => self.stroke(content, path, line, paint),
                Mark::Glyphs(run) => {
                    let next =
                        items.peek().filter(|next| Arc::ptr_eq(&next.origin, &item.origin)).map(|next| &next.mark);
                    match next.and_then(|next| Opening::of(run, next)) {
                        Some(opening) => {
                            self.opening(content, run, &opening);
                            items.next();
                        }
                        None => self.glyphs(content, run),
                    }
                }
                Mark::Picture(placed) => self.picture(content, placed),
                Mark::Group(group) => self.draw_group(content, group),
            }
            if layered {
                content.word("EMC");
            }
        }
    }

    pub fn fill(&mut self, content: &mut Content, path: &Path, rule: FillRule, paint: &Paint) {
        if path.elements().is_empty() {
            return;
        }
        let ink = match paint {
            Paint::Ink(ink) => ink,
            Paint::Gradient(gradient) => match &self.gradient(content.place, gradient) {
                Run::Nothing => return,
                Run::Flat(ink) => return self.fill(content, path, rule, &Paint::Ink(ink.clone())),
                Run::Shading(shading, overprint) => {
                    content.save();
                    self.overprint(content, *overprint);
                    clip(content, path, rule);
                    content.call(Named::Shading, *shading, "sh");
                    return content.restore();
                }
            },
        };
        self.ink(content, Side::Fill, ink);
        content.path(path);
        content.word(if rule == FillRule::EvenOdd { "f*" } else { "f" });
    }

    fn stroke(&mut self, content: &mut Content, path: &Path, line: &Line, paint: &Paint) {
        if path.elements().is_empty() || line.width.is_nan() || line.width <= 0.0 {
            return;
        }
        content.save();
        match paint {
            Paint::Ink(ink) => self.ink(content, Side::Stroke, ink),
            Paint::Gradient(gradient) => match self.gradient(content.place, gradient) {
                Run::Nothing => return content.restore(),
                Run::Flat(ink) => self.ink(content, Side::Stroke, &ink),
                Run::Shading(shading, overprint) => {
                    let id = self.id();
                    self.pdf.shading_pattern(id).shading_ref(shading);
                    self.overprint(content, overprint);
                    content.shade(Side::Stroke, Shade::Pattern(id));
                }
            },
        }
        set_line(content, line);
        content.path(path);
        content.word("S");
        content.restore();
    }

    fn draw_group(&mut self, content: &mut Content, group: &Group) {
        if group.items.is_empty() || group.opacity <= 0.0 {
            return;
        }
        content.save();
        if let Some((path, rule)) = &group.clip {
            if path.elements().is_empty() {
                return content.restore();
            }
            clip(content, path, *rule);
        }
        if group.is_plain() {
            self.draw(content, &group.items);
        } else {
            let mut inside = self.content();
            self.draw(&mut inside, &group.items);
            let bounds = group.bounds().map_or(self.paper.media, |bounds| {
                inside.place.transform_rect_bbox(bounds.inflate(GROUP_ROOM, GROUP_ROOM)).intersect(self.paper.media)
            });
            // What overprints must see the plates under the group; alone it would carry paper there. A group that
            // multiplies brings paper without harm, and plates that it saw would be multiplied with themselves.
            let mut isolated = true;
            if group.blend == Blend::Normal {
                group.items.iter().for_each(|item| item.inks(&mut |ink| isolated &= !ink.overprints()));
            }
            let form = self.group(&inside, bounds, b"DeviceCMYK", isolated);
            // A form begins in the state it is called in.
            self.overprint(content, false);
            self.state(content, State::mix(group.opacity, group.blend));
            content.call(Named::Object, form, "Do");
        }
        content.restore();
    }

    /// Draws within a rectangle of the sheet.
    pub fn draw_within(&mut self, content: &mut Content, room: Rect, items: &[Item]) {
        content.save();
        clip(content, &rect_path(room), FillRule::NonZero);
        self.draw(content, items);
        content.restore();
    }
}

fn clip(content: &mut Content, path: &Path, rule: FillRule) {
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
