use crate::book::{RotorResults, ToleranceRule, Val, effective};
use crate::check::{ItemContext, Sink, factors, rotors};
use crate::sheet::{FieldValue, Stated};
use crate::text::Span;
use crate::units::{Speed, Typed, Unbalance};
use crate::vocabulary::{setup, tolerance};

/// A stated amount, what it should be, and how both are called.
struct Pair<'t> {
    span: Span,
    stated: Stated,
    what: &'t str,
    expected: Unbalance,
    by: &'t str,
}

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    let Some((rule, reference)) = rotor.rules.iter().find(|(rule, _)| is_worked_out(*rule)) else { return };
    let Some(whole) = reference.get() else { return };
    let by = format!("`{}`", rule.words());
    let mut pairs = Vec::new();
    if let Some((field, stated)) = rotors::quantity(tolerance, tolerance::TOTAL) {
        pairs.push(Pair {
            span: field.field.value_span,
            stated: *stated,
            what: tolerance::TOTAL.words(),
            expected: whole,
            by: &by,
        });
    }
    // What the parts of the rotor get can only be told while the same rule governs.
    if rotor.governing == Some(*rule) {
        let shares = [tolerance::AT_BEARING_A, tolerance::AT_BEARING_B].into_iter().zip(&rotor.shared_at_bearings);
        pairs.extend(shares.filter_map(|(fact, share)| {
            let (field, stated) = rotors::quantity(tolerance, fact)?;
            let (span, expected) = (field.field.value_span, share.get()?);
            Some(Pair { span, stated: *stated, what: fact.words(), expected, by: "the bearing's share" })
        }));
        pairs.extend(of_planes(rotor));
    }
    for pair in pairs {
        say(context, rotor, &pair, sink);
    }
}

/// The rules whose number comes out of mass and speed, so that a stated one can be held against it.
fn is_worked_out(rule: ToleranceRule) -> bool {
    use ToleranceRule as R;
    matches!(rule, R::Grade | R::JournalLoad | R::WholeWeight | R::ScaledFrom | R::SimilarPart)
}

fn of_planes<'r>(rotor: &'r RotorResults<'_>) -> impl Iterator<Item = Pair<'r>> {
    let tolerance = rotor.tolerance_block();
    let named = tolerance.into_iter().flat_map(|block| block.named(tolerance::PLANE));
    named.filter_map(|(name, field)| {
        let plane = rotor.plane(&name.text)?;
        let expected = plane.shared_tolerance.as_ref().and_then(Val::get)?;
        let stated = *rotors::stated(field.field)?;
        Some(Pair { span: field.field.value_span, stated, what: plane.name, expected, by: "the plane's share" })
    })
}

fn say(context: &ItemContext<'_, '_>, rotor: &RotorResults<'_>, pair: &Pair<'_>, sink: &mut Sink) {
    let (found, expected) = (pair.stated.base, pair.expected.base());
    let coarseness = pair.stated.half_step / found;
    let unit = pair.stated.unit;
    let (written, should) = (context.text(context.id.file, pair.span), rotors::in_unit(pair.expected, unit));
    let compared = format!("`{}` of {written}", pair.what);
    if let Some((setup, speed)) = at_balancing_speed(context, rotor, found / expected, coarseness) {
        let message = format!(
            "{compared} is what {} comes to at the balancing speed of {speed}; at the highest service speed it \
                is {should}",
            pair.by
        );
        let help = "a tolerance is set by the highest speed in use, never by the speed of the balancing machine";
        let place = context.book().item(setup).heading;
        let draft = context.draft(pair.span, message).help(help);
        sink.report(draft.related(setup.file, place, "balanced at that speed here"));
        return;
    }
    let Some(factor) = factors::familiar(found, expected, coarseness) else { return };
    let message = if found > expected {
        format!("{compared} is {} times the {should} that {} comes to", factor.written, pair.by)
    } else {
        format!("{compared} is the {should} that {} comes to, divided by {}", pair.by, factor.written)
    };
    let help = format!("the usual cause: {}; check the number against its source", factor.slip);
    sink.report(context.draft(pair.span, message).help(help));
}

/// The setup of this rotor at whose balancing speed the stated number would be right.
fn at_balancing_speed(
    context: &ItemContext<'_, '_>,
    rotor: &RotorResults<'_>,
    ratio: f64,
    coarseness: f64,
) -> Option<(crate::book::ItemId, String)> {
    let service = rotor.service_speed.get()?;
    let book = context.book();
    rotors::setups_of(book, rotor.id).iter().copied().find_map(|setup| {
        let field = effective(book, setup).0.field(setup::BALANCING_SPEED)?;
        let FieldValue::Quantity(stated) = &field.field.value else { return None };
        let expected = (service / Speed::from_base(stated.base)).value();
        let told_apart = !factors::near(expected, 0.05);
        (told_apart && coarseness < 0.02 && factors::near(ratio / expected, coarseness))
            .then(|| (setup, rotors::given(Speed::from_base(stated.base), stated.unit)))
    })
}
