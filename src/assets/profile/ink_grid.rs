//! Ink grid: values at even steps of four inks, and in straight lines between them.

/// Cyan, magenta, yellow and black, 1 a solid.
pub type Mix = [f32; 4];

pub struct InkGrid<const N: usize> {
    /// Along each ink.
    nodes: usize,
    /// Black runs fastest.
    values: Vec<[f32; N]>,
}

/// The corners of a cell: the last axis, black, changes with every one.
const CORNERS: usize = 16;

impl<const N: usize> InkGrid<N> {
    /// The mixtures at all nodes, in order.
    pub fn mixes(nodes: usize) -> Vec<Mix> {
        let share = |at: usize, axis: u32| (at / nodes.pow(3 - axis) % nodes) as f32 / (nodes - 1) as f32;
        (0..nodes.pow(4)).map(|at| [share(at, 0), share(at, 1), share(at, 2), share(at, 3)]).collect()
    }

    /// `values` at the mixtures of all nodes; two nodes along each ink at the least.
    pub fn new(nodes: usize, values: Vec<[f32; N]>) -> InkGrid<N> {
        InkGrid { nodes, values }
    }

    pub fn at(&self, mix: Mix) -> [f32; N] {
        let (corners, part) = self.cell(mix);
        between(corners, &part)
    }

    /// The values at a mixture, and how they change with each of its inks.
    pub fn sloped(&self, mix: Mix) -> ([f32; N], [[f32; N]; 4]) {
        let (mut corners, part) = self.cell(mix);
        let cells = (self.nodes - 1) as f32;
        let mut slopes = [[0.0; N]; 4];
        let mut count = CORNERS;
        for axis in (0..4).rev() {
            count /= 2;
            let mut steps = [[0.0; N]; CORNERS];
            for at in 0..count {
                let (lower, upper) = (corners[2 * at], corners[2 * at + 1]);
                steps[at] = std::array::from_fn(|value| (upper[value] - lower[value]) * cells);
                corners[at] = straight(lower, upper, part[axis]);
            }
            slopes[axis] = between(steps, &part[..axis]);
        }
        (corners[0], slopes)
    }

    fn cell(&self, mix: Mix) -> ([[f32; N]; CORNERS], Mix) {
        let cells = (self.nodes - 1) as f32;
        let place = mix.map(|share| (share * cells).clamp(0.0, cells));
        let cell = place.map(|place| (place as usize).min(self.nodes - 2));
        let corners = std::array::from_fn(|corner| {
            self.values[(0..4).fold(0, |at, axis| at * self.nodes + cell[axis] + (corner >> (3 - axis) & 1))]
        });
        (corners, std::array::from_fn(|axis| place[axis] - cell[axis] as f32))
    }
}

/// Corners of as many axes as there are parts, drawn together from the last axis on.
fn between<const N: usize>(mut corners: [[f32; N]; CORNERS], parts: &[f32]) -> [f32; N] {
    let mut count = 1 << parts.len();
    for part in parts.iter().rev() {
        count /= 2;
        for at in 0..count {
            corners[at] = straight(corners[2 * at], corners[2 * at + 1], *part);
        }
    }
    corners[0]
}

pub fn straight<const N: usize>(one: [f32; N], other: [f32; N], part: f32) -> [f32; N] {
    std::array::from_fn(|value| one[value] + (other[value] - one[value]) * part)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A product of all four inks is straight along each of them, so any grid holds it exactly.
    #[test]
    fn a_product_of_inks_is_found_with_its_slopes() {
        let product = |mix: Mix| [mix.iter().map(|ink| 1.0 + ink).product::<f32>()];
        let grid = InkGrid::new(4, InkGrid::<1>::mixes(4).into_iter().map(product).collect());
        for mix in [[0.0; 4], [1.0; 4], [0.1, 0.9, 0.5, 0.34], [0.7, 0.2, 1.0, 0.0]] {
            let (value, slopes) = grid.sloped(mix);
            assert!((value[0] - product(mix)[0]).abs() < 1e-4 && (grid.at(mix)[0] - value[0]).abs() < 1e-4, "{mix:?}");
            for (ink, slope) in mix.iter().zip(slopes) {
                assert!((slope[0] - value[0] / (1.0 + ink)).abs() < 1e-3, "{mix:?}: {slopes:?}");
            }
        }
    }
}
