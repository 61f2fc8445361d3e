//! From a name to what it names.

use super::names::{self, Mention};
use crate::book::{Book, FileId};
use crate::text::Span;

/// Where a name leads.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Definition {
    /// The name that was asked about.
    pub origin: Span,
    /// More than one where several things bear the name.
    pub targets: Vec<Target>,
}

/// What a name leads to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Target {
    pub file: FileId,
    /// The whole block or fact.
    pub whole: Span,
    /// The name in it.
    pub name: Span,
}

/// What the name at `offset` names; `None` where no name stands or it leads nowhere.
pub fn definition(book: &Book, file: FileId, offset: u32) -> Option<Definition> {
    let mention = names::mention_at(book, file, offset)?;
    let targets: Vec<Target> = targets(book, &mention);
    (!targets.is_empty()).then_some(Definition { origin: mention.span, targets })
}

fn targets(book: &Book, mention: &Mention) -> Vec<Target> {
    let described = names::descriptions(book, &mention.of).into_iter();
    let target = described
        .filter_map(|(item, found)| Some(Target { file: item.file, whole: found.described?, name: found.span }));
    target.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{SETUP, SHOP, fixture, underlined};

    /// Where the name under the cursor leads: the path and the line with the name underlined.
    fn leads(text: &str) -> String {
        let fixture = fixture(text);
        let Some(found) = definition(&fixture.book, fixture.file, fixture.offset) else {
            return "nowhere".to_owned();
        };
        let targets = found.targets.iter().map(|target| {
            let source = fixture.book.file(target.file);
            format!("{}\n{}", source.path, underlined(&source.text, target.name))
        });
        targets.collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn a_reference_leads_to_its_item() {
        let text = format!("{SHOP}#! a.rotor\nsetup s {{\n  rotor: wh$0eel\n}}\n");
        assert_eq!(leads(&text), "rotors/wheel.rotor\nrotor wheel {\n      ^^^^^");
        let text = format!("{SHOP}#! a.rotor\nsetup s {{\n  machine: \"soft bench\"$0\n}}\n");
        assert_eq!(leads(&text), "machines/bench.rotor\nmachine \"soft bench\" {\n        ^^^^^^^^^^^^");
    }

    #[test]
    fn names_within_items_lead_into_them() {
        let setup = |line: &str| format!("{SHOP}{SETUP}  {line}\n}}\n");
        let hub = "rotors/wheel.rotor\n  plane hub {\n        ^^^";
        assert_eq!(leads(&setup("calibrate h$0ub {\n  }")), hub);
        let scale = "machines/bench.rotor\n    scale fine {\n          ^^^^";
        assert_eq!(leads(&setup("pre-balance to: 3 mark on f$0ine")), scale);
        let control = "machines/bench.rotor\n  control \"needle side\" {\n          ^^^^^^^^^^^^^";
        assert_eq!(leads(&setup("settings {\n    \"ne$0edle side\": left\n  }")), control);
        let channel = "machines/bench.rotor\n  channels: left, right\n                  ^^^^^";
        assert_eq!(leads(&setup("trial t {\n    reading ri$0ght: 3 div\n  }")), channel);
        let instrument = "book.rotor\n  instrument \"fine scale\" {\n             ^^^^^^^^^^^^";
        assert_eq!(leads(&setup("calibrate hub {\n    instrument: \"fine $0scale\"\n  }")), instrument);
    }

    #[test]
    fn an_unknown_name_and_a_number_lead_nowhere() {
        assert_eq!(leads(&format!("{SHOP}#! a.rotor\nsetup s {{\n  rotor: wh$0eeel\n}}\n")), "nowhere");
        assert_eq!(leads(&format!("{SHOP}#! a.rotor\nsetup s {{\n  belt runs on: 6$00 mm\n}}\n")), "nowhere");
    }

    #[test]
    fn in_a_half_typed_sheet_names_still_lead() {
        let text = format!("{SHOP}#! a.rotor\nsetup s {{\n  rotor: wheel\n  machi\n  channel left: h$0ub\n");
        assert_eq!(leads(&text), "rotors/wheel.rotor\n  plane hub {\n        ^^^");
    }

    #[test]
    fn a_head_to_be_left_out_leads_to_its_plane() {
        let other =
            "#! b.rotor\nsetup b {\n  like: \"wheel on the soft bench\"\n  leave out: \"calibrate outer $0rim\"\n}\n";
        let found = leads(&format!("{SHOP}{SETUP}}}\n{other}"));
        assert_eq!(found, "rotors/wheel.rotor\n  plane \"outer rim\" {\n        ^^^^^^^^^^^");
    }
}
