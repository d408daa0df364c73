//! Packs a font for browsers: WOFF 1.0 (W3C recommendation of 2012), whose tables are deflated one by one.

use miniz_oxide::deflate::compress_to_vec_zlib;

/// How hard to deflate, of 10: more gains nothing on fonts so small.
const EFFORT: u8 = 8;

/// The OpenType file as WOFF; nothing where it is no such file.
pub(super) fn write(font: &[u8]) -> Vec<u8> {
    pack(font).unwrap_or_default()
}

fn pack(font: &[u8]) -> Option<Vec<u8>> {
    let count = u16::from_be_bytes(bytes(font, 4)?);
    let head = 44 + 20 * usize::from(count);
    let (mut directory, mut tables) = (Vec::new(), Vec::new());
    let mut whole = 12 + 16 * usize::from(count);
    for n in 0..usize::from(count) {
        let entry = 12 + 16 * n;
        let tag: [u8; 4] = bytes(font, entry)?;
        let sum: [u8; 4] = bytes(font, entry + 4)?;
        let start = usize::try_from(u32::from_be_bytes(bytes(font, entry + 8)?)).ok()?;
        let length = usize::try_from(u32::from_be_bytes(bytes(font, entry + 12)?)).ok()?;
        let table = font.get(start..start.checked_add(length)?)?;
        let deflated = compress_to_vec_zlib(table, EFFORT);
        // What does not shrink stays as it is.
        let kept = if deflated.len() < length { deflated.as_slice() } else { table };
        directory.extend(tag);
        directory.extend(number(head + tables.len())?);
        directory.extend(number(kept.len())?);
        directory.extend(number(length)?);
        directory.extend(sum);
        tables.extend(kept);
        tables.resize(tables.len().next_multiple_of(4), 0);
        whole += length.next_multiple_of(4);
    }
    let mut out = b"wOFF".to_vec();
    out.extend(bytes::<4>(font, 0)?);
    out.extend(number(head + tables.len())?);
    out.extend(count.to_be_bytes());
    out.extend([0; 2]);
    out.extend(number(whole)?);
    // Version 1.0 of the packing; neither metadata nor private data: three pairs of place and length.
    out.extend([0, 1, 0, 0]);
    out.extend([0; 20]);
    out.extend(directory);
    out.extend(tables);
    Some(out)
}

fn bytes<const N: usize>(font: &[u8], at: usize) -> Option<[u8; N]> {
    font.get(at..at.checked_add(N)?)?.try_into().ok()
}

fn number(n: usize) -> Option<[u8; 4]> {
    u32::try_from(n).ok().map(u32::to_be_bytes)
}
