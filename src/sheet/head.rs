//! Which fact the head of a line means.

use super::block::NameAt;
use super::synonyms;
use crate::syntax::{Head, Kind, Name};
use crate::text::Span;
use crate::vocabulary::{self, BlockSpec, KeySpec, ValueType};

/// What a line with this head asks for.
#[derive(Clone, Debug)]
pub struct Expected {
    pub key: &'static KeySpec,
    pub value: ValueType,
    /// The name in the head: that of a channel after its key, or that of a control or plane in the place of a key.
    pub name: Option<NameAt>,
}

/// What a head means in a block of one kind.
#[derive(Clone, Debug)]
pub enum HeadOf {
    Fact(Expected),
    /// A key that stands with a name, without one.
    NeedsName(&'static KeySpec),
    /// Several bare words that can only be a name.
    NeedsQuotes,
    Unknown,
}

/// Reads a head, whatever comes after the colon. `is_plane` tells the planes of the rotor around it, whose names may
/// stand as keys of its tolerance.
pub fn read_head(text: &str, spec: &'static BlockSpec, head: &Head, is_plane: impl Fn(&str) -> bool) -> HeadOf {
    let words = head.words.map(|words| words.of(text));
    match (words, &head.name) {
        (Some(words), None) => bare(spec, head, words, is_plane),
        (Some(words), Some(name)) => match find(spec, words).filter(|key| key.head_name.is_some()) {
            Some(key) => fact(key, Some(name_at(name))),
            None => HeadOf::Unknown,
        },
        (None, Some(name)) => named(spec, name_at(name)),
        (None, None) => HeadOf::Unknown,
    }
}

fn bare(spec: &'static BlockSpec, head: &Head, words: &str, is_plane: impl Fn(&str) -> bool) -> HeadOf {
    if let Some(key) = find(spec, words) {
        return if key.head_name.is_some() { HeadOf::NeedsName(key) } else { fact(key, None) };
    }
    if let Some((first, last)) = words.rsplit_once(char::is_whitespace)
        && let Some(key) = find(spec, first.trim_end()).filter(|key| key.head_name.is_some())
    {
        let span = Span::new(head.span.end - last.len() as u32, head.span.end);
        return fact(key, Some(NameAt { text: last.into(), span, quoted: false }));
    }
    let is_one_word = !words.contains(char::is_whitespace);
    let in_tolerance = spec.kind == Kind::Tolerance;
    // A bare word that is no plane of the rotor and all but a key: `grad` in a tolerance.
    let is_slip = || in_tolerance && !is_plane(words) && synonyms::key(words, spec).is_some();
    // `needle side` in settings, a plane of the rotor in its tolerance.
    let is_name = || if in_tolerance { is_plane(words) } else { is_no_key(spec, words) };
    match &spec.named_facts {
        Some(_) if is_one_word && !is_slip() => {
            named(spec, NameAt { text: words.into(), span: head.span, quoted: false })
        }
        Some(_) if !is_one_word && is_name() => HeadOf::NeedsQuotes,
        _ => HeadOf::Unknown,
    }
}

/// Whether words are no key of any block, nor like one of this.
fn is_no_key(spec: &'static BlockSpec, words: &str) -> bool {
    synonyms::key(words, spec).is_none() && Kind::ALL.iter().all(|kind| vocabulary::block(*kind).key(words).is_none())
}

fn fact(key: &'static KeySpec, name: Option<NameAt>) -> HeadOf {
    HeadOf::Fact(Expected { key, value: key.value, name })
}

/// A name in the place of a key.
fn named(spec: &'static BlockSpec, name: NameAt) -> HeadOf {
    match &spec.named_facts {
        Some(named) => HeadOf::Fact(Expected { key: &named.spec, value: named.value, name: Some(name) }),
        None => HeadOf::Unknown,
    }
}

/// Finds a key by its words, however many spaces are between them.
fn find(spec: &'static BlockSpec, words: &str) -> Option<&'static KeySpec> {
    spec.key(words).or_else(|| {
        let spaced = words.contains("  ") || words.contains('\t');
        spec.keys.iter().find(|key| spaced && key.name.split(' ').eq(words.split_whitespace()))
    })
}

pub(super) fn name_at(name: &Name) -> NameAt {
    NameAt { text: name.text.clone(), span: name.span, quoted: name.quoted }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_found_by_their_words() {
        let setup = vocabulary::block(Kind::Setup);
        assert!(find(setup, "balancing speed").is_some());
        assert!(find(setup, "balancing   speed").is_some());
        assert!(find(setup, "balancingspeed").is_none());
    }
}
