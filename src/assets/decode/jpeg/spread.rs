//! Samples of one component among those of a picture. Those half as fine are mixed by how near they lie, as T.871 centres them;
//! coarser ones are repeated. That is what nearly all readers do, the one that press files are drawn by among them.

/// A place between two samples: both, and how many quarters of it the second has.
struct Tap {
    first: usize,
    second: usize,
    share: usize,
}

/// `count` places on an axis of `own` samples, each of which stands for `step` places.
fn taps(count: usize, own: usize, step: usize, is_mixed: bool) -> Vec<Tap> {
    let tap = |at: usize| {
        // Half a place in, half a sample back.
        let along = if is_mixed { (2 * at + 1).saturating_sub(step) * OF / (2 * step) } else { at / step * OF };
        let first = (along / OF).min(own - 1);
        let second = (first + 1).min(own - 1);
        Tap { first, second, share: along % OF }
    };
    (0..count).map(tap).collect()
}

const OF: usize = 4;

/// A plane of samples, how many it has a row and a column, and how many of the finest component's each stands for.
pub struct Plane<'a> {
    pub samples: &'a [u8],
    pub size: (usize, usize),
    pub step: (usize, usize),
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
        let is_mixed = self.step.0 <= 2 && self.step.1 <= 2;
        let columns = taps(width, self.size.0, self.step.0, is_mixed);
        let lines = taps(height, self.size.1, self.step.1, is_mixed);
        let mut mixed = vec![0; self.size.0];
        for (line, into) in lines.iter().zip(rows) {
            let two = own(line.first).iter().zip(own(line.second));
            for (mixed, (upper, lower)) in mixed.iter_mut().zip(two) {
                *mixed = usize::from(*upper) * (OF - line.share) + usize::from(*lower) * line.share;
            }
            for (tap, into) in columns.iter().zip(into.iter_mut().skip(channel).step_by(channels)) {
                let sum = mixed[tap.first] * (OF - tap.share) + mixed[tap.second] * tap.share;
                *into = ((sum + OF * OF / 2) / (OF * OF)) as u8;
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
        let plane = Plane { samples: &[0, 100, 200], size: (3, 1), step: (2, 1) };
        plane.spread(&mut picture, 6, (1, 2));
        assert_eq!(picture, [9, 0, 9, 25, 9, 75, 9, 125, 9, 175, 9, 200]);
        // Both directions at once.
        let mut picture = [0; 16];
        Plane { samples: &[0, 80, 80, 160], size: (2, 2), step: (2, 2) }.spread(&mut picture, 4, (0, 1));
        assert_eq!(picture, [0, 20, 60, 80, 20, 40, 80, 100, 60, 80, 120, 140, 80, 100, 140, 160]);
    }

    #[test]
    fn what_is_coarser_still_is_repeated() {
        let mut picture = [0; 14];
        Plane { samples: &[9, 50, 7], size: (3, 1), step: (3, 2) }.spread(&mut picture, 7, (0, 1));
        assert_eq!(picture, [9, 9, 9, 50, 50, 50, 7, 9, 9, 9, 50, 50, 50, 7]);
    }
}
