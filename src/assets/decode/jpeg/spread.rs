//! Samples of one component among those of a picture; coarser ones are mixed by how near they lie, as T.871 centres them.

/// A place between two samples: both, and the share of the second, counted in halves of a place.
struct Tap {
    first: usize,
    second: usize,
    share: usize,
}

/// `count` places on an axis of `own` samples, of which `step.0` stand for `step.1` places.
fn taps(count: usize, own: usize, step: (usize, usize)) -> Vec<Tap> {
    let of = 2 * step.1;
    let tap = |at: usize| {
        // Half a place in, half a sample back.
        let along = ((2 * at + 1) * step.0).saturating_sub(step.1);
        let first = (along / of).min(own - 1);
        let second = (first + 1).min(own - 1);
        Tap { first, second, share: along % of }
    };
    (0..count).map(tap).collect()
}

/// A plane of samples, how many it has a row, and how many of them stand for how many of the finest component's.
pub struct Plane<'a> {
    pub samples: &'a [u8],
    pub size: (usize, usize),
    pub across: (usize, usize),
    pub down: (usize, usize),
}

impl Plane<'_> {
    /// Into every `channels`th sample from that of `channel`, over a picture of this width.
    pub fn spread(&self, picture: &mut [u8], width: usize, (channel, channels): (usize, usize)) {
        let height = picture.len() / channels / width;
        let own = |row: usize| &self.samples[row * self.size.0..(row + 1) * self.size.0];
        let rows = picture.chunks_exact_mut(width * channels);
        if self.size == (width, height) {
            for (row, into) in rows.enumerate() {
                into.iter_mut()
                    .skip(channel)
                    .step_by(channels)
                    .zip(own(row))
                    .for_each(|(into, sample)| *into = *sample);
            }
            return;
        }
        let (columns, lines) = (taps(width, self.size.0, self.across), taps(height, self.size.1, self.down));
        let (wide, high) = (2 * self.across.1, 2 * self.down.1);
        let mut mixed = vec![0; self.size.0];
        for (line, into) in lines.iter().zip(rows) {
            let two = own(line.first).iter().zip(own(line.second));
            for (mixed, (upper, lower)) in mixed.iter_mut().zip(two) {
                *mixed = usize::from(*upper) * (high - line.share) + usize::from(*lower) * line.share;
            }
            for (tap, into) in columns.iter().zip(into.iter_mut().skip(channel).step_by(channels)) {
                let sum = mixed[tap.first] * (wide - tap.share) + mixed[tap.second] * tap.share;
                *into = ((sum + wide * high / 2) / (wide * high)) as u8;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three quarters and one quarter, as samples lie that stand for two: the middle of each is between its two places.
    #[test]
    fn what_is_coarser_is_mixed_by_how_near_it_lies() {
        let mut picture = [9; 12];
        let plane = Plane { samples: &[0, 100, 200], size: (3, 1), across: (1, 2), down: (1, 1) };
        plane.spread(&mut picture, 6, (1, 2));
        assert_eq!(picture, [9, 0, 9, 25, 9, 75, 9, 125, 9, 175, 9, 200]);
        // Two that stand for three, and both directions at once.
        let mut picture = [0; 9];
        Plane { samples: &[0, 90, 90, 180], size: (2, 2), across: (2, 3), down: (2, 3) }.spread(
            &mut picture,
            3,
            (0, 1),
        );
        assert_eq!(picture, [0, 45, 90, 45, 90, 135, 90, 135, 180]);
    }
}
