//! What an item must hold to be listed: `status is not released`, `machine / serviced > date`.

use std::cmp::Ordering;

use super::wanted;
use crate::book::{Computing, ItemId};
use crate::units::Unit;

/// A fact or result, and what is asked of it.
#[derive(Clone, Debug)]
pub(in crate::cli) struct Filter {
    pub fact: String,
    asks: Asks,
}

#[derive(Clone, Debug)]
enum Asks {
    /// These words stand in it, whatever their capitals.
    Holds(String),
    Is(String),
    IsNot(String),
    IsMissing,
    IsThere,
    /// An amount, a number, a day or another fact of the item.
    Compares(Ordering, String),
}

/// What an item is or is not, without more to ask.
const STATES: [&str; 2] = [wanted::VOID, wanted::OVERDUE];

/// What stands between a fact and what is asked of it, the longer ones first.
const WORDS: [&str; 2] = [" is not ", " is "];

/// `FACT=WORDS`, `FACT is WORDS`, `FACT is not WORDS`, `FACT is missing`, `FACT < AMOUNT`, `FACT > AMOUNT`.
pub(in crate::cli) fn parse(text: &str) -> Result<Filter, String> {
    let filter = |fact: &str, asks: Asks| match fact.trim() {
        "" => Err("name a fact first, as in `status is released`".to_owned()),
        fact => Ok(Filter { fact: fact.to_owned(), asks }),
    };
    let state = text.trim();
    if let Some(state) = STATES.iter().find(|word| state == **word) {
        return filter(state, Asks::IsThere);
    }
    if let Some(state) = STATES.iter().find(|word| state.strip_prefix("not ") == Some(**word)) {
        return filter(state, Asks::IsMissing);
    }
    let sign = text.find(['=', '<', '>']);
    let worded = WORDS.iter().find_map(|words| Some((text.find(words)?, *words)));
    if let Some((at, words)) = worded.filter(|(at, _)| sign.is_none_or(|sign| at < &sign)) {
        let (fact, rest) = (&text[..at], text[at + words.len()..].trim().to_owned());
        let is_not = words == WORDS[0];
        return filter(
            fact,
            match (rest.as_str(), is_not) {
                ("missing", false) => Asks::IsMissing,
                ("missing", true) => Asks::IsThere,
                (_, false) => Asks::Is(rest),
                (_, true) => Asks::IsNot(rest),
            },
        );
    }
    let Some(at) = sign else { return Err("write it as `FACT=WORDS`, `FACT is WORDS` or `FACT < AMOUNT`".to_owned()) };
    let (fact, rest) = (&text[..at], text[at + 1..].trim().to_owned());
    filter(
        fact,
        match text.as_bytes()[at] {
            b'<' => Asks::Compares(Ordering::Less, rest),
            b'>' => Asks::Compares(Ordering::Greater, rest),
            _ => Asks::Holds(rest),
        },
    )
}

/// Whether an item holds what is asked for. What is missing is neither less nor more, and is not what is asked for.
pub(in crate::cli) fn holds(computing: &Computing<'_>, id: ItemId, filter: &Filter) -> bool {
    let text = wanted::text(computing, id, &filter.fact);
    let same = |text: &str, words: &str| text.to_lowercase() == words.to_lowercase();
    match (&filter.asks, text) {
        (Asks::IsMissing, text) => text.is_none(),
        (Asks::IsThere, text) => text.is_some(),
        (Asks::Holds(words), Some(text)) => text.to_lowercase().contains(&words.to_lowercase()),
        (Asks::Is(words), Some(text)) => same(&text, words),
        (Asks::IsNot(words), text) => text.is_none_or(|text| !same(&text, words)),
        (Asks::Compares(wanted, other), Some(text)) => {
            let other = wanted::text(computing, id, other).unwrap_or_else(|| other.clone());
            compare(&text, &other) == Some(*wanted)
        }
        (_, None) => false,
    }
}

/// Of two amounts of one kind, two numbers or two days, which is more.
fn compare(a: &str, b: &str) -> Option<Ordering> {
    let is_day = |text: &str| text.len() == 10 && text.bytes().filter(|byte| *byte == b'-').count() == 2;
    if is_day(a) && is_day(b) {
        return Some(a.cmp(b));
    }
    let ((a, u), (b, v)) = (amount(a)?, amount(b)?);
    (u.dimension() == v.dimension()).then(|| u.to_base(a).partial_cmp(&v.to_base(b))).flatten()
}

/// `4.82 kg ± 0.01 kg`, `G 6.3`, `8`.
fn amount(text: &str) -> Option<(f64, Unit)> {
    let text = text.strip_prefix("G ").unwrap_or(text);
    let (number, rest) = text.split_once(' ').unwrap_or((text, ""));
    let number = number.parse().ok()?;
    match rest.split(' ').next().unwrap_or_default() {
        "" | "±" => Some((number, Unit::ONE)),
        unit => Some((number, Unit::parse(unit.trim_end_matches(',')).ok()?)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_compared_in_any_unit() {
        let compared = [("500 g", "0.6 kg"), ("G 16", "G 6.3"), ("2026-03-19", "2026-03-02"), ("8", "8")];
        let wanted = [Ordering::Less, Ordering::Greater, Ordering::Greater, Ordering::Equal];
        assert_eq!(compared.map(|(a, b)| compare(a, b)), wanted.map(Some));
        assert_eq!(compare("5 g", "5 mm"), None);
        assert_eq!(compare("draft", "released"), None);
    }

    #[test]
    fn what_is_asked_is_read_in_each_form() {
        let fact = |text: &str| parse(text).map(|filter| filter.fact).unwrap_or_default();
        let texts = ["a / b=c is d", "status is not released", "proof is missing", "rotor / mass > 5 kg"];
        assert_eq!(texts.map(fact), ["a / b", "status", "proof", "rotor / mass"]);
        assert_eq!(["overdue", " not void "].map(fact), ["overdue", "void"]);
        assert!(parse("status").is_err() && parse(" is released").is_err());
    }
}
