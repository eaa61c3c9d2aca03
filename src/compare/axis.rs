//! ElementEdges: how far the two edges of an element moved against its panel, and whether that is the panel's doing.

/// An element's edges and the lines that hold it, one direction, millimetres on the sheet. The lines of two designs are
/// the same lines in the same order.
#[derive(Clone, Debug)]
pub struct ElementEdges {
    pub low: f64,
    pub high: f64,
    pub lines: Vec<f64>,
}

/// Millimetres that count as movement: half of what is reported.
pub const LEAST: f64 = 0.005;

/// How far the lower and the upper edge moved.
pub type Moved = [f64; 2];

/// On the sheet.
pub fn on_sheet(old: &ElementEdges, new: &ElementEdges) -> Moved {
    [new.low - old.low, new.high - old.high]
}

/// Against the line that makes the least of it. An edge that keeps its distance from any line has not moved.
pub fn of_its_own(old: &ElementEdges, new: &ElementEdges) -> Moved {
    let lines = || old.lines.iter().zip(&new.lines).map(|(was, now)| now - was);
    let keeps = |by: f64| lines().any(|line| (by - line).abs() < LEAST);
    let [low, high] = on_sheet(old, new);
    let cost = |line: f64| (low - line).abs() + (high - line).abs();
    let line = lines().min_by(|a, b| cost(*a).total_cmp(&cost(*b))).unwrap_or(0.0);
    let own = |by: f64| if keeps(by) { 0.0 } else { by - line };
    [own(low), own(high)]
}

pub fn still(moved: Moved) -> bool {
    moved.iter().all(|by| by.abs() < LEAST)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn axis(low: f64, high: f64, panel: [f64; 2]) -> ElementEdges {
        ElementEdges { low, high, lines: vec![panel[0], f64::midpoint(panel[0], panel[1]), panel[1]] }
    }

    #[test]
    fn a_panel_takes_along_what_stands_on_it() {
        let (old, new) = (axis(150.0, 200.0, [140.0, 270.0]), axis(151.2, 201.2, [141.2, 271.2]));
        assert!(still(of_its_own(&old, &new)));
        assert!((on_sheet(&old, &new)[0] - 1.2).abs() < 1e-9);
        // Centred on a spine that grows by 1.2.
        assert!(still(of_its_own(&axis(5.0, 10.0, [0.0, 15.0]), &axis(5.6, 10.6, [0.0, 16.2]))));
        // From fold to fold.
        assert!(still(of_its_own(&axis(0.0, 15.0, [0.0, 15.0]), &axis(0.0, 16.2, [0.0, 16.2]))));
    }

    #[test]
    fn what_moves_by_itself_is_measured_against_its_panel() {
        let own = of_its_own(&axis(150.0, 200.0, [140.0, 270.0]), &axis(153.2, 203.2, [141.2, 271.2]));
        assert!((own[0] - 2.0).abs() < 1e-9 && (own[1] - 2.0).abs() < 1e-9, "{own:?}");
        let wider = of_its_own(&axis(150.0, 200.0, [140.0, 270.0]), &axis(150.0, 203.0, [140.0, 270.0]));
        assert!(wider[0].abs() < 1e-9 && (wider[1] - 3.0).abs() < 1e-9, "{wider:?}");
    }
}
