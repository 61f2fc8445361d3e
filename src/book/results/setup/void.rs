//! Whether a sheet still is as it was proven.

use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::{FileId, ItemId};
use crate::book::results::values::entry::{Entry, Outcome, Recorder, Spot};
use crate::book::results::values::render::to_set_text;
use crate::sheet::{FieldValue, NameAt, SettingValue};
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::{self, Unit};
use crate::vocabulary::{self, AnyFact, KeySpec, Of, machine, proof, proven_with, result, setup};

/// Why a calibration no longer holds.
#[derive(Clone, PartialEq, Debug)]
pub struct VoidCause {
    /// `proven at 1150 rpm, the sheet now says 1200 rpm`
    pub what: String,
    /// The fact of today.
    pub place: (FileId, Span),
    /// The fact as it was proven.
    pub proven: (FileId, Span),
}

/// A fact of which the day is kept, as a proof names it. The change of most voids what was calibrated and proven.
pub struct Voiding<'b> {
    /// The fact of a proof that names it.
    pub proven_as: AnyFact,
    /// The plane or control that it is of.
    pub of: Option<&'b NameAt>,
    /// The fact of today.
    pub now: EffectiveField<'b>,
}

impl Voiding<'_> {
    /// Whether a proof has to name it: a change of it voids what was proven, or it is the revision. What a record is only
    /// judged by, such as bearings and radii of corrections, may be missing from a proof.
    pub fn is_demanded(&self) -> bool {
        let kept = vocabulary::block(Kind::ProvenWith).key(self.proven_as.words());
        kept.is_some_and(|kept| kept.is_demanded || kept.is(proven_with::REVISION))
    }

    /// As the line of a proof begins: `calibration mass hub`, `setting "left strength"`.
    pub fn head(&self) -> String {
        head(self.proven_as.words(), self.of)
    }
}

pub(super) fn head(fact: &str, of: Option<&NameAt>) -> String {
    match of {
        Some(name) if name.quoted => format!("{fact} \"{}\"", name.text),
        Some(name) => format!("{fact} {}", name.text),
        None => fact.to_owned(),
    }
}

/// The rotor and the machine of a setup.
pub type Beside<'e, 'b> = (Option<&'e EffectiveBlock<'b>>, Option<&'e EffectiveBlock<'b>>);

/// Every fact of a setup, its rotor and its machine's readout of which the day is kept. What a dial was left at, as found, is none.
pub(in crate::book::results) fn voiding<'b>(
    setup: &EffectiveBlock<'b>,
    (rotor, machine): Beside<'_, 'b>,
) -> Vec<Voiding<'b>> {
    let readout = machine.and_then(|machine| machine.inner(Kind::Readout).next());
    let whole = std::iter::once(setup).chain(rotor).chain(readout);
    let whole = whole.chain(rotor.and_then(|rotor| rotor.inner(Kind::Tolerance).next()));
    let planes = rotor.into_iter().flat_map(|rotor| rotor.inner(Kind::Plane));
    let dials = setup.inner(Kind::Calibrate).chain(setup.inner(Kind::Settings));
    let mut facts: Vec<Voiding<'b>> = whole
        .map(|block| (block, None))
        .chain(planes.chain(dials).map(|block| (block, block.name)))
        .flat_map(|(block, of)| of_block(block, of))
        .collect();
    facts.retain(|fact| text_of(&fact.now.field.value).is_some());
    facts
}

/// Those of one block, in the order of its kind's facts.
fn of_block<'b>(block: &EffectiveBlock<'b>, of: Option<&'b NameAt>) -> Vec<Voiding<'b>> {
    let spec = vocabulary::block(block.kind);
    let keys = spec.keys.iter().chain(spec.named_facts.as_ref().map(|named| &named.spec));
    let proven = keys.filter_map(|key| Some((key, key.proven_as?)));
    let of_key = |(key, proven_as): (&'static KeySpec, AnyFact)| {
        let fields = block.fields.iter().filter(move |now| std::ptr::eq(now.key, key));
        fields.map(move |now| Voiding { proven_as, of: now.field.name.as_ref().or(of), now: *now })
    };
    proven.flat_map(of_key).collect()
}

/// What a proof says of a fact; `None` when it does not name it.
fn proven<'b>(proof: &EffectiveBlock<'b>, fact: &Voiding<'_>) -> Option<EffectiveField<'b>> {
    let with = proof.proven_with()?;
    let named = |as_fact: AnyFact| match fact.of {
        Some(of) => with.named(as_fact).find(|(name, _)| name.text == of.text).map(|(_, field)| field),
        None => with.field(as_fact),
    };
    named(fact.proven_as).or_else(|| named(across(|one| fact.proven_as == one)?.0))
}

