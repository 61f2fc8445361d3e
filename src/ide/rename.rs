//! Another name for a thing, everywhere in the book.

use super::names::{self, Mention, Named, Stands, What};
use super::{explain, markdown};
use crate::book::{Book, FileId, ItemId};
use crate::check::{self, FileEdit};
use crate::sheet::quote;
use crate::text::{Edit, Span};
use crate::vocabulary::Each;

/// A name that can be changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Renameable {
    /// The name without its quotes.
    pub span: Span,
    pub name: String,
}

/// Why a name cannot be changed so, in words for people.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Refused(pub String);

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The name at `offset`, if it can be changed.
pub fn prepare_rename(book: &Book, file: FileId, offset: u32) -> Result<Renameable, Refused> {
    let mention = renameable(book, file, offset)?;
    let Span { start, end } = mention.span;
    let span = if mention.quoted { Span::new(start + 1, end.max(start + 2) - 1) } else { mention.span };
    Ok(Renameable { span, name: mention.of.name.to_string() })
}

/// The edits that give what is named at `offset` another name everywhere. `name` may be written with quotes or without.
///
/// A name that several things bear is changed at a heading alone: that is how they are told apart again.
pub fn rename(book: &Book, file: FileId, offset: u32, name: &str) -> Result<Vec<FileEdit>, Refused> {
    let mention = renameable(book, file, offset)?;
    let name = wanted(name)?;
    let several = names::descriptions(book, &mention.of).len() > 1;
    if several && mention.described.is_none() {
        let (what, old) = (noun(mention.of.what), markdown::code(&mention.of.name));
        return Err(Refused(format!("several {what}s are called {old}: rename one of them at its heading first")));
    }
    let all = if several { vec![mention.of.clone()] } else { names::with_linked(book, &mention.of) };
    for of in &all {
        not_taken(book, of, &name)?;
    }
    let found = match several {
        true => vec![(item_of(book, file, offset), mention)],
        false => all.iter().flat_map(|of| names::everywhere(book, of)).collect(),
    };
    let edit = |(item, mention): (ItemId, Mention)| FileEdit {
        file: item.file,
        edit: Edit::replace(mention.span, written(&name, &mention)),
    };
    Ok(found.into_iter().map(edit).collect())
}

fn item_of(book: &Book, file: FileId, offset: u32) -> ItemId {
    let items = &book.file(file).sheet.items;
    let index = items.iter().position(|item| super::place::covers(item.span, offset)).unwrap_or(0);
    ItemId { file, index: index as u32 }
}

fn renameable(book: &Book, file: FileId, offset: u32) -> Result<Mention, Refused> {
    let mention = names::mention_at(book, file, offset);
    let mention = mention.ok_or_else(|| Refused("there is no name here that could be changed".to_owned()))?;
    if mention.of.what == What::Code {
        return Err(Refused("the codes of diagnostics are the program's own".to_owned()));
    }
    if names::descriptions(book, &mention.of).is_empty() {
        let (what, name) = (noun(mention.of.what), markdown::code(&mention.of.name));
        return Err(Refused(format!("the book has no {what} {name}")));
    }
    Ok(mention)
}

/// The name that was asked for, without its quotes.
fn wanted(name: &str) -> Result<String, Refused> {
    let name = name.trim();
    let inside = name.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).filter(|_| name.len() > 1);
    let name = inside.map_or_else(|| name.to_owned(), |inside| inside.replace("\"\"", "\""));
    let name = name.trim().to_owned();
    match check::fault_of_name(&name) {
        Some(fault) => Err(Refused(fault)),
        None => Ok(name),
    }
}

/// Refuses a name that something of the same kind bears already.
fn not_taken(book: &Book, of: &Named, name: &str) -> Result<(), Refused> {
    if *of.name == *name {
        return Ok(());
    }
    let other = Named { name: name.into(), ..of.clone() };
    if names::descriptions(book, &other).is_empty() {
        return Ok(());
    }
    let within = of.owner.map(|owner| explain::called(book, owner));
    let within = within.map_or_else(|| "the book".to_owned(), |owner| format!("the {owner}"));
    Err(Refused(format!("{within} has a {} {} already", noun(of.what), markdown::code(name))))
}

fn noun(what: What) -> &'static str {
    match what {
        What::Block(kind) => kind.words(),
        What::Channel => Each::Channel.words(),
        What::Code => "diagnostic",
    }
}

