//! Ink tables: what a press profile of ICC's `lut16Type` lays down for a colour of the connection space.

use crate::assets::profile::lut16::{Lut16, MOST};

/// From CIELAB to CMYK.
pub struct InkTables {
    /// Nodes along each axis of the grid.
    pub grid: usize,
    /// For L, a and b: from even steps to places along the axis of the grid.
    pub into: [Vec<f32>; 3],
    /// Inks at the nodes, 255 a solid, L slowest.
    pub nodes: Vec<[f32; 4]>,
    /// For each ink: from even steps to ink, 255 a solid; nothing where they leave the ink as it is.
    pub out: Option<[Vec<f32>; 4]>,
}

impl InkTables {
    /// The tables of a tag, such as `B2A1`; `None` where it is of another kind or damaged.
    pub fn read(profile: &[u8], tag: [u8; 4]) -> Option<InkTables> {
        let Lut16 { grid, into, nodes, out } = Lut16::<3, 4>::read(profile, tag)?;
        let scaled =
            |table: Vec<f32>, most: f32| table.into_iter().map(|word| word / MOST * most).collect::<Vec<f32>>();
        Some(InkTables {
            grid,
            into: into.map(|table| scaled(table, (grid - 1) as f32)),
            nodes: nodes.into_iter().map(|node| node.map(|ink| ink / MOST * 255.0)).collect(),
            out: out.map(|out| out.map(|table| scaled(table, 255.0))),
        })
    }
}

/// The most ink that the tables of any intent lay down, 1 a solid, to the nearest per cent. `None` where they are of another
/// kind, and where they bend their inks after the grid: only without that is there never more between its nodes than at one
/// of them.
pub fn most_ink(profile: &[u8]) -> Option<f64> {
    let tables = [b"B2A0", b"B2A1", b"B2A2"].into_iter().filter_map(|tag| InkTables::read(profile, *tag));
    most_of(&tables.collect::<Vec<_>>())
}

fn most_of(tables: &[InkTables]) -> Option<f64> {
    if tables.iter().any(|tables| tables.out.is_some()) {
        return None;
    }
    let sums = tables.iter().flat_map(|tables| &tables.nodes).map(|node| node.iter().sum::<f32>());
    let most = sums.reduce(f32::max)?;
    (most > 0.0).then(|| (f64::from(most) / 2.55).round() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::profile::COATED;
    use crate::assets::profile::lut16::between;

    /// Two nodes of 200 per cent: halfway between them a table that doubles inks up to a half lays down 400.
    #[test]
    fn bent_inks_say_nothing_of_the_most() {
        let nodes = vec![[255.0, 255.0, 0.0, 0.0], [0.0, 0.0, 255.0, 255.0]];
        let tables =
            |out| InkTables { grid: 2, into: std::array::from_fn(|_| vec![0.0, 1.0]), nodes: nodes.clone(), out };
        assert_eq!(most_of(&[tables(None)]), Some(2.0));
        let bent = std::array::from_fn(|_| vec![0.0, 255.0, 255.0]);
        let halfway: f32 = bent.iter().map(|table: &Vec<f32>| between(table, 0.5)).sum();
        assert!((halfway - 4.0 * 255.0).abs() < 0.1, "{halfway}");
        assert_eq!(most_of(&[tables(None), tables(Some(bent))]), None);
    }

    #[test]
    fn the_most_ink_of_the_bundled_tables() {
        // The separation was computed within 300 per cent (profiles/README.md).
        assert_eq!(most_ink(COATED), Some(3.0));
        assert_eq!(most_ink(&COATED[..5000]), None);
    }
}
