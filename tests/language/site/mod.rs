//! The site: the pages of the repository as one book that mdBook builds. `.ci/book` has it written to a folder by
//! `ROTORBOOK_SITE=FOLDER cargo test --test language site`; without that it is written to one that is gone afterwards.

mod chapters;
mod links;
mod reference;

use std::fs;
use std::path::{Path, PathBuf};

use super::support::pages;

/// A page of the site.
struct Page {
    /// The file of the repository that it comes from, or a part of: relative links in it start there.
    from: String,
    /// Where it is below the sources of the site.
    to: String,
    title: String,
    text: String,
    /// How far in it is in the table of contents.
    level: usize,
}

/// The site before it is written.
#[derive(Default)]
struct Site {
    pages: Vec<Page>,
    /// Titles of parts in the table of contents, each with the number of the page that it precedes.
    parts: Vec<(usize, &'static str)>,
    /// What goes along as it is: a file on this machine, and where it is below the sources.
    files: Vec<(PathBuf, String)>,
    /// What was written below the sources while the pages were made.
    made: Vec<String>,
    /// Whether its cards are drawn; otherwise an empty file stands for each.
    is_drawn: bool,
}

impl Site {
    fn part(&mut self, title: &'static str) {
        self.parts.push((self.pages.len(), title));
    }

    fn page(&mut self, level: usize, from: &str, to: &str, text: String) {
        let title = links::plain(text.trim_start_matches("# ").lines().next().unwrap());
        self.pages.push(Page { from: from.to_owned(), to: to.to_owned(), title, text, level });
    }

    /// The same under another title in the table of contents.
    fn page_called(&mut self, title: &str, level: usize, from: &str, to: &str, text: String) {
        self.page(level, from, to, text);
        self.pages.last_mut().unwrap().title = title.to_owned();
    }

    /// A page that is a file of the repository.
    fn file(&mut self, level: usize, from: &str, to: &str) {
        self.page(level, from, to, read(from));
    }

    fn summary(&self) -> String {
        let mut summary = String::from("# Summary\n");
        for (number, page) in self.pages.iter().enumerate() {
            if let Some((_, title)) = self.parts.iter().find(|(at, _)| *at == number) {
                summary.push_str(&format!("\n# {title}\n\n"));
            }
            let bullet = if number == 0 { "" } else { "- " };
            summary.push_str(&format!("{}{bullet}[{}]({})\n", "  ".repeat(page.level), page.title, page.to));
        }
        summary
    }

    fn write(&mut self, folder: &Path) {
        let texts = links::rewritten(self);
        for (page, text) in self.pages.iter().zip(texts) {
            write(&folder.join(&page.to), &text);
        }
        write(&folder.join("SUMMARY.md"), &self.summary());
        for (from, to) in &self.files {
            let to = folder.join(to);
            fs::create_dir_all(to.parent().unwrap()).unwrap();
            fs::copy(from, &to).unwrap_or_else(|error| panic!("{from:?}: {error}"));
        }
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn write(path: &Path, text: &str) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text).unwrap();
}

/// All pages in the order of the table of contents. The cards go into the folder.
fn site(folder: &Path, is_drawn: bool) -> Site {
    let mut site = Site { is_drawn, ..Site::default() };
    site.file(0, "README.md", "index.md");
    site.part("How it is done");
    chapters::recipes(&mut site, folder);
    site.file(0, "examples/tern-quay/README.md", "example-book.md");
    chapters::editors(&mut site);
    site.part("Look it up");
    reference::pages(&mut site);
    chapters::commands(&mut site);
    chapters::diagnostics(&mut site);
    site.file(0, "grammar/json/README.md", "json.md");
    site.part("The project");
    site.file(0, "CHANGELOG.md", "changes.md");
    site.file(0, "DEVELOPERS.md", "developers.md");
    site
}

#[test]
fn every_link_of_the_site_leads_to_a_page_and_nothing_is_left_out() {
    let scratch = tempfile::tempdir().unwrap();
    let kept = std::env::var_os("ROTORBOOK_SITE").map(PathBuf::from);
    let folder = kept.as_deref().unwrap_or(scratch.path());
    // The commands that make the cards are run by the test of recipes.
    let mut site = site(folder, kept.is_some());
    site.write(folder);
    let pages = |below: &str| site.pages.iter().filter(|page| page.to.starts_with(below)).count();
    assert!(pages("diagnostics/") > rotorbook::check::rules().len());
    assert!(pages("recipes/") > 13);
    // Nothing of the reference is lost on the way.
    let parts: usize =
        site.pages.iter().filter(|page| page.to.starts_with("reference/")).map(|page| page.text.len()).sum();
    assert!(parts > read("grammar/README.md").len() * 8 / 10, "{parts}");
    for (from, to) in links::of_folder(folder) {
        assert!(folder.join(&from).parent().unwrap().join(&to).exists(), "{from} leads to {to}");
    }
}
