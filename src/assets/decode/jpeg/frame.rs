//! The frame of a JPEG: its components, and how their blocks of 8 by 8 samples lie (ITU-T T.81, annexes A and B).

/// What a SOF segment says.
pub struct FrameHead {
    pub progressive: bool,
    pub width: usize,
    pub height: usize,
    pub components: Vec<Component>,
}

pub struct Component {
    pub id: u8,
    /// The number of its table of steps.
    pub quantiser: u8,
    /// Blocks in a unit of an interleaved scan.
    pub across: usize,
    pub down: usize,
    /// Blocks that hold samples.
    pub columns: usize,
    pub rows: usize,
    /// Blocks in a row with those that fill up the last unit.
    pub stride: usize,
    /// Of every block, which coefficients are not 0: progressive scans build on it.
    pub filled: Vec<u64>,
    /// Of every coefficient, down to which bit it is known.
    pub known: [Option<u8>; 64],
}

impl FrameHead {
    /// `None` where the segment contradicts itself.
    pub fn read(marker: u8, segment: &[u8]) -> Option<FrameHead> {
        let [8, h1, h2, w1, w2, count, listed @ ..] = segment else { return None };
        let (height, width) = (u16::from_be_bytes([*h1, *h2]).into(), u16::from_be_bytes([*w1, *w2]).into());
        let (listed, rest) = listed.as_chunks::<3>();
        if listed.len() != usize::from(*count) || !rest.is_empty() || !(1..=4).contains(&listed.len()) {
            return None;
        }
        let factors = |factors: u8| (usize::from(factors >> 4), usize::from(factors & 15));
        let most = listed.iter().fold((1, 1), |most: (usize, usize), [_, own, _]| {
            (most.0.max(factors(*own).0), most.1.max(factors(*own).1))
        });
        let progressive = marker == 0xc2;
        let mut components = Vec::new();
        for [id, own, table] in listed {
            let (across, down) = factors(*own);
            let known = components.iter().any(|other: &Component| other.id == *id);
            if !(1..=4).contains(&across) || !(1..=4).contains(&down) || *table > 3 || known {
                return None;
            }
            let blocks = |length: usize, own: usize, most: usize| (length * own).div_ceil(most).div_ceil(8);
            let units = |length: usize, most: usize| length.div_ceil(8 * most);
            let stride = units(width, most.0) * across;
            let filled = if progressive { stride * units(height, most.1) * down } else { 0 };
            components.push(Component {
                id: *id,
                quantiser: *table,
                across,
                down,
                columns: blocks(width, across, most.0),
                rows: blocks(height, down, most.1),
                stride,
                filled: vec![0; filled],
                known: [None; 64],
            });
        }
        Some(FrameHead { progressive, width, height, components })
    }

    /// Whether every component has come, as far as its mean of every block.
    pub fn is_complete(&self) -> bool {
        self.components.iter().all(|component| component.known[0].is_some())
    }

    /// Units of an interleaved scan: in a row, and rows.
    pub fn units(&self) -> (usize, usize) {
        let most = self
            .components
            .iter()
            .fold((1, 1), |most: (usize, usize), own| (most.0.max(own.across), most.1.max(own.down)));
        (self.width.div_ceil(8 * most.0), self.height.div_ceil(8 * most.1))
    }
}
