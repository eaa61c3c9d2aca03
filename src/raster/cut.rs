//! The part of an outline that a tile needs: its edges there, and what those on the left wind up to.

use crate::raster::outline::{Chain, PathEdge, PixelOutline};

/// Outlines of fewer chains are drawn as they are.
pub const FEW: usize = 64;

/// Puts the part of an outline that counts between two heights and two sides `into` another. Chains on the right count for
/// nothing, and those on the left together for their turns alone: a drawing may have very many at the height of a tile.
pub fn cut(
    outline: &PixelOutline,
    (top, bottom): (f64, f64),
    (left, right): (f64, f64),
    beside: &mut Vec<(f64, i32)>,
    into: &mut PixelOutline,
) {
    into.edges.clear();
    into.chains.clear();
    beside.clear();
    (into.rule, into.bottom) = (outline.rule, outline.bottom.min(bottom));
    let near = outline.chains.iter().take_while(|chain| chain.top < bottom);
    for chain in near.filter(|chain| chain.bottom > top && chain.left < right) {
        if chain.right <= left {
            beside.extend([(chain.top, chain.turns), (chain.bottom, -chain.turns)]);
            continue;
        }
        let edges = &outline.edges[chain.edges.clone()];
        let first = edges.partition_point(|edge| edge.bottom <= top);
        let end = edges.partition_point(|edge| edge.top < bottom);
        let start = into.edges.len();
        into.edges.extend_from_slice(&edges[first..end]);
        into.chains.push(Chain { edges: start..into.edges.len(), ..chain.clone() });
    }
    beside.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let mut turns = 0;
    for at in 0..beside.len() {
        turns += beside[at].1;
        let (from, to) = (beside[at].0, beside.get(at + 1).map_or(bottom, |next| next.0));
        if turns != 0 && from < to && from < bottom && to > top {
            into.chain_of(PathEdge::upright(left - 1.0, (from, to), turns));
        }
    }
    into.chains.sort_by(|a, b| a.top.total_cmp(&b.top));
}
