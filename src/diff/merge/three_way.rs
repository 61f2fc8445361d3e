//! Which of three versions of a line or a block holds.

use super::entries::{Body, Entry, What};
use super::order::order;
use super::work;
use crate::book::head_of;
use crate::diff::renames::Renames;
use crate::diff::value::{amounts_in, same};
use crate::sheet::{Field, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::setup;

/// What is at the marks around a conflict, as git is told to write it.
#[derive(Clone, Debug)]
pub struct Labels {
    pub ours: String,
    pub theirs: String,
    /// How many characters a mark has.
    pub size: usize,
}

/// What came of both changes.
#[derive(Clone, Debug)]
pub struct Merged {
    pub text: String,
    /// Facts that the authors have to settle, with the blocks they are in.
    pub conflicts: Vec<String>,
    /// Whether pins were left as one of the sides had them.
    pub has_open_pins: bool,
}

/// A merge under way.
pub(super) struct Merging<'l> {
    labels: &'l Labels,
    out: Merged,
    path: Vec<String>,
}

/// Which version to take.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Take {
    Ours,
    Theirs,
    Neither,
}

impl<'l> Merging<'l> {
    pub fn new(labels: &'l Labels) -> Self {
        let out = Merged { text: String::new(), conflicts: Vec::new(), has_open_pins: false };
        Self { labels, out, path: Vec::new() }
    }

    pub fn finish(self) -> Merged {
        self.out
    }

