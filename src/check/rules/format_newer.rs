use crate::book::{Book, FileId};
use crate::check::{Draft, Sink};
use crate::sheet::FieldValue;
use crate::text::Span;
use crate::units::plainly;
use crate::vocabulary::{FORMAT, shop};

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    let Some((file, span, format)) = newer(book) else { return };
    let message = format!("the book is in format {}, and this program reads up to format {FORMAT}", plainly(format));
    sink.report(
        Draft::new(file, span, message).help(
            "use a newer version of the program; nothing else is judged, for a word may have another meaning there",
        ),
    );
}

/// Where the book says that its format is newer, and which it is.
pub fn newer(book: &Book) -> Option<(FileId, Span, f64)> {
    let field = book.shop()?.field(shop::FORMAT)?;
    let FieldValue::Number(format) = field.value else { return None };
    let file = book.shop_id()?.file;
    (format > f64::from(FORMAT)).then_some((file, field.head.to(field.value_span), format))
}
