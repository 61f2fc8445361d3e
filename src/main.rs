use std::sync::Arc;
fn main() {
    let files: Vec<_> = std::env::args()
        .skip(1)
        .map(|p| Arc::new(rotorbook::book::SourceFile::read(p.clone(), std::fs::read_to_string(&p).unwrap())))
        .collect();
    let book = rotorbook::book::Book::new(files);
    for (_, f) in book.files() {
        for e in &f.errors {
            println!("{}: {:?} {:?}", f.path, e.kind, e.span.of(&f.text));
        }
        for e in &f.sheet.problems {
            println!("{}: {:?} {:?}", f.path, e.kind, e.span.of(&f.text));
        }
    }
    let computing = rotorbook::book::Computing::new(&book);
    for id in book.items() {
        let c = computing.item(id);
        println!("== {} {}", book.item(id).kind, book.item(id).name_text());
        for e in c.entries() {
            let p: Vec<_> = e.path.blocks().collect();
            print!("  {:?} {} = {}", p, e.name(), rotorbook::book::text_of(&book, e));
            if let Some(d) = &e.derivation {
                print!("   [{}] {}", d.formula.text, rotorbook::book::formula_with_numbers(d).unwrap_or_default());
            }
            println!();
        }
    }
    for d in rotorbook::check::check(&book) {
        println!("{:?} {}: {}", d.severity, d.rule.code, d.message);
    }
}
