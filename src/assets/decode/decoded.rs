//! What every reader of picture files hands over, and what it may refuse.

use crate::assets::decode::samples::SampleLayout;
use crate::assets::profile::header::ProfileHeader;
use crate::assets::{JpegStream, Model, PictureFault, PictureFormat, Pixels, StatedColours};

/// What a reader found. Width and height as stored until `upright` has turned them.
#[derive(Clone)]
pub struct Decoded {
    pub width: u32,
    pub height: u32,
    pub model: Model,
    pub bits: u8,
    pub ppi: Option<f64>,
    pub space: StatedColours,
    /// EXIF's number, 1 to 8; 1 is upright as stored.
    pub orientation: u8,
    pub pixels: Pixels,
    pub stream: Option<JpegStream>,
    /// What is wrong, where some of the picture can be read all the same.
    pub damage: Option<String>,
}

/// Pixels a side: a jacket with flaps, 550 mm, at 1200 ppi has 26,000.
pub const SIDE_LIMIT: u32 = 30_000;
/// Bytes of a decoded picture: 500 mm square at 400 ppi in four inks are 237 MiB.
pub const SIZE_LIMIT: u64 = 256 << 20;
/// Bytes of a picture and its ink together: 500 mm square at 400 ppi in RGB are 414 MiB.
pub const INKED_LIMIT: u64 = 448 << 20;

pub fn fault(message: impl Into<String>, help: impl Into<String>) -> PictureFault {
    PictureFault { message: message.into(), help: help.into() }
}

/// The reader gave up in the middle.
pub fn broken(format: PictureFormat, why: impl std::fmt::Display) -> PictureFault {
    let message = format!("the {} file is damaged or cut short ({why})", label(format));
    fault(message, "fetch the file again from where it came, or save it again")
}

/// Refuses what would not fit in memory, before anything is decoded.
pub fn within_limits(width: u32, height: u32, layout: SampleLayout) -> Result<(), PictureFault> {
    if width == 0 || height == 0 {
        return Err(fault("the picture has no pixels", "save it again"));
    }
    let help = "place a smaller picture: a press shows no more than 300 pixels per inch, 1200 in line art";
    if width.max(height) > SIDE_LIMIT {
        return Err(fault(format!("it has {width} x {height} pixels; the limit is {SIDE_LIMIT} a side"), help));
    }
    let pixels = u64::from(width) * u64::from(height);
    for (each, limit, what) in
        [(layout.bytes_a_pixel(), SIZE_LIMIT, ""), (layout.bytes_with_ink(), INKED_LIMIT, " with its ink")]
    {
        let bytes = pixels * each;
        if bytes > limit {
            let (mib, limit) = (bytes.div_ceil(1 << 20), limit >> 20);
            let message = format!("it has {width} x {height} pixels, {mib} MiB{what}; the limit is {limit} MiB");
            return Err(fault(message, help));
        }
    }
    Ok(())
}

/// What an embedded profile says, if its head says that it is whole and of the picture's model; without one, what else
/// the file says.
pub fn space(model: Model, profile: Option<Vec<u8>>, otherwise: StatedColours) -> StatedColours {
    let Some(bytes) = profile.filter(|bytes| !bytes.is_empty()) else { return otherwise };
    let (space, own): (&[u8; 4], _) = match model {
        Model::Grey => (b"GRAY", "grey"),
        Model::Rgb => (b"RGB ", "RGB"),
        Model::Cmyk => (b"CMYK", "CMYK"),
    };
    match ProfileHeader::read(&bytes) {
        Ok(header) if header.space == *space => StatedColours::Profile(bytes),
        Ok(header) => {
            let stated = String::from_utf8_lossy(&header.space).trim().escape_debug().to_string();
            StatedColours::Unusable(format!("its profile is for {stated}, and the picture is {own}"))
        }
        Err(why) => StatedColours::Unusable(format!("its profile cannot be used, {why}")),
    }
}

/// sRGB, where a file says so.
pub fn srgb(says: bool) -> StatedColours {
    if says { StatedColours::Srgb } else { StatedColours::Unstated }
}

/// A stated resolution that can be meant.
pub fn plausible(ppi: f64) -> Option<f64> {
    (ppi.is_finite() && (1.0..100_000.0).contains(&ppi)).then_some(ppi)
}

pub fn label(format: PictureFormat) -> &'static str {
    match format {
        PictureFormat::Png => "PNG",
        PictureFormat::Jpeg => "JPEG",
        PictureFormat::Tiff => "TIFF",
        PictureFormat::Webp => "WebP",
    }
}

pub fn ending(format: PictureFormat) -> &'static str {
    match format {
        PictureFormat::Png => "png",
        PictureFormat::Jpeg => "jpg",
        PictureFormat::Tiff => "tif",
        PictureFormat::Webp => "webp",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn photographs_of_a_whole_jacket_pass_and_larger_ones_do_not() {
        // 500 mm at 400 ppi, rounded up to whole pixels.
        let side = (500.0 / 25.4 * 400.0_f64).ceil() as u32;
        let within = |side, model, alpha| within_limits(side, side, SampleLayout::new(model, alpha, 8));
        assert_eq!(within(side, Model::Cmyk, false), Ok(()));
        assert_eq!(within(side, Model::Rgb, false), Ok(()));
        for (least, model, alpha, mib) in [(8192, Model::Rgb, false, 448), (7662, Model::Rgb, true, 448)] {
            assert_eq!(within(least, model, alpha), Ok(()));
            let fault = within(least + 1, model, alpha).expect_err("one pixel a side too many");
            assert!(fault.message.contains(&format!("with its ink; the limit is {mib} MiB")), "{}", fault.message);
        }
    }
}
