//! Photos and drawings as published: photos upright, stripped of all metadata, in up to three widths;
//! drawings as they are drawn. Whether a picture may be used at all is decided in `guide::picture`.

mod error;
mod scrub;

use std::io::Cursor;

pub use error::PictureError;
use fast_image_resize::images::Image;
use fast_image_resize::{PixelType, ResizeAlg, ResizeOptions, Resizer};
use image::{DynamicImage, ImageDecoder, ImageReader};

use crate::guide::facts::slug_of;
use crate::guide::picture::{PictureFact, PictureKind, examine, limits};

/// The widths a photo is published in, where it is that wide.
const WIDTHS: [u32; 3] = [480, 960, 1600];
/// JPEG quality: photos of work stay clear and a page stays light.
const QUALITY: u8 = 80;

/// A picture as pages refer to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Published {
    kind: PictureKind,
    /// File names with their widths, narrowest first.
    files: Vec<(u32, String)>,
    width: u32,
    height: u32,
}

impl Published {
    /// Plans the published files of a picture from its facts alone.
    pub fn plan(address: &str, fact: PictureFact) -> Self {
        let stem = address.rsplit('/').next().and_then(|name| name.rsplit_once('.')).map_or(address, |(stem, _)| stem);
        // Two pictures may differ in their folder or ending only, so the whole address is in the name when it is more than a name.
        let plain = address.trim_start_matches("./");
        let ending = plain.rsplit_once('.').map_or("", |(_, ending)| ending).to_lowercase();
        let stem = if plain.contains('/') { slug_of(plain) } else { slug_of(stem) };
        let (files, width, height) = match fact.kind {
            PictureKind::Drawing => (vec![(fact.width, format!("{stem}.svg"))], fact.width, fact.height),
            PictureKind::Raster => {
                let widest = fact.width.min(WIDTHS[2]);
                let widths = WIDTHS.into_iter().filter(|width| *width < widest).chain([widest]);
                let tail = if ending == "jpg" || ending == "jpeg" { String::new() } else { format!("-{ending}") };
                let files = widths.map(|width| (width, format!("{stem}{tail}-{width}.jpg"))).collect();
                (files, widest, scaled(fact, widest))
            }
        };
        Published { kind: fact.kind, files, width, height }
    }

    /// Whether it is a drawing.
    pub fn is_drawing(&self) -> bool {
        self.kind == PictureKind::Drawing
    }

    /// The narrowest file, for a small picture beside a search result.
    pub fn smallest(&self) -> &str {
        self.files.first().map_or("", |(_, file)| file)
    }

    /// The file that a page shows first.
    pub fn shown(&self) -> &str {
        &self.files[self.files.len() / 2].1
    }

    /// The content of the narrowest file alone: the same bytes as [`Published::make`] gives for it.
    pub fn make_smallest(&self, bytes: &[u8]) -> Result<Vec<u8>, PictureError> {
        let mut made = self.make_some(bytes, false)?;
        made.pop().map(|(_, content)| content).ok_or(PictureError::Empty)
    }

    /// The largest file with its width and height.
    pub fn largest(&self) -> (&str, u32, u32) {
        let file = self.files.last().map_or("", |(_, file)| file);
        (file, self.width, self.height)
    }

    /// The image element; `words` are escaped already. Its size stands in the page, so that nothing jumps while it loads. A picture
    /// that is not `lazy` is loaded at once, as the first one of a page and those of a sheet to print must be.
    pub fn markup(&self, words: &str, lazy: bool) -> String {
        let Published { width, height, files, .. } = self;
        let (_, main) = &files[files.len() / 2];
        let mut markup = format!("<img itemprop=\"image\" src=\"{main}\" alt=\"{words}\" width=\"{width}\" height=\"{height}\"");
        if lazy {
            markup.push_str(" loading=\"lazy\" decoding=\"async\"");
        }
        if files.len() > 1 {
            let set: Vec<String> = files.iter().map(|(width, file)| format!("{file} {width}w")).collect();
            markup.push_str(&format!(" srcset=\"{}\" sizes=\"(max-width: 760px) 92vw, 640px\"", set.join(", ")));
        }
        markup.push('>');
        markup
    }

