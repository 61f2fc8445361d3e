use crate::vocabulary::machine;
use crate::check::amounts::choice;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "works-against-supports",
    severity: Severity::Warning,
    title: "A machine works where its kind of supports does not",
    page: include_str!("works_against_supports.md"),
    run: Run::Item(&[Kind::Machine], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let block = context.effective();
    let (Some(supports), Some(works), Some(field)) =
        (choice(block, "supports"), choice(block, "works"), block.field(machine::WORKS))
    else {
        return;
    };
    let (where_it_should, because) = match (supports, works) {
        ("soft", "below resonance") => ("above resonance or at it", "soft supports show how far they move"),
        ("hard", "above resonance" | "at resonance") => ("below resonance", "hard supports show the force on them"),
        _ => return,
    };
    let message = format!("the supports are {supports}, but the machine is said to work {works}");
    let draft = context.beside(field, message).help(format!("{because}, which holds {where_it_should}"));
    sink.report(match block.field(machine::SUPPORTS) {
        Some(supports) => draft.about(supports, "the supports"),
        None => draft,
    });
}