/// The name as it may stand where the old one stood: a quoted one keeps its quotes, a bare one gets them when it must.
fn written(name: &str, mention: &Mention) -> String {
    match mention.stands {
        Stands::Within => name.replace('"', "\"\""),
        _ if mention.quoted => check::quoted(name),
        Stands::Heading => quote::in_heading(name),
        Stands::Head(block) => quote::as_head(block, name),
        Stands::BehindKey(block, key) => quote::after_key(block, key, name),
        Stands::Value => quote::as_value(name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn renamed(text: &str, name: &str) -> String {
        let fixture = fixture(text);
        match rename(&fixture.book, fixture.file, fixture.offset, name) {
            Ok(edits) => fixture.changes(&edits),
            Err(refused) => refused.to_string(),
        }
    }

    #[test]
    fn a_rotor_gets_a_name_that_needs_quotes() {
        let text = format!("{SHOP}{SETUP}}}\n").replace("rotor: wheel", "rotor: whe$0el");
        let expected = "#! rotors/wheel.rotor\n-rotor wheel {\n+rotor \"wheel 400\" {\n#! setups/wheel.rotor\n-  rotor: wheel\n+  rotor: \"wheel 400\"\n";
        assert_eq!(renamed(&text, "wheel 400"), expected);
        assert_eq!(renamed(&text, "\"wheel 400\""), expected);
        let grade = renamed(&text, "G6");
        assert!(grade.contains("+rotor G6 {") && grade.contains("+  rotor: \"G6\""), "{grade}");
    }

    #[test]
    fn a_plane_is_renamed_in_every_sheet_of_its_rotor_alone() {
        let rotor = SHOP.replace("plane hub", "plane hu$0b").replace("total: 80 g·mm", "hub: 40 g·mm");
        let setups = "  calibrate hub {\n  }\n}\n#! setups/x.rotor\nsetup x {\n  like: \"wheel on the soft bench\"\n  leave out: \"calibrate hub\", \"belt runs on\"\n}\n";
        let other = "#! rotors/other.rotor\nrotor other {\n  plane hub {\n    at: 3 mm\n  }\n}\n";
        let text = format!("{rotor}{other}{SETUP}{setups}");
        let expected = "\
#! rotors/wheel.rotor
-  plane hub {
+  plane total {
-    hub: 40 g·mm
+    \"total\": 40 g·mm
#! setups/wheel.rotor
-  channel left: hub
+  channel left: total
-  calibrate hub {
+  calibrate total {
#! setups/x.rotor
-  leave out: \"calibrate hub\", \"belt runs on\"
+  leave out: \"calibrate total\", \"belt runs on\"
";
        assert_eq!(renamed(&text, "total"), expected);
    }

    #[test]
    fn a_proof_is_renamed_in_the_records_that_rest_on_it() {
        let proof = "  proof fi$0rst {\n    date: 2026-04-14\n  }\n}\n";
        let records = "#! records/r.rotor\nrecord r {\n  setup: \"wheel on the soft bench\"\n  proof: first\n}\nrecord s {\n  \
                       setup: other\n  proof: first\n}\n";
        let expected = "\
#! records/r.rotor
-  proof: first
+  proof: \"2026-04-14\"
#! setups/wheel.rotor
-  proof first {
+  proof \"2026-04-14\" {
";
        assert_eq!(renamed(&format!("{SHOP}{SETUP}{proof}{records}"), "2026-04-14"), expected);
    }

    #[test]
    fn channels_controls_and_instruments() {
        let lines = "  settings {\n    dial: 40\n  }\n  trial t {\n    reading left: 3 div\n    instrument: \"fine scale\"\n  }\n}\n";
        let text = format!("{SHOP}{SETUP}{lines}");
        let channel = renamed(&text.replace("reading left", "reading le$0ft"), "left side");
        for line in
            ["+  channels: \"left side\", right", "+  channel \"left side\": hub", "+    reading \"left side\": 3 div"]
        {
            assert!(channel.contains(line), "{channel}");
        }
        let control = renamed(&text.replace("    dial: 40", "    di$0al: 40"), "note");
        assert!(control.contains("+  control note {") && control.contains("+    \"note\": 40"), "{control}");
        let instrument = renamed(&text.replace("\"fine scale\"\n", "\"fi$0ne scale\"\n"), "balance");
        assert!(instrument.contains("+  instrument \"balance\" {"), "{instrument}");
    }

    #[test]
    fn a_plane_that_another_rotor_shares_through_like_goes_with_it() {
        let other = "#! other.rotor\nrotor other {\n  plane hub {\n    at: 3 mm\n  }\n}\nsetup x {\n  like: \"wheel on the soft bench\"\n  rotor: other\n}\n";
        let text = format!("{}{SETUP}}}\n{other}", SHOP.replace("plane hub", "plane h$0ub"));
        let found = renamed(&text, "rear");
        for line in ["#! other.rotor\n-  plane hub {\n+  plane rear {", "+  channel left: rear"] {
            assert!(found.contains(line), "{found}");
        }
    }

    #[test]
    fn the_place_to_type_a_name_is_within_its_quotes() {
        let fixture = fixture("rotor \"a $0b\" {\n}\n");
        let found = prepare_rename(&fixture.book, fixture.file, fixture.offset).unwrap();
        assert_eq!((found.span.of(fixture.text()), &*found.name), ("a b", "a b"));
    }

    #[test]
    fn what_cannot_be_is_refused_and_says_why() {
        let rotors = "rotor a$0 {\n}\nrotor b {\n}\nsetup s {\n  rotor: nothing\n}\n";
        assert_eq!(renamed(rotors, "b"), "the book has a rotor `b` already");
        assert_eq!(renamed(rotors, "  "), "an item needs a name that can be read");
        assert_eq!(renamed(rotors, "x\u{202e}"), "no name can hold the character U+202E");
        let nothing = rotors.replace("$0", "").replace("nothing", "noth$0ing");
        assert_eq!(renamed(&nothing, "b"), "the book has no rotor `nothing`");
        let number = "rotor a {\n  mass: 3$0 kg\n}\n";
        assert_eq!(renamed(number, "b"), "there is no name here that could be changed");
        let twice = "rotor a {\n}\nrotor a {\n}\nsetup s {\n  rotor: a$0\n}\n";
        assert_eq!(renamed(twice, "b"), "several rotors are called `a`: rename one of them at its heading first");
        let heading = "rotor a {\n}\nrotor a$0 {\n}\nsetup s {\n  rotor: a\n}\n";
        assert_eq!(renamed(heading, "b"), "#! sheet.rotor\n-rotor a {\n+rotor b {\n");
    }
}
