//! Factors by which a number is off when somebody mixed up two things at the bench.

struct Familiar {
    factor: f64,
    meaning: &'static str,
}

const fn familiar(factor: f64, meaning: &'static str) -> Familiar {
    Familiar { factor, meaning }
}

/// How near a ratio must come to count as the factor.
const NEAR: f64 = 0.01;

// Unit factors are exact by definition (inch, ounce, pound; NIST SP 811 B.8, from memory); the others are geometry.
static FAMILIAR: [Familiar; 9] = [
    familiar(2.0, "a diameter taken for a radius, or a whole tolerance for one plane's share"),
    familiar(4.0, "a diameter taken for a radius twice"),
    familiar(10.0, "centimetres taken for millimetres, or a slip of the decimal point"),
    familiar(25.4, "inches taken for millimetres"),
    familiar(28.349_523_125, "ounces taken for grams"),
    familiar(453.592_37, "pounds taken for grams"),
    familiar(720.077_887_375, "ounce-inches taken for gram-millimetres"),
    familiar(100.0, "a slip of the decimal point by two places"),
    familiar(1000.0, "a slip between grams and kilograms, or millimetres and metres"),
];

/// What a ratio of two numbers that should agree looks like: the factor, and how it comes about.
pub fn familiar_factor(ratio: f64) -> Option<(f64, &'static str)> {
    let ratio = if ratio.abs() < 1.0 { 1.0 / ratio } else { ratio };
    let near = |familiar: &&Familiar| (ratio / familiar.factor - 1.0).abs() <= NEAR;
    FAMILIAR.iter().find(near).map(|familiar| (familiar.factor, familiar.meaning))
}

#[cfg(test)]
mod tests {
    use super::familiar_factor;

    #[test]
    fn a_ratio_is_named_whichever_way_round_it_is() {
        assert_eq!(familiar_factor(2.004).map(|found| found.0), Some(2.0));
        assert_eq!(familiar_factor(1.0 / 25.4).map(|found| found.0), Some(25.4));
        assert_eq!(familiar_factor(1.0), None);
        assert_eq!(familiar_factor(0.0), None);
    }
}
