//! Why a picture cannot be published, with what lies behind it.

use std::error::Error;
use std::fmt;

/// Why a picture cannot be published: its head was read before, its body was not.
#[derive(Debug)]
pub enum PictureError {
    /// It cannot be unpacked.
    Unreadable(image::ImageError),
    /// It cannot be made smaller.
    Resize(Box<dyn Error + Send + Sync>),
    /// The smaller one cannot be written.
    Encode(jpeg_encoder::EncodingError),
    /// It is larger than a JPEG may be.
    TooLarge,
    /// It is a drawing in which something runs that cannot be taken out.
    Runs,
    /// It has no size.
    Empty,
}

impl fmt::Display for PictureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PictureError::Unreadable(error) => error.fmt(f),
            PictureError::Resize(error) => error.fmt(f),
            PictureError::Encode(error) => error.fmt(f),
            PictureError::TooLarge => f.write_str("the picture is too large for JPEG"),
            PictureError::Runs => f.write_str("what runs in it could not be taken out; save it as plain SVG"),
            PictureError::Empty => f.write_str("it has no size"),
        }
    }
}

impl Error for PictureError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            PictureError::Unreadable(error) => Some(error),
            PictureError::Resize(error) => Some(error.as_ref()),
            PictureError::Encode(error) => Some(error),
            PictureError::TooLarge | PictureError::Runs | PictureError::Empty => None,
        }
    }
}

impl From<image::ImageError> for PictureError {
    fn from(error: image::ImageError) -> Self {
        PictureError::Unreadable(error)
    }
}
