//! Nearest: the inks of a press that come nearest to a colour as it is measured.

use crate::assets::{Profile, difference};
use crate::ground::Process;

impl Profile {
    /// The process inks, in whole per cents, that come nearest to a colour as it is measured on paper, and how far they are
    /// from it (CIEDE2000). The profile's own table is where the search begins: it keeps hues, and loses lightness for that.
    pub fn nearest(&self, lab: [f64; 3]) -> (Process, f64) {
        let mut inks = [[0.0; 4]];
        self.turns.lab_to_inks(&self.bytes).transform_pixels(&[lab], &mut inks);
        let mut inks = inks[0].map(|ink| ink.clamp(0.0, 100.0).round() / 100.0);
        let mut best = difference(lab, self.measured_lab(inks));
        for step in [0.08, 0.04, 0.02, 0.01] {
            while let Some((nearer, off)) =
                self.step_nearer(lab, inks, step).filter(|(_, off)| *off < best - LEAST_GAIN)
            {
                (inks, best) = (nearer, off);
            }
        }
        (inks, best)
    }

    /// The best of all inks that have a step more or less of one of them.
    fn step_nearer(&self, lab: [f64; 3], inks: Process, step: f64) -> Option<(Process, f64)> {
        let around = (0..8).map(|way| {
            let mut next = inks;
            let moved = next[way / 2] + if way % 2 == 0 { step } else { -step };
            next[way / 2] = (moved.clamp(0.0, 1.0) * 100.0).round() / 100.0;
            (next, difference(lab, self.measured_lab(next)))
        });
        around.min_by(|one, other| one.1.total_cmp(&other.1))
    }
}

/// Steps that bring a colour less far are left out: the search ends after some hundred of them.
const LEAST_GAIN: f64 = 0.01;
