//! Looks at a picture's bytes: what it is, how large it stands upright, and why it cannot be used if
//! it cannot. Making the published sizes is left to `pictures`; a picture never comes in here as a file.

use std::collections::BTreeMap;
use std::io::Cursor;

use image::{ImageDecoder, ImageFormat, ImageReader, Limits};

use super::drawing;

/// The longest side a picture may have, in pixels.
pub(super) const LONGEST_SIDE: u32 = 12_000;
/// The most pixels a picture may have; more is refused before it is unpacked.
const MOST_PIXELS: u64 = 80_000_000;

/// What kind of picture it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Deserialize, serde::Serialize)]
pub enum PictureKind {
    /// A photo or other raster picture, published in three widths.
    Raster,
    /// A drawing, published as it is.
    Drawing,
}

/// A usable picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Deserialize, serde::Serialize)]
pub struct PictureFact {
    /// Raster or drawing.
    pub kind: PictureKind,
    /// Width standing upright, in pixels or drawing units.
    pub width: u32,
    /// Height standing upright.
    pub height: u32,
    /// Whether it is a drawing with scripts, events or links in it, which are taken out when it is published.
    pub cleaned: bool,
}

/// Why a picture cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureFault {
    /// There is no such file in the guide's folder.
    Missing,
    /// The address leads out of the guide's folder.
    Outside,
    /// The bytes are not a picture that is understood.
    Unreadable(String),
    /// The picture is too large to unpack.
    TooLarge(u32, u32),
    /// A drawing that could run a script or fetch something.
    Unsafe(String),
}

/// The pictures of a guide by the address in its text.
pub type Pictures = BTreeMap<String, Result<PictureFact, PictureFault>>;

/// The limits under which every picture is unpacked.
pub fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(512 << 20);
    limits
}

/// Looks at the bytes of a picture; of a raster picture only the head is unpacked.
pub fn examine(bytes: &[u8]) -> Result<PictureFact, PictureFault> {
    let text_like = bytes.iter().take(512).all(|&b| b >= 0x20 || b.is_ascii_whitespace() || b >= 0x80);
    if text_like && let Ok(text) = std::str::from_utf8(bytes) {
        return drawing::examine(text);
    }
    let unreadable = |error: image::ImageError| PictureFault::Unreadable(error.to_string());
    let mut reader =
        ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|error| PictureFault::Unreadable(error.to_string()))?;
    match reader.format() {
        // Unpackers fill what is missing with grey and say nothing, so the end of the file is looked for here.
        Some(ImageFormat::Jpeg) if !ends_with(bytes, b"\xff\xd9") => {
            return Err(PictureFault::Unreadable("it is cut off before its end".to_owned()));
        }
        Some(ImageFormat::Png) if !ends_with(bytes, b"IEND") => {
            return Err(PictureFault::Unreadable("it is cut off before its end".to_owned()));
        }
        Some(ImageFormat::Gif) => return Err(PictureFault::Unreadable("it is a GIF, which may move and has few colours".to_owned())),
        Some(ImageFormat::Png | ImageFormat::WebP) if moves(bytes) => {
            return Err(PictureFault::Unreadable("it is animated, and paper cannot show that".to_owned()));
        }
        Some(ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP) => {}
        _ => return Err(PictureFault::Unreadable("it is none of JPEG, PNG, WebP or SVG".to_owned())),
    }
    // The size is asked for before any limit can refuse it, so that the finding can name it.
    if let Ok((width, height)) = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(image::ImageError::IoError)
        .and_then(ImageReader::into_dimensions)
        && (width > LONGEST_SIDE || height > LONGEST_SIDE || u64::from(width) * u64::from(height) > MOST_PIXELS)
    {
        return Err(PictureFault::TooLarge(width, height));
    }
    reader.limits(limits());
    let mut decoder = reader.into_decoder().map_err(unreadable)?;
    let (width, height) = decoder.dimensions();
    let turned = decoder.orientation().map_err(unreadable)?.to_exif() >= 5;
    let (width, height) = if turned { (height, width) } else { (width, height) };
    Ok(PictureFact { kind: PictureKind::Raster, width, height, cleaned: false })
}

/// Whether the mark that ends a picture stands near the end of the file; cameras put a little of their own behind it.
fn ends_with(bytes: &[u8], mark: &[u8]) -> bool {
    let tail = &bytes[bytes.len().saturating_sub(64 << 10)..];
    tail.windows(mark.len()).any(|window| window == mark)
}

