use crate::book::EffectiveBlock;
use crate::check::{ItemContext, Sink, rotors, wording};
use crate::syntax::Kind;
use crate::vocabulary::{setup, tolerance};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    channels(context, sink);
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    if !rotors::is_read_whole(context) {
        return;
    }
    // A rule for the whole rotor gives the others their share.
    let of_the_whole =
        [tolerance::GRADE.any(), tolerance::TOTAL.any(), tolerance::RULE.any(), tolerance::SCALED_FROM.any()];
    let similar = tolerance.inner(Kind::SimilarPart).next().is_some();
    if similar || of_the_whole.iter().any(|fact| tolerance.field(*fact).is_some()) {
        return;
    }
    one_bearing(context, tolerance, sink);
    let named: Vec<&str> = tolerance.named(tolerance::PLANE).map(|(name, _)| &*name.text).collect();
    let sharing = rotor.planes.iter().filter(|plane| plane.shares_tolerance);
    let without: Vec<String> =
        sharing.filter(|plane| !named.contains(&plane.name)).map(|plane| format!("`{}`", plane.name)).collect();
    let Some((_, last)) = tolerance.named(tolerance::PLANE).last().filter(|_| !without.is_empty()) else { return };
    let has = if without.len() == 1 { "has" } else { "have" };
    let message =
        format!("{} {has} no tolerance, and nothing is stated for the whole rotor", wording::and_list(&without));
    let first = without[0].trim_matches('`');
    let draft = context.draft(last.field.head, message).help(format!(
        "add a line such as `{first}: 40 g·mm`, or state `grade` or \
                `total`"
    ));
    let lines: Vec<String> =
        without.iter().map(|plane| format!("{}: ?", wording::name_as_written(plane.trim_matches('`')))).collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    sink.report(draft.offer_in(context.book(), tolerance.place(), &lines));
}

fn one_bearing(context: &ItemContext<'_, '_>, tolerance: &EffectiveBlock<'_>, sink: &mut Sink) {
    let (a, b) = (tolerance.field(tolerance::AT_BEARING_A), tolerance.field(tolerance::AT_BEARING_B));
    let (field, missing) = match (a, b) {
        (Some(field), None) => (field, tolerance::AT_BEARING_B),
        (None, Some(field)) => (field, tolerance::AT_BEARING_A),
        _ => return,
    };
    let message = format!(
        "`{}` has no `{missing}` beside it, and nothing is stated for the whole \
        rotor",
        field.field.key.name
    );
    let draft = context.draft(field.field.head, message).help(format!("add `{missing}`, or state `grade` or `total`"));
    let line = format!("{missing}: ?");
    sink.report(draft.offer_in(context.book(), tolerance.place(), &[&line]));
}

/// Channels of a machine of which some have a limit, and some none.
fn channels(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(of_setup) = context.setup() else { return };
    let all = of_setup.machine.as_ref().map_or(&[][..], |machine| &machine.channels);
    let has_limit = |channel: &&&str| of_setup.vibration_limits.iter().any(|limit| *limit.channel.text == ***channel);
    let without: Vec<String> = all.iter().filter(|channel| !has_limit(channel)).map(|one| format!("`{one}`")).collect();
    let fields = of_setup.block.named(setup::VIBRATION_LIMIT).map(|(_, field)| field);
    let Some(last) = fields.last().filter(|_| !without.is_empty()) else { return };
    let has = if without.len() == 1 { "has" } else { "have" };
    let message = format!(
        "{} {has} no `{}`, and what it reads is not judged",
        wording::and_list(&without),
        setup::VIBRATION_LIMIT
    );
    let lines: Vec<String> = all
        .iter()
        .filter(|channel| !has_limit(channel))
        .map(|channel| format!("{} {}: ?", setup::VIBRATION_LIMIT, wording::name_as_written(channel)))
        .collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let draft = context.beside(last, message).help("state a limit for each channel that is read");
    sink.report(draft.offer_in(context.book(), of_setup.block.place(), &lines));
}
