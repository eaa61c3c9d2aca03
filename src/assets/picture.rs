//! Picture: size, resolution, colour model, pixels, and what is remembered of its file.

use crate::assets::alpha_sides::{AlphaSides, PixelShare};
use crate::assets::decode::{self, Decoded};
use crate::assets::late_pixels::LatePixels;
use crate::assets::picture_file::PictureFile;
use crate::assets::{JpegStream, Model, PictureFault, PictureFormat, Pixels, StatedColours, Tones};
use crate::ground::Digest;
use std::ops::Range;
use std::sync::{Arc, OnceLock};

pub struct Picture {
    file: Arc<PictureFile>,
    digest: Digest,
    decoded: Decoded,
    late: Option<LatePixels>,
    neutral: OnceLock<bool>,
    tones: Option<Arc<Tones>>,
    /// Its sides before the cover let it fade.
    unfaded: Option<Arc<AlphaSides>>,
}

impl Picture {
    /// Reads and decodes. `name` is the path as the cover writes it.
    pub fn open(name: &str, bytes: Arc<[u8]>) -> Result<Picture, PictureFault> {
        let sum = Digest::of_file(&bytes);
        Picture::open_summed(name, bytes, sum)
    }

    /// The same, where the file's SHA-256 is known.
    pub fn open_summed(name: &str, bytes: Arc<[u8]>, sum: Digest) -> Result<Picture, PictureFault> {
        let format = decode::sniff(name, &bytes)?;
        let decoded = decode::decode(format, &bytes)?;
        let file = PictureFile::of(name, format, &bytes, sum);
        // Turning it takes the picture twice.
        drop(bytes);
        let digest = file.sum;
        Ok(Picture::new(file, digest, decoded.upright()))
    }

    fn new(file: PictureFile, digest: Digest, decoded: Decoded) -> Picture {
        let (file, neutral) = (Arc::new(file), OnceLock::new());
        Picture { file, digest, decoded, late: None, neutral, tones: None, unfaded: None }
    }

    /// Samples of 8 bits that stand in no file of their own, named by what they are. CMYK counts ink.
    pub fn of_samples(name: &str, model: Model, (width, height): (u32, u32), pixels: Pixels) -> Picture {
        let about = format!("{name} {model:?} {width} {height}");
        let alpha = pixels.alpha.as_deref().unwrap_or_default();
        let digest = Digest::of_all(&[about.as_bytes(), &pixels.samples, alpha]);
        let decoded = Decoded {
            width,
            height,
            model,
            bits: 8,
            ppi: None,
            space: StatedColours::Unstated,
            orientation: 1,
            pixels,
            stream: None,
            damage: None,
        };
        Picture::new(PictureFile::of(name, PictureFormat::Tiff, &[], digest), digest, decoded)
    }

    /// The same picture, thinner: each pixel of it shows by so much more, from 0 to 1 at its middle's place, in shares of
    /// width and height. `of_darkness` thins what it prints in one ink. `named` tells how it was thinned. Its sides are
    /// remembered `unfaded`.
    pub fn thinned(&self, of_darkness: bool, named: &str, shows: PixelShare<'_>, unfaded: PixelShare<'_>) -> Picture {
        let (width, height) = (self.width() as usize, self.height() as usize);
        let whole = if of_darkness { Some(self.darkness()) } else { self.alpha().map(Into::into) };
        let mut alpha = whole.map_or_else(|| vec![255; width * height], std::borrow::Cow::into_owned);
        for (y, row) in alpha.chunks_mut(width.max(1)).enumerate() {
            for (x, alpha) in row.iter_mut().enumerate() {
                let share = shows((x as f64 + 0.5) / width as f64, (y as f64 + 0.5) / height as f64);
                *alpha = (f64::from(*alpha) * share.clamp(0.0, 1.0)).round() as u8;
            }
        }
        let pixels = Pixels { alpha: Some(alpha), ..self.pixels().clone() };
        Picture {
            file: self.file.clone(),
            digest: Digest::of_all(&[self.digest.bytes(), named.as_bytes()]),
            decoded: Decoded { pixels, ..self.decoded.clone() },
            late: None,
            neutral: self.neutral.clone(),
            tones: self.tones.clone(),
            unfaded: Some(Arc::new(AlphaSides::of(self.alpha(), (width, height), unfaded))),
        }
    }