/// Whether a PNG or WebP has several pictures in it: the chunk `acTL` in front of the pixels (PNG, third edition, 11.3.5), or the
/// chunk `ANIM` (RFC 9649, 2.7.1).
fn moves(bytes: &[u8]) -> bool {
    // Chunks are walked, because the letters may stand among the pixels by chance.
    let number = |at: usize, big: bool| -> Option<usize> {
        let four: [u8; 4] = bytes.get(at..at + 4)?.try_into().ok()?;
        usize::try_from(if big { u32::from_be_bytes(four) } else { u32::from_le_bytes(four) }).ok()
    };
    let png = bytes.starts_with(b"\x89PNG");
    let mut at = if png { 8 } else { 12 };
    loop {
        let (name_at, size_at) = if png { (at + 4, at) } else { (at, at + 4) };
        let (Some(name), Some(size)) = (bytes.get(name_at..name_at + 4), number(size_at, png)) else { return false };
        match name {
            b"acTL" | b"ANIM" => return true,
            b"IDAT" => return false,
            _ => {}
        }
        // A PNG's chunk ends in a checksum; a WebP's is filled up to an even length.
        let Some(next) = at.checked_add(if png { 12 } else { 8 + size % 2 }).and_then(|next| next.checked_add(size)) else { return false };
        at = next;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_drawing_is_taken_with_its_size() {
        let plain = br#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 360"><rect fill="url(#a)" width="1"/></svg>"#;
        assert_eq!(examine(plain), Ok(PictureFact { kind: PictureKind::Drawing, width: 640, height: 360, cleaned: false }));
    }

    #[test]
    fn drawings_that_could_do_harm_are_refused() {
        for inner in [
            "<use href='javascript:x()'/>",
            "<image href='https://example.org/a.png'/>",
            "<foreignObject/>",
            "<style>@import url(https://example.org)</style>",
            "<rect style='fill:url(https://example.org#a)'/>",
        ] {
            let svg = format!("<svg xmlns='http://www.w3.org/2000/svg' width='10' height='10'>{inner}</svg>");
            assert!(matches!(examine(svg.as_bytes()), Err(PictureFault::Unsafe(_))), "{inner}");
        }
        let bomb = "<!DOCTYPE svg [<!ENTITY a 'b'>]><svg width='1' height='1'>&a;</svg>";
        assert!(matches!(examine(bomb.as_bytes()), Err(PictureFault::Unreadable(_))));
    }

    #[test]
    fn what_only_runs_or_leads_elsewhere_is_told_and_no_reason_to_refuse() {
        for inner in [
            "<script>a &lt; b</script>",
            "<SCRIPT href='https://example.org/x.js'/>",
            "<rect ONclick='x()'/>",
            "<a href='javascript:x()'/>",
            "<a href='https://example.org'/>",
        ] {
            let svg = format!("<svg xmlns='http://www.w3.org/2000/svg' width='10' height='10'>{inner}</svg>");
            assert!(matches!(examine(svg.as_bytes()), Ok(fact) if fact.cleaned), "{inner}");
        }
    }

    #[test]
    fn what_moves_is_refused() {
        for inner in [
            "<animateTransform attributeName='transform'/>",
            "<rect><set attributeName='x' to='3'/></rect>",
            "<style>@KeyFrames a {}</style>",
        ] {
            let svg = format!("<svg xmlns='http://www.w3.org/2000/svg' width='10' height='10'>{inner}</svg>");
            assert!(matches!(examine(svg.as_bytes()), Err(PictureFault::Unsafe(why)) if why.contains("moves")), "{inner}");
        }
        let still = |format| {
            let mut bytes = Cursor::new(Vec::new());
            image::RgbImage::new(40, 30).write_to(&mut bytes, format).unwrap();
            bytes.into_inner()
        };
        // Behind the head of a PNG (8 bytes and IHDR of 25) stands the control chunk of an animation.
        let mut png = still(ImageFormat::Png);
        assert!(examine(&png).is_ok());
        png.splice(33..33, *b"\0\0\0\x08acTL\0\0\0\x02\0\0\0\0\0\0\0\0");
        assert!(matches!(examine(&png), Err(PictureFault::Unreadable(why)) if why.contains("animated")));
        let mut webp = still(ImageFormat::WebP);
        assert!(examine(&webp).is_ok());
        webp.splice(12..12, *b"ANIM\x06\0\0\0\0\0\0\0\0\0");
        assert!(matches!(examine(&webp), Err(PictureFault::Unreadable(why)) if why.contains("animated")));
        assert!(matches!(examine(b"GIF89a\x01\0\x01\0\0\0\0;"), Err(PictureFault::Unreadable(why)) if why.contains("GIF")));
    }

    #[test]
    fn a_gigantic_picture_is_refused_with_its_size() {
        // The head of a PNG that claims 30,000 by 30,000 pixels; nothing of that size is ever unpacked.
        let mut png = Cursor::new(Vec::new());
        image::RgbImage::new(1, 1).write_to(&mut png, ImageFormat::Png).unwrap();
        let mut png = png.into_inner();
        png[16..24].copy_from_slice(&[0, 0, 0x75, 0x30, 0, 0, 0x75, 0x30]);
        let sum = crc32(&png[12..29]).to_be_bytes();
        png[29..33].copy_from_slice(&sum);
        assert_eq!(examine(&png), Err(PictureFault::TooLarge(30_000, 30_000)));
        let svg = b"<svg xmlns='http://www.w3.org/2000/svg' width='90000' height='10'/>";
        assert_eq!(examine(svg), Err(PictureFault::TooLarge(90_000, 10)));
    }

    /// The checksum of PNG chunks (ISO 3309), bit by bit.
    fn crc32(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(!0_u32, |sum, byte| {
            (0..8).fold(sum ^ u32::from(*byte), |sum, _| if sum & 1 == 1 { sum >> 1 ^ 0xedb8_8320 } else { sum >> 1 })
        })
    }

    #[test]
    fn no_picture_is_told() {
        assert!(matches!(examine(b"hello"), Err(PictureFault::Unreadable(_))));
        assert!(matches!(examine(b"\xff\xd8\xff\x00\x00"), Err(PictureFault::Unreadable(_))));
        assert!(matches!(examine(b""), Err(PictureFault::Unreadable(_))));
    }

    #[test]
    fn a_picture_that_is_cut_off_is_told() {
        let picture = image::RgbImage::from_fn(400, 300, |x, y| image::Rgb([(x * y) as u8, y as u8, x as u8]));
        for format in [ImageFormat::Jpeg, ImageFormat::Png] {
            let mut bytes = Cursor::new(Vec::new());
            picture.write_to(&mut bytes, format).unwrap();
            let bytes = bytes.into_inner();
            assert!(examine(&bytes).is_ok(), "{format:?}");
            let cut = examine(&bytes[..bytes.len() / 2]);
            assert!(matches!(&cut, Err(PictureFault::Unreadable(why)) if why.contains("cut off")), "{format:?}: {cut:?}");
        }
    }
}
