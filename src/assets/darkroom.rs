//! Darkroom: pictures opened, converted and compressed once, however many outputs and rebuilds want them.

use crate::assets::work::{Counter, Tally};
use crate::assets::{
    Drawing, DrawnFrom, Keep, Picture, PictureFault, PicturePlate, Pixels, Profile, ProfileFault, Separation,
};
use crate::ground::{Digest, Memo};
use std::sync::Arc;

/// What an `image` may place.
#[derive(Clone, Debug)]
pub enum Art {
    Picture(Arc<Picture>),
    Drawing(Arc<Drawing>),
}

/// A picture in ink, plates side by side, 8 bit, 255 is solid.
pub struct Negative {
    pub plates: Vec<PicturePlate>,
    pub samples: Arc<Vec<u8>>,
}

pub struct Darkroom {
    keep: Option<Arc<dyn Keep>>,
    tally: Arc<Tally>,
    art: Memo<Art>,
    negatives: Memo<Negative>,
    streams: Memo<Vec<u8>>,
    profiles: Memo<Profile>,
    effects: Arc<Memo<Picture>>,
}

/// Bytes of ink that lie in memory whole; the ink of larger pictures is made where it is used, some rows at a time, and goes
/// with the use. Measured on photographs in RGB: at 56 MB a press file took 180 MB for 13.8 million pixels, at 24 MB it takes
/// 129 MB and a sixth longer; flats take as long. Under 24 MB, the first example takes a tenth longer as well.
pub const WHOLE: usize = 24 << 20;

/// Bytes that each memory may hold. With those of the typesetters (`typeset/typesetter.rs`) they are 240 MB: a process that
/// builds a thousand covers on two processors must live in 600.
const ART: usize = 40 << 20;
const NEGATIVES: usize = 56 << 20;
const STREAMS: usize = 96 << 20;
const PROFILES: usize = 8 << 20;
const EFFECTS: usize = 16 << 20;

impl Art {
    fn weight(&self) -> usize {
        match self {
            Art::Picture(picture) => picture.weight(),
            Art::Drawing(drawing) => drawing.weight(),
        }
    }
}

impl Default for Darkroom {
    fn default() -> Self {
        Darkroom::new(None, Arc::default())
    }
}

impl Darkroom {
    pub fn new(keep: Option<Arc<dyn Keep>>, tally: Arc<Tally>) -> Darkroom {
        Darkroom {
            keep,
            tally,
            art: Memo::bounded(ART, Art::weight),
            negatives: Memo::bounded(NEGATIVES, |negative| negative.samples.len()),
            streams: Memo::bounded(STREAMS, Vec::len),
            profiles: Memo::bounded(PROFILES, Profile::weight),
            effects: Arc::new(Memo::bounded(EFFECTS, Picture::weight)),
        }
    }

    /// Opens a picture or drawing by its content, whatever its name says; its SHA-256 comes with its bytes.
    /// A drawing may draw on what lies beside it.
    pub fn open(
        &self,
        name: &str,
        (bytes, sum): (Arc<[u8]>, Digest),
        beside: DrawnFrom<'_>,
    ) -> Result<Art, PictureFault> {
        let is_drawing = Drawing::is_drawing(&bytes);
        let fonts = (is_drawing && Drawing::may_have_text(&bytes)).then(|| beside.library.digest());
        let fonts = fonts.as_ref().map_or(&[][..], |digest| &digest.bytes()[..]);
        let files = beside.files.iter().flat_map(|(href, file)| match file {
            Ok(bytes) => [href.as_bytes(), b"file", &bytes[..]],
            Err(why) => [href.as_bytes(), b"none", why.as_bytes()],
        });
        let key = Digest::of_all(&[name.as_bytes(), sum.bytes(), fonts].into_iter().chain(files).collect::<Vec<_>>());
        let art = self.art.get_or(key, || {
            if is_drawing {
                Drawing::open(name, &bytes, beside).map(|drawing| Art::Drawing(Arc::new(drawing)))
            } else {
                self.picture(name, bytes, sum).map(|picture| Art::Picture(Arc::new(picture)))
            }
        })?;
        Ok((*art).clone())
    }

    /// Where pictures of the effects of drawings are kept.
    pub fn effects(&self) -> Arc<Memo<Picture>> {
        self.effects.clone()
    }

    /// A file that is known to be whole is not decoded before somebody asks for its pixels.
    fn picture(&self, name: &str, bytes: Arc<[u8]>, sum: Digest) -> Result<Picture, PictureFault> {
        const KIND: &str = "whole";
        const NEUTRAL: &[u8] = b"neutral";
        let Some(keep) = &self.keep else { return Picture::open_summed(name, bytes, sum) };
        let key = Digest::of_all(&[KIND.as_bytes(), sum.bytes()]);
        if let Some(kept) = keep.get(KIND, key) {
            return Picture::open_again(name, bytes, sum, kept == NEUTRAL);
        }
        let picture = Picture::open_summed(name, bytes, sum)?;
        if picture.pixels_can_wait() {
            keep.put(KIND, key, if picture.is_neutral() { NEUTRAL } else { b"whole" });
        }
        Ok(picture)
    }

    /// A bundled press, by name.
    pub fn press(&self, name: &str) -> Option<Arc<Profile>> {
        let key = Digest::of_all(&[b"bundled", name.as_bytes()]);
        self.profiles.get_or(key, || Profile::bundled(name).ok_or(())).ok()
    }

