//! Numbers that look random and are the same everywhere for the same seed: xorshift64* (Vigna 2016,
//! doi:10.1145/2845077).

pub struct Random(u64);

impl Random {
    /// The generator of one input: of seed and number, so that each can be made again alone.
    pub fn of(seed: u64, number: u64) -> Random {
        // SplitMix64's constants and steps (Steele et al. 2014, doi:10.1145/2660193.2660195) spread near seeds apart.
        let mut z = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(number.wrapping_add(1));
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        Random((z ^ (z >> 31)) | 1)
    }

    pub fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// 0 to `bound` − 1; 0 where there is nothing to choose from.
    pub fn below(&mut self, bound: usize) -> usize {
        if bound == 0 { 0 } else { (self.next() >> 16) as usize % bound }
    }

    pub fn one_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }

    /// One of a list; the default where it is empty.
    pub fn of_list<'a, T: ?Sized>(&mut self, list: &'a [Box<T>]) -> Option<&'a T> {
        list.get(self.below(list.len())).map(|b| &**b)
    }

    pub fn pick<T: Copy>(&mut self, list: &[T], otherwise: T) -> T {
        list.get(self.below(list.len())).copied().unwrap_or(otherwise)
    }
}