    /// `base` is `None` where both sides have written the block for the first time.
    pub fn body(&mut self, base: Option<&Body<'_>>, ours: &Body<'_>, theirs: &Body<'_>) {
        match renamed_twice(base, ours, theirs) {
            true => self.conflict("name", ours.opening, theirs.opening),
            false => self.words(base.map(|base| base.opening), ours.opening, theirs.opening),
        }
        let none = Vec::new();
        let old = base.map_or(&none, |base| &base.entries);
        let (renamed_ours, renamed_theirs) = (renamed(old, &ours.entries), renamed(old, &theirs.entries));
        let is_revised_twice = is_revised_twice(base, ours, theirs);
        let is_record = ours.block.is_some_and(|block| block.kind == Kind::Record);
        let work = if is_record { work::appended(old, &renamed_ours, &renamed_theirs) } else { None };
        let mut open = work.as_ref();
        for key in order(old, &renamed_ours, &renamed_theirs) {
            if work.as_ref().is_some_and(|work| work.holds(&key)) {
                if let Some(work) = open.take() {
                    self.conflict(work.head, &work.ours, &work.theirs);
                }
                continue;
            }
            let of = |entries: &[Entry<'_>]| entries.iter().position(|entry| entry.key == key);
            let (o, t) =
                (of(&renamed_ours).map(|at| &renamed_ours[at]), of(&renamed_theirs).map(|at| &renamed_theirs[at]));
            self.entry(of(old).map(|at| &old[at]), o, t, is_revised_twice);
        }
        self.words(base.map(|base| base.tail), ours.tail, theirs.tail);
        self.words(base.map(|base| base.closing), ours.closing, theirs.closing);
    }

    fn entry(&mut self, base: Option<&Entry<'_>>, ours: Option<&Entry<'_>>, theirs: Option<&Entry<'_>>, revised: bool) {
        match (base, ours, theirs) {
            (_, Some(ours), Some(theirs)) => {
                self.words(base.map(|base| base.lead), ours.lead, theirs.lead);
                self.both(base, ours, theirs, revised);
            }
            (None, Some(one), None) | (None, None, Some(one)) => {
                self.out.text.push_str(one.lead);
                self.out.text.push_str(one.text);
            }
            (Some(base), Some(one), None) if !is_as_it_was(base, one) => self.removed(one, true),
            (Some(base), None, Some(one)) if !is_as_it_was(base, one) => self.removed(one, false),
            _ => {}
        }
    }

    fn both(&mut self, base: Option<&Entry<'_>>, ours: &Entry<'_>, theirs: &Entry<'_>, revised: bool) {
        match (&ours.what, &theirs.what) {
            (What::Block(o), What::Block(t)) => {
                let old = base.and_then(|base| match &base.what {
                    What::Block(body) => Some(body),
                    _ => None,
                });
                self.path.push(ours.head());
                self.body(old, o, t);
                self.path.pop();
            }
            (What::Pin, What::Pin) => {
                let take = by_text(base.map(|base| base.text), ours.text, theirs.text);
                self.out.has_open_pins |= take == Take::Neither;
                self.out.text.push_str(if take == Take::Theirs { theirs.text } else { ours.text });
            }
            (What::Fact(o, ours_end), What::Fact(t, theirs_end)) => {
                let old = base.and_then(|base| match &base.what {
                    What::Fact(field, end) => Some((*field, &base.text[..*end])),
                    _ => None,
                });
                let (ours_said, ours_rest) = ours.text.split_at(*ours_end);
                let (theirs_said, theirs_rest) = theirs.text.split_at(*theirs_end);
                let old_rest = base.zip(old).map(|(base, (_, said))| &base.text[said.len()..]);
                let take = value(old, (o, ours_said), (t, theirs_said));
                let is_open_revision = revised && o.key.is(setup::REVISION);
                if take == Take::Neither || is_open_revision {
                    self.conflict(&heads(ours, theirs), ours.text, theirs.text);
                    if let Some(last) = self.out.conflicts.last_mut().filter(|_| is_open_revision) {
                        last.push_str(" (both sides changed the sheet under this revision: write the next)");
                    }
                    return;
                }
                self.out.text.push_str(if take == Take::Theirs { theirs_said } else { ours_said });
                self.rest(old_rest, ours_rest, theirs_rest);
            }
            // A fact on one side and a pin on the other have other keys.
            _ => self.conflict(&ours.key.0, ours.text, theirs.text),
        }
    }

    /// What follows a value on its line: of two remarks both are kept.
    fn rest(&mut self, base: Option<&str>, ours: &str, theirs: &str) {
        match by_text(base, ours, theirs) {
            Take::Ours => self.out.text.push_str(ours),
            Take::Theirs => self.out.text.push_str(theirs),
            Take::Neither => {
                self.out.text.push_str(ours.trim_end());
                self.out.text.push(' ');
                self.out.text.push_str(theirs.trim_start());
            }
        }
    }

    /// Comments and headings; of two that are new both are kept.
    fn words(&mut self, base: Option<&str>, ours: &str, theirs: &str) {
        match by_text(base, ours, theirs) {
            Take::Ours => self.out.text.push_str(ours),
            Take::Theirs => self.out.text.push_str(theirs),
            Take::Neither => {
                self.out.text.push_str(ours);
                let is_new = |line: &&str| {
                    let stands = |text: &str| text.lines().any(|other| other.trim() == line.trim());
                    !stands(ours) && !base.is_some_and(stands)
                };
                for line in theirs.lines().filter(is_new) {
                    self.out.text.push_str(line);
                    self.out.text.push('\n');
                }
            }
        }
    }

    /// Changed on one side, and gone on the other.
    fn removed(&mut self, one: &Entry<'_>, is_ours: bool) {
        if matches!(one.what, What::Pin) {
            return;
        }
        self.out.text.push_str(one.lead);
        let (ours, theirs) = if is_ours { (one.text, "") } else { ("", one.text) };
        self.conflict(&one.head(), ours, theirs);
    }

    fn conflict(&mut self, key: &str, ours: &str, theirs: &str) {
        let mark = |sign: &str, label: &str| format!("{} {label}", sign.repeat(self.labels.size)).trim_end().to_owned();
        let ended =
            |text: &str| if text.is_empty() || text.ends_with('\n') { text.to_owned() } else { format!("{text}\n") };
        let text = format!(
            "{}\n{}{}\n{}{}\n",
            mark("<", &self.labels.ours),
            ended(ours),
            mark("=", ""),
            ended(theirs),
            mark(">", &self.labels.theirs)
        );
        self.out.text.push_str(&text);
        let head = key.trim_end_matches(['{', ' ']);
        self.out.conflicts.push(self.path.iter().map(String::as_str).chain([head]).collect::<Vec<_>>().join(" / "));
    }
}

/// `radius`; `radius, diameter` where the sides say it in two ways.
fn heads(ours: &Entry<'_>, theirs: &Entry<'_>) -> String {
    let (ours, theirs) = (ours.head(), theirs.head());
    if ours == theirs { ours } else { format!("{ours}, {theirs}") }
}

/// What one side left as it was is taken from the other.
fn by_text(base: Option<&str>, ours: &str, theirs: &str) -> Take {
    let is = |text: &str| base.is_some_and(|base| base.trim() == text.trim());
    match () {
        () if ours.trim() == theirs.trim() => Take::Ours,
        () if is(ours) => Take::Theirs,
        () if is(theirs) => Take::Ours,
        () => Take::Neither,
    }
}

/// The same of a value: one that is only written in another unit was left as it was.
fn value(base: Option<(&Field, &str)>, ours: (&Field, &str), theirs: (&Field, &str)) -> Take {
    let take = by_text(base.map(|(_, said)| said), ours.1, theirs.1);
    let Some((base, _)) = base.filter(|_| take == Take::Neither) else { return take };
    match () {
        () if is_respelt(base, ours.0) => Take::Theirs,
        () if is_respelt(base, theirs.0) => Take::Ours,
        () if is_respelt(ours.0, theirs.0) => Take::Ours,
        () => Take::Neither,
    }
}

/// Whether two facts say the same; in one unit, to the same digit.
fn is_respelt(one: &Field, other: &Field) -> bool {
    let digits =
        |value: &FieldValue| amounts_in(value).iter().map(|stated| (stated.unit, stated.half_step)).collect::<Vec<_>>();
    let (a, b) = (digits(&one.value), digits(&other.value));
    let alike = a.iter().zip(&b).all(|((u, s), (v, t))| u != v || s == t);
    std::ptr::eq(one.key, other.key) && same(&one.value, &other.value, one.key, &Renames::default()) && alike
}

fn is_as_it_was(base: &Entry<'_>, one: &Entry<'_>) -> bool {
    match (&base.what, &one.what) {
        (What::Block(base), What::Block(one)) => base.without_pins() == one.without_pins(),
        _ => base.text.trim() == one.text.trim(),
    }
}

/// Both sides have given a block another name, and not the same.
fn renamed_twice(base: Option<&Body<'_>>, ours: &Body<'_>, theirs: &Body<'_>) -> bool {
    let name = |body: &Body<'_>| body.block.map(|block| block.name_text().to_owned());
    let (o, t) = (name(ours), name(theirs));
    o != t && base.is_some_and(|base| name(base) != o && name(base) != t)
}

/// Both sides have raised the revision of a setup alike, and not for the same change.
fn is_revised_twice(base: Option<&Body<'_>>, ours: &Body<'_>, theirs: &Body<'_>) -> bool {
    let revision = |body: &Body<'_>| {
        let block = body.block.filter(|block| block.kind == Kind::Setup)?;
        block.field(setup::REVISION).map(|field| field.value.clone())
    };
    let (then, o, t) = (base.and_then(revision), revision(ours), revision(theirs));
    o.is_some() && o == t && o != then && base.is_some() && ours.without_pins() != theirs.without_pins()
}

