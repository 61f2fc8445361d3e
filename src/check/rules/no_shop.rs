use crate::book::Book;
use crate::check::{Draft, Sink};

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    let count = book.files().count();
    let Some((file, item)) = book.items().next().map(|id| (id.file, book.item(id))) else { return };
    if count < 2 || book.shop().is_some() {
        return;
    }
    let message = format!("none of the {count} files of this book has a `shop`");
    sink.report(Draft::new(file, item.heading, message).help(
        "write a file `book.rotor` at the root of the book, with a `shop` that states `format: 1`: it says which format \
         the book is in, and holds the shop's limits and instruments",
    ));
}
