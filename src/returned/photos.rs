//! Photos: pictures of a page, their samples turned to plates.

use crate::assets::{Model, Picture, Pixels};
use crate::ground::{ALL_PLATES, Affine, Digest, Ink, PROCESS_PLATES};
use crate::printed::ColourSpace;
use crate::returned::byte_budget::ByteBudget;
use crate::returned::colours::plate_space;
use crate::returned::functions::numbers;
use crate::returned::keys::{filters, key, whole};
use crate::returned::tables::MixtureTable;
use crate::scene::PlacedPicture;
use hayro_syntax::object::{Dict, Object, Stream};
use hayro_syntax::page::Resources;
use std::sync::Arc;

/// Pixels of one picture, and bytes of all its plates.
const PIXELS: u64 = 64 << 20;

/// A picture as plates: what is laid for each.
pub struct PagePhoto {
    width: u32,
    height: u32,
    /// The process plates, if it has any of them; 255 is solid.
    process: Option<Vec<u8>>,
    spots: Vec<(String, Vec<u8>)>,
    alpha: Option<Vec<u8>>,
}

impl PagePhoto {
    /// In a mask, grey is how much shows.
    pub fn read(
        stream: &Stream<'_>,
        (resources, of_light): (&Resources<'_>, bool),
        budget: &mut ByteBudget,
    ) -> Result<PagePhoto, String> {
        let dict = stream.dict();
        let undrawn = |why: &str| Err(format!("pictures {why}"));
        let (Some(width), Some(height)) = (whole(dict, "Width"), whole(dict, "Height")) else {
            return undrawn("without a size");
        };
        if u64::from(width) * u64::from(height) > PIXELS || width == 0 || height == 0 {
            return undrawn("of more pixels than are read");
        }
        let stated = dict.get::<Object<'_>>(key(dict, "ColorSpace"));
        let table = stated.as_ref().and_then(|space| MixtureTable::of(space, resources, budget));
        let space = match &table {
            Some(table) => Some(table.space.clone()),
            None => stated.map(|space| plate_space(&space, resources)),
        };
        let (Some(space), Some(8)) = (space, whole(dict, "BitsPerComponent")) else {
            return undrawn("with other than 8 bits a channel");
        };
        if of_light && space != ColourSpace::Grey {
            return undrawn("of other colours than grey in a soft mask");
        }
        let names = match &space {
            ColourSpace::Grey => vec!["Black".to_owned()],
            ColourSpace::Cmyk => PROCESS_PLATES.map(str::to_owned).to_vec(),
            ColourSpace::Named(names) if !names.iter().any(|name| name == ALL_PLATES) => names.clone(),
            ColourSpace::Rgb => return undrawn("in RGB"),
            ColourSpace::Other(kind) => return undrawn(&format!("in colours of the kind {kind}")),
            ColourSpace::Named(_) => return undrawn("in an ink for all plates"),
        };
        let held = if table.is_some() { 1 } else { names.len() };
        let samples = samples(stream, (width, height), held, budget)?;
        let pixels = width as usize * height as usize;
        let layers = 4 + 2 + 3 * names.len() as u64;
        budget.take(layers * pixels as u64)?;
        let decode = numbers(dict, key(dict, "Decode"));
        let samples = match &table {
            Some(_) if decode.as_ref().is_some_and(|decode| *decode != [0.0, 255.0]) => {
                return undrawn("whose samples are counted in a way that is not read");
            }
            Some(table) => table.looked_up(&samples),
            None => samples,
        };
        let decode = decode.filter(|_| table.is_none());
        // Grey counts light, inks count ink.
        let counts_light = space == ColourSpace::Grey && !of_light;
        let usual = [0.0, 1.0].repeat(names.len());
        let flipped = match decode {
            None => false,
            Some(decode) if decode == usual => false,
            Some(decode) if decode == [1.0, 0.0].repeat(names.len()) => true,
            Some(_) => return undrawn("whose samples are counted in a way that is not read"),
        };
        let plane = |channel: usize| -> Vec<u8> {
            let every = (0..pixels).map(|pixel| samples[pixel * names.len() + channel]);
            every.map(|sample| if flipped == counts_light { sample } else { 255 - sample }).collect()
        };
        let mut photo =
            PagePhoto { width, height, process: None, spots: Vec::new(), alpha: alpha(dict, (width, height), budget)? };
        for (channel, name) in names.iter().enumerate() {
            if let Some(at) = PROCESS_PLATES.iter().position(|process| process == name) {
                let process = photo.process.get_or_insert_with(|| vec![0; pixels * 4]);
                plane(channel).into_iter().enumerate().for_each(|(pixel, ink)| process[pixel * 4 + at] = ink);
            } else if name != "None" {
                photo.spots.push((name.clone(), plane(channel)));
            }
        }
        Ok(photo)
    }

    /// What is laid for it: its process inks knock out, or bare paper does, and its spot inks lie on that.
    pub fn layers(self, place: Affine, spot: &mut dyn FnMut(&str) -> Ink) -> Vec<PlacedPicture> {
        let PagePhoto { width, height, process, spots, alpha } = self;
        let pixels = width as usize * height as usize;
        let transform = place * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 1.0]);
        let placed = |picture: Picture, paint: Option<Ink>| PlacedPicture {
            picture: Arc::new(picture),
            transform,
            paint,
            separation: crate::assets::Separation::default(),
        };
        let mut all = Vec::new();
        let ground = process.unwrap_or_else(|| vec![0; pixels * 4]);
        let whole = Pixels { samples: Arc::new(ground), fine: None, alpha: alpha.clone() };
        all.push(placed(Picture::of_samples("plates", Model::Cmyk, (width, height), whole), None));
        let blank = Arc::new(if spots.is_empty() { Vec::new() } else { vec![0; pixels] });
        for (name, plane) in spots {
            let shown = match &alpha {
                None => plane,
                Some(alpha) => plane
                    .iter()
                    .zip(alpha)
                    .map(|(ink, veil)| (u16::from(*ink) * u16::from(*veil) / 255) as u8)
                    .collect(),
            };
            let veil = Pixels { samples: blank.clone(), fine: None, alpha: Some(shown) };
            let picture = Picture::of_samples("plate", Model::Grey, (width, height), veil);
            all.push(placed(picture, Some(spot(&name))));
        }
        all
    }
}

