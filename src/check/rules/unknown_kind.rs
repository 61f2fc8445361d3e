use crate::check::slip::shown;
use crate::check::{Draft, Slip, wording};
use crate::sheet::nearest;
use crate::syntax::Kind;
use crate::text::{Edit, Span};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let place = |words: &str| {
        let start = slip.span().start + found.find(words).unwrap_or(0) as u32;
        Span::new(start, start + words.len() as u32)
    };
    let kinds = kinds_here(slip);
    let mut words = found.split([' ', '\t', '"', '{']).filter(|word| !word.is_empty());
    let Some(first) = words.next() else {
        return slip.draft("this `{` has no kind of block before it").help(format!("write one of {kinds}"));
    };
    let two = words.next().map(|second| format!("{first} {second}")).filter(|two| found.contains(&**two));
    let parted = kind_and_name(first).map(|parted| (first, parted));
    let meant = parted.or_else(|| {
        let written = [two.as_deref(), Some(first)].into_iter().flatten();
        written.into_iter().find_map(|written| Some((written, meant(written)?.words().to_owned())))
    });
    let (written, instead) = meant.map_or((first, None), |(written, instead)| (written, Some(instead)));
    let draft = slip.context().draft(place(written), format!("`{}` is not a kind of block", shown(written)));
    match instead {
        Some(instead) => {
            let edit = Edit::replace(place(written), instead.clone());
            slip.offer(draft.help(format!("did you mean `{instead}`?")), edit)
        }
        None => draft.help(format!("one of {kinds} belongs here")),
    }
}

/// `plane-hub`, `plane_hub`
fn kind_and_name(written: &str) -> Option<String> {
    let parted = |kind: Kind| Some((kind, written.strip_prefix(kind.words())?.strip_prefix(['-', '_', '.'])?));
    let (kind, name) = Kind::ALL.into_iter().find_map(parted)?;
    name.starts_with(char::is_alphabetic).then(|| format!("{kind} {name}"))
}

/// The kind that a word is near to, or that the trade calls by that word too.
fn meant(written: &str) -> Option<Kind> {
    let written = written.to_lowercase();
    let other = OTHER_WORDS.iter().find(|(word, _)| *word == written).map(|(_, kind)| *kind);
    other.or_else(|| {
        let near = nearest(&written, Kind::ALL.into_iter().map(Kind::words))?;
        Kind::ALL.into_iter().find(|kind| kind.words() == near)
    })
}

const OTHER_WORDS: [(&str, Kind); 22] = [
    ("mandrel", Kind::Arbor),
    ("workpiece", Kind::Rotor),
    ("part", Kind::Rotor),
    ("impeller", Kind::Rotor),
    ("armature", Kind::Rotor),
    ("spindle", Kind::Rotor),
    ("weights", Kind::Masses),
    ("weight", Kind::Masses),
    ("bench", Kind::Machine),
    ("sheet", Kind::Setup),
    ("job", Kind::Setup),
    ("report", Kind::Record),
    ("log", Kind::Record),
    ("gauge", Kind::Instrument),
    ("meter", Kind::Readout),
    ("dial", Kind::Control),
    ("knob", Kind::Control),
    ("switch", Kind::Control),
    ("presettings", Kind::Settings),
    ("key", Kind::Keyway),
    ("limits", Kind::Tolerance),
    ("test", Kind::Trial),
];

/// The kinds that may stand where the error is.
fn kinds_here(slip: &Slip<'_>) -> String {
    let parent = slip.block().map(|block| block.kind);
    let fitting =
        |parent: Option<Kind>| -> Vec<String> { Kind::all_in(parent).map(|kind| format!("`{kind}`")).collect() };
    let inner = fitting(parent);
    wording::or_list(&if inner.is_empty() { fitting(None) } else { inner })
}
