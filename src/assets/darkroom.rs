//! Darkroom: pictures opened, converted and compressed once, however many outputs and rebuilds want them.

use crate::assets::{Drawing, Model, Picture, PictureFault, Profile, ProfileFault};
use crate::ground::{Digest, Memo};
use std::sync::Arc;

/// What an `image` may place.
#[derive(Clone, Debug)]
pub enum Art {
    Picture(Arc<Picture>),
    Drawing(Arc<Drawing>),
}

/// A picture in ink: one channel (black) or four (CMYK), 8 bit, 255 is solid.
pub struct Negative {
    pub model: Model,
    pub samples: Vec<u8>,
}

#[derive(Default)]
pub struct Darkroom {
    art: Memo<Art>,
    negatives: Memo<Negative>,
    streams: Memo<Vec<u8>>,
    profiles: Memo<Profile>,
}

impl Darkroom {
    /// Opens a picture or drawing by its content, whatever its name says.
    pub fn open(&self, name: &str, bytes: Arc<[u8]>) -> Result<Art, PictureFault> {
        let key = Digest::of_all(&[name.as_bytes(), &bytes]);
        let art = self.art.get_or(key, || {
            if Drawing::is_drawing(&bytes) {
                Drawing::open(name, &bytes).map(|drawing| Art::Drawing(Arc::new(drawing)))
            } else {
                Picture::open(name, bytes).map(|picture| Art::Picture(Arc::new(picture)))
            }
        })?;
        Ok((*art).clone())
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

    /// A picture as its press prints it.
    pub fn negative(&self, picture: &Picture, profile: &Profile) -> Arc<Negative> {
        let key = Digest::of_all(&[picture.digest().bytes(), profile.digest().bytes()]);
        let made = self.negatives.get_or(key, || {
            let (model, samples) = profile.press_pixels(picture);
            Ok::<_, std::convert::Infallible>(Negative { model, samples })
        });
        match made {
            Ok(negative) => negative,
            Err(never) => match never {},
        }
    }

    /// Bytes that are dear to make, by whatever they are made of.
    pub fn stream(&self, key: Digest, make: impl FnOnce() -> Vec<u8>) -> Arc<Vec<u8>> {
        match self.streams.get_or(key, || Ok::<_, std::convert::Infallible>(make())) {
            Ok(stream) => stream,
            Err(never) => match never {},
        }
    }

    /// Such bytes, if they have been made.
    pub fn recall(&self, key: Digest) -> Option<Arc<Vec<u8>>> {
        self.streams.get(key)
    }

    /// After a build: forget what is no longer asked for.
    pub fn sweep(&self) {
        self.art.sweep();
        self.negatives.sweep();
        self.streams.sweep();
        self.profiles.sweep();
    }
}
