//! Agreement: how far two pictures of one sheet are apart, on edges, beside them, and in the mean of fields.

/// One plate or channel, as two drew it; both begin in the upper left corner.
pub struct Pair<'a> {
    pub ours: &'a [u8],
    pub our_width: usize,
    pub theirs: &'a [u8],
    pub their_width: usize,
}

#[derive(Debug)]
pub struct Agreement {
    /// The most that they differ outside the band along edges, anywhere.
    pub worst: u8,
    /// Pixels that are no picture of pixels, and those of them in the band.
    pub plain: usize,
    pub plain_edges: usize,
    /// The band's share of the whole.
    pub edges: f64,
    /// In pictures of pixels: fields whose means differ by more than 2, as a share, and the worst field.
    pub fields_off: f64,
    pub worst_field: f64,
}

/// A step from pixel to pixel that is an edge, in either picture.
const STEP: u8 = 4;
/// Besides the two pixels of a step, the band holds so many on either side.
const BAND: usize = 1;

impl Agreement {
    /// `pictures` in pixels: left, top, right, bottom; `field` is a field's side.
    pub fn of(pairs: &[Pair<'_>], (width, height): (usize, usize), pictures: &[[f64; 4]], field: usize) -> Agreement {
        let band = band(pairs, (width, height));
        let within = |x: usize, y: usize| {
            let (x, y) = (x as f64 + 0.5, y as f64 + 0.5);
            pictures.iter().any(|[left, top, right, bottom]| *left <= x && x < *right && *top <= y && y < *bottom)
        };
        let mut agreement =
            Agreement { worst: 0, plain: 0, plain_edges: 0, edges: 0.0, fields_off: 0.0, worst_field: 0.0 };
        for y in 0..height {
            for x in 0..width {
                if !within(x, y) {
                    agreement.plain += 1;
                    agreement.plain_edges += usize::from(band[y * width + x]);
                }
            }
            for pair in pairs {
                let (ours, theirs) = pair.rows(y, width);
                let apart = ours.iter().zip(theirs).zip(&band[y * width..]).filter(|(_, edge)| !**edge);
                let most = apart.map(|((one, other), _)| one.abs_diff(*other)).max().unwrap_or_default();
                agreement.worst = agreement.worst.max(most);
            }
        }
        agreement.edges = band.iter().filter(|edge| **edge).count() as f64 / band.len().max(1) as f64;
        agreement.fields(pairs, (width, height), &within, field);
        agreement
    }

    fn fields(
        &mut self,
        pairs: &[Pair<'_>],
        size: (usize, usize),
        within: &dyn Fn(usize, usize) -> bool,
        field: usize,
    ) {
        let (mut off, mut all) = (0_usize, 0_usize);
        for y in (0..size.1.saturating_sub(field)).step_by(field) {
            for x in (0..size.0.saturating_sub(field)).step_by(field) {
                if !within(x, y) || !within(x + field - 1, y + field - 1) {
                    continue;
                }
                let apart = pairs.iter().map(|pair| {
                    let sum: i64 = (y..y + field)
                        .map(|row| {
                            let (ours, theirs) = pair.rows(row, x + field);
                            ours[x..]
                                .iter()
                                .zip(&theirs[x..])
                                .map(|(one, other)| i64::from(*one) - i64::from(*other))
                                .sum::<i64>()
                        })
                        .sum();
                    sum.abs() as f64 / (field * field) as f64
                });
                let most = apart.fold(0.0, f64::max);
                all += 1;
                off += usize::from(most > 2.0);
                self.worst_field = self.worst_field.max(most);
            }
        }
        self.fields_off = off as f64 / all.max(1) as f64;
    }
}

impl Pair<'_> {
    fn rows(&self, y: usize, width: usize) -> (&[u8], &[u8]) {
        (&self.ours[y * self.our_width..][..width], &self.theirs[y * self.their_width..][..width])
    }
}

/// Pixels on and near an edge of any plate in either picture.
fn band(pairs: &[Pair<'_>], (width, height): (usize, usize)) -> Vec<bool> {
    let mut edges = vec![false; width * height];
    for pair in pairs {
        for y in 0..height {
            let (ours, theirs) = pair.rows(y, width);
            let (below, their_below) = pair.rows((y + 1).min(height - 1), width);
            for (row, under) in [(ours, below), (theirs, their_below)] {
                for x in 0..width {
                    if row[x].abs_diff(row[(x + 1).min(width - 1)]) > STEP {
                        edges[y * width + x] = true;
                        edges[y * width + x + 1] = true;
                    }
                    if row[x].abs_diff(under[x]) > STEP {
                        edges[y * width + x] = true;
                        edges[(y + 1) * width + x] = true;
                    }
                }
            }
        }
    }
    let mut wide = edges.clone();
    for at in (0..edges.len()).filter(|at| edges[*at]) {
        let x = at % width;
        wide[at - x.min(BAND)..=at + (width - 1 - x).min(BAND)].fill(true);
    }
    let mut band = wide.clone();
    for y in 0..height {
        for near in y.saturating_sub(BAND)..(y + BAND + 1).min(height) {
            let row = &wide[near * width..(near + 1) * width];
            band[y * width..(y + 1) * width].iter_mut().zip(row).for_each(|(edge, near)| *edge |= near);
        }
    }
    band
}
