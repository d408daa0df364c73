//! How many pixels a picture has, by its first bytes: known before it is unpacked.
//!
//! Sources: ITU-T T.81 (JPEG), annex B.2; PNG Specification, 3rd edition, section 11.2.1; RFC 9649
//! (WebP), sections 2.5 to 2.7.

/// Width and height; none for other kinds of pictures and where the bytes end before they are told.
pub fn pixels(head: &[u8]) -> Option<(u32, u32)> {
    jpeg(head).or_else(|| png(head)).or_else(|| webp(head))
}

fn big(bytes: &[u8], at: usize, count: usize) -> Option<u32> {
    let bytes = bytes.get(at..at.checked_add(count)?)?;
    Some(bytes.iter().fold(0, |sum, byte| sum << 8 | u32::from(*byte)))
}

fn little(bytes: &[u8], at: usize, count: usize) -> Option<u32> {
    let bytes = bytes.get(at..at.checked_add(count)?)?;
    Some(bytes.iter().rev().fold(0, |sum, byte| sum << 8 | u32::from(*byte)))
}

/// From segment to segment up to the start of a frame.
fn jpeg(head: &[u8]) -> Option<(u32, u32)> {
    head.starts_with(&[0xFF, 0xD8]).then_some(())?;
    let mut at = 2;
    loop {
        let [fill, marker] = *head.get(at..at + 2)? else { return None };
        match (fill, marker) {
            // Any number of fill bytes may stand before a marker.
            (0xFF, 0xFF) => at += 1,
            // Start of frame, but for the three markers between that are none.
            (0xFF, 0xC0..=0xCF) if !matches!(marker, 0xC4 | 0xC8 | 0xCC) => {
                return Some((big(head, at + 7, 2)?, big(head, at + 5, 2)?));
            }
            // Without a length.
            (0xFF, 0x01 | 0xD0..=0xD7) => at += 2,
            (0xFF, _) => at += 2 + big(head, at + 2, 2)? as usize,
            _ => return None,
        }
    }
}

fn png(head: &[u8]) -> Option<(u32, u32)> {
    head.starts_with(b"\x89PNG\r\n\x1A\n").then_some(())?;
    (head.get(12..16)? == b"IHDR").then_some(())?;
    Some((big(head, 16, 4)?, big(head, 20, 4)?))
}

fn webp(head: &[u8]) -> Option<(u32, u32)> {
    (head.starts_with(b"RIFF") && head.get(8..12)? == b"WEBP").then_some(())?;
    match head.get(12..16)? {
        b"VP8X" => Some((little(head, 24, 3)? + 1, little(head, 27, 3)? + 1)),
        b"VP8L" => {
            let packed = little(head, 21, 4)?;
            Some(((packed & 0x3FFF) + 1, (packed >> 14 & 0x3FFF) + 1))
        }
        b"VP8 " => Some((little(head, 26, 2)? & 0x3FFF, little(head, 28, 2)? & 0x3FFF)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jpeg_tells_its_size_behind_what_the_camera_wrote() {
        // The layout of T.81, figures B.1 and B.3; the sizes are ours.
        let mut bytes = vec![0xFF, 0xD8, 0xFF, 0xE1, 0x01, 0x02];
        // A frame's marker within what the camera wrote counts for nothing.
        bytes.extend([0xFF, 0xC0].repeat(128));
        bytes.extend([0xFF, 0xFF, 0xC4, 0, 3, 9]);
        bytes.extend([0xFF, 0xC2, 0, 17, 8, 0x0B, 0xB8, 0x0F, 0xA0, 3]);
        assert_eq!(pixels(&bytes), Some((4000, 3000)));
        for end in 0..bytes.len() - 1 {
            assert_eq!(pixels(bytes.get(..end).unwrap()), None, "{end}");
        }
    }

    #[test]
    fn a_png_tells_its_size_in_its_first_chunk() {
        let mut bytes = b"\x89PNG\r\n\x1A\n\0\0\0\x0DIHDR".to_vec();
        bytes.extend([0, 0, 0x40, 0, 0, 0, 0x20, 1]);
        assert_eq!(pixels(&bytes), Some((16384, 8193)));
    }

    #[test]
    fn a_webp_tells_its_size_in_three_ways() {
        // The smallest lossless file of the public example in RFC 9649 is not printed there; the fields
        // are laid out here by its figures.
        let extended = [b"RIFF....WEBPVP8X....".as_slice(), &[0; 4], &[0x0F, 0x27, 0, 0xFF, 0, 1]].concat();
        assert_eq!(pixels(&extended), Some((10_000, 65_792)));
        // 14 bits of width less one, 14 bits of height less one.
        let packed = (640_u32 - 1) | (480 - 1) << 14;
        let lossless = [b"RIFF....WEBPVP8L....\x2F".as_slice(), &packed.to_le_bytes()].concat();
        assert_eq!(pixels(&lossless), Some((640, 480)));
        let lossy =
            [b"RIFF....WEBPVP8 ....".as_slice(), &[0; 3], b"\x9D\x01\x2A", &[0x80, 0x42, 0xE0, 1]].concat();
        assert_eq!(pixels(&lossy), Some((640, 480)), "the upper two bits are a scale");
    }

    #[test]
    fn anything_else_tells_nothing() {
        assert_eq!(pixels(b""), None);
        assert_eq!(pixels(b"milk and eggs, milk and eggs, milk and eggs"), None);
    }
}
