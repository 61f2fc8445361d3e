use crate::book::{EffectiveBlock, LikesEnd, likes, touching};
use crate::check::facts::{holds, line_around};
use crate::check::{Draft, ItemContext, Sink, names, wording};
use crate::sheet::{Block, FactProblemKind};
use crate::syntax::Kind;
use crate::text::Edit;
use crate::vocabulary::{self, AnyFact, FORMAT, KeySpec, Need, result, rotor, run, setup, severity, shop};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    // Where `like` leads to no setup, what is missing here may be in that one.
    if likes(context.book(), context.id).end == LikesEnd::Whole {
        report(context, sink, context.effective());
    }
}

fn report(context: &ItemContext<'_, '_>, sink: &mut Sink, block: &EffectiveBlock<'_>) {
    // What is taken over whole is judged where it is written.
    let Some(own) = block.own else { return };
    let missing: Vec<&KeySpec> = needed(block.kind)
        .chain(calibration_masses(context, block.kind))
        .filter(|key| block.fields.iter().all(|field| field.field.key.name != key.name))
        .filter(|key| !is_hinted_at(context, own, key))
        .filter(|key| !(key.is(setup::BALANCING_SPEED) && context.setup().is_some_and(|setup| setup.is_on_stand())))
        .collect();
    if !missing.is_empty() {
        sink.report(say(context, own, &missing));
    }
    if block.kind == Kind::Rotor && lacks_mass(context, own) {
        sink.report(no_mass(context, own));
    }
    for inner in &block.blocks {
        report(context, sink, inner);
    }
}

/// The keys that must be in a block; the reason of a rank is missed by a rule of its own.
fn needed(kind: Kind) -> impl Iterator<Item = &'static KeySpec> {
    let keys = vocabulary::block(kind).keys.iter().filter(|key| key.need == Need::Must);
    keys.filter(move |key| kind != Kind::Severity || !key.is(severity::BECAUSE))
}

/// A run says whether calibration masses were on where there are any.
fn calibration_masses(context: &ItemContext<'_, '_>, kind: Kind) -> Option<&'static KeySpec> {
    let setup = context.record().filter(|_| kind == Kind::Run)?.setup.as_ref()?;
    vocabulary::block(kind).key(run::CALIBRATION_MASSES.words()).filter(|_| setup.has_calibration_masses())
}

fn say(context: &ItemContext<'_, '_>, block: &Block, missing: &[&KeySpec]) -> Draft {
    let keys: Vec<String> = missing.iter().map(|key| format!("`{}`", key.name)).collect();
    let called = called(context, block);
    let draft = context.draft(block.heading, format!("{called} lacks {}", wording::and_list(&keys)));
    match missing {
        [key] if key.is(shop::FORMAT) => draft
            .help(format!("write `format: {FORMAT}`, the version of the format that this program writes"))
            .fix(format!("Write `format: {FORMAT}`"), Edit::insert(block.body, format!("\n  format: {FORMAT}"))),
        [key] => draft.help(format!("write `{}: …`, {}", key.name, wording::expected_of(key))).offer_in(
            context.book(),
            (context.id.file, block),
            &[&format!("{}: ?", key.name)],
        ),
        several => {
            let each: Vec<String> =
                several.iter().map(|key| format!("`{}: …`, {}", key.name, wording::expected_of(key))).collect();
            let lines: Vec<String> = several.iter().map(|key| format!("{}: ?", key.name)).collect();
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            draft.help(format!("write {}", each.join("; "))).offer_in(context.book(), (context.id.file, block), &lines)
        }
    }
}

fn called(context: &ItemContext<'_, '_>, block: &Block) -> String {
    wording::shown(context.text(context.id.file, block.heading))
}

/// Whether nothing says what the rotor's mass is.
fn lacks_mass(context: &ItemContext<'_, '_>, rotor: &Block) -> bool {
    const SAYING: [AnyFact; 2] = [rotor::MASS.any(), rotor::WEIGHED.any()];
    let given = SAYING.iter().any(|fact| rotor.field(*fact).is_some())
        || rotor.inner(Kind::MadeOf).next().is_some()
        || rotor.pins.iter().any(|pin| result::MASS.answers_to(&pin.name));
    let mut keys =
        vocabulary::block(Kind::Rotor).keys.iter().filter(|key| SAYING.iter().any(|fact| key.name == fact.words()));
    let hinted_at = keys.any(|key| is_hinted_at(context, rotor, key));
    !given && !hinted_at && names::readable(context.book(), context.id)
}

fn no_mass(context: &ItemContext<'_, '_>, rotor: &Block) -> Draft {
    let message = format!("{} says nothing of its mass", called(context, rotor));
    let draft = context.draft(rotor.heading, message).help(
        "write `mass: 4.82 kg`, or what two scales show: `weighed: 2.73 kg at 0 mm, 2.09 kg at 164 mm`; an assembly \
         takes its mass from its `made of` blocks",
    );
    draft.offer(context, &["mass: ?"])
}

/// Whether a line of the block could not be read and is most likely the missing one, so that it is already spoken of.
fn is_hinted_at(context: &ItemContext<'_, '_>, block: &Block, key: &KeySpec) -> bool {
    let source = context.book().file(context.id.file);
    let problems = touching(&source.sheet.problems, |problem| problem.span, block.span);
    let misspelled = problems.iter().any(|problem| {
        let meant = match problem.kind {
            FactProblemKind::UnknownKey { suggestion, .. } => suggestion == Some(key.name),
            _ => false,
        };
        meant && holds(block.span, problem.span)
    });
    let errors = touching(&source.errors, |error| error.span, block.span);
    misspelled || errors.iter().any(|error| line_around(&source.text, error.span.start).contains(key.name))
}
