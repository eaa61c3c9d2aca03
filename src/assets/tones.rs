//! Tones: a picture printed in inks of its own, each by a curve from the picture's tone to a tint.

use crate::ground::{Colour, Digest, Ink, PROCESS_PLATES, Process, Spot};
use std::sync::Arc;

/// An ink, and how much of it stands for each tone.
#[derive(Clone, Debug, PartialEq)]
pub struct TonedInk {
    pub ink: Ink,
    /// From a tone, 0 white to 1 black, to a tint, straight between. Tones rise; beyond the ends the end tint goes on.
    pub points: Vec<(f64, f64)>,
}

/// What the samples of a picture in ink stand for.
#[derive(Clone, Debug, PartialEq)]
pub enum PicturePlate {
    /// By its place among the process plates.
    Process(usize),
    Spot(Arc<Spot>),
}

/// The inks of one picture.
pub struct Tones {
    inks: Vec<TonedInk>,
    plates: Vec<PicturePlate>,
}

/// Black among the process plates.
const BLACK: usize = 3;
const TONES: usize = 1 << 16;

impl PicturePlate {
    pub fn black() -> Vec<PicturePlate> {
        vec![PicturePlate::Process(BLACK)]
    }

    pub fn process() -> Vec<PicturePlate> {
        (0..PROCESS_PLATES.len()).map(PicturePlate::Process).collect()
    }

    pub fn name(&self) -> &str {
        match self {
            PicturePlate::Process(at) => PROCESS_PLATES[*at],
            PicturePlate::Spot(spot) => &spot.name,
        }
    }

    /// How its solid looks in process inks.
    pub fn look(&self) -> Process {
        match self {
            PicturePlate::Process(at) => std::array::from_fn(|ink| if ink == *at { 1.0 } else { 0.0 }),
            PicturePlate::Spot(spot) => spot.look,
        }
    }

    /// How much of a plate an ink prints at its full tint.
    fn share(&self, ink: &Ink) -> f64 {
        match (self, &ink.colour) {
            (PicturePlate::Process(at), Colour::Process(inks)) => inks[*at],
            (PicturePlate::Spot(own), Colour::Spot(spot, tint)) if own.name == spot.name => *tint,
            _ => 0.0,
        }
    }
}

impl TonedInk {
    /// The strongest tint that it prints.
    pub fn most(&self) -> f64 {
        self.points.iter().map(|(_, tint)| *tint).reduce(f64::max).unwrap_or(1.0)
    }
}

impl Tones {
    pub fn new(inks: Vec<TonedInk>) -> Tones {
        let mut spots: Vec<PicturePlate> = Vec::new();
        for toned in &inks {
            if let Colour::Spot(spot, _) = &toned.ink.colour
                && !spots.iter().any(|known| known.name() == spot.name)
            {
                spots.push(PicturePlate::Spot(spot.clone()));
            }
        }
        let used = PicturePlate::process().into_iter().filter(|plate| inks.iter().any(|of| plate.share(&of.ink) > 0.0));
        let used: Vec<PicturePlate> = used.collect();
        let plates = match &spots[..] {
            [] if used == PicturePlate::black() => used,
            // Four inks that every reader knows, rather than some of them by name.
            [] => PicturePlate::process(),
            _ => used.into_iter().chain(spots).collect(),
        };
        Tones { inks, plates }
    }

    pub fn inks(&self) -> &[TonedInk] {
        &self.inks
    }

    pub fn plates(&self) -> &[PicturePlate] {
        &self.plates
    }

    /// What they lay on plates.
    pub fn digest(&self) -> Digest {
        let laid = self.inks.iter().map(|TonedInk { ink, points }| match &ink.colour {
            Colour::Spot(spot, tint) => format!("{:?} {tint:?} {} {points:?}", spot.name, ink.overprint),
            Colour::Process(inks) => format!("{inks:?} {} {points:?}", ink.overprint),
        });
        Digest::of(laid.collect::<Vec<String>>().join("\n").as_bytes())
    }

    /// What their spots are besides: how each is shown, and what a finisher makes of it.
    pub fn looks(&self) -> Digest {
        Digest::of(format!("{:?}", self.plates).as_bytes())
    }

