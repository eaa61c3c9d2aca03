//! Chance: numbers drawn by a lot that is always the same, and the pieces of covers they choose.

/// A xorshift generator (Marsaglia 2003).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.next() >> 11) as usize % end.max(1)
    }

    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (self.next() >> 11) as f64 / (1_u64 << 53) as f64 * (most - least)
    }

    pub fn one<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }

    pub fn shuffle<T>(&mut self, all: &mut [T]) {
        for at in (1..all.len()).rev() {
            all.swap(at, self.below(at + 1));
        }
    }

    /// Even, so that no leaf is half.
    pub fn pages(&mut self) -> u32 {
        2 * (12 + self.below(500) as u32)
    }

    pub fn format(&mut self) -> String {
        let binding = self.one(&["paperback", "flapped-paperback", "case", "jacket", "stapled"]);
        let (width, height) = (self.between(90.0, 220.0), self.between(120.0, 300.0));
        let (flap, bleed, hinge) = (self.between(30.0, 110.0), self.between(0.0, 8.0), self.between(0.0, 9.0));
        let caliper = self.between(0.05, 0.2);
        format!(
            "format {binding} {{ trim {width:.2} {height:.2}; flap {flap:.2}; bleed {bleed:.2}; hinge {hinge:.2}; \
             paper caliper={caliper:.4} }}\n"
        )
    }

    pub fn prose(&mut self) -> String {
        const WORDS: [&str; 16] = [
            "salt",
            "lanterns",
            "of",
            "the",
            "harbour",
            "a",
            "fjord",
            "affluent",
            "office",
            "somebody",
            "extraordinary",
            "lit",
            "again",
            "winter",
            "by",
            "Rock",
        ];
        let count = 3 + self.below(40);
        let words: Vec<&str> = (0..count).map(|_| *self.one(&WORDS)).collect();
        words.join(" ")
    }
}
