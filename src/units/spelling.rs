//! What people write for a unit elsewhere, and what to write here instead.

use super::atom::TABLE;

/// What to write instead of the whole text.
pub(super) fn whole(text: &str) -> Option<&'static str> {
    look_up(&WHOLE, text)
}

/// What to write instead of one symbol: a spelling from elsewhere, or a symbol in the wrong case.
pub(super) fn symbol(text: &str) -> Option<&'static str> {
    look_up(&SYMBOLS, text).or_else(|| {
        let mut same_letters = TABLE.iter().filter(|atom| atom.symbol.eq_ignore_ascii_case(text));
        same_letters.next().map(|atom| atom.symbol)
    })
}

fn look_up(table: &[(&'static str, &[&str])], text: &str) -> Option<&'static str> {
    let lower = text.to_lowercase();
    // As written first: `M` and `m`, `G` and `g` need not mean the same.
    let row = table.iter().find(|(_, spellings)| spellings.contains(&text));
    let row = row.or_else(|| table.iter().find(|(_, spellings)| spellings.iter().any(|s| s.to_lowercase() == lower)));
    row.map(|(unit, _)| *unit)
}

static WHOLE: [(&str, &[&str]); 13] = [
    (
        "r/min",
        &["tr/min", "t/min", "rev/min", "U/min", "giri/min", "obr/min", "ot/min", "omw/min", "varv/min", "об/мин"],
    ),
    ("1/min", &["min^-1", "min-1", "min⁻¹"]),
    ("rpm", &["r.p.m.", "r.p.m", "upm", "tpm", "rpms", "revs/min"]),
    ("Hz", &["1/s", "rps", "rev/s", "s^-1", "s⁻¹", "cps"]),
    ("°C", &["deg C", "deg.C"]),
    ("cm³", &["cc", "ccm", "ml", "mL"]),
    ("g/cm³", &["g/cc", "g/ml", "kg/l", "kg/dm³", "kg/dm3"]),
    ("in³", &["cu.in", "cuin", "in.3"]),
    ("in²", &["sq.in", "sqin"]),
    ("kg/m³", &["kg/cbm"]),
    ("oz·in", &["ozin", "oz-in", "in-oz", "inoz"]),
    ("g·mm", &["gmm", "g-mm"]),
    ("g·in", &["gin", "g-in", "gm-in"]),
];

static SYMBOLS: [(&str, &[&str]); 27] = [
    ("kg", &["kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "кг"]),
    ("g", &["gram", "grams", "gramme", "grammes", "gm", "gms", "gramm", "г"]),
    ("mg", &["milligram", "milligrams", "milligramme", "mgs", "мг"]),
    ("oz", &["ozs", "ounce", "ounces", "unze", "unzen", "once", "onza", "oncia"]),
    ("lb", &["lbs", "lbm", "pound", "pounds", "pfund", "livre", "libra", "libbra"]),
    ("m", &["metre", "metres", "meter", "meters", "mtr", "м"]),
    ("cm", &["centimetre", "centimetres", "centimeter", "centimeters", "см"]),
    ("mm", &["millimetre", "millimetres", "millimeter", "millimeters", "mms", "мм"]),
    ("µm", &["micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers", "µ", "μ", "mu", "мкм"]),
    ("in", &["inch", "inches", "ins", "\"", "''", "″", "”", "zoll", "pouce", "pouces", "pulgada", "pollice"]),
    ("thou", &["thous", "thousandth", "thousandths"]),
    ("mil", &["mils"]),
    ("N", &["newton", "newtons"]),
    ("lbf", &["lbsf", "poundforce"]),
    ("kgf", &["kp", "kilopond"]),
    ("gf", &["pond", "gramforce"]),
    ("s", &["sec", "secs", "second", "seconds", "sek"]),
    ("min", &["mins", "minute", "minutes", "мин"]),
    ("h", &["hr", "hrs", "hour", "hours"]),
    ("d", &["day", "days"]),
    ("r", &["rev", "revs", "revolution", "revolutions", "turn", "turns", "tr", "об"]),
    ("deg", &["degree", "degrees", "degs", "grad", "grd", "º", "˚"]),
    ("°C", &["C", "celsius", "℃", "ºC", "˚C"]),
    ("K", &["kelvin", "kelvins"]),
    ("%", &["percent", "pct", "prozent", "pc"]),
    ("div", &["divs", "division", "divisions", "graduation", "graduations", "skt", "digit", "digits"]),
    ("mark", &["marks", "strich"]),
];

#[cfg(test)]
mod tests {
    use super::super::{Unit, UnitError};
    use super::*;

    #[test]
    fn every_suggestion_is_a_unit_in_canonical_spelling_and_no_spelling_is_one() {
        for (unit, spellings) in WHOLE.iter().chain(&SYMBOLS) {
            assert_eq!(Unit::parse(unit).unwrap().to_string(), *unit);
            for spelling in *spellings {
                assert!(Unit::parse(spelling).is_err(), "{spelling}");
            }
        }
    }

    #[test]
    fn foreign_spellings() {
        for (written, range, expected) in [
            ("lbs", 0..3, "lb"),
            ("grams", 0..5, "g"),
            ("inch", 0..4, "in"),
            ("tr/min", 0..6, "r/min"),
            ("RPM", 0..3, "rpm"),
            ("KG", 0..2, "kg"),
            ("''", 0..2, "in"),
            ("g*inch", 2..6, "in"),
            ("gm·mm", 0..2, "g"),
            ("lbs/in3", 0..3, "lb"),
            ("min^-1", 0..6, "1/min"),
            ("Grad", 0..4, "deg"),
        ] {
            let expected = UnitError::Unknown { atom: range, suggestion: Some(expected) };
            assert_eq!(Unit::parse(written), Err(expected), "{written}");
        }
        assert_eq!(Unit::parse("furlong"), Err(UnitError::Unknown { atom: 0..7, suggestion: None }));
    }
}
