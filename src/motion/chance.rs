//! Numbers by chance, the same ones every time.

/// A generator of 64 random bits at a time. Source: the SplitMix64 recurrence, public domain.
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x2545_F491_4F6C_DD1D).wrapping_add(0x9E37_79B9_7F4A_7C15))
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From 0 up to, but not including, 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Evenly spread over the powers of ten.
    pub fn spread(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    /// Normally distributed about zero. Source: Box and Muller.
    pub fn scatter(&mut self, standard: f64) -> f64 {
        let (radius, angle) = ((-2.0 * (1.0 - self.share()).ln()).sqrt(), std::f64::consts::TAU * self.share());
        standard * radius * angle.cos()
    }

    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub fn below(&mut self, count: usize) -> usize {
        (self.share() * count as f64) as usize
    }

    #[cfg_attr(not(feature = "internals"), expect(dead_code, reason = "tests read it"))]
    pub fn coin(&mut self) -> bool {
        self.share() < 0.5
    }

    pub fn angle(&mut self) -> f64 {
        std::f64::consts::TAU * self.share()
    }
}