/// What of the facts that void a calibration its proof does not name.
pub(in crate::book::results) fn not_proven<'b>(
    proof: &EffectiveBlock<'b>,
    setup: &EffectiveBlock<'b>,
    beside: Beside<'_, 'b>,
) -> Vec<Voiding<'b>> {
    let mut facts = voiding(setup, beside);
    facts.retain(|fact| proven(proof, fact).is_none());
    facts
}

/// What has changed since the latest proof.
pub(in crate::book::results) fn causes<'b>(
    setup: &EffectiveBlock<'b>,
    beside: Beside<'_, 'b>,
    is_of_today: bool,
    entries: &[Entry],
    is_read_whole: bool,
) -> Vec<VoidCause> {
    let Some(proof) = setup.latest_proof() else { return Vec::new() };
    let mut causes =
        proof.proven_with().map_or_else(Vec::new, |with| of_facts(with, setup, beside, entries, is_read_whole));
    causes.extend(revision(proof, setup));
    let machine = beside.1.filter(|_| is_of_today);
    causes.extend(machine.and_then(|machine| serviced(proof, machine)));
    causes
}

/// Facts of today that are not as they were proven.
fn of_facts<'b>(
    with: &EffectiveBlock<'b>,
    setup: &EffectiveBlock<'b>,
    beside: Beside<'_, 'b>,
    entries: &[Entry],
    is_read_whole: bool,
) -> Vec<VoidCause> {
    let place = |field: EffectiveField<'_>| (field.item.file, field.field.value_span);
    let today = voiding(setup, beside);
    let mut causes = Vec::new();
    for (key, words) in vocabulary::block(Kind::ProvenWith).keys.iter().filter_map(|key| Some((key, key.proven?))) {
        for proven in with.fields.iter().copied().filter(|field| std::ptr::eq(field.field.key, key)) {
            let of = proven.field.name.as_ref();
            let Some(then) = text_of(&proven.field.value) else { continue };
            let how = words.replace("{}", &head(key.name, of));
            let same_one =
                |fact: &&Voiding<'b>| key.is(fact.proven_as) && fact.of.map(|of| &of.text) == of.map(|of| &of.text);
            match today.iter().find(same_one) {
                Some(fact) if proven.field.value.says_the_same(&fact.now.field.value) => {}
                None if is_said_across(key, &proven, &today) => {}
                Some(fact) => {
                    let today = text_of(&fact.now.field.value).unwrap_or_default();
                    let what = format!("{how} {then}, the sheet now says {today}");
                    causes.push(VoidCause { what, place: place(fact.now), proven: place(proven) });
                }
                None if key.is(proven_with::SETTING) && worked_out(entries, of).is_some() => {
                    let Some(today) = worked_out(entries, of).and_then(|entry| set_otherwise(entry, &proven)) else {
                        continue;
                    };
                    let what = format!("{how} {then}, and {today} is worked out now");
                    let place = (setup.item.file, setup.written.heading);
                    causes.push(VoidCause { what, place, proven: (proven.item.file, proven.field.value_span) });
                }
                // What seems to be gone may be in a line that could not be read.
                None if !is_read_whole => {}
                None => {
                    let what = format!("{how} {then}, of which the sheet now says nothing");
                    let place = (setup.item.file, setup.written.heading);
                    causes.push(VoidCause { what, place, proven: (proven.item.file, proven.field.value_span) });
                }
            }
        }
    }
    causes
}

/// The same place, said by a radius or across: the other fact, and how many times it is as large.
fn across(fact: impl Fn(AnyFact) -> bool) -> Option<(AnyFact, f64)> {
    let [radius, diameter] = [proven_with::CALIBRATION_RADIUS.any(), proven_with::CALIBRATION_DIAMETER.any()];
    let to_diameter = fact(radius).then_some((diameter, 2.0));
    to_diameter.or_else(|| fact(diameter).then_some((radius, 0.5)))
}

/// Whether today's sheet has a proven radius as a diameter, or the other way round.
fn is_said_across(key: &KeySpec, proven: &EffectiveField<'_>, today: &[Voiding<'_>]) -> bool {
    let Some((other, times)) = across(|fact| key.is(fact)) else { return false };
    let of = proven.field.name.as_ref().map(|of| &of.text);
    let now = today.iter().find(|fact| fact.proven_as == other && fact.of.map(|of| &of.text) == of);
    match (&proven.field.value, now.map(|fact| &fact.now.field.value)) {
        (FieldValue::Quantity(then), Some(FieldValue::Quantity(now))) => units::is_same(then.base * times, now.base),
        _ => false,
    }
}

