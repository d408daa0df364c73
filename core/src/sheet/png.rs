//! What a PNG file says of the size it is to be printed at.

/// The file with its resolution written in: so many pixels to the metre both ways, in a `pHYs` chunk
/// right after the header, in place of any other (PNG, third edition, W3C 2025, 11.3.4.3). None where the
/// bytes are no PNG.
#[must_use]
pub fn with_pixels_per_metre(png: &[u8], pixels: u32) -> Option<Vec<u8>> {
    const SIGNATURE: [u8; 8] = *b"\x89PNG\r\n\x1a\n";
    let mut rest = png.strip_prefix(&SIGNATURE)?;
    let mut out = SIGNATURE.to_vec();
    while !rest.is_empty() {
        let length: [u8; 4] = rest.get(..4)?.try_into().ok()?;
        // Length, type, data, check.
        let whole = usize::try_from(u32::from_be_bytes(length)).ok()?.checked_add(12)?;
        let chunk = rest.get(..whole)?;
        let name = chunk.get(4..8)?;
        if name != b"pHYs" {
            out.extend_from_slice(chunk);
        }
        if name == b"IHDR" {
            let mut own = b"pHYs".to_vec();
            own.extend_from_slice(&pixels.to_be_bytes());
            own.extend_from_slice(&pixels.to_be_bytes());
            // The unit is the metre.
            own.push(1);
            out.extend_from_slice(&9_u32.to_be_bytes());
            out.extend_from_slice(&own);
            out.extend_from_slice(&crc32fast::hash(&own).to_be_bytes());
        }
        rest = rest.get(whole..)?;
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The smallest PNG there is: one black pixel, from the standard's own layout.
    const DOT: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\0\0\0\0\x3a\x7e\x9b\x55\
        \0\0\0\nIDAT\x78\x9c\x63\x60\0\0\0\x02\0\x01\x48\xaf\xa4\x71\0\0\0\0IEND\xae\x42\x60\x82";

    /// The bytes are those that Pillow writes for 300 dots an inch (11811 to the metre).
    #[test]
    fn the_resolution_stands_after_the_header_once() {
        let once = with_pixels_per_metre(DOT, 11_811).unwrap();
        let chunk = b"\0\0\0\x09pHYs\0\0\x2e\x23\0\0\x2e\x23\x01\x78\xa5\x3f\x76";
        assert_eq!(once.get(33..54), Some(&chunk[..]));
        assert_eq!(once.len(), DOT.len() + 21);
        assert_eq!(with_pixels_per_metre(&once, 11_811), Some(once));
    }

    #[test]
    fn other_bytes_are_no_png() {
        assert_eq!(with_pixels_per_metre(b"GIF89a", 1), None);
        assert_eq!(with_pixels_per_metre(DOT.get(..40).unwrap(), 1), None);
    }
}