/// A picture of one bit that a colour is laid through.
pub fn stencil(
    stream: &Stream<'_>,
    place: Affine,
    inks: &[Ink],
    budget: &mut ByteBudget,
) -> Result<Vec<PlacedPicture>, String> {
    let dict = stream.dict();
    let size = (whole(dict, "Width").unwrap_or(0), whole(dict, "Height").unwrap_or(0));
    let painted = bits(stream, size, budget)?;
    let flipped = numbers(dict, key(dict, "Decode")).is_some_and(|decode| decode == [1.0, 0.0]);
    // A sample of 0 is painted.
    let alpha: Vec<u8> = painted.into_iter().map(|bit| if bit == flipped { 255 } else { 0 }).collect();
    let transform = place * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 1.0]);
    let veil = Pixels { samples: Arc::new(vec![0; alpha.len()]), fine: None, alpha: Some(alpha) };
    let picture = Arc::new(Picture::of_samples("stencil", Model::Grey, size, veil));
    let placed = inks.iter().map(|ink| PlacedPicture {
        picture: picture.clone(),
        transform,
        paint: Some(ink.clone()),
        separation: crate::assets::Separation::default(),
    });
    Ok(placed.collect())
}

/// Samples of 8 bits, channels side by side, as the file counts them.
fn samples(
    stream: &Stream<'_>,
    (width, height): (u32, u32),
    channels: usize,
    budget: &mut ByteBudget,
) -> Result<Vec<u8>, String> {
    let length = width as usize * height as usize * channels;
    match &filters(stream)[..] {
        [] => {}
        [filter] if filter == "FlateDecode" => {}
        [filter] if filter == "DCTDecode" => return jpeg(stream, (width, height), channels, budget),
        _ => return Err("pictures compressed in a way that is not read".to_owned()),
    }
    let data = budget.decoded(stream)?;
    data.get(..length).map(<[u8]>::to_vec).ok_or_else(|| "pictures that are cut short".to_owned())
}

