//! Words of the trade for which this format has another.

use super::words::nearest;
use crate::vocabulary::BlockSpec;

/// Keys, and what people write for them elsewhere. The first key that a block has is the one meant.
const KEYS: &[(&str, &[&str])] = &[
    ("mass", &["weight", "test weight", "trial weight", "calibration weight", "rotor weight", "wt", "trial mass"]),
    ("radius", &["correction radius", "weight radius"]),
    ("at", &["position", "location", "axial position", "axial place", "distance"]),
    ("angle", &["position", "angular position"]),
    (
        "highest service speed",
        &[
            "service speed",
            "max service speed",
            "maximum service speed",
            "operating speed",
            "working speed",
            "rpm",
            "speed",
        ],
    ),
    ("highest safe speed", &["safe speed", "max safe speed", "maximum safe speed", "overspeed", "burst speed"]),
    (
        "balancing speed",
        &["speed", "rpm", "test speed", "run speed", "balance speed", "balancing rpm", "measuring speed"],
    ),
    ("belt runs on", &["belt diameter", "belt on", "belt"]),
    ("grade", &["quality", "balance quality", "balance grade", "quality grade", "balance quality grade", "class"]),
    ("total", &["permissible residual unbalance", "max unbalance", "tolerance", "limit"]),
    ("surface diameter", &["outer diameter", "outside diameter", "od", "rim diameter"]),
    ("diameter", &["dia", "diam"]),
    (
        "largest diameter",
        &["max diameter", "maximum diameter", "outer diameter", "outside diameter", "od", "dia", "diameter"],
    ),
    ("journal diameter", &["journal", "journals"]),
    (
        "mass centre",
        &["centre of mass", "center of mass", "centre of gravity", "center of gravity", "cg", "cog", "mass center"],
    ),
    ("bearings", &["bearing", "bearings at", "supports", "journals at"]),
    ("zero angle", &["zero mark", "angle reference", "reference mark"]),
    ("wall at least", &["min wall", "minimum wall"]),
    ("hole spacing at least", &["hole spacing", "spacing", "pitch"]),
    ("tolerance reads", &["tolerance reading", "tolerance is"]),
    ("full scale", &["fsd", "range"]),
    ("values", &["masses", "weights", "pieces"]),
    ("indicates", &["shows", "points at"]),
    ("by", &["operator", "author", "engineer", "technician", "name"]),
    ("note", &["remark", "remarks", "comment", "comments", "notes"]),
];

/// Choices, and what people write for them elsewhere: words that mean one choice and no other.
const CHOICES: &[(&str, &[&str])] = &[
    ("mass", &["weight", "weights"]),
    ("one", &["1"]),
    ("two", &["2"]),
    ("clockwise", &["cw", "right", "right-hand"]),
    ("anticlockwise", &["ccw", "acw", "counterclockwise", "counter-clockwise", "anti-clockwise", "left-hand"]),
    ("drilling", &["drill", "drilled", "holes"]),
    ("milling", &["mill", "milled"]),
    ("grinding", &["grind", "ground"]),
    ("welding", &["weld", "welded", "weld on"]),
    ("clamping", &["clamp", "clamps", "clamped", "clips", "clip"]),
    ("set screws", &["screws", "grub screws", "set screw"]),
    ("soft", &["soft-bearing", "soft bearing", "soft bearings", "flexible"]),
    ("hard", &["hard-bearing", "hard bearing", "hard bearings", "rigid", "stiff"]),
    ("own", &["own drive", "self", "self-drive"]),
    ("rms", &["effective", "r.m.s."]),
    ("peak to peak", &["peak-peak", "pk-pk", "p-p", "pp", "peak-to-peak"]),
    ("unbalance", &["g·mm", "g*mm", "oz·in", "oz*in", "g·in"]),
    ("mass at set radius", &["mass", "g", "grams"]),
    ("displacement", &["µm", "um", "mils", "mil"]),
    ("velocity", &["mm/s", "in/s"]),
    ("remove", &["removing", "subtract", "take off"]),
    ("add", &["adding", "put on"]),
    ("either", &["both", "add or remove", "remove or add"]),
    ("heavy spot", &["heavy", "heavy side"]),
    ("light spot", &["light", "light side"]),
    ("half key", &["half", "half-key"]),
    ("full key", &["full", "full-key"]),
    ("no key", &["none", "without key"]),
    ("with rotation", &["with the rotation", "with"]),
    ("against rotation", &["against the rotation", "against"]),
];

