//! Effort: how many blocks the scans of a JPEG go through. An empty scan takes a few bytes, and goes through all of them.

use crate::assets::PictureFault;
use crate::assets::decode::decoded::{INKED_LIMIT, fault};
use crate::assets::decode::jpeg::frame::FrameHead;
use crate::assets::decode::jpeg::head::JpegHead;
use crate::assets::decode::jpeg::walk::{entropy_end, segment};

/// 61 million pixels in four inks, each block gone through twelve times: encoders write six to ten scans of a component. A second
/// of a processor.
const MOST_BLOCKS: u64 = 48_000_000;
/// The reader takes no more.
const MOST_SCANS: u64 = 100;

/// Refuses what takes too long, or too much memory: coefficients have two bytes each, beside the samples made of them.
pub fn within_effort(bytes: &[u8], head: &JpegHead) -> Result<(), PictureFault> {
    if !head.progressive {
        return Ok(());
    }
    let pixels = u64::from(head.width) * u64::from(head.height);
    if head.channels == 1 && pixels * 3 > INKED_LIMIT {
        return Err(too_large(head, pixels * 3));
    }
    let (blocks, scans) = gone_through(bytes).unwrap_or_default();
    if blocks > MOST_BLOCKS || scans > MOST_SCANS {
        let message = format!(
            "a progressive JPEG of {} x {} pixels in {scans} scans, more than we follow",
            head.width, head.height
        );
        return Err(fault(message, BASELINE));
    }
    Ok(())
}

/// One that cannot be taken apart has all its coefficients in memory at once.
pub fn within_memory(head: &JpegHead) -> Result<(), PictureFault> {
    let bytes = u64::from(head.width) * u64::from(head.height) * u64::from(head.channels) * 3;
    if head.progressive && bytes > INKED_LIMIT { Err(too_large(head, bytes)) } else { Ok(()) }
}

fn too_large(head: &JpegHead, bytes: u64) -> PictureFault {
    let (mib, limit) = (bytes.div_ceil(1 << 20), INKED_LIMIT >> 20);
    let size = format!("it has {} x {} pixels, {mib} MiB with its coefficients", head.width, head.height);
    fault(format!("{size}; the limit is {limit} MiB"), BASELINE)
}

const BASELINE: &str = "save it as a baseline JPEG (not progressive), or as TIFF";

/// Blocks, counted in each scan, and scans; `None` where the file ends before.
fn gone_through(bytes: &[u8]) -> Option<(u64, u64)> {
    let (mut blocks, mut scans, mut at) = (0, 0, 2);
    let mut frame: Option<FrameHead> = None;
    while let Some((marker, stated, next)) = segment(bytes, at) {
        at = next;
        match marker {
            0xd9 => break,
            0xc2 if frame.is_none() => frame = Some(FrameHead::read(marker, stated)?),
            0xda => {
                let listed = stated.get(1..)?.as_chunks::<2>().0;
                for [id, _] in listed.iter().take(usize::from(stated[0])) {
                    let own = frame.as_ref().and_then(|frame| Some(&frame.components[frame.place(*id)?]));
                    blocks += own.map_or(0, |own| own.columns as u64 * own.rows as u64);
                }
                scans += 1;
                at = entropy_end(bytes, at)?;
            }
            _ => {}
        }
    }
    Some((blocks, scans))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Picture;

    /// Frames of ITU-T T.81, annex B, with scans that hold nothing.
    fn refused(side: u16, channels: u8, scans: usize) -> String {
        let [high, low] = side.to_be_bytes();
        let mut file = vec![0xff, 0xd8, 0xff, 0xc2, 0, 8 + 3 * channels, 8, high, low, high, low, channels];
        file.extend((1..=channels).flat_map(|id| [id, 0x11, 0]));
        for _ in 0..scans {
            file.extend([0xff, 0xda, 0, 8, 1, 1, 0, 1, 63, 0, 0]);
        }
        file.extend([0xff, 0xd9]);
        Picture::open("a.jpg", file.into()).map(|_| ()).expect_err("it holds nothing").message
    }

    #[test]
    fn scans_and_blocks_are_counted_before_they_are_followed() {
        let followed = |side, scans| !refused(side, 3, scans).contains("more than we follow");
        assert_eq!(refused(8000, 3, 49), "a progressive JPEG of 8000 x 8000 pixels in 49 scans, more than we follow");
        assert_eq!((followed(800, 49), followed(800, 100), followed(800, 101)), (true, true, false));
    }

    #[test]
    fn coefficients_count_as_memory() {
        assert_eq!(
            refused(13_000, 1, 1),
            "it has 13000 x 13000 pixels, 484 MiB with its coefficients; the limit is 448 MiB"
        );
        let three = refused(13_000, 3, 1);
        assert!(three.ends_with("; the limit is 256 MiB"), "{three}");
        // One that cannot be taken apart.
        let whole =
            |side| JpegHead { width: side, height: side, channels: 3, progressive: true, ..JpegHead::default() };
        assert!(within_memory(&whole(7000)).is_ok());
        assert!(
            within_memory(&whole(8100)).is_err_and(|fault| fault.message.contains("564 MiB with its coefficients"))
        );
    }
}
