//! The vocabulary is the only place that spells a name of the format.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use rotorbook::book::SourceFile;
use rotorbook::syntax::Kind;
use rotorbook::vocabulary::{self, KeySpec, ValueType};
use syn::visit::{self, Visit};

/// Literals that are equal to a name and are none: file or folder, words (`*` for all), and why.
const ALLOWED: &[(&str, &str, &str)] = &[
    ("src/units/", "*", "units and dimensions, below the vocabulary"),
    ("src/syntax/diagnose/", "*", "joiners and what people write for them, below the vocabulary"),
    ("src/book/formulas.rs", "*", "symbols of formulas"),
    ("src/card/carriers/svg.rs", "*", "attributes of SVG"),
    ("src/card/drawing/side_view.rs", "journals", "what a shape of the drawing is of"),
    ("src/card/cautions.rs", "putty", "a material that people name"),
    ("src/cli/list/mod.rs", "place", "where in a file an item is"),
    ("src/card/setup/prove.rs", "at", "the head of a column"),
    ("src/card/setup/run/reading.rs", "at", "the head of a column"),
    ("src/card/setup/run/check.rs", "yes", "a box to tick"),
    ("src/book/results/verdict/judged.rs", "within", "the verdict's word"),
    ("src/check/behind_value.rs", "on", "a joiner of values"),
    ("src/check/rules/channels_crossed.rs", "left", "what people call a channel"),
    ("src/check/rules/missing_unit.rs", "div", "a unit"),
    ("src/check/rules/missing_unit.rs", "mark", "a unit"),
    ("src/check/rules/unfinished_line.rs", "end", "a word of other languages that closes a block"),
    ("src/check/rules/unknown_kind.rs", "*", "what people write for a kind of block"),
    ("src/cli/diff/json.rs", "value", "a word of the JSON"),
    ("src/cli/report/github.rs", "*", "commands of the forge"),
    ("src/cli/show/", "*", "heads of a table"),
    ("src/starting/", "*", "names in a sheet to begin with"),
    ("src/cli/overview.rs", "*", "heads of a table"),
    ("src/cli/rehearse/text.rs", "*", "heads of a table, numbers as words"),
    ("src/cli/trend/text.rs", "*", "heads of a table"),
    ("src/asking/forms.rs", "on", "a joiner of values"),
    ("src/asking/runs.rs", "end", "how to go on"),
    ("src/disk/find.rs", "rotor", "the ending of sheets"),
    ("src/server/wire/input.rs", "method", "a member of the protocol's messages"),
    ("src/reference/blocks.rs", "measured", "a remark of the reference"),
];

/// Macros whose literals are words of other formats.
const OF_OTHER_FORMATS: [&str; 2] = ["json", "html"];

/// Folders that the vocabulary is declared with: the words of kinds belong to the grammar.
const DECLARES: [&str; 2] = ["src/vocabulary/", "src/syntax/kind.rs"];

/// Every name of a fact, a choice and a result.
fn names() -> BTreeSet<&'static str> {
    let mut names: BTreeSet<&str> = vocabulary::results().map(|result| result.name).collect();
    for kind in Kind::ALL {
        let block = vocabulary::block(kind);
        for key in block.keys.iter().chain(block.named_facts.as_ref().map(|named| &named.spec)) {
            names.insert(key.name);
            if let ValueType::Choice(choices) = key.value {
                names.extend(choices.words);
            }
        }
    }
    names
}

fn files_below(folder: &Path) -> Vec<PathBuf> {
    let walk = walkdir::WalkDir::new(folder).into_iter().filter_map(Result::ok).map(walkdir::DirEntry::into_path);
    walk.filter(|path| path.extension().is_some_and(|extension| extension == "rs")).collect()
}

/// The string literals of a file, but for its tests and for documentation; those inside macros too.
#[derive(Default)]
struct Literals(Vec<String>);

impl Literals {
    fn of_tokens(&mut self, tokens: proc_macro2::TokenStream) {
        for token in tokens {
            match token {
                proc_macro2::TokenTree::Group(group) => self.of_tokens(group.stream()),
                proc_macro2::TokenTree::Literal(literal) => {
                    if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                        self.0.push(text.value());
                    }
                }
                _ => {}
            }
        }
    }
}

impl<'a> Visit<'a> for Literals {
    fn visit_item_mod(&mut self, module: &'a syn::ItemMod) {
        if module.ident != "tests" {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_attribute(&mut self, _: &'a syn::Attribute) {}

    fn visit_lit_str(&mut self, literal: &'a syn::LitStr) {
        self.0.push(literal.value());
    }

    fn visit_macro(&mut self, called: &'a syn::Macro) {
        if !OF_OTHER_FORMATS.iter().any(|name| called.path.is_ident(name)) {
            self.of_tokens(called.tokens.clone());
        }
    }
}

#[test]
fn no_other_place_spells_a_name() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let names = names();
    let mut found: BTreeMap<(String, String), usize> = BTreeMap::new();
    for path in files_below(&root.join("src")) {
        let file = path.strip_prefix(root).unwrap().to_str().unwrap().replace('\\', "/");
        if DECLARES.iter().any(|declares| file.starts_with(declares)) || file.ends_with("tests.rs") {
            continue;
        }
        let mut literals = Literals::default();
        literals.visit_file(&syn::parse_file(&fs::read_to_string(&path).unwrap()).unwrap());
        for literal in literals.0.into_iter().filter(|literal| names.contains(&**literal)) {
            *found.entry((file.clone(), literal)).or_default() += 1;
        }
    }
    let allows = |(place, literal, _): &(&str, &str, &str), (file, words): &(String, String)| {
        file.starts_with(place) && (*literal == "*" || words == literal)
    };
    let not_allowed: Vec<_> =
        found.iter().filter(|(place, _)| !ALLOWED.iter().any(|allowed| allows(allowed, place))).collect();
    assert!(not_allowed.is_empty(), "name these by the vocabulary: {not_allowed:#?}");
    for allowed in ALLOWED {
        assert!(found.keys().any(|place| allows(allowed, place)), "no longer there: {allowed:?}");
    }
    assert!(ALLOWED.len() <= 30, "too many exceptions");
}

/// A sheet with one line in a block of this kind, in as many blocks as are needed around it.
fn sheet_with(kind: Kind, line: &str) -> String {
    let mut path = vec![kind];
    while !path[0].is_item() {
        let parent = Kind::ALL.into_iter().find(|parent| Kind::all_in(Some(*parent)).any(|inner| inner == path[0]));
        path.insert(0, parent.unwrap());
    }
    let headings =
        path.iter().map(|kind| if kind.takes_name() { format!("{kind} hub {{\n") } else { format!("{kind} {{\n") });
    format!("{}{line}\n{}", headings.collect::<String>(), "}\n".repeat(path.len()))
}

#[test]
fn the_example_of_each_fact_can_be_written() {
    for kind in Kind::ALL {
        let block = vocabulary::block(kind);
        let named = block.named_facts.as_ref().map(|named| ("hub".to_owned(), &named.spec));
        let head = |key: &KeySpec| match key.head_name {
            Some(_) => format!("{} hub", key.name),
            None => key.name.to_owned(),
        };
        let keys = block.keys.iter().map(|key| (head(key), key));
        for (head, key) in keys.chain(named) {
            let Some(example) = key.example() else { continue };
            let text = sheet_with(kind, &format!("{head}: {example}"));
            let source = SourceFile::read("sheet.rotor", text.as_str());
            assert!(
                source.errors.is_empty() && source.sheet.problems.is_empty(),
                "{:?}\n{text}",
                source.sheet.problems
            );
        }
    }
}
