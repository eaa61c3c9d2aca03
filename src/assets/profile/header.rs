//! Header: what the first 128 bytes of an ICC profile and its list of tags say, read before the engine sees any of it.

/// As ICC.1 lays them out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ProfileHeader {
    /// Its bytes, as it states them; what stands behind them is no part of it.
    pub size: usize,
    /// The first figure of its version.
    pub version: u8,
    pub class: [u8; 4],
    pub space: [u8; 4],
    pub connection: [u8; 4],
}

const HEAD: usize = 128;
/// Where the header has what it says.
const SIZE: usize = 0;
const VERSION: usize = 8;
const CLASS: usize = 12;
const SPACE: usize = 16;
const CONNECTION: usize = 20;
const SIGNATURE: usize = 36;
/// More tags than any profile has. Ours.
const MOST_TAGS: usize = 200;
/// The last version of ICC.1; later ones are another standard (ISO 20677), which press files cannot carry.
pub const LAST_VERSION: u8 = 4;

impl ProfileHeader {
    /// Why it is no whole profile of a version that can be used.
    pub fn read(bytes: &[u8]) -> Result<ProfileHeader, String> {
        if bytes.get(SIGNATURE..SIGNATURE + 4) != Some(b"acsp") {
            return Err("it is not an ICC profile, or a damaged one".to_owned());
        }
        let four = |at: usize| bytes.get(at..).and_then(<[u8]>::first_chunk::<4>).copied().unwrap_or_default();
        let long = |at: usize| u32::from_be_bytes(four(at)) as usize;
        let version = bytes[VERSION];
        if version > LAST_VERSION {
            return Err(format!(
                "it is an ICC profile of version {version}; press files take versions up to {LAST_VERSION}"
            ));
        }
        let (stated, tags) = (long(SIZE), long(HEAD));
        if stated > bytes.len() {
            return Err(format!("it is cut short: it states {stated} bytes and has {}", bytes.len()));
        }
        if tags == 0 || tags > MOST_TAGS {
            return Err(format!("it is damaged: it states {tags} tags"));
        }
        let whole = |tag: usize| {
            let (start, length) = (long(HEAD + 8 + 12 * tag), long(HEAD + 12 + 12 * tag));
            stated >= HEAD + 4 + 12 * tags && start.checked_add(length).is_some_and(|end| end <= stated)
        };
        if !(0..tags).all(whole) {
            return Err("it is damaged: a tag reaches beyond its end".to_owned());
        }
        Ok(ProfileHeader {
            size: stated,
            version,
            class: four(CLASS),
            space: four(SPACE),
            connection: four(CONNECTION),
        })
    }
}