/// The entries of a side under the keys that its blocks had: one that is gone and one of its kind that is new are one block
/// with another name, where most of what it holds is the same.
fn renamed<'t>(base: &[Entry<'_>], side: &[Entry<'t>]) -> Vec<Entry<'t>> {
    let mut side = side.to_vec();
    let body = |entry: &Entry<'_>| match &entry.what {
        What::Block(body) => body.block.map(|block| block.kind),
        _ => None,
    };
    let gone: Vec<&Entry<'_>> =
        base.iter().filter(|old| body(old).is_some() && side.iter().all(|now| now.key != old.key)).collect();
    for old in gone {
        let is_new = |now: &&mut Entry<'t>| body(now) == body(old) && base.iter().all(|other| other.key != now.key);
        if let Some(now) = side.iter_mut().filter(is_new).find(|now| is_nearly(old, now)) {
            now.key = old.key.clone();
        }
    }
    repeated(base, &mut side);
    side
}

/// A fact that may be written more than once has changed where one of its head is gone and another is new.
fn repeated(base: &[Entry<'_>], side: &mut [Entry<'_>]) {
    let head = |entry: &Entry<'_>| match &entry.what {
        What::Fact(field, _) if field.key.repeats => Some(head_of(field)),
        _ => None,
    };
    let gone: Vec<&Entry<'_>> =
        base.iter().filter(|old| head(old).is_some() && side.iter().all(|now| now.key != old.key)).collect();
    for old in gone {
        let is_new = |now: &&mut Entry<'_>| head(now) == head(old) && base.iter().all(|other| other.key != now.key);
        if let Some(now) = side.iter_mut().find(is_new) {
            now.key = old.key.clone();
        }
    }
}

fn is_nearly(old: &Entry<'_>, now: &Entry<'_>) -> bool {
    let (What::Block(a), What::Block(b)) = (&old.what, &now.what) else { return false };
    let same = a.entries.iter().filter(|one| b.entries.iter().any(|other| other.text == one.text)).count();
    same > 0 && 2 * same >= a.entries.len().max(b.entries.len())
}
