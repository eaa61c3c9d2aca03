//! A PNG written by hand, chunk by chunk (PNG, W3C Recommendation).

/// A whole PNG: width and height; bits and colour type; chunks before the pixels; rows, each behind its filter. The rows
/// are stored, not compressed (RFC 1950, RFC 1951, 3.2.4).
pub fn png([width, height]: [u32; 2], [bits, colour]: [u8; 2], more: &[Vec<u8>], rows: &[u8]) -> Vec<u8> {
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[bits, colour, 0, 0, 0]].concat();
    let length = rows.len() as u16;
    let (low, high) = rows.iter().fold((1_u32, 0_u32), |(low, high), byte| {
        let low = (low + u32::from(*byte)) % 65_521;
        (low, (high + low) % 65_521)
    });
    let sum = (high << 16 | low).to_be_bytes();
    let stream = [&[0x78, 1, 1][..], &length.to_le_bytes(), &(!length).to_le_bytes(), rows, &sum].concat();
    let signature = b"\x89PNG\r\n\x1a\n".to_vec();
    [signature, chunk(*b"IHDR", &head), more.concat(), chunk(*b"IDAT", &stream), chunk(*b"IEND", &[])].concat()
}

pub fn chunk(kind: [u8; 4], body: &[u8]) -> Vec<u8> {
    let stated = [&kind[..], body].concat();
    [&(body.len() as u32).to_be_bytes()[..], &stated, &crc(&stated).to_be_bytes()].concat()
}

fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, _: u32| if crc & 1 == 1 { 0xEDB8_8320 ^ (crc >> 1) } else { crc >> 1 };
    !bytes.iter().fold(!0, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), step))
}
