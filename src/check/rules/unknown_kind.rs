use crate::check::lapse::shown;
use crate::check::{Draft, Rule, Run, Severity, Lapse, wording};
use crate::sheet::nearest;
use crate::syntax::{Kind, SyntaxErrorKind};
use crate::text::{Edit, Span};

pub static RULE: Rule = Rule {
    code: "unknown-kind",
    severity: Severity::Error,
    title: "A block of no known kind",
    page: include_str!("unknown_kind.md"),
    run: Run::Syntax(SyntaxErrorKind::UnknownKind, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.found();
    if found == "{" {
        return lapse.draft("this `{` has no kind of block before it").help(format!("write one of {}", kinds_here(lapse)));
    }
    let words: Vec<&str> = found.split([' ', '\t', '"']).filter(|word| !word.is_empty()).take(2).collect();
    let two = words.join(" ");
    let first = words.first().copied().unwrap_or(found);
    if let Some(parted) = kind_and_name(first) {
        let place = Span::new(lapse.span().start, lapse.span().start + first.len() as u32);
        let draft = lapse.context().draft(place, format!("`{}` is no kind of block", shown(first)));
        return lapse.offer(draft.help(format!("did you mean `{parted}`?")), Edit::replace(place, parted));
    }
    let meant = [two.as_str(), first].into_iter().find_map(|written| Some((written, meant(written)?)));
    let place = |written: &str| Span::new(lapse.span().start, lapse.span().start + written.len() as u32);
    let message = |written: &str| format!("`{}` is no kind of block", shown(written));
    match meant {
        Some((written, kind)) if found.starts_with(written) => {
            let place = place(written);
            let draft = lapse.context().draft(place, message(written)).help(format!("did you mean `{kind}`?"));
            lapse.offer(draft, Edit::replace(place, kind.words()))
        }
        _ => {
            let draft = lapse.context().draft(place(first), message(first));
            draft.help(format!("here stands one of {}", kinds_here(lapse)))
        }
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
fn kinds_here(lapse: &Lapse<'_>) -> String {
    let parent = lapse.block().map(|block| block.kind);
    let fitting = |parent: Option<Kind>| -> Vec<String> {
        Kind::ALL.into_iter().filter(|kind| kind.parent() == parent).map(|kind| format!("`{kind}`")).collect()
    };
    let inner = fitting(parent);
    wording::or_list(&if inner.is_empty() { fitting(None) } else { inner })
}
