//! Marks laid tile by tile, bottom to top.

use crate::ground::Rect;
use crate::raster::brush::{BrushBuffers, PixelRun};
use crate::raster::coverage::cover;
use crate::raster::layer::{Layer, Strength, times};
use crate::raster::marks::{ReadyGroup, ReadyItem, ReadyMark};
use crate::raster::outline::PixelOutline;
use crate::raster::plate_shares::PROCESS;
use crate::raster::slabs::Scratch;
use crate::raster::window::Window;

/// The plate of a veil.
const BLACK: usize = 3;

#[derive(Default)]
struct Buffers {
    scratch: Scratch,
    buffers: BrushBuffers,
}

pub fn compose(marks: &[Option<ReadyItem>], window: Window, planes: usize) -> Layer {
    let mut layer = Layer::paper(window, planes);
    let mut buffers = Buffers::default();
    marks.iter().flatten().for_each(|ready| lay(ready, None, &mut layer, &mut buffers));
    layer
}

fn lay(ready: &ReadyItem, mask: Option<&[u8]>, layer: &mut Layer, buffers: &mut Buffers) {
    let window = layer.window;
    if !ready.bounds.overlaps(window.rect()) {
        return;
    }
    match &ready.mark {
        ReadyMark::Shape(outlines, brush) => {
            let Buffers { scratch, buffers } = buffers;
            for (outline, shift) in outlines {
                cover(outline, *shift, window, scratch, |row, first, end, coverage| {
                    brush.lay(PixelRun { row, first, end, coverage }, mask, layer, buffers);
                });
            }
        }
        ReadyMark::Group(group) => lay_group(group, ready.bounds, mask, layer, buffers),
    }
}

fn lay_group(group: &ReadyGroup, bounds: Rect, mask: Option<&[u8]>, layer: &mut Layer, buffers: &mut Buffers) {
    // One that is composed apart takes no more than its own pixels: thousands of small ones lie in a tile of some drawings. The
    // marks of a plain one are laid on the layer itself, under a mask as large.
    let whole = layer.window;
    let window = if group.is_plain() { whole } else { whole.cut(bounds) };
    let part = mask.filter(|_| window != whole).map(|mask| part(mask, whole, window));
    let mask = part.as_deref().or(mask);
    let own = group.clip.as_ref().map(|clip| masked(clip, mask, window, buffers));
    if own.as_ref().is_some_and(|own| own.iter().all(|share| *share == 0)) {
        return;
    }
    let mask = own.as_deref().or(mask);
    if group.is_plain() {
        group.items.iter().for_each(|ready| lay(ready, mask, layer, buffers));
        return;
    }
    let veil = group.veil.as_ref().map(|veil| veiled(veil, mask, window, buffers));
    let mask = veil.as_deref().or(mask);
    let mut apart = layer.group(window);
    group.items.iter().for_each(|ready| lay(ready, None, &mut apart, buffers));
    match mask {
        None => layer.lay_group(&apart, Strength::Even(group.opacity), group.multiply),
        Some(mask) => {
            let shares: Vec<u8> = mask.iter().map(|share| times(*share, group.opacity)).collect();
            layer.lay_group(&apart, Strength::Each(&shares), group.multiply);
        }
    }
}

/// The part of a mask that lies in a window within its own.
fn part(mask: &[u8], whole: Window, window: Window) -> Vec<u8> {
    whole.rows(window).flat_map(|row| &mask[row]).copied().collect()
}

/// What a veil lets show, as far as a mask does.
fn veiled(veil: &[ReadyItem], mask: Option<&[u8]>, window: Window, buffers: &mut Buffers) -> Vec<u8> {
    let mut shows = Layer::paper(window, PROCESS);
    for ready in veil {
        lay(ready, None, &mut shows, buffers);
    }
    let mut black = shows.planes.swap_remove(BLACK);
    if let Some(mask) = mask {
        black.iter_mut().zip(mask).for_each(|(black, mask)| *black = times(*black, *mask));
    }
    black
}

fn masked(clip: &PixelOutline, mask: Option<&[u8]>, window: Window, buffers: &mut Buffers) -> Vec<u8> {
    let mut own = vec![0; window.area()];
    cover(clip, (0.0, 0.0), window, &mut buffers.scratch, |row, first, end, coverage| {
        own[row * window.width + first..row * window.width + end].fill(coverage);
    });
    if let Some(mask) = mask {
        own.iter_mut().zip(mask).for_each(|(own, mask)| *own = times(*own, *mask));
    }
    own
}

#[cfg(test)]
mod tests {
    use crate::ground::{Blend, FillRule, Ink, Line, Path, rect_path};
    use crate::raster::trial::{draw, item, rect, scene, spot};
    use crate::scene::{Group, Mark};

    /// A ground of process and spot, and one mark on its middle.
    fn on_ground(mark: Mark) -> Vec<u8> {
        let ground = rect(0.0, 0.0, 9.0, 9.0, Ink::process(0.2, 0.4, 0.6, 0.0));
        let foil = rect(0.0, 0.0, 9.0, 9.0, Ink::spot(spot("Foil", true), 1.0));
        draw(&scene(9.0, 9.0, vec![ground, foil, mark])).at(4, 4)
    }

