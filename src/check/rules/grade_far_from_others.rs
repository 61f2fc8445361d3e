use crate::book::{Book, ItemId};
use crate::check::{Draft, Sink, names};
use crate::sheet::{Field, FieldValue};
use crate::syntax::Kind;
use crate::text::Edit;
use crate::units::plainly;
use crate::vocabulary::tolerance;

/// Fewer grades than this say nothing of what a shop balances.
const ENOUGH: usize = 3;
/// Farther than two steps of the standard's series from the nearest other grade.
const FAR: f64 = 2.5 * 2.5 * 1.01;

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    let grades: Vec<(ItemId, &Field, f64)> = book.items().filter_map(|id| grade_of(book, id)).collect();
    if grades.len() <= ENOUGH {
        return;
    }
    // A book has few grades, however many rotors: how often each of them is there.
    let mut counts: Vec<(f64, usize)> = Vec::new();
    for (.., grade) in &grades {
        match counts.iter_mut().find(|(other, _)| other == grade) {
            Some((_, count)) => *count += 1,
            None => counts.push((*grade, 1)),
        }
    }
    let apart = |a: f64, b: f64| (a / b).max(b / a);
    for (id, field, grade) in &grades {
        let others = || counts.iter().filter(|(other, count)| other != grade || *count > 1).map(|(other, _)| *other);
        let nearest = others().min_by(|a, b| apart(*a, *grade).total_cmp(&apart(*b, *grade)));
        let Some(nearest) = nearest.filter(|nearest| apart(*nearest, *grade) > FAR) else { continue };
        let owner = names::called(book.item(*id));
        let own = plainly(*grade);
        let by_ten = others().find(|other| (apart(*other, *grade) / 10.0 - 1.0).abs() < 1e-9);
        let cause = match by_ten {
            Some(other) => format!("`G {own}` may be G {} with the decimal point misplaced", plainly(other)),
            None => format!("`G {own}` may be another grade than is meant"),
        };
        let message = format!("{cause}: of all other rotors of the book, the nearest is at G {}", plainly(nearest));
        let draft = Draft::new(id.file, field.value_span, message)
            .help(format!("compare it with the drawing of {owner}; if it is right, leave it"));
        sink.report(match by_ten {
            Some(other) => {
                let right = format!("G {}", plainly(other));
                draft.fix(format!("Write {right}"), Edit::replace(field.value_span, right))
            }
            None => draft,
        });
    }
}

fn grade_of(book: &Book, id: ItemId) -> Option<(ItemId, &Field, f64)> {
    let item = book.item(id);
    let field = item.inner(Kind::Tolerance).next().filter(|_| item.kind == Kind::Rotor)?.field(tolerance::GRADE)?;
    match field.value {
        FieldValue::Grade(grade) if grade > 0.0 => Some((id, field, grade)),
        _ => None,
    }
}
