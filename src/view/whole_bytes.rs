//! Whole bytes: numbers that are stored as two bytes each, for nearly all of them are large.

use serde::{Deserialize, Deserializer, Serializer};

pub fn serialize<S: Serializer>(numbers: &[u16], serializer: S) -> Result<S::Ok, S::Error> {
    let bytes: Vec<u8> = numbers.iter().flat_map(|number| number.to_le_bytes()).collect();
    serializer.serialize_bytes(&bytes)
}

pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<u16>, D::Error> {
    let bytes = <&[u8]>::deserialize(deserializer)?;
    Ok(bytes.chunks_exact(2).map(|pair| u16::from_le_bytes([pair[0], pair[1]])).collect())
}