    #[test]
    fn process_knocks_out_and_overprints() {
        let black = Ink::process(0.0, 0.2, 0.0, 1.0);
        assert_eq!(on_ground(rect(3.0, 3.0, 3.0, 3.0, black.clone())), [0, 51, 0, 255, 0]);
        // Overprint mode 1: none of an ink leaves its plate; some replaces it.
        assert_eq!(on_ground(rect(3.0, 3.0, 3.0, 3.0, black.overprinting())), [51, 51, 153, 255, 255]);
        assert_eq!(on_ground(rect(3.0, 3.0, 3.0, 3.0, Ink::PAPER)), [0, 0, 0, 0, 0]);
    }

    #[test]
    fn spots_knock_out_and_overprint() {
        let (mixed, other) = (spot("Mixed", false), spot("Foil", true));
        assert_eq!(on_ground(rect(3.0, 3.0, 3.0, 3.0, Ink::spot(mixed.clone(), 0.6))), [0, 0, 0, 0, 0, 153]);
        let over = Ink::spot(mixed, 0.6).overprinting();
        assert_eq!(on_ground(rect(3.0, 3.0, 3.0, 3.0, over)), [51, 102, 153, 0, 255, 153]);
        assert_eq!(on_ground(rect(3.0, 3.0, 3.0, 3.0, Ink::spot(other, 0.4))), [51, 102, 153, 0, 102]);
    }

    #[test]
    fn edges_mix_by_coverage() {
        let half = on_ground(rect(4.5, 3.0, 3.0, 3.0, Ink::process(1.0, 0.0, 0.0, 0.0)));
        assert_eq!(half, [153, 51, 76, 0, 127]);
    }

    fn group(opacity: f64, blend: Blend, items: Vec<Mark>) -> Mark {
        Mark::Group(Group { veil: None, clip: None, opacity, blend, items: items.into_iter().map(item).collect() })
    }

    #[test]
    fn a_group_is_composed_apart() {
        let (a, b) = (Ink::process(1.0, 0.0, 0.0, 0.0), Ink::process(0.0, 1.0, 0.0, 0.0));
        let both = vec![rect(3.0, 3.0, 3.0, 3.0, a), rect(3.0, 3.0, 3.0, 3.0, b)];
        // ISO 32000, basic compositing: (1 - 0.4) of the ground and 0.4 of the group's topmost colour.
        assert_eq!(on_ground(group(0.4, Blend::Normal, both)), [31, 163, 92, 0, 153]);
    }

    #[test]
    fn a_group_keeps_the_tips_of_its_miters() {
        // Legs that rise 70 over 2: the tip stands 35 mm above the corner, in another row of tiles.
        let path = Path::from_svg("M2.5 160L4.5 90L6.5 160").expect("a path");
        let line = Line { miter_limit: 40.0, ..Line::new(2.0) };
        let spike = || Mark::Stroke { path: path.clone(), line: line.clone(), paint: Ink::black(1.0).into() };
        let at = |mark: Mark| draw(&scene(9.0, 160.0, vec![mark])).at(4, 62)[3];
        let (whole, thinned) = (at(spike()), at(group(0.5, Blend::Normal, vec![spike()])));
        assert!(whole > 60 && thinned.abs_diff(whole / 2) <= 1, "{whole} {thinned}");
    }

    #[test]
    fn an_overprint_in_a_group_leaves_the_plates_it_leaves() {
        let black = Ink::black(1.0).overprinting();
        assert_eq!(
            on_ground(group(0.4, Blend::Normal, vec![rect(3.0, 3.0, 3.0, 3.0, black)])),
            [51, 102, 153, 102, 255]
        );
    }

    #[test]
    fn multiply_multiplies_what_is_left_of_the_paper() {
        let ink = Ink::process(0.5, 0.0, 0.5, 0.0);
        // 1 - (1 - 0.2)(1 - 0.5) = 0.6 and 1 - (1 - 0.6)(1 - 0.5) = 0.8; magenta and foil stay.
        assert_eq!(
            on_ground(group(1.0, Blend::Multiply, vec![rect(3.0, 3.0, 3.0, 3.0, ink.clone())])),
            [153, 102, 204, 0, 255]
        );
        // At half strength 1 - (1 - 0.2)(1 - 0.25) = 0.4.
        assert_eq!(on_ground(group(0.5, Blend::Multiply, vec![rect(3.0, 3.0, 3.0, 3.0, ink)]))[0], 102);
    }

    #[test]
    fn clips_cut_and_nest() {
        let ink = || rect(0.0, 0.0, 9.0, 9.0, Ink::black(1.0));
        let cut = |x: f64, marks: Vec<Mark>| {
            let path = rect_path(crate::ground::Rect::new(x, 0.0, 9.0, 9.0));
            Mark::Group(Group::cut((path, FillRule::NonZero), marks.into_iter().map(item).collect()))
        };
        let plates = draw(&scene(9.0, 9.0, vec![cut(2.0, vec![cut(3.5, vec![ink()])])]));
        assert_eq!([2, 3, 4].map(|x| plates.at(x, 4)[3]), [0, 128, 255]);
    }
}