    /// The same picture, printed in inks of its own.
    pub fn toned(self: &Arc<Picture>, tones: Tones) -> Picture {
        let (all, waits) = (self.clone(), self.late.is_some());
        Picture {
            file: self.file.clone(),
            digest: Digest::of_all(&[b"toned", self.digest.bytes(), tones.digest().bytes()]),
            decoded: Decoded { stream: None, ..self.decoded.clone() },
            late: waits.then(|| LatePixels::at_once(move || all.pixels().clone())),
            neutral: self.neutral.clone(),
            tones: Some(Arc::new(tones)),
            unfaded: self.unfaded.clone(),
        }
    }

    /// Opens a file that was opened before and had `pixels_can_wait`, and whether it was neutral.
    pub fn open_again(name: &str, bytes: Arc<[u8]>, sum: Digest, neutral: bool) -> Result<Picture, PictureFault> {
        let format = decode::sniff(name, &bytes)?;
        match decode::measure(format, &bytes) {
            None => Picture::open_summed(name, bytes, sum),
            Some(decoded) => {
                let decoded = decoded.upright();
                let samples = samples(&decoded);
                let file = PictureFile { held: bytes.len(), ..PictureFile::of(name, format, &bytes, sum) };
                let digest = file.sum;
                let make = move || match decode::decode(format, &bytes) {
                    Ok(decoded) => decoded.upright().pixels,
                    // It was whole when it was opened before.
                    Err(_) => Pixels::opaque(vec![0; samples]),
                };
                let late = Some(LatePixels::at_once(make));
                Ok(Picture { late, neutral: OnceLock::from(neutral), ..Picture::new(file, digest, decoded) })
            }
        }
    }

    /// Whether all but the pixels can be had at once the next time, now that the file is known to be whole. Only light
    /// can wait: its ink is kept, so its pixels are seldom asked for.
    pub fn pixels_can_wait(&self) -> bool {
        self.file.format == PictureFormat::Jpeg && self.model() == Model::Rgb && self.damage().is_none()
    }

    /// The same picture with fewer pixels, which `make` finds row by row; `about` is all else that they depend on.
    pub fn fewer(
        self: &Arc<Picture>,
        (width, height): (u32, u32),
        about: &[u8],
        alpha: Option<Vec<u8>>,
        make: impl Fn(&Picture, Range<usize>) -> Pixels + Send + Sync + 'static,
    ) -> Picture {
        let size = [width.to_le_bytes(), height.to_le_bytes()].concat();
        let all = self.clone();
        let late = Some(LatePixels::by_rows(move |rows| make(&all, rows)));
        Picture {
            file: self.file.clone(),
            digest: Digest::of_all(&[b"fewer", self.digest.bytes(), &size, about]),
            neutral: OnceLock::from(self.is_neutral()),
            decoded: Decoded {
                width,
                height,
                model: self.decoded.model,
                bits: self.decoded.bits,
                ppi: None,
                space: self.decoded.space.clone(),
                orientation: 1,
                pixels: Pixels { alpha, ..Pixels::opaque(Vec::new()) },
                stream: None,
                damage: None,
            },
            late,
            tones: self.tones.clone(),
            unfaded: self.unfaded.clone(),
        }
    }

    pub fn name(&self) -> &str {
        &self.file.name
    }

    /// All that is seen of it, on a screen as well.
    pub fn digest(&self) -> Digest {
        self.tones.as_ref().map_or(self.digest, |tones| Digest::of_all(&[self.digest.bytes(), tones.looks().bytes()]))
    }

    /// What plates carry of it: how its spots are shown on a screen changes none of them.
    pub fn digest_of_plates(&self) -> Digest {
        self.digest
    }

