use crate::book::{Book, ROOT_FILE};
use crate::check::{Draft, Sink};
use crate::syntax::Kind;

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    if book.files().count() < 2 {
        return;
    }
    // A second shop is another matter, and said elsewhere.
    let Some(id) = book.items().find(|id| book.item(*id).kind == Kind::Shop) else { return };
    let path = &book.file(id.file).path;
    if **path == *ROOT_FILE {
        return;
    }
    let message = format!("the `shop` is in `{path}`, and the root of a book is marked by `{ROOT_FILE}`");
    sink.report(
        Draft::new(id.file, book.item(id).heading, message)
            .help(format!("move it into `{ROOT_FILE}` in the topmost folder of the book")),
    );
}
