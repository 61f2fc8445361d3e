//! What an item must hold to be listed: `status is not released`, `machine / serviced > date`.

use std::cmp::Ordering;

use jiff::civil::Date;

use super::wanted;
use crate::book::{Computing, ItemId};
use crate::cli::Failure;
use crate::syntax::Kind;
use crate::units::Unit;

/// A fact or result, and what is asked of it.
#[derive(Clone, Debug)]
pub(in crate::cli) struct Filter {
    pub fact: String,
    asks: Asks,
}

#[derive(Clone, Debug)]
enum Asks {
    /// These words are in it, whatever their capitals.
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

/// What is between a fact and what is asked of it, the longer ones first.
const WORDS: [&str; 2] = [" is not ", " is "];

/// `FACT=WORDS`, `FACT is WORDS`, `FACT is not WORDS`, `FACT is missing`, `FACT < AMOUNT`, `FACT > AMOUNT`.
pub(in crate::cli) fn parse(text: &str) -> Result<Filter, String> {
    let of_two = [" OR ", " or ", " AND ", " and "].into_iter().find_map(|word| {
        let (one, other) = text.split_once(word).filter(|(one, _)| one.matches('"').count() % 2 == 0)?;
        let is_joined = word.chars().any(char::is_uppercase) || (parse(one).is_ok() && parse(other).is_ok());
        is_joined.then(|| (word.trim(), one.trim(), other.trim()))
    });
    if let Some((word, one, other)) = of_two {
        return Err(match word.eq_ignore_ascii_case("and") {
            true => format!("a condition asks one thing: write `--where \"{one}\" --where \"{other}\"`"),
            false => format!(
                "a condition asks one thing, and `{word}` is not known: list twice, with `--where \"{one}\"` and with \
                 `--where \"{other}\"`"
            ),
        });
    }
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
        let (fact, rest) = (&text[..at], unquoted(&text[at + words.len()..]));
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
    let (fact, rest) = (&text[..at], unquoted(&text[at + 1..]));
    filter(
        fact,
        match text.as_bytes()[at] {
            b'<' => Asks::Compares(Ordering::Less, rest),
            b'>' => Asks::Compares(Ordering::Greater, rest),
            _ => Asks::Holds(rest),
        },
    )
}

/// As a sheet has it, with or without its quotes.
fn unquoted(text: &str) -> String {
    let text = text.trim();
    match text.strip_prefix('"').and_then(|text| text.strip_suffix('"')) {
        Some(inner) => inner.replace("\"\"", "\""),
        None => text.to_owned(),
    }
}

/// `Err` where no item can hold what is asked for, whatever is in the books: an empty list would read as an answer.
pub(in crate::cli) fn can_hold(books: &[Computing<'_>], kind: Option<Kind>, filter: &Filter) -> Result<(), Failure> {
    wanted::known(books, &filter.fact)?;
    if let Some(kind) = kind {
        wanted::known_of(books, kind, &filter.fact)?;
    }
    match &filter.asks {
        Asks::Compares(_, other) => can_compare(books, kind, &filter.fact, other),
        Asks::Is(word) | Asks::IsNot(word) => wanted::choice(kind, &filter.fact, word),
        Asks::Holds(_) | Asks::IsMissing | Asks::IsThere => Ok(()),
    }
}

fn can_compare(books: &[Computing<'_>], kind: Option<Kind>, fact: &str, other: &str) -> Result<(), Failure> {
    let is_value = day(other).is_some() || amount(other).is_some();
    if !is_value && wanted::known(books, other).is_err() {
        return Err(Failure::new(format!(
            "`{other}` cannot be compared with `{fact}`: it is not an amount, a day or a fact"
        ))
        .help("write it as `balancing speed > 1000 rpm`, `date > 2026-03-01` or `machine / serviced > date`"));
    }
    let mut wrong = None;
    for book in books {
        let ids = book.book().items().filter(|id| kind.is_none_or(|kind| book.book().item(*id).kind == kind));
        for id in ids {
            let (texts, mut others) = (wanted::values(book, id, fact), wanted::values(book, id, other));
            if others.is_empty() && is_value {
                others.push(other.to_owned());
            }
            if pairs(&texts, &others).any(|(text, other)| compare(text, other).is_some()) {
                return Ok(());
            }
            let both = texts.into_iter().next().zip(others.into_iter().next());
            wrong = wrong.or(both);
        }
    }
    match wrong {
        Some((text, other)) => Err(Failure::new(format!("`{fact}` cannot be compared with `{other}`: it is `{text}`"))),
        None => Ok(()),
    }
}

/// Whether an item holds what is asked for; of several values, one that fits is enough. What is missing is neither less
/// nor more, and is not what is asked for.
pub(in crate::cli) fn holds(computing: &Computing<'_>, id: ItemId, filter: &Filter) -> bool {
    let texts = wanted::values(computing, id, &filter.fact);
    let compares = |words: &String, wanted: Ordering| {
        pairs(&texts, std::slice::from_ref(words)).any(|(text, words)| compare(text, words) == Some(wanted))
    };
    let is = |words: &String| {
        let same = |text: &str| text.to_lowercase() == words.to_lowercase();
        same(&texts.join(", ")) || texts.iter().any(|text| same(text)) || compares(words, Ordering::Equal)
    };
    match &filter.asks {
        Asks::IsMissing => texts.is_empty(),
        Asks::IsThere => !texts.is_empty(),
        Asks::Holds(words) => texts.join(", ").to_lowercase().contains(&words.to_lowercase()),
        Asks::Is(words) => is(words),
        Asks::IsNot(words) => !is(words),
        Asks::Compares(wanted, other) => match wanted::values(computing, id, other) {
            others if others.is_empty() => compares(other, *wanted),
            others => others.iter().any(|other| compares(other, *wanted)),
        },
    }
}

/// Every value with every other.
fn pairs<'t>(texts: &'t [String], others: &'t [String]) -> impl Iterator<Item = (&'t str, &'t str)> {
    let others = move || others.iter().flat_map(|other| each(other));
    texts.iter().flat_map(|text| each(text)).flat_map(move |text| others().map(move |other| (text, other)))
}

/// The amounts of a list such as `0 mm, 164 mm`; anything else is one value.
fn each(text: &str) -> Vec<&str> {
    let parts: Vec<&str> = text.split(", ").collect();
    match parts.iter().all(|part| amount(part).is_some()) {
        true => parts,
        false => vec![text],
    }
}

/// Of two amounts of one kind, two numbers or two days, which is more.
fn compare(a: &str, b: &str) -> Option<Ordering> {
    if let (Some(a), Some(b)) = (day(a), day(b)) {
        return Some(a.cmp(&b));
    }
    let ((a, u), (b, v)) = (amount(a)?, amount(b)?);
    (u.dimension() == v.dimension()).then(|| u.to_base(a).partial_cmp(&v.to_base(b))).flatten()
}

/// `2026-03-19`, with whatever is said of that day.
fn day(text: &str) -> Option<Date> {
    let (day, rest) = text.split_at_checked("2026-03-19".len())?;
    (rest.is_empty() || rest.starts_with([' ', ','])).then(|| day.parse().ok()).flatten()
}

/// `4.82 kg ± 0.01 kg`, `268.4 mm / 2`, `G 6.3`, `8`; nothing of several amounts.
fn amount(text: &str) -> Option<(f64, Unit)> {
    let text = text.strip_prefix("G ").unwrap_or(text);
    let (number, rest) = text.split_once(' ').unwrap_or((text, ""));
    let number: f64 = number.parse().ok()?;
    let (unit, rest) = rest.split_once(' ').unwrap_or((rest, ""));
    let (number, rest) = match rest.strip_prefix("/ 2") {
        Some(rest) => (number / 2.0, rest.trim_start()),
        None => (number, rest),
    };
    let is_one = rest.is_empty() || rest.starts_with(['±', '@']) || unit == "±";
    match unit {
        _ if !is_one => None,
        "" | "±" => Some((number, Unit::ONE)),
        unit => Some((number, Unit::parse(unit).ok()?)),
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
        // A diameter written as such, and a day that there is not.
        assert_eq!(compare("268.4 mm / 2", "134.2 mm"), Some(Ordering::Equal));
        assert_eq!(compare("2026-13-45", "2026-03-02"), None);
        assert_eq!(each("0 mm, 164 mm"), ["0 mm", "164 mm"]);
        assert_eq!(each("2026-05-04, 12.0 div"), ["2026-05-04, 12.0 div"]);
        assert_eq!(compare("2026-05-04, 12.0 div", "2026-05-03"), Some(Ordering::Greater));
    }

    #[test]
    fn what_is_asked_is_read_in_each_form() {
        let fact = |text: &str| parse(text).map(|filter| filter.fact).unwrap_or_default();
        let texts = ["a / b=c is d", "status is not released", "proof is missing", "rotor / mass > 5 kg"];
        assert_eq!(texts.map(fact), ["a / b", "status", "proof", "rotor / mass"]);
        assert_eq!(["overdue", " not void "].map(fact), ["overdue", "void"]);
        assert!(parse("status").is_err() && parse(" is released").is_err());
        let joined = ["by = fan bay OR by = pump bay", "by is a or void", "void AND overdue"];
        let says = joined.map(|text| parse(text).err().unwrap_or_default());
        assert!(says.iter().all(|said| said.contains("a condition asks one thing")), "{says:?}");
        assert!(says[2].contains("`--where \"void\" --where \"overdue\"`"), "{says:?}");
        assert!(["by is nut and bolt shop", "by = \"this OR that\""].iter().all(|text| parse(text).is_ok()));
    }
}