    /// Bytes in memory: its samples, its alpha, and of the file what is still needed.
    pub fn weight(&self) -> usize {
        let stream = self.jpeg_passthrough().map_or(0, |stream| stream.bytes.len());
        let fine = self.decoded.pixels.fine.as_ref().map_or(0, |fine| fine.len());
        self.file.held + stream + samples(&self.decoded) + fine + self.alpha().map_or(0, <[u8]>::len)
    }

    /// The SHA-256 of its file, as anyone else counts it.
    pub fn file_sum(&self) -> Digest {
        self.file.sum
    }

    /// The quality that its JPEG was saved at, 1 to 100.
    pub fn jpeg_quality(&self) -> Option<f64> {
        self.file.jpeg_quality
    }

    #[cfg(test)]
    pub fn format(&self) -> PictureFormat {
        self.file.format
    }

    pub fn model(&self) -> Model {
        self.decoded.model
    }

    /// Bits a channel in the file; 1 is line art.
    pub fn bits(&self) -> u8 {
        self.decoded.bits
    }

    /// Pixels across, the picture held upright as its file asks.
    pub fn width(&self) -> u32 {
        self.decoded.width
    }

    pub fn height(&self) -> u32 {
        self.decoded.height
    }

    /// Pixels per inch, as the file states it; the lower one where across and down differ.
    pub fn ppi(&self) -> Option<f64> {
        self.decoded.ppi
    }

    /// What the file says that its numbers mean.
    pub fn space(&self) -> &StatedColours {
        &self.decoded.space
    }

    /// Whether it is RGB and every pixel a grey.
    pub fn is_neutral(&self) -> bool {
        self.model() == Model::Rgb
            && self.neutral.get().copied().unwrap_or_else(|| {
                // Not within the cell: whoever makes pixels may take up other work meanwhile, which may ask for the same.
                let is_neutral = self.pixels().are_neutral();
                *self.neutral.get_or_init(|| is_neutral)
            })
    }

    /// The inks that it is printed in, where they are not those of the press.
    pub fn tones(&self) -> Option<&Tones> {
        self.tones.as_deref()
    }

    pub fn pixels(&self) -> &Pixels {
        match &self.late {
            Some(late) => late.all(self.height(), self.alpha()),
            None => &self.decoded.pixels,
        }
    }

    /// Some rows of them, without alpha.
    pub fn rows(&self, rows: Range<usize>) -> Pixels {
        self.late.as_ref().and_then(|late| late.rows(rows.clone())).unwrap_or_else(|| {
            let row = self.width() as usize * self.model().channels();
            self.pixels().part(rows.start * row..rows.end * row)
        })
    }

    /// Whether rows are made when they are asked for, and not kept.
    pub fn is_made_by_rows(&self) -> bool {
        self.late.as_ref().is_some_and(LatePixels::are_made_by_rows)
    }

    /// 255 is opaque; `None` when every pixel is.
    pub fn alpha(&self) -> Option<&[u8]> {
        self.decoded.pixels.alpha.as_deref()
    }

    /// Its sides as the file has them, whatever the cover lets fade.
    pub fn unfaded_sides(&self) -> Arc<AlphaSides> {
        self.unfaded.clone().unwrap_or_else(|| Arc::new(self.sides()))
    }

    /// Its sides as they show.
    pub fn sides(&self) -> AlphaSides {
        AlphaSides::of(self.alpha(), (self.width() as usize, self.height() as usize), &|_, _| 1.0)
    }

    /// What may stand in a PDF as it is: a whole JPEG in grey or CMYK, 8 bit, upright as stored.
    pub fn jpeg_passthrough(&self) -> Option<&JpegStream> {
        self.decoded.stream.as_ref()
    }

    /// What is wrong with the file, where some of the picture can be read all the same.
    pub fn damage(&self) -> Option<&str> {
        self.decoded.damage.as_deref()
    }
}

/// How many samples its pixels have, all channels together.
fn samples(decoded: &Decoded) -> usize {
    decoded.width as usize * decoded.height as usize * decoded.model.channels()
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}
