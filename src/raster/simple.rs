//! Simple outlines: those whose edges do not cross and lead inside and outside by turns, as the outlines of most letters do.

use crate::ground::{Affine, FillRule, Path};
use crate::raster::outline::{PathEdge, PixelOutline};
use crate::raster::straight::THINNEST;

/// Pixels of an em at which a path is asked.
const ASKED: f64 = 256.0;
/// Edges and the corners beside which they run, all together: letters have some thousand. A path with more is not asked.
const MOST: usize = 1 << 16;

/// Whether a path, an em a unit, is surely simple: its edges do not cross, and lead inside and outside by turns. Both hold
/// however it is placed.
pub fn is_simple(path: &Path) -> bool {
    let outline = PixelOutline::new(path, FillRule::NonZero, Affine::scale(ASKED));
    let mut edges = outline.edges;
    if edges.is_empty() || edges.len() > MOST {
        return false;
    }
    let mut cuts: Vec<f64> = edges.iter().flat_map(|edge| [edge.top, edge.bottom]).collect();
    cuts.sort_unstable_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| *next - *kept < THINNEST);
    edges.sort_unstable_by(|a, b| a.top.total_cmp(&b.top));
    let (mut waiting, mut active) = (edges.into_iter().peekable(), Vec::new());
    let (mut crossings, mut inside, mut met) = (Vec::new(), 0, 0);
    cuts.windows(2).all(|slab| {
        let (top, bottom) = (slab[0], slab[1]);
        let middle = f64::midpoint(top, bottom);
        active.retain(|edge: &PathEdge| edge.bottom > middle);
        while let Some(edge) = waiting.next_if(|edge| edge.top <= middle) {
            active.extend((edge.bottom > middle).then_some(edge));
        }
        met += active.len();
        if met > MOST {
            return false;
        }
        crossings.clear();
        crossings.extend(active.iter().map(|edge| (edge.at(top), edge.at(bottom), edge.turns)));
        crossings.sort_unstable_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
        let side_by_side = crossings.is_sorted_by(|a, b| a.0 <= b.0 + THINNEST && a.1 <= b.1 + THINNEST);
        if inside == 0 {
            inside = crossings.first().map_or(0, |first| first.2);
        }
        let mut winding = 0;
        side_by_side
            && crossings.iter().all(|(.., turns)| {
                winding += turns;
                winding == 0 || winding == inside
            })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Library;
    use crate::raster::coverage::cover;
    use crate::raster::slabs::Scratch;
    use crate::raster::window::Window;

    #[test]
    fn rings_are_simple_and_paths_that_cross_or_overlap_are_not() {
        let path = |data: &str| Path::from_svg(data).expect("a path");
        for data in [
            "M0 0H1V1H0ZM.2 .2V.8H.8V.2Z",
            "M0 0L.5 1L1 0Z",
            "M0 0H1V.4H0ZM0 .5H1V1H0Z",
            "M.1 0C1 .2 .9 .9 .1 1C-.5 .7 .4 .4 .1 0Z",
        ] {
            assert!(is_simple(&path(data)), "{data}");
        }
        for data in [
            // A bow, a ring wound once more, two squares over each other, one against the other beside and below, nothing.
            "M0 0L1 1V0L0 1Z",
            "M0 0H1V1H0ZM.2 .2H.8V.8H.2Z",
            "M0 0H.6V.6H0ZM.4 .4H1V1H.4Z",
            "M0 0H1V1H0ZM1.2 .2V.8H1.8V.2Z",
            "M0 0H1V.4H0ZM0 .5V1H1V.5Z",
            "",
        ] {
            assert!(!is_simple(&path(data)), "{data}");
        }
        // A comb, whose teeth end at heights of their own.
        let comb = |teeth: u32| {
            let tooth = |at: u32| format!("V{}H{at}.5V{}H{}", 9000 + at, 7 * at % 5000 + 1, at + 1);
            path(&format!("M0 0{}V0Z", (0..teeth).map(tooth).collect::<String>()))
        };
        assert!(is_simple(&comb(100)) && !is_simple(&comb(400)), "it is asked for so long and no longer");
    }

    /// Letters of all bundled families, upright, mirrored and turned, cut by the window or not.
    #[test]
    fn most_letters_are_simple_and_covered_as_before() {
        const SIDE: usize = 48;
        let library = Library::open(&[]).0;
        let window = Window { x: 0, y: 0, width: SIDE, height: SIDE };
        let (mut simple, mut all) = (0, 0);
        for family in library.families() {
            let Some(font) = library.find(family, 400, false) else { continue };
            for letter in "aQgß8&".chars() {
                let Some(glyph) = font.glyph(letter) else { continue };
                all += 1;
                if !font.is_simple(glyph, is_simple) {
                    continue;
                }
                simple += 1;
                for place in [
                    Affine::translate((3.3, 30.2)) * Affine::scale(31.0),
                    Affine::translate((40.7, 55.1)) * Affine::scale_non_uniform(-37.0, 80.0),
                    Affine::translate((20.0, 20.0)) * Affine::rotate(1.0) * Affine::scale(9.3),
                ] {
                    let covered = |outline: PixelOutline| {
                        let mut pixels = [0_u8; SIDE * SIDE];
                        cover(&outline, (0.4, -0.3), window, &mut Scratch::default(), |row, first, end, share| {
                            pixels[row * SIDE + first..row * SIDE + end].fill(share);
                        });
                        pixels
                    };
                    let outline = PixelOutline::new(font.outline(glyph), FillRule::NonZero, place);
                    let (before, quick) = (covered(outline.clone()), covered(outline.simple()));
                    assert!(quick.iter().zip(before).all(|(a, b)| a.abs_diff(b) <= 1), "{family} {letter}");
                    assert!(quick.iter().any(|share| *share > 100), "{family} {letter}");
                }
            }
        }
        assert!(simple * 3 > all * 2, "{simple} of {all}");
    }
}
