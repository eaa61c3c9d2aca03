//! Exif: the two facts a camera writes that we need, resolution and which way is up.

/// Resolution in pixels per inch, and the orientation's number (1 where none is told).
pub struct Exif {
    pub ppi: Option<f64>,
    pub orientation: u8,
}

const ORIENTATION: u16 = 0x0112;
const X_RESOLUTION: u16 = 0x011a;
const Y_RESOLUTION: u16 = 0x011b;
const RESOLUTION_UNIT: u16 = 0x0128;

/// Reads the first directory of a TIFF head. Whatever is damaged counts as not told.
pub fn read(bytes: &[u8]) -> Exif {
    let bytes = bytes.strip_prefix(b"Exif\0\0").unwrap_or(bytes);
    facts(bytes).unwrap_or(Exif { ppi: None, orientation: 1 })
}

fn facts(bytes: &[u8]) -> Option<Exif> {
    let head = ExifHead { bytes, little: bytes.starts_with(b"II") };
    let directory = head.long(4)? as usize;
    let (mut orientation, mut unit, mut across, mut down) = (1, 2, None, None);
    for entry in 0..head.short(directory)? as usize {
        let at = directory.checked_add(2 + entry * 12)?;
        let Some(tag) = head.short(at) else { break };
        match tag {
            ORIENTATION => orientation = head.short(at + 8)?,
            RESOLUTION_UNIT => unit = head.short(at + 8)?,
            X_RESOLUTION => across = head.ratio(head.long(at + 8)? as usize),
            Y_RESOLUTION => down = head.ratio(head.long(at + 8)? as usize),
            _ => {}
        }
    }
    let orientation = u8::try_from(orientation).ok().filter(|number| (1..=8).contains(number)).unwrap_or(1);
    Some(Exif { ppi: resolution(unit, across, down), orientation })
}

/// TIFF 6.0, tag 296: 2 is an inch, 3 a centimetre, 1 no unit at all.
pub fn resolution(unit: u16, across: Option<f64>, down: Option<f64>) -> Option<f64> {
    let an_inch = match unit {
        2 => 1.0,
        3 => 2.54,
        _ => return None,
    };
    super::plausible(across?.min(down.or(across)?) * an_inch)
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

    fn ratio(&self, at: usize) -> Option<f64> {
        let (above, below) = (self.long(at)?, self.long(at.checked_add(4)?)?);
        (below != 0).then(|| f64::from(above) / f64::from(below))
    }
}
