//! Numbers of any width in a row of bits, the highest bit first; the last byte is filled up with zeros.

#[derive(Clone, Debug, Default)]
pub(super) struct Writer {
    bytes: Vec<u8>,
    /// Bits used of the last byte, 0 to 7; 0: it is full.
    used: u32,
}

impl Writer {
    /// The lowest `width` bits of `value`, at most 32.
    pub fn put(&mut self, value: u32, width: u32) {
        for at in (0..width.min(32)).rev() {
            if self.used == 0 {
                self.bytes.push(0);
            }
            if let Some(last) = self.bytes.last_mut() {
                *last |= u8::from(value >> at & 1 == 1) << (7 - self.used);
            }
            self.used = (self.used + 1) % 8;
        }
    }

    /// A number below 2^31 in as few bits as it needs and five more.
    pub fn number(&mut self, value: u32) {
        let width = 32 - value.saturating_add(1).leading_zeros() - 1;
        self.put(width, 5);
        self.put(value.saturating_add(1), width);
    }

    pub fn finish(self) -> Vec<u8> {
        self.bytes
    }
}

/// Reads what [`Writer`] wrote. None: there are no more bits.
#[derive(Clone, Debug)]
pub(super) struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Reader<'a> {
    pub fn new(bytes: &'a [u8]) -> Reader<'a> {
        Reader { bytes, at: 0 }
    }

    pub fn take(&mut self, width: u32) -> Option<u32> {
        let mut value = 0_u32;
        for _ in 0..width.min(32) {
            let byte = self.bytes.get(self.at / 8)?;
            value = value << 1 | u32::from(byte >> (7 - self.at % 8) & 1);
            self.at += 1;
        }
        Some(value)
    }

    pub fn number(&mut self) -> Option<u32> {
        let width = self.take(5)?;
        (1_u32.checked_shl(width)? | self.take(width)?).checked_sub(1)
    }

    /// What stands behind the bytes begun.
    pub fn rest(self) -> (&'a [u8], &'a [u8]) {
        let read = self.at.div_ceil(8).min(self.bytes.len());
        self.bytes.split_at(read)
    }
}

/// Bits for any of so many values.
pub(super) fn width(values: u32) -> u32 {
    32 - values.saturating_sub(1).leading_zeros()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        let mut w = Writer::default();
        for n in [0, 1, 2, 3, 60, 1000, 32_768, (1 << 31) - 2] {
            w.number(n);
            w.put(n, 7);
        }
        let bytes = w.finish();
        let mut r = Reader::new(&bytes);
        for n in [0, 1, 2, 3, 60, 1000, 32_768, (1 << 31) - 2] {
            assert_eq!((r.number(), r.take(7)), (Some(n), Some(n & 127)));
        }
        assert!(r.clone().rest().1.is_empty());
        assert_eq!(r.take(8), None);
        assert_eq!([0, 1, 2, 3, 4, 5].map(width), [0, 0, 1, 2, 2, 3]);
    }
}
