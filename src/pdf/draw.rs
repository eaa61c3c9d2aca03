//! The items of a scene, bottom to top, as operators of a content stream.

use crate::ground::{Blend, FillRule, Rect, rect_path};
use crate::pdf::composed::ComposedPicture;
use crate::pdf::content::{Content, Resource};
use crate::pdf::forme::{ExtGState, Forme};
use crate::pdf::paths::clip;
use crate::pdf::word_over_runs::runs_of_words;
use crate::scene::{Group, Item, Mark};

/// Room around a group's own bounds for rounding, in millimetres.
const GROUP_ROOM: f64 = 0.1;

impl Forme<'_> {
    pub fn draw(&mut self, content: &mut Content, items: &[Item]) {
        let mut next = 0;
        while let Some(item) = items.get(next) {
            let together = runs_of_words(&items[next..]);
            let layered = self.open_layer(content, item);
            match &item.mark {
                Mark::Fill { path, rule, paint } => self.fill(content, path, *rule, paint),
                Mark::Stroke { path, line, paint } => self.stroke(content, path, line, paint),
                Mark::Glyphs(run) if together == 1 => self.glyphs(content, run),
                Mark::Glyphs(_) => {
                    let runs = items[next..next + together].iter().filter_map(|item| match &item.mark {
                        Mark::Glyphs(run) => Some(run),
                        _ => None,
                    });
                    self.words_over_runs(content, &runs.collect::<Vec<_>>());
                }
                Mark::Picture(placed) => self.picture(content, placed),
                Mark::Group(group) => self.draw_group(content, group),
            }
            if layered {
                content.word("EMC");
            }
            next += together;
        }
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
            let mut inside = content.inner();
            self.draw(&mut inside, &group.items);
            let bounds = group.bounds().map_or(self.boxes.media, |bounds| {
                inside.place.transform_rect_bbox(bounds.inflate(GROUP_ROOM, GROUP_ROOM)).intersect(self.boxes.media)
            });
            let veil = group.veil.as_ref().map(|veil| {
                let mut shows = content.inner();
                shows.veil = true;
                self.draw(&mut shows, veil);
                self.group(&shows, bounds, b"DeviceGray", true)
            });
            // What overprints must see the plates under the group; alone it would carry paper there. A group that
            // multiplies brings paper without harm, and plates that it saw would be multiplied with themselves.
            let mut isolated = true;
            if group.blend == Blend::Normal {
                group.items.iter().for_each(|item| item.inks(&mut |ink| isolated &= !ink.overprints()));
            }
            let form = self.group(&inside, bounds, content.space(), isolated);
            // A form begins in the state it is called in.
            self.overprint(content, false);
            if let Some(veil) = veil {
                self.state(content, ExtGState::Through(veil.get()));
            }
            self.state(content, ExtGState::mix(group.opacity, group.blend));
            content.call(Resource::Object, form, "Do");
        }
        content.restore();
    }

    /// Draws within a rectangle of the sheet; pictures lie on so many of the items and under the others.
    pub fn draw_within(
        &mut self,
        content: &mut Content,
        room: Rect,
        items: &[Item],
        pictures: &[(usize, ComposedPicture)],
    ) {
        content.save();
        clip(content, &rect_path(room), FillRule::NonZero);
        let mut drawn = 0;
        for (below, picture) in pictures {
            self.draw(content, items.get(drawn..*below).unwrap_or_default());
            self.composed(content, picture);
            drawn = *below;
        }
        self.draw(content, items.get(drawn..).unwrap_or_default());
        content.restore();
    }
}
