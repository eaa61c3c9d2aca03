//! Job line: what stands in small type beside the sheet, and the plate that it stands on.
//!
//! Editions differ in it: title, ISBN, version. So it stands on one plate, that of black or the one for all words, and the
//! others need not be made again for its sake.

use crate::ground::{Colour, Ink, PROCESS_PLATES};
use crate::scene::Scene;

/// The process plates, by how well small type stands on them. Nobody reads it on yellow where there is a spot ink.
const BLACK_FIRST: [usize; 4] = [3, 0, 1, 2];
const YELLOW: usize = 2;

impl Scene {
    /// Part by part.
    pub fn job_line(&self) -> Vec<String> {
        let job = &self.job;
        let isbn = job.isbn.as_ref().map(|isbn| format!("ISBN\u{a0}{isbn}"));
        let version = job.version.map(|version| format!("version {version}"));
        let condition = Some(self.profile.condition().to_owned());
        let parts = [Some(job.title.clone()), isbn, version, job.date.clone(), condition];
        parts.into_iter().flatten().chain(job.notes.iter().cloned()).collect()
    }

    /// The plate of that line, and its ink: the one for all words, or black; where the sheet prints without it, the first that
    /// it prints with.
    pub fn job_ink(&self) -> (String, Ink) {
        let used = self.process();
        let process = BLACK_FIRST.into_iter().map(|plate| {
            let inks = std::array::from_fn(|at| if at == plate { 1.0 } else { 0.0 });
            let ink = Ink { colour: Colour::Process(inks), overprint: false };
            (plate, (PROCESS_PLATES[plate].to_owned(), ink))
        });
        let black = process.clone().next().map(|(_, black)| black);
        let (yellow, dark): (Vec<_>, Vec<_>) =
            process.filter(|(plate, _)| used[*plate]).partition(|(plate, _)| *plate == YELLOW);
        let [yellow, dark] = [yellow, dark].map(|plates| plates.into_iter().map(|(_, plate)| plate));
        let spots = self.spots().into_iter().filter(|spot| spot.finish.is_none());
        let spots = spots.map(|spot| (spot.name.clone(), Ink::spot(spot, 1.0)));
        let mut plates: Vec<(String, Ink)> = dark.chain(spots).chain(yellow).chain(black).collect();
        let wanted = |(name, _): &(String, Ink)| {
            self.job.text_plate.as_ref().is_some_and(|plate| plate.eq_ignore_ascii_case(name))
        };
        let at = plates.iter().position(wanted).unwrap_or_default();
        plates.swap_remove(at)
    }
}