    /// What lies on each plate, 255 a solid, side by side, for tones in 65535ths.
    pub fn laid(&self, tones: impl ExactSizeIterator<Item = u16>) -> Vec<u8> {
        // Where each tone that was met stands among those that were, counted from 1.
        let mut met = vec![0_usize; TONES];
        let (mut known, plates) = (Vec::new(), self.plates.len());
        let mut laid = Vec::with_capacity(tones.len() * plates);
        for tone in tones {
            let place = &mut met[usize::from(tone)];
            if *place == 0 {
                known.extend(self.at(f64::from(tone) / (TONES - 1) as f64));
                *place = known.len() / plates;
            }
            laid.extend_from_slice(&known[(*place - 1) * plates..*place * plates]);
        }
        laid
    }

    /// What two inks lay on one plate adds up.
    fn at(&self, tone: f64) -> Vec<u8> {
        let plates = self.plates.iter().map(|plate| {
            let laid: f64 = self.inks.iter().map(|of| plate.share(&of.ink) * tint(&of.points, tone)).sum();
            (laid.clamp(0.0, 1.0) * 255.0).round() as u8
        });
        plates.collect()
    }
}

impl std::fmt::Debug for Tones {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.inks.fmt(f)
    }
}

fn tint(points: &[(f64, f64)], tone: f64) -> f64 {
    let next = points.partition_point(|(at, _)| *at < tone);
    match (next.checked_sub(1).and_then(|before| points.get(before)), points.get(next)) {
        (Some((from, one)), Some((to, other))) => one + (other - one) * (tone - from) / (to - from),
        (Some((_, end)), None) | (None, Some((_, end))) => *end,
        (None, None) => tone,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(ink: Ink, points: &[(f64, f64)]) -> TonedInk {
        TonedInk { ink, points: points.to_vec() }
    }

    fn deep() -> Ink {
        Ink::spot(Arc::new(Spot { name: "Deep blue".to_owned(), look: [1.0, 0.6, 0.0, 0.1], finish: None }), 1.0)
    }

    #[test]
    fn curves_run_straight_between_their_points_and_on_beyond_them() {
        let points = [(0.2, 0.1), (0.6, 0.9)];
        for (tone, wanted) in [(0.0, 0.1), (0.2, 0.1), (0.4, 0.5), (0.6, 0.9), (1.0, 0.9)] {
            assert!((tint(&points, tone) - wanted).abs() < 1e-12, "{tone}");
        }
        assert!((tint(&[], 0.3) - 0.3).abs() < 1e-12, "without points an ink is the tone itself");
    }

    #[test]
    fn plates_are_those_that_the_inks_need() {
        let names = |inks: Vec<TonedInk>| -> Vec<String> {
            Tones::new(inks).plates().iter().map(|plate| plate.name().to_owned()).collect()
        };
        assert_eq!(names(vec![of(Ink::black(0.8), &[])]), ["Black"]);
        assert_eq!(names(vec![of(Ink::process(0.0, 0.5, 0.0, 0.0), &[])]), ["Cyan", "Magenta", "Yellow", "Black"]);
        assert_eq!(names(vec![of(deep(), &[]), of(Ink::black(1.0), &[])]), ["Black", "Deep blue"]);
        assert_eq!(names(vec![of(deep(), &[]), of(deep(), &[])]), ["Deep blue"]);
    }

    #[test]
    fn sixteen_bits_of_tone_reach_a_steep_curve_and_inks_of_one_plate_add_up() {
        // Ten per cent of the tones run through all tints: 8 bits of tone would give 26 of them.
        let steep = Tones::new(vec![of(Ink::black(1.0), &[(0.45, 0.0), (0.55, 1.0)])]);
        let tints: std::collections::BTreeSet<u8> =
            steep.laid((0..1 << 16).map(|tone: i32| tone as u16)).into_iter().collect();
        assert_eq!(tints.len(), 256);
        let two = Tones::new(vec![of(Ink::black(0.6), &[]), of(Ink::black(0.8), &[])]);
        assert_eq!(two.laid([0, 19_661, 65_535].into_iter()), [0, 107, 255]);
    }
}
