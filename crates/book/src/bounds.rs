//! How large a picture may be.

/// Bytes that unpacking one picture may take: a progressive JPEG holds two bytes of every colour of every point until it is
/// whole, beside the point itself, and a WebP its planes or all four bytes of a point beside what is made of them.
pub const MOST_UNPACKING: u64 = 150_000_000;

/// Bytes that a picture may take while it is unpacked, its file's with them: with what is made of it, and the program itself,
/// less than 200 MiB (measured).
pub const MOST_HELD: u64 = 170_000_000;

/// The most bytes a picture may come in: 40 MiB, more than a camera's largest JPEG and most PNG files of that many points.
pub const MOST_PICTURE_BYTES: usize = 40 << 20;

/// The most points a picture may have: 50 million, the most that common telephones take. Unpacked they are 150 MB, and the
/// whole program is to stay below 200 MiB.
pub const MOST_PIXELS: u64 = 50_000_000;
