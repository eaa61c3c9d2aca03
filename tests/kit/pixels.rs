//! Pixels: the head of a PNG file that promises more than it holds.

/// Signature, `IHDR` for grey of 8 bits, an empty `IDAT` and `IEND` (PNG, W3C Recommendation).
pub fn png_header(width: u32, height: u32) -> Vec<u8> {
    let mut head = Vec::from(width.to_be_bytes());
    head.extend(height.to_be_bytes());
    head.extend([8, 0, 0, 0, 0]);
    let mut bytes = b"\x89PNG\r\n\x1a\n".to_vec();
    for (kind, body) in [(b"IHDR", &head[..]), (b"IDAT", &[][..]), (b"IEND", &[][..])] {
        let stated: Vec<u8> = kind.iter().chain(body).copied().collect();
        bytes.extend((body.len() as u32).to_be_bytes());
        bytes.extend(&stated);
        bytes.extend(crc(&stated).to_be_bytes());
    }
    bytes
}

fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, _: u32| if crc & 1 == 1 { 0xEDB8_8320 ^ (crc >> 1) } else { crc >> 1 };
    !bytes.iter().fold(!0, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), step))
}
