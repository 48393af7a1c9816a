//! A picture as it comes from a camera, and as it is kept: unpacked, turned, made smaller, packed anew. Nothing of the
//! file but what is to be seen goes over.

use crate::bounds::{MOST_PICTURE_BYTES, MOST_PIXELS};
use crate::fault::BookFault;
use crate::whole;
use entries::Digest;
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// The most memory that a picture may be unpacked into.
const MOST_UNPACKED: u64 = 3 * MOST_PIXELS;

/// The longer side of a picture that is kept, in points: enough to print it as wide as a sheet of A4 at 300 to the inch,
/// and to look closely at a pivot.
const LONGEST: u32 = 3200;

/// The longer side of a preview, in points: a third of a small screen, on a fine one.
const PREVIEW: u32 = 400;

/// How well a JPEG is packed, of 100. At 90 nothing is to be seen of it on a photograph (common practice, no source).
const QUALITY: u8 = 90;
/// A preview need not be as good.
const PREVIEW_QUALITY: u8 = 80;

/// The form of a picture's file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureFormat {
    /// JPEG, for what a camera took.
    Jpeg,
    /// PNG, for what was drawn: it is kept point by point.
    Png,
}

impl PictureFormat {
    /// How its file's name ends.
    pub fn ending(self) -> &'static str {
        match self {
            PictureFormat::Jpeg => "jpg",
            PictureFormat::Png => "png",
        }
    }

    /// How a page names it: a media type.
    pub fn media_type(self) -> &'static str {
        match self {
            PictureFormat::Jpeg => "image/jpeg",
            PictureFormat::Png => "image/png",
        }
    }

    pub(crate) fn of_ending(ending: &str) -> Option<PictureFormat> {
        [PictureFormat::Jpeg, PictureFormat::Png]
            .into_iter()
            .find(|form| form.ending() == ending)
    }
}

/// A picture that is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// What it is called by.
    pub digest: Digest,
    /// What its file is.
    pub form: PictureFormat,
    /// How many bytes that has.
    pub bytes: usize,
    /// Points across.
    pub width: u32,
    /// Points down.
    pub height: u32,
}

/// A picture made ready to be kept.
pub(crate) struct Packed {
    pub(crate) form: PictureFormat,
    pub(crate) width: u32,
    pub(crate) height: u32,
    pub(crate) whole: Vec<u8>,
    /// A JPEG.
    pub(crate) preview: Vec<u8>,
}

/// Unpacks a picture, and packs what is to be seen.
pub(crate) fn repack(bytes: impl AsRef<[u8]>) -> Result<Packed, BookFault> {
    whole::whole(bytes.as_ref())?;
    let (came, seen) = unpack(bytes)?;
    let form = match came {
        ImageFormat::Png => PictureFormat::Png,
        _ => PictureFormat::Jpeg,
    };
    let seen = plain(seen, form);
    let (width, height) = (seen.width(), seen.height());
    let whole = pack(&seen, form, QUALITY)?;
    drop(seen);
    Ok(Packed {
        form,
        width,
        height,
        // Of what is kept, so that it is the same when it is made again.
        preview: preview_of(&whole)?,
        whole,
    })
}

/// The preview of a picture that is kept.
pub(crate) fn preview_of(bytes: &[u8]) -> Result<Vec<u8>, BookFault> {
    let (_, seen) = unpack(bytes)?;
    let small = plain(no_larger(seen, PREVIEW), PictureFormat::Jpeg);
    pack(&small, PictureFormat::Jpeg, PREVIEW_QUALITY)
}

/// What a picture's file is and how large, without unpacking it.
pub(crate) struct Measured {
    pub(crate) form: PictureFormat,
    /// Points across.
    pub(crate) width: u32,
    /// Points down.
    pub(crate) height: u32,
}

/// Measures a picture.
pub(crate) fn measure(bytes: &[u8]) -> Result<Measured, BookFault> {
    let (format, decoder) = open(bytes)?;
    let form = match format {
        ImageFormat::Png => PictureFormat::Png,
        ImageFormat::Jpeg => PictureFormat::Jpeg,
        _ => return Err(no_picture("neither JPEG nor PNG")),
    };
    let (width, height) = decoder.dimensions();
    Ok(Measured {
        form,
        width,
        height,
    })
}

/// Opens a picture to be unpacked. Bytes that are given over are held no longer than its unpacking needs them.
fn open<'a>(
    bytes: impl AsRef<[u8]> + 'a,
) -> Result<(ImageFormat, impl ImageDecoder + 'a), BookFault> {
    let long = bytes.as_ref().len();
    if long > MOST_PICTURE_BYTES {
        return Err(BookFault::PictureTooLarge);
    }
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|error| no_picture(&error.to_string()))?;
    // What is unpacked is counted before any of it is: no few bytes become many.
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_UNPACKED);
    reader.limits(limits);
    let format = reader.format().ok_or_else(|| no_picture("unknown kind"))?;
    let decoder = reader.into_decoder().map_err(refused)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS || decoder.total_bytes() > MOST_UNPACKED {
        return Err(BookFault::PictureTooLarge);
    }
    whole::fits(decoder.total_bytes(), long)?;
    Ok((format, decoder))
}

/// What is to be seen, the right way up and no larger than is kept.
fn unpack(bytes: impl AsRef<[u8]>) -> Result<(ImageFormat, DynamicImage), BookFault> {
    let (format, mut decoder) = open(bytes)?;
    let turned = decoder.orientation().map_err(refused)?;
    let whole = DynamicImage::from_decoder(decoder).map_err(refused)?;
    // Made smaller before it is turned, as both need room for another picture.
    let mut seen = no_larger(whole, LONGEST);
    seen.apply_orientation(turned);
    Ok((format, seen))
}

/// The picture with no side longer than this.
fn no_larger(picture: DynamicImage, longest: u32) -> DynamicImage {
    if picture.width().max(picture.height()) <= longest {
        return picture;
    }
    // Each point is the mean of those it stands for, and nothing more is held in memory than the smaller picture.
    picture.thumbnail(longest, longest)
}

/// Eight bits a colour, and transparent only where the form has that.
fn plain(picture: DynamicImage, form: PictureFormat) -> DynamicImage {
    let clear = picture.color().has_alpha() && form == PictureFormat::Png;
    if clear {
        DynamicImage::ImageRgba8(picture.into_rgba8())
    } else {
        DynamicImage::ImageRgb8(picture.into_rgb8())
    }
}

fn pack(picture: &DynamicImage, form: PictureFormat, quality: u8) -> Result<Vec<u8>, BookFault> {
    let mut bytes = Vec::new();
    let packed = match form {
        PictureFormat::Jpeg => {
            picture.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, quality))
        }
        PictureFormat::Png => picture.write_with_encoder(PngEncoder::new(&mut bytes)),
    };
    packed.map_err(refused)?;
    Ok(bytes)
}

fn no_picture(detail: &str) -> BookFault {
    let detail = detail.into();
    BookFault::NotAPicture { detail }
}

fn refused(error: ImageError) -> BookFault {
    match error {
        ImageError::Limits(_) => BookFault::PictureTooLarge,
        other => no_picture(&other.to_string()),
    }
}