/// The numbers of a JPEG as they are stored. Readers of picture files turn those of one maker round, and say so.
fn jpeg(stream: &Stream<'_>, size: (u32, u32), channels: usize, budget: &mut ByteBudget) -> Result<Vec<u8>, String> {
    let model = match channels {
        1 => Model::Grey,
        4 => Model::Cmyk,
        _ => return Err("JPEG pictures in other inks than the process inks".to_owned()),
    };
    let bytes: Arc<[u8]> = Arc::from(&*stream.raw_data());
    // Twice the samples: those of the picture and the copy that is turned to plates.
    budget.take(2 * u64::from(size.0) * u64::from(size.1) * channels as u64)?;
    // The size stands in the head, and is compared before any pixel is unpacked.
    let measured = Picture::open_again("picture.jpg", bytes.clone(), Digest::of_file(&bytes), false);
    let fits = |picture: &Picture| (picture.width(), picture.height()) == size && picture.model() == model;
    let opened = match measured {
        Ok(measured) if !fits(&measured) => {
            budget.take_damaged();
            return Err("JPEG pictures that are not what the page says".to_owned());
        }
        Ok(_) => Picture::open("picture.jpg", bytes),
        Err(fault) => Err(fault),
    };
    let Ok(opened) = opened else {
        budget.take_damaged();
        return Err("pictures that are damaged".to_owned());
    };
    let samples = opened.pixels().samples.to_vec();
    match opened.jpeg_passthrough() {
        Some(kept) if kept.inverted && model == Model::Cmyk => Ok(samples.into_iter().map(|ink| 255 - ink).collect()),
        Some(_) => Ok(samples),
        None => Err("JPEG pictures of a kind that is not read".to_owned()),
    }
}

/// 255 is opaque.
fn alpha(dict: &Dict<'_>, size: (u32, u32), budget: &mut ByteBudget) -> Result<Option<Vec<u8>>, String> {
    if let Some(mask) = dict.get::<Stream<'_>>("SMask") {
        let own = (whole(mask.dict(), "Width"), whole(mask.dict(), "Height"));
        let plain = whole(mask.dict(), "BitsPerComponent") == Some(8)
            && !mask.dict().contains_key("Matte")
            && numbers(mask.dict(), key(mask.dict(), "Decode")).is_none_or(|decode| decode == [0.0, 1.0]);
        if own != (Some(size.0), Some(size.1)) || !plain {
            return Err("pictures with a soft mask of another size".to_owned());
        }
        return samples(&mask, size, 1, budget).map(Some);
    }
    match dict.get::<Object<'_>>("Mask") {
        None => Ok(None),
        Some(Object::Stream(mask)) => {
            let own = (whole(mask.dict(), "Width"), whole(mask.dict(), "Height"));
            if own != (Some(size.0), Some(size.1)) {
                return Err("pictures with a mask of another size".to_owned());
            }
            let flipped = numbers(mask.dict(), key(mask.dict(), "Decode")).is_some_and(|decode| decode == [1.0, 0.0]);
            // A sample of 1 is masked out.
            let veil = bits(&mask, size, budget)?.into_iter().map(|bit| if bit == flipped { 255 } else { 0 });
            Ok(Some(veil.collect()))
        }
        Some(_) => Err("pictures with a colour masked out".to_owned()),
    }
}

/// Samples of one bit.
fn bits(stream: &Stream<'_>, (width, height): (u32, u32), budget: &mut ByteBudget) -> Result<Vec<bool>, String> {
    let row = (width as usize).div_ceil(8);
    let inside = u64::from(width) * u64::from(height) <= PIXELS && width > 0;
    let plain =
        matches!(&filters(stream)[..], [] | [_]) && filters(stream).iter().all(|filter| filter == "FlateDecode");
    if !inside || !plain {
        return Err("pictures of one bit, compressed in a way that is not read".to_owned());
    }
    // A byte a pixel, three times.
    budget.take(3 * u64::from(width) * u64::from(height))?;
    let data = budget.decoded(stream)?;
    if data.len() < row * height as usize {
        return Err("pictures that are cut short".to_owned());
    }
    let bit = |x: usize, y: usize| data[y * row + x / 8] >> (7 - x % 8) & 1 == 1;
    Ok((0..height as usize).flat_map(|y| (0..width as usize).map(move |x| (x, y))).map(|(x, y)| bit(x, y)).collect())
}