    /// The image element for paper: one file that is sharp at the width of a hand.
    pub fn for_paper(&self, words: &str) -> String {
        let (_, main) = &self.files[self.files.len() / 2];
        format!("<img src=\"{main}\" alt=\"{words}\" width=\"{}\" height=\"{}\">", self.width, self.height)
    }

    /// The files to write: name and content.
    pub fn make(&self, bytes: &[u8]) -> Result<Vec<(String, Vec<u8>)>, PictureError> {
        self.make_some(bytes, true)
    }

    /// All files, or the narrowest alone, made through the wider ones all the same.
    fn make_some(&self, bytes: &[u8], all: bool) -> Result<Vec<(String, Vec<u8>)>, PictureError> {
        if self.is_drawing() {
            let drawn = scrub::drawing(bytes);
            // What goes out is looked at once more: nothing that runs may travel into a reader's browser.
            return match examine(&drawn) {
                Ok(fact) if !fact.cleaned => Ok(vec![(self.files[0].1.clone(), drawn)]),
                _ => Err(PictureError::Runs),
            };
        }
        let mut picture = upright(bytes)?;
        let mut files = Vec::with_capacity(self.files.len());
        // Each width is made from the next wider one: a third of the work, and no difference that can be seen.
        for (at, (width, name)) in self.files.iter().enumerate().rev() {
            let height = (u64::from(picture.height()) * u64::from(*width)).div_ceil(u64::from(picture.width()).max(1)).max(1) as u32;
            let height = if picture.width() == *width { picture.height() } else { height };
            picture = resize(picture, *width, height)?;
            if all || at == 0 {
                files.push((name.clone(), jpeg(&picture)?));
            }
        }
        files.reverse();
        Ok(files)
    }
}

fn scaled(fact: PictureFact, width: u32) -> u32 {
    if width == fact.width {
        fact.height
    } else {
        (u64::from(fact.height) * u64::from(width)).div_ceil(u64::from(fact.width).max(1)).max(1) as u32
    }
}

/// Unpacks a photo, turns it upright by its flag, and lays it on white where it is transparent.
fn upright(bytes: &[u8]) -> Result<image::RgbImage, PictureError> {
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(image::ImageError::IoError)?;
    reader.limits(limits());
    let mut decoder = reader.into_decoder()?;
    let orientation = decoder.orientation()?;
    let mut picture = DynamicImage::from_decoder(decoder)?;
    picture.apply_orientation(orientation);
    if !picture.color().has_alpha() {
        return Ok(picture.into_rgb8());
    }
    let mut flat = image::RgbImage::new(picture.width(), picture.height());
    for (to, from) in flat.pixels_mut().zip(picture.into_rgba8().pixels()) {
        let alpha = u32::from(from[3]);
        to.0 = std::array::from_fn(|at| ((u32::from(from[at]) * alpha + 255 * (255 - alpha)) / 255) as u8);
    }
    Ok(flat)
}

fn resize(picture: image::RgbImage, width: u32, height: u32) -> Result<image::RgbImage, PictureError> {
    if picture.width() == width && picture.height() == height {
        return Ok(picture);
    }
    let (from_width, from_height) = picture.dimensions();
    let from = Image::from_vec_u8(from_width, from_height, picture.into_raw(), PixelType::U8x3)
        .map_err(|error| PictureError::Resize(error.into()))?;
    let mut to = Image::new(width, height, PixelType::U8x3);
    let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(fast_image_resize::FilterType::Lanczos3));
    Resizer::new().resize(&from, &mut to, &options).map_err(|error| PictureError::Resize(error.into()))?;
    image::RgbImage::from_raw(width, height, to.into_vec()).ok_or(PictureError::Empty)
}