    /// A printer's own profile, under the condition's name that the cover gives it.
    pub fn profile(&self, bytes: Arc<[u8]>, condition: Option<&str>) -> Result<Arc<Profile>, ProfileFault> {
        let key = Digest::of_all(&[&bytes, condition.unwrap_or_default().as_bytes()]);
        self.profiles.get_or(key, || {
            let profile = Profile::open(bytes)?;
            Ok(match condition {
                Some(name) => profile.called(name),
                None => profile,
            })
        })
    }

    /// Some pixels of a picture as its press prints them, by their numbers, row by row: the rest of it need not be in ink.
    pub fn few_inks(&self, picture: &Picture, separation: Separation, profile: &Profile, which: &[usize]) -> Negative {
        let channels = picture.model().channels();
        let plates = profile.picture_plates(picture, separation);
        let taken = |samples: &[u8], channels: usize| -> Vec<u8> {
            which.iter().flat_map(|at| &samples[at * channels..(at + 1) * channels]).copied().collect()
        };
        let small = picture.width() as usize * picture.height() as usize * plates.len() <= WHOLE;
        let known = self.negatives.get(negative_name(picture, separation, profile));
        // Only for the usual separation is the way into ink laid already.
        let whole =
            known.or_else(|| (small && !separation.is_usual()).then(|| self.negative(picture, separation, profile)));
        let samples = if let Some(whole) = whole {
            Arc::new(taken(&whole.samples, plates.len()))
        } else {
            let pixels = picture.pixels();
            let fine = pixels.fine.as_ref();
            let fine = fine.map(|fine| which.iter().flat_map(|at| &fine[at * channels..(at + 1) * channels]));
            let fine = fine.map(|fine| Arc::new(fine.copied().collect()));
            let few = Pixels { fine, ..Pixels::opaque(taken(&pixels.samples, channels)) };
            profile.press_inks(picture, &few, separation)
        };
        Negative { plates, samples }
    }

    /// A picture as its press prints it.
    pub fn negative(&self, picture: &Picture, separation: Separation, profile: &Profile) -> Arc<Negative> {
        let key = negative_name(picture, separation, profile);
        self.negatives.get(key).unwrap_or_else(|| {
            let plates = profile.picture_plates(picture, separation);
            // Turning light into black, or copying ink, is quicker than a disk.
            let numbers = separation.limit.is_none() && profile.takes_numbers(picture, separation);
            let slow = plates.len() > 1 && !numbers;
            let keep = self.keep.as_ref().filter(|_| slow);
            let length = picture.width() as usize * picture.height() as usize * plates.len();
            let kept = keep.and_then(|keep| keep.get("negative", key)).filter(|samples| samples.len() == length);
            if let Some(samples) = kept {
                return self.negatives.keep(key, Negative { plates, samples: Arc::new(samples) }).0;
            }
            let samples = profile.press_pixels(picture, separation);
            if let Some(keep) = keep {
                keep.put("negative", key, &samples);
            }
            let in_black = plates.len() == 1;
            let made = self.negatives.keep(key, Negative { plates, samples });
            if slow || in_black { counted(&self.tally.converted, made) } else { made.0 }
        })
    }

    /// A picture was turned into ink where no memory of negatives sees it.
    pub fn count_converted(&self) {
        self.tally.converted.one();
    }

    /// A compressed stream of a press file, by whatever it is made of; it outlasts the process.
    pub fn compressed(&self, key: Digest, make: impl FnOnce() -> Vec<u8>) -> Arc<Vec<u8>> {
        self.kept("stream", key, make, &self.tally.compressed)
    }

    /// The light of a view, by all that it depends on; it outlasts the process.
    pub fn light(&self, key: Digest, make: impl FnOnce() -> Vec<u8>) -> Arc<Vec<u8>> {
        self.kept("light", key, make, &self.tally.lit)
    }

    fn kept(&self, kind: &'static str, key: Digest, make: impl FnOnce() -> Vec<u8>, count: &Counter) -> Arc<Vec<u8>> {
        if let Some(known) = self.streams.get(key) {
            return known;
        }
        if let Some(kept) = self.keep.as_ref().and_then(|keep| keep.get(kind, key)) {
            return self.streams.keep(key, kept).0;
        }
        let made = make();
        if let Some(keep) = &self.keep {
            keep.put(kind, key, &made);
        }
        counted(count, self.streams.keep(key, made))
    }

    /// Any other bytes that are slow to make, for as long as the process remembers them.
    pub fn stream(&self, key: Digest, make: impl FnOnce() -> Vec<u8>) -> Arc<Vec<u8>> {
        self.streams.get(key).unwrap_or_else(|| self.streams.keep(key, make()).0)
    }

    /// Such bytes, if they have been made.
    pub fn recall(&self, key: Digest) -> Option<Arc<Vec<u8>>> {
        self.streams.get(key)
    }
}

fn negative_name(picture: &Picture, separation: Separation, profile: &Profile) -> Digest {
    Digest::of_all(&[picture.digest().bytes(), profile.digest().bytes(), &separation.code()])
}

fn counted<V>(count: &Counter, (made, first): (Arc<V>, bool)) -> Arc<V> {
    if first {
        count.one();
    }
    made
}
