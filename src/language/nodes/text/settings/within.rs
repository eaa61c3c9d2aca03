//! Within: a size at which the ink of centred words stays in their frame, tails and accents too.

use crate::typeset::{Block, Style, letters_reach};
use std::sync::Arc;

/// Sizes that are tried below the first, in points.
const STEP: f64 = 0.25;

/// Lines may break otherwise at a smaller size; then it is sought again.
const ROUNDS: usize = 6;

/// By what its letters would have to be scaled for their ink to fill the height; 1 and more stays within it.
pub fn ink_share(block: &Block, height: f64) -> f64 {
    letters_reach(block).map_or(f64::INFINITY, |reach| height / (2.0 * reach))
}

/// Words as `set` has them in a style, at a size whose ink stays within the height where the style finds a size.
pub fn ink_within(style: &Style, height: f64, set: &dyn Fn(&Style) -> Option<Arc<Block>>) -> Option<Arc<Block>> {
    let mut block = set(style)?;
    let Some((least, _)) = style.range().filter(|_| height.is_finite()) else { return Some(block) };
    for _ in 0..ROUNDS {
        let share = ink_share(&block, height);
        if share >= 1.0 || block.size <= least {
            break;
        }
        let steps = ((block.size * share - least) / STEP).floor();
        let size = (least + steps * STEP).min(block.size - STEP).max(least);
        block = set(&Style { at_most: Some(size), ..style.clone() })?;
    }
    Some(block)
}
