use crate::book::Book;
use crate::check::{Draft, Sink};
use crate::syntax::Kind;

pub(super) fn judge(book: &Book, sink: &mut Sink) {
    let mut shops = book.items().filter(|id| book.item(*id).kind == Kind::Shop);
    let Some(first) = shops.next() else { return };
    for id in shops {
        let shop = book.item(id);
        let counts = &book.file(first.file).path;
        let message = format!("the book has a `shop` in {counts} already, whose rules are the ones that count");
        sink.report(
            Draft::new(id.file, shop.heading, message).help("put what both say into the one in `book.rotor`").related(
                first.file,
                book.item(first).heading,
                "the shop that counts",
            ),
        );
    }
}