fn jpeg(picture: &image::RgbImage) -> Result<Vec<u8>, PictureError> {
    let (width, height) = (u16::try_from(picture.width()), u16::try_from(picture.height()));
    let (Ok(width), Ok(height)) = (width, height) else { return Err(PictureError::TooLarge) };
    let mut bytes = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut bytes, QUALITY);
    encoder.set_sampling_factor(jpeg_encoder::SamplingFactor::F_2_2);
    encoder.encode(picture.as_raw(), width, height, jpeg_encoder::ColorType::Rgb).map_err(PictureError::Encode)?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32) -> Vec<u8> {
        let picture = image::RgbImage::from_fn(width, height, |x, y| image::Rgb([(x / 7) as u8, (y / 5) as u8, 90]));
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        bytes.into_inner()
    }

    #[test]
    fn a_photo_comes_in_the_planned_sizes() {
        let bytes = png(2000, 1001);
        let plan = Published::plan("Base on floor.png", examine(&bytes).unwrap());
        let files = plan.make(&bytes).unwrap();
        let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["base-on-floor-png-480.jpg", "base-on-floor-png-960.jpg", "base-on-floor-png-1600.jpg"]);
        let made = examine(&files[2].1).unwrap();
        assert_eq!((made.width, made.height), (plan.width, plan.height));
        assert!(plan.markup("x", true).contains("width=\"1600\" height=\"801\""));
    }

    /// A JPEG, red on the left and blue on the right, with what a camera writes in front: a turn by 90 degrees, a
    /// place, a maker's name and a comment (Exif 2.32: tag 0x0112 Orientation, 6 for "rotate 90 degrees clockwise to show").
    fn from_a_camera() -> Vec<u8> {
        let picture =
            image::RgbImage::from_fn(1200, 600, |x, _| if x < 600 { image::Rgb([220, 20, 20]) } else { image::Rgb([20, 20, 220]) });
        let plain = jpeg(&picture).unwrap();
        let mut exif = b"Exif\0\0MM\0*\0\0\0\x08\0\x02".to_vec();
        exif.extend(b"\x01\x0f\0\x02\0\0\0\x0a\0\0\0\x26");
        exif.extend(b"\x01\x12\0\x03\0\0\0\x01\0\x06\0\0");
        exif.extend(b"\0\0\0\0Cameramak\0GPS 48.137 N 11.575 E");
        let mut bytes = vec![0xff, 0xd8, 0xff, 0xe1];
        bytes.extend(u16::try_from(exif.len() + 2).unwrap().to_be_bytes());
        bytes.extend(exif);
        bytes.extend(b"\xff\xfe\0\x0cPrivateTxt");
        bytes.extend(&plain[2..]);
        bytes
    }

    #[test]
    fn a_camera_s_photo_stands_upright_and_tells_nothing() {
        let bytes = from_a_camera();
        let fact = examine(&bytes).unwrap();
        assert_eq!((fact.width, fact.height), (600, 1200), "the facts are those of the upright picture");
        let plan = Published::plan("a.jpg", fact);
        let files = plan.make(&bytes).unwrap();
        assert_eq!(files.len(), 2);
        for (name, file) in &files {
            let told = String::from_utf8_lossy(file);
            for secret in ["Exif", "Cameramak", "GPS", "Private"] {
                assert!(!told.contains(secret), "{name} holds {secret}");
            }
            // Clockwise by a quarter: what was on the left is above.
            let shown = image::load_from_memory(file).unwrap().into_rgb8();
            assert!(shown.height() > shown.width(), "{name}");
            let (above, below) = (shown.get_pixel(20, 20), shown.get_pixel(20, shown.height() - 20));
            assert!(above[0] > 180 && below[2] > 180, "{name}: {above:?} {below:?}");
        }
        let markup = plan.markup("x", true);
        assert!(markup.contains("width=\"600\" height=\"1200\"") && markup.contains("a-480.jpg 480w, a-600.jpg 600w"), "{markup}");
        assert!(markup.contains("loading=\"lazy\"") && !plan.markup("x", false).contains("lazy"));
    }

    #[test]
    fn a_small_photo_is_not_blown_up() {
        let bytes = png(300, 200);
        let files = Published::plan("a.png", examine(&bytes).unwrap()).make(&bytes).unwrap();
        assert_eq!(files.len(), 1);
        assert_eq!(examine(&files[0].1).unwrap().width, 300);
    }
}
