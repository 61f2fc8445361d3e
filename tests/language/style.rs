//! What users read is written by the style page of `DEVELOPERS.md`. Words that it replaces may become fewer, never more.

use std::fs;
use std::path::{Path, PathBuf};

use syn::visit::{self, Visit};

/// Ordinary English in which a replaced phrase is part of a longer one.
const ALLOWED: &[&str] = &["there is no ", "is no longer", "is no better", "is no more"];

/// What is not written, what is written instead, and how often it is still there.
const REPLACED: &[(&str, &str, usize)] = &[
    ("behind the", "after the", 0),
    ("stands behind", "follows", 0),
    ("stands before", "comes before", 0),
    ("stands in", "is in", 1),
    ("stands for", "means", 0),
    ("is no ", "is not a", 0),
    ("anew", "again", 3),
    ("reckon", "compute", 3),
    ("put together", "combined", 1),
    ("of one kind", "the same kind of", 0),
    ("lacks its", "has no", 0),
    ("has not a ", "has no", 0),
    ("the one that", "what", 3),
    ("lay out", "format", 0),
    ("laid out", "formatted", 0),
];

fn files_below(folder: &Path, extension: &str) -> Vec<PathBuf> {
    let walk = walkdir::WalkDir::new(folder).into_iter().filter_map(Result::ok).map(walkdir::DirEntry::into_path);
    walk.filter(|path| path.extension().is_some_and(|found| found == extension)).collect()
}

/// The string literals of the program, which hold all its messages; those in macros too.
#[derive(Default)]
struct Literals(String);

impl<'a> Visit<'a> for Literals {
    fn visit_item_mod(&mut self, module: &'a syn::ItemMod) {
        if module.ident != "tests" {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_attribute(&mut self, _: &'a syn::Attribute) {}

    fn visit_lit_str(&mut self, literal: &'a syn::LitStr) {
        self.0.push_str(&literal.value());
        self.0.push('\n');
    }

    fn visit_macro(&mut self, called: &'a syn::Macro) {
        self.0.push_str(&called.tokens.to_string());
        self.0.push('\n');
    }
}

/// All that users read: messages, pages, the README, the reference, the guides of editors.
fn read_by_users() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut literals = Literals::default();
    for path in files_below(&root.join("src"), "rs").iter().filter(|path| !path.ends_with("tests.rs")) {
        literals.visit_file(&syn::parse_file(&fs::read_to_string(path).unwrap()).unwrap());
    }
    let mut text = literals.0;
    let mut pages = files_below(&root.join("src"), "md");
    pages.extend(
        files_below(&root.join("editors"), "md")
            .into_iter()
            .filter(|path| !path.to_string_lossy().contains("node_modules")),
    );
    pages.extend([root.join("README.md"), root.join("grammar/README.md")]);
    for path in pages {
        text.push_str(&fs::read_to_string(path).unwrap());
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

#[test]
fn replaced_words_do_not_come_back() {
    let text = ALLOWED.iter().fold(read_by_users(), |text, allowed| text.replace(allowed, ""));
    let mut failures = Vec::new();
    for (phrase, instead, at_most) in REPLACED {
        let found = text.matches(phrase).count();
        if found > *at_most {
            failures.push(format!("`{phrase}` is written {found} times, at most {at_most}; write “{instead}”"));
        }
        if found < *at_most {
            failures.push(format!("`{phrase}` is written {found} times only: lower the {at_most} here"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// The guide has the same list.
#[test]
fn the_style_page_has_the_list() {
    let guide = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md")).unwrap();
    for (phrase, instead, _) in REPLACED {
        let row = format!("| {} | {instead} |", phrase.trim());
        assert!(guide.contains(&row), "DEVELOPERS.md lacks `{row}`");
    }
}
