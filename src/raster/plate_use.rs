//! Plate use: how much of a sheet each plate covers, and what it is called while nothing on it changes.

use crate::ground::{Digest, MM_PER_INCH, PROCESS_PLATES};
use crate::raster::plates::Plates;

/// A plate with ink on it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateUse {
    pub name: String,
    /// The mean of its tints, 1 a solid all over.
    pub share: f64,
    /// As many square millimetres as a solid would cover with the same ink.
    pub area: f64,
    /// Names every sample of it.
    pub digest: Digest,
}

impl Plates {
    /// The plates with ink on them, by their names: the process plates, then the spots.
    pub fn inked(&self) -> impl Iterator<Item = (&str, &[u8])> {
        let process = PROCESS_PLATES.into_iter().zip(&self.process);
        let spots = self.spots.iter().map(|(spot, plane)| (spot.name.as_str(), plane));
        process
            .chain(spots)
            .filter(|(_, plane)| plane.iter().any(|ink| *ink > 0))
            .map(|(name, plane)| (name, &plane[..]))
    }

    pub fn uses(&self) -> Vec<PlateUse> {
        let pixel = (MM_PER_INCH / self.ppi).powi(2);
        let used = |(name, plane): (&str, &[u8])| {
            let solids = plane.iter().map(|ink| u64::from(*ink)).sum::<u64>() as f64 / 255.0;
            PlateUse {
                name: name.to_owned(),
                share: solids / plane.len().max(1) as f64,
                area: solids * pixel,
                digest: Digest::of_all(&[format!("{} {}", self.width, self.height).as_bytes(), plane]),
            }
        };
        self.inked().map(used).collect()
    }
}

#[cfg(test)]
mod tests {
    use crate::ground::Ink;
    use crate::raster::trial::{draw, rect, scene, spot};

    #[test]
    fn a_plate_is_measured_by_its_ink_and_known_by_what_lies_on_it() {
        let cover = |black: f64| {
            let ground = rect(0.0, 0.0, 40.0, 20.0, Ink::process(0.5, 0.0, 0.0, 0.0));
            let foil = rect(0.0, 0.0, 10.0, 10.0, Ink::spot(spot("Gold foil", true), 1.0));
            let word = rect(30.0, 0.0, 10.0, 20.0, Ink::black(black).overprinting());
            draw(&scene(40.0, 20.0, vec![ground, foil, word])).uses()
        };
        let plates = cover(1.0);
        let names: Vec<&str> = plates.iter().map(|plate| plate.name.as_str()).collect();
        assert_eq!(names, ["Cyan", "Black", "Gold foil"], "blank plates are none");
        // Half of 800 mm², a quarter of it, an eighth of it; 0.5 is 128 of 255.
        let areas: Vec<f64> = plates.iter().map(|plate| (plate.area * 10.0).round() / 10.0).collect();
        assert_eq!(areas, [401.6, 200.0, 100.0]);
        assert!((plates[1].share - 0.25).abs() < 1e-9);
        let other = cover(0.9);
        let same: Vec<bool> = plates.iter().zip(&other).map(|(a, b)| a.digest == b.digest).collect();
        assert_eq!(same, [true, false, true]);
    }
}
