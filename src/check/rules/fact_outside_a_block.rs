use crate::check::{Draft, Slip, wording};
use crate::syntax::Kind;
use crate::vocabulary::{self, shop};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let kinds: Vec<String> = Kind::ALL
        .into_iter()
        .filter(|kind| vocabulary::block(*kind).key(found).is_some() && found != shop::NOTE.words())
        .map(|kind| format!("`{kind}`"))
        .collect();
    let place = match kinds.len() {
        1..=4 => format!("it belongs between the braces of a block {}", wording::or_list(&kinds)),
        _ => "a fact belongs between the braces of a block, such as a `rotor` or a `setup`".to_owned(),
    };
    let earlier = slip.closed_before();
    let cause = if earlier { "; is there a `}` too many above?" } else { "" };
    slip.draft(format!("`{}` is outside every block", slip.shown())).help(place + cause)
}
