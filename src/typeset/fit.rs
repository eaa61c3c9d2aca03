//! The size at which words fill a room.

use crate::assets::Font;
use crate::typeset::{
    block::Block,
    columns::{column, lay},
    compose::compose,
    each_line::lay_each,
    plan::{MeasuredCopy, Plan},
    room::Room,
    shape::Shaper,
    style::{Size, Style},
};

/// Sizes between least and most, in points.
const STEP: f64 = 0.25;

/// How many steps above a size that fits are tried, since lines may break more happily at a larger size.
const CLIMB: usize = 4;

/// How many steps below are tried where letters, once they are set, come out wider than they were measured: a few fonts
/// kern across blanks.
const DESCENT: usize = 4;

/// Words set at the style's size, or at the largest of its range that fits; at the least when none does.
pub fn fit(copy: &MeasuredCopy, style: &Style, base: &Font, room: Room<'_>, shaper: &mut Shaper<'_>) -> Block {
    if let Size::EachLine(one, other) = style.size {
        let plan = lay_each(copy, style, (one.min(other), other.max(one)), base, room);
        return compose(copy, &plan, style, base, room, shaper);
    }
    let Some((least, most)) = style.range() else {
        let plan = lay(copy, style, style.largest(), base, room);
        return compose(copy, &plan, style, base, column(style, room), shaper);
    };
    let mut plan = largest(copy, style, (least, most), base, room);
    for _ in 0..DESCENT {
        let block = compose(copy, &plan, style, base, column(style, room), shaper);
        if block.overwide <= 0.0 || plan.overwide || plan.size <= least {
            return block;
        }
        plan = lay(copy, style, (plan.size - STEP).max(least), base, room);
    }
    compose(copy, &plan, style, base, column(style, room), shaper)
}

fn largest(copy: &MeasuredCopy, style: &Style, (least, most): (f64, f64), base: &Font, room: Room<'_>) -> Plan {
    let at = |size: f64| lay(copy, style, size, base, room);
    let fits = |plan: &Plan| plan.overmatter.is_none() && !plan.overwide;
    let size = |step: usize| (least + step as f64 * STEP).min(most);
    let mut best = at(most);
    if fits(&best) {
        return best;
    }
    best = at(least);
    let (mut low, mut high) = (0, (((most - least) / STEP).ceil() as usize).min(10_000));
    while low + 1 < high {
        let middle = usize::midpoint(low, high);
        let plan = at(size(middle));
        if fits(&plan) {
            low = middle;
            best = plan;
        } else {
            high = middle;
        }
    }
    if fits(&best) {
        for step in low + 2..(low + 2 + CLIMB) {
            let plan = at(size(step));
            if size(step) < most && fits(&plan) {
                best = plan;
            }
        }
    }
    best
}
