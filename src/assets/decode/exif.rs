//! Exif: the facts a camera writes that we need: resolution, which way is up, and whether the colours are sRGB.

/// Resolution in pixels per inch, and the orientation's number (1 where none is stated).
pub struct Exif {
    pub ppi: Option<f64>,
    pub orientation: u8,
    pub srgb: bool,
}

const ORIENTATION: u16 = 0x0112;
const X_RESOLUTION: u16 = 0x011a;
const Y_RESOLUTION: u16 = 0x011b;
const RESOLUTION_UNIT: u16 = 0x0128;
const EXIF_DIRECTORY: u16 = 0x8769;
const COLOUR_SPACE: u16 = 0xa001;
/// Exif 2.3, tag 0xa001.
const SRGB: u16 = 1;

/// Reads the first directory of a TIFF head. Whatever is damaged counts as not stated.
pub fn read(bytes: &[u8]) -> Exif {
    let bytes = bytes.strip_prefix(b"Exif\0\0").unwrap_or(bytes);
    facts(bytes).unwrap_or(Exif { ppi: None, orientation: 1, srgb: false })
}

fn facts(bytes: &[u8]) -> Option<Exif> {
    let head = ExifHead { bytes, little: bytes.starts_with(b"II") };
    let directory = head.long(4)? as usize;
    let (mut orientation, mut unit, mut across, mut down, mut srgb) = (1, 2, None, None, false);
    for entry in 0..head.short(directory)? as usize {
        let at = directory.checked_add(2 + entry * 12)?;
        let Some(tag) = head.short(at) else { break };
        match tag {
            ORIENTATION => orientation = head.short(at + 8)?,
            RESOLUTION_UNIT => unit = head.short(at + 8)?,
            X_RESOLUTION => across = head.ratio(head.long(at + 8)? as usize),
            EXIF_DIRECTORY => srgb = head.long(at + 8).and_then(|own| head.colour_space(own as usize)) == Some(SRGB),
            Y_RESOLUTION => down = head.ratio(head.long(at + 8)? as usize),
            _ => {}
        }
    }
    let orientation = u8::try_from(orientation).ok().filter(|number| (1..=8).contains(number)).unwrap_or(1);
    Some(Exif { ppi: resolution(unit, across, down), orientation, srgb })
}

/// TIFF 6.0, tag 296: 2 is an inch, 3 a centimetre, 1 no unit at all.
pub fn resolution(unit: u16, across: Option<f64>, down: Option<f64>) -> Option<f64> {
    let an_inch = match unit {
        2 => 1.0,
        3 => 2.54,
        _ => return None,
    };
    crate::assets::decode::decoded::plausible(across?.min(down.or(across)?) * an_inch)
}

struct ExifHead<'a> {
    bytes: &'a [u8],
    little: bool,
}

impl ExifHead<'_> {
    fn short(&self, at: usize) -> Option<u16> {
        let two = *self.bytes.get(at..)?.first_chunk()?;
        Some(if self.little { u16::from_le_bytes(two) } else { u16::from_be_bytes(two) })
    }

    fn long(&self, at: usize) -> Option<u32> {
        let four = *self.bytes.get(at..)?.first_chunk()?;
        Some(if self.little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) })
    }

    /// What the directory of a camera's own facts says of its colours.
    fn colour_space(&self, directory: usize) -> Option<u16> {
        let entries = (0..self.short(directory)? as usize).map(|entry| directory.checked_add(2 + entry * 12));
        let own = entries.flatten().find(|at| self.short(*at) == Some(COLOUR_SPACE))?;
        self.short(own + 8)
    }

    fn ratio(&self, at: usize) -> Option<f64> {
        let (above, below) = (self.long(at)?, self.long(at.checked_add(4)?)?);
        (below != 0).then(|| f64::from(above) / f64::from(below))
    }
}
