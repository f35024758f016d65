//! Eight bytes at a time in one number.

/// A one in every byte.
pub(crate) const ONES: u64 = 0x0101_0101_0101_0101;
/// The high bit of every byte.
pub(crate) const HIGH: u64 = 0x80 * ONES;
/// Eight zeros as text.
pub(crate) const ZEROS: u64 = b'0' as u64 * ONES;

/// The high bit of each byte that is above nine.
pub(crate) const fn no_digits(x: u64) -> u64 {
    (((x & !HIGH) + 0x76 * ONES) | x) & HIGH
}

/// The high bit of each byte that is zero, and of no other.
pub(crate) const fn zeros(x: u64) -> u64 {
    !(((x & !HIGH) + !HIGH) | x | !HIGH)
}

/// Number of bytes marked by their high bit.
pub(crate) const fn marked(hits: u64) -> usize {
    ((hits >> 7).wrapping_mul(ONES) >> 56) as usize
}