/// Words that may mean one key or another, between which only the writer can choose.
const EITHER: &[(&[&str], &[&str])] = &[(
    &["highest service speed", "highest safe speed"],
    &["max speed", "maximum speed", "highest speed", "max rpm", "top speed"],
)];

/// The keys between which only the writer can choose; empty where there is nothing to choose.
pub fn either(word: &str, spec: &'static BlockSpec) -> &'static [&'static str] {
    let lower = word.to_lowercase();
    let meant =
        EITHER.iter().find(|(keys, words)| words.contains(&&*lower) && keys.iter().all(|key| spec.key(key).is_some()));
    meant.map_or(&[], |(keys, _)| keys)
}

/// The key of the block that was most likely meant.
pub(super) fn key(word: &str, spec: &'static BlockSpec) -> Option<&'static str> {
    if !either(word, spec).is_empty() {
        return None;
    }
    let lower = word.to_lowercase();
    let means = |(key, others): &&(&str, &[&str])| spec.key(key).is_some() && others.contains(&&*lower);
    let synonym = KEYS.iter().find(means).map(|(key, _)| *key);
    synonym.or_else(|| nearest(word, spec.keys.iter().map(|key| key.name)))
}

/// The choice that was most likely meant; `None` also when several could be.
pub(super) fn choice(word: &str, choices: &'static [&'static str]) -> Option<&'static str> {
    let lower = word.to_lowercase();
    let means = |choice: &&&str| CHOICES.iter().any(|(meant, words)| meant == *choice && words.contains(&&*lower));
    if let Some(synonym) = choices.iter().find(means) {
        return Some(synonym);
    }
    let mut holding = choices.iter().filter(|choice| holds_words(choice, &lower));
    match (holding.next(), holding.next()) {
        (Some(one), None) => Some(one),
        (Some(_), Some(_)) => None,
        (None, _) => nearest(word, choices.iter().copied()).or_else(|| within(&lower, choices)),
    }
}

/// `by strobe` for `strobe`
fn holds_words(choice: &str, words: &str) -> bool {
    words.len() > 2 && words.split(' ').all(|word| choice.split(' ').any(|part| part == word))
}

/// The one choice that stands in what was written or begins it: `belt` for `belt drive`, `div` for `divisions`.
fn within(word: &str, choices: &'static [&'static str]) -> Option<&'static str> {
    let mut found =
        choices.iter().filter(|choice| word.starts_with(**choice) || word.split(' ').any(|w| w == **choice));
    let first = found.next()?;
    found.next().is_none().then_some(*first)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::Kind;
    use crate::vocabulary;

    #[test]
    fn words_of_the_trade_lead_to_keys() {
        assert_eq!(key("weight", vocabulary::block(Kind::Rotor)), Some("mass"));
        assert_eq!(key("RPM", vocabulary::block(Kind::Setup)), Some("balancing speed"));
        assert_eq!(key("raduis", vocabulary::block(Kind::Plane)), Some("radius"));
        assert_eq!(key("colour", vocabulary::block(Kind::Plane)), None);
    }

    #[test]
    fn a_choice_is_proposed_only_where_one_alone_can_be_meant() {
        const WORKS: &[&str] = &["above resonance", "at resonance", "below resonance"];
        assert_eq!(choice("resonance", WORKS), None);
        assert_eq!(choice("abov resonance", WORKS), Some("above resonance"));
        assert_eq!(choice("strobe", &["none", "by strobe", "measured"]), Some("by strobe"));
        assert_eq!(choice("belt drive", &["belt", "end", "air", "own"]), Some("belt"));
        assert_eq!(choice("divisions", &["div", "unbalance"]), Some("div"));
        assert_eq!(choice("ccw", &["clockwise", "anticlockwise"]), Some("anticlockwise"));
    }

    #[test]
    fn every_synonym_is_of_a_key_or_choice_that_exists() {
        let keys = || Kind::ALL.into_iter().flat_map(|kind| vocabulary::block(kind).keys);
        for (key, words) in KEYS {
            assert!(keys().any(|spec| spec.name == *key), "{key}");
            assert!(words.iter().all(|word| *word == word.to_lowercase()), "{key}");
        }
        for (choice, _) in CHOICES {
            let has = |value: &vocabulary::ValueType| matches!(value, vocabulary::ValueType::Choice(all) if all.contains(choice));
            assert!(keys().any(|spec| has(&spec.value)), "{choice}");
        }
    }
}
