use crate::book::Book;
use crate::check::{Draft, Sink};
use crate::syntax::Kind;

/// Where the root of a book is looked for.
const ROOT: &str = "book.rotor";

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    if book.files().count() < 2 {
        return;
    }
    // A second shop is another matter, and said elsewhere.
    let Some(id) = book.items().find(|id| book.item(*id).kind == Kind::Shop) else { return };
    let path = &book.file(id.file).path;
    if **path == *ROOT {
        return;
    }
    let message = format!("the `shop` is in `{path}`, and the root of a book is marked by `{ROOT}`");
    sink.report(
        Draft::new(id.file, book.item(id).heading, message)
            .help(format!("move it into `{ROOT}` in the topmost folder of the book")),
    );
}
