//! The frame of a JPEG: its components, and how their blocks of 8 by 8 samples lie (ITU-T T.81, annexes A and B).

/// What a SOF segment says.
pub struct FrameHead {
    pub progressive: bool,
    pub width: usize,
    pub height: usize,
    /// Blocks in a unit of the finest component, across and down.
    pub most: (usize, usize),
    pub components: Vec<Component>,
}

pub struct Component {
    pub id: u8,
    /// The number of its table of steps.
    pub quantiser: u8,
    /// Blocks in a unit of an interleaved scan.
    pub across: usize,
    pub down: usize,
    /// Samples a side.
    pub width: usize,
    pub height: usize,
    /// Blocks that hold samples.
    pub columns: usize,
    pub rows: usize,
    /// Of every block, which coefficients are not 0: progressive scans build on it.
    pub filled: Vec<u64>,
    /// Of every coefficient, down to which bit it is known.
    pub known: [Option<u8>; 64],
}

impl FrameHead {
    /// `None` where the segment contradicts itself.
    pub fn read(marker: u8, segment: &[u8]) -> Option<FrameHead> {
        let [8, h1, h2, w1, w2, count, listed @ ..] = segment else { return None };
        let [height, width] = [[*h1, *h2], [*w1, *w2]].map(|side| usize::from(u16::from_be_bytes(side)));
        let (listed, rest) = listed.as_chunks::<3>();
        if listed.len() != usize::from(*count) || !rest.is_empty() || !(1..=4).contains(&listed.len()) {
            return None;
        }
        let factors = |factors: u8| (usize::from(factors >> 4), usize::from(factors & 15));
        let most = listed.iter().fold((1, 1), |most: (usize, usize), [_, own, _]| {
            (most.0.max(factors(*own).0), most.1.max(factors(*own).1))
        });
        let mut components = Vec::new();
        for [id, own, table] in listed {
            let (across, down) = factors(*own);
            let known = components.iter().any(|other: &Component| other.id == *id);
            if !(1..=4).contains(&across) || !(1..=4).contains(&down) || *table > 3 || known {
                return None;
            }
            let (own_width, own_height) = ((width * across).div_ceil(most.0), (height * down).div_ceil(most.1));
            components.push(Component {
                id: *id,
                quantiser: *table,
                across,
                down,
                width: own_width,
                height: own_height,
                columns: own_width.div_ceil(8),
                rows: own_height.div_ceil(8),
                filled: Vec::new(),
                known: [None; 64],
            });
        }
        Some(FrameHead { progressive: marker == 0xc2, width, height, most, components })
    }

    /// Where the component of this name stands among them.
    pub fn place(&self, id: u8) -> Option<usize> {
        self.components.iter().position(|component| component.id == id)
    }

    /// Whether every component has come, as far as its mean of every block.
    pub fn is_complete(&self) -> bool {
        self.components.iter().all(|component| component.known[0].is_some())
    }

    /// Units of an interleaved scan: in a row, and rows.
    pub fn units(&self) -> (usize, usize) {
        (self.width.div_ceil(8 * self.most.0), self.height.div_ceil(8 * self.most.1))
    }
}
