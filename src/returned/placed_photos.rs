//! Placed photos: pictures as a page lays them, and one-bit pictures that a colour is laid through.

use crate::ground::{Ink, Paint};
use crate::returned::drawn::PagePainter;
use crate::returned::keys::key;
use crate::returned::photos::{PagePhoto, stencil};
use crate::scene::{Mark, PlacedPicture};
use hayro_syntax::object::Stream;
use hayro_syntax::page::Resources;

/// Bytes of all pictures within the content; no deflated byte becomes more than 1032.
const INSIDE: usize = 256 << 10;

impl PagePainter<'_> {
    /// A picture that stands in the content itself; nobody has counted what it inflates to.
    pub fn photo_inside(&mut self, stream: &Stream<'_>, resources: &Resources<'_>) {
        self.inside += stream.raw_data().len();
        if self.inside > INSIDE {
            return self.undrawn("large pictures within the page's content");
        }
        self.photo(stream, resources);
    }

    pub fn photo(&mut self, stream: &Stream<'_>, resources: &Resources<'_>) {
        let is_stencil = stream.dict().get::<bool>(key(stream.dict(), "ImageMask")).unwrap_or(false);
        let found = if is_stencil { self.stencilled(stream) } else { self.plates_of(stream, resources) };
        match found {
            Ok(placed) => {
                self.lay(placed.into_iter().map(Mark::Picture).collect(), self.state.fill.opacity);
            }
            Err(why) => self.undrawn(&why),
        }
    }

    fn stencilled(&mut self, stream: &Stream<'_>) -> Result<Vec<PlacedPicture>, String> {
        let paint = self.state.fill.clone();
        let paints = self.paints(&paint);
        let ink = |paint| if let Paint::Ink(ink) = paint { Some(ink) } else { None };
        let inks: Option<Vec<Ink>> = paints.into_iter().map(ink).collect();
        let inks = inks.ok_or("pictures of one bit that a shading is laid through")?;
        stencil(stream, self.state.to_sheet, &inks, &mut self.budget)
    }

    fn plates_of(&mut self, stream: &Stream<'_>, resources: &Resources<'_>) -> Result<Vec<PlacedPicture>, String> {
        if self.state.fill.overprint && !self.spots.of_light {
            return Err("pictures that overprint".to_owned());
        }
        let photo = PagePhoto::read(stream, (resources, self.spots.of_light), &mut self.budget)?;
        let spots = &mut self.spots;
        Ok(photo.layers(self.state.to_sheet, &mut |name| spots.solid(name)))
    }
}