/// What is worked out for the control of a proven setting.
fn worked_out<'e>(entries: &'e [Entry], control: Option<&NameAt>) -> Option<&'e Entry> {
    let of = Of::Control(control?.text.clone());
    entries.iter().find(|entry| entry.is(&result::SET_TO) && entry.of.as_ref() == Some(&of))
}

/// What a control is set to now, where it was set to something else.
fn set_otherwise(now: &Entry, proven: &EffectiveField<'_>) -> Option<String> {
    let FieldValue::Setting(proven) = &proven.field.value else { return None };
    match (&now.outcome, proven) {
        (Outcome::ToSet { base, .. }, SettingValue::Quantity(then)) if units::is_same(then.base, *base) => None,
        (Outcome::ToSet { base, unit, decimals, .. }, _) => Some(to_set_text(*base, *unit, *decimals)),
        (Outcome::Words(now), SettingValue::Position(then)) if **now == **then => None,
        (Outcome::Words(now), SettingValue::Number(then)) if **now == *units::plainly(*then) => None,
        (Outcome::Words(now), _) => Some(now.to_string()),
        // What is not worked out cannot be judged by.
        _ => None,
    }
}

fn revision(proof: &EffectiveBlock<'_>, setup: &EffectiveBlock<'_>) -> Option<VoidCause> {
    let (proven, now) = (proof.proven_with()?.field(proven_with::REVISION)?, setup.field(setup::REVISION)?);
    let (FieldValue::Text(then), FieldValue::Text(today)) = (&proven.field.value, &now.field.value) else {
        return None;
    };
    (then != today).then(|| VoidCause {
        what: format!("revision {then} was proven, the sheet is at revision {today}"),
        place: (now.item.file, now.field.value_span),
        proven: (proven.item.file, proven.field.value_span),
    })
}

fn serviced(proof: &EffectiveBlock<'_>, machine: &EffectiveBlock<'_>) -> Option<VoidCause> {
    let proven = proof.field(proof::DATE)?;
    let then = proof.day(proof::DATE)?;
    let (service, serviced) = machine.latest(machine::SERVICED, None)?;
    (then < service).then(|| VoidCause {
        what: format!("proven on {then}, before the machine was serviced on {service}"),
        place: (serviced.item.file, serviced.field.value_span),
        proven: (proven.item.file, proven.field.value_span),
    })
}

fn text_of(value: &FieldValue) -> Option<String> {
    let shown = |base: f64, unit: Unit| format!("{} {unit}", units::plainly(unit.from_base(base)));
    match value {
        FieldValue::Quantity(stated) => Some(shown(stated.base, stated.unit)),
        FieldValue::Quantities(list) => {
            Some(list.iter().map(|stated| shown(stated.base, stated.unit)).collect::<Vec<_>>().join(", "))
        }
        FieldValue::Name(name) => Some(format!("\"{}\"", name.text)),
        FieldValue::Setting(SettingValue::Number(number)) => Some(units::plainly(*number)),
        FieldValue::Setting(SettingValue::Quantity(stated)) => Some(shown(stated.base, stated.unit)),
        FieldValue::Setting(SettingValue::Position(position)) => Some(position.to_string()),
        FieldValue::Names(names) => {
            Some(names.iter().map(|name| &*name.text).collect::<Vec<_>>().join(", ")).filter(|list| !list.is_empty())
        }
        FieldValue::Choice(words) => Some((*words).to_owned()),
        FieldValue::Places { count, from } => Some(format!("{count} from {}", shown(from.base, from.unit))),
        FieldValue::Clock { hour, minute } => Some(format!("{hour}:{minute:02}")),
        _ => None,
    }
}

/// Records whether the calibration is as it was proven, where the proof says by what it may be judged.
pub(in crate::book::results) fn keep<'b>(
    recorder: &mut Recorder<'b>,
    setup: &EffectiveBlock<'b>,
    id: ItemId,
    causes: &[VoidCause],
) {
    let Some(proof) = setup.latest_proof() else {
        let why = "the sheet has no `proof`";
        return recorder.not_asked(&Spot::heading(setup, id), &[&result::CALIBRATION_HOLDS], why);
    };
    let spot = Spot { path: setup.path.clone(), ..Spot::heading(proof, id) };
    if proof.proven_with().is_none() && causes.is_empty() {
        let why = "the `proof` does not say what it was made with";
        return recorder.not_asked(&spot, &[&result::CALIBRATION_HOLDS], why);
    }
    let outcome = match causes {
        [] => Outcome::Words("unchanged since the proof".into()),
        causes => {
            let causes: Vec<&str> = causes.iter().map(|cause| &*cause.what).collect();
            Outcome::Void(format!("void: {}", causes.join("; ")).into())
        }
    };
    recorder.push(&spot, &result::CALIBRATION_HOLDS, outcome, None);
}
