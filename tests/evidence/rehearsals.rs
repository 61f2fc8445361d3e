//! Setups rehearsed: every sheet that there is, or the reason why it cannot be; the same seed, the same rotors.

use rotorbook::book::{Book, Computing, ItemId};
use rotorbook::rehearsal::{Order, Plan, Rehearsal, rehearse};
use rotorbook::syntax::Kind;

use crate::shelf;

const ORDER: Order = Order { rotors: 16, seed: 4, mountings: 2 };

fn rehearsed(book: &Book, id: ItemId, order: Order) -> Result<Rehearsal, String> {
    let plan = Plan::of(&Computing::without_explanations(book), id, None).map_err(|why| why.0)?;
    Ok(rehearse(&plan, book, order, &|_| ()))
}

fn setups(book: &Book) -> Vec<ItemId> {
    book.items().filter(|id| book.item(*id).kind == Kind::Setup).collect()
}

#[test]
fn released_sheets_and_ten_others_are_rehearsed() {
    let (mut released, mut others, mut refused) = (0, 0, Vec::new());
    for (name, book) in shelf::books() {
        let computing = Computing::without_explanations(&book);
        for id in setups(&book) {
            let setup = computing.setup(id).unwrap();
            let title = format!("{name}: {}", book.item(id).name_text());
            let is_released = setup.is_released() && name == "tern-quay";
            match rehearsed(&book, id, ORDER) {
                Err(why) => {
                    assert!(!is_released, "{title} is released and cannot be rehearsed: {why}");
                    refused.push(format!("{title}: {why}"));
                }
                Ok(rehearsal) => {
                    assert_eq!(rehearsal.endings.len(), 16, "{title}");
                    let counted: usize = rehearsal.rows().iter().map(|row| row.rotors).sum();
                    assert_eq!(counted, 16, "{title}");
                    assert!(rehearsal.wrongly() <= 2, "{title}: {} are called within and are not", rehearsal.wrongly());
                    if is_released {
                        released += 1;
                        let within = rehearsal.within_after(5);
                        assert!(within >= 0.75, "{title}: only {within} are within in the end");
                    } else {
                        others += 1;
                    }
                }
            }
        }
    }
    println!("{}", refused.join("\n"));
    assert_eq!(released, 5);
    assert!(others >= 10, "only {others} others: {refused:#?}");
}

#[test]
fn a_seed_draws_the_same_rotors_again() {
    let (_, book) = shelf::books().swap_remove(0);
    let id = book.find(Kind::Setup, "fan wheel 315 on the soft bench").unwrap();
    let over = |order| {
        let rehearsal = rehearsed(&book, id, order).unwrap();
        rehearsal.endings.iter().map(|one| one.over).collect::<Vec<f64>>()
    };
    assert_eq!(over(ORDER), over(ORDER));
    assert_ne!(over(ORDER), over(Order { seed: 5, ..ORDER }));
}
