//! Group alpha: how much of what lies under a group is hidden, plate by plate. Plates on which all its marks did alike share
//! it: mostly there are one or two kinds among dozens of plates.

/// One bit a plate; a cover has no more than 32 plates.
pub type PlateSet = u64;

pub struct GroupAlpha {
    /// Each plate is in one of the sets.
    kinds: Vec<(PlateSet, Vec<u8>)>,
}

impl GroupAlpha {
    pub fn blank(plates: usize, area: usize) -> GroupAlpha {
        let all = (0..plates).fold(0, |all, plate| all | 1 << plate);
        GroupAlpha { kinds: vec![(all, vec![0; area])] }
    }

    /// That of one plate.
    pub fn of(&self, plate: usize) -> Option<&[u8]> {
        self.kinds.iter().find(|(plates, _)| plates >> plate & 1 == 1).map(|(_, alpha)| &alpha[..])
    }

    /// The sets, and what each shares.
    pub fn kinds(&self) -> impl Iterator<Item = (PlateSet, &[u8])> {
        self.kinds.iter().map(|(plates, alpha)| (*plates, &alpha[..]))
    }

    /// That of some plates alone, to be changed.
    pub fn only(&mut self, some: PlateSet) -> impl Iterator<Item = &mut Vec<u8>> {
        for at in 0..self.kinds.len() {
            let (plates, alpha) = &mut self.kinds[at];
            let (inside, outside) = (*plates & some, *plates & !some);
            if inside != 0 && outside != 0 {
                *plates = outside;
                let parted = (inside, alpha.clone());
                self.kinds.push(parted);
            }
        }
        self.kinds.iter_mut().filter(move |(plates, _)| plates & some != 0).map(|(_, alpha)| alpha)
    }
}
