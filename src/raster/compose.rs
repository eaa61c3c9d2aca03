//! Marks laid tile by tile, bottom to top.

use crate::ground::Rect;
use crate::raster::brush::{Palette, Run};
use crate::raster::canvas::{Outline, Scratch, Window, cover};
use crate::raster::layer::{Layer, Share, times};
use crate::raster::marks::{Ready, ReadyGroup, ReadyMark};

#[derive(Default)]
struct Tools {
    scratch: Scratch,
    palette: Palette,
}

pub fn compose(marks: &[Option<Ready>], window: Window, planes: usize) -> Layer {
    let mut layer = Layer::paper(window, planes);
    let mut tools = Tools::default();
    marks.iter().flatten().for_each(|ready| lay(ready, None, &mut layer, &mut tools));
    layer
}

fn lay(ready: &Ready, mask: Option<&[u8]>, layer: &mut Layer, tools: &mut Tools) {
    let window = layer.window;
    if !ready.bounds.overlaps(window.rect()) {
        return;
    }
    match &ready.mark {
        ReadyMark::Shape(outlines, brush) => {
            let Tools { scratch, palette } = tools;
            for (outline, shift) in outlines {
                cover(outline, *shift, window, scratch, |row, first, end, coverage| {
                    brush.lay(Run { row, first, end, coverage }, mask, layer, palette);
                });
            }
        }
        ReadyMark::Group(group) => lay_group(group, mask, layer, tools),
    }
}

fn lay_group(group: &ReadyGroup, mask: Option<&[u8]>, layer: &mut Layer, tools: &mut Tools) {
    let own = group.clip.as_ref().map(|clip| masked(clip, mask, layer.window, tools));
    if own.as_ref().is_some_and(|own| own.iter().all(|share| *share == 0)) {
        return;
    }
    let mask = own.as_deref().or(mask);
    if group.is_plain() {
        group.items.iter().for_each(|ready| lay(ready, mask, layer, tools));
        return;
    }
    let mut apart = layer.group();
    group.items.iter().for_each(|ready| lay(ready, None, &mut apart, tools));
    match mask {
        None => layer.lay_group(&apart, Share::Even(group.opacity), group.multiply),
        Some(mask) => {
            let shares: Vec<u8> = mask.iter().map(|share| times(*share, group.opacity)).collect();
            layer.lay_group(&apart, Share::Each(&shares), group.multiply);
        }
    }
}

fn masked(clip: &Outline, mask: Option<&[u8]>, window: Window, tools: &mut Tools) -> Vec<u8> {
    let mut own = vec![0; window.area()];
    cover(clip, (0.0, 0.0), window, &mut tools.scratch, |row, first, end, coverage| {
        own[row * window.width + first..row * window.width + end].fill(coverage);
    });
    if let Some(mask) = mask {
        own.iter_mut().zip(mask).for_each(|(own, mask)| *own = times(*own, *mask));
    }
    own
}

impl Window {
    pub fn rect(&self) -> Rect {
        let (x, y) = (self.x as f64, self.y as f64);
        Rect::new(x, y, x + self.width as f64, y + self.height as f64)
    }

    /// What of it lies in a rectangle, whole pixels.
    #[must_use]
    pub fn cut(&self, bounds: Rect) -> Window {
        let both = self.rect().intersect(bounds.expand());
        let (width, height) = (both.width().max(0.0), both.height().max(0.0));
        Window { x: both.x0 as i64, y: both.y0 as i64, width: width as usize, height: height as usize }
    }
}
