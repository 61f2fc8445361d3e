//! Which files of a tree belong to which book, by the rules that hold on disk.

use std::collections::BTreeSet;

use crate::disk::BOOK;

/// A `.rotor` file of a revision or of the index.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct GitFile {
    /// From the top of the tree, with `/`.
    pub path: String,
    /// The object that holds its bytes.
    pub object: String,
}

impl GitFile {
    /// `None` for what is no sheet: links, other repositories, other files.
    pub(super) fn of(mode: &str, object: &str, path: &[u8]) -> Option<Self> {
        let is_file = mode.starts_with("100");
        let name = path.rsplit(|byte| *byte == b'/').next()?;
        let is_rotor = name.len() > ".rotor".len() && name.ends_with(b".rotor");
        (is_file && is_rotor)
            .then(|| Self { path: String::from_utf8_lossy(path).into_owned(), object: object.to_owned() })
    }
}

/// All sheets of a tree.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Listing {
    files: Vec<GitFile>,
}

impl FromIterator<GitFile> for Listing {
    fn from_iter<I: IntoIterator<Item = GitFile>>(files: I) -> Self {
        let mut files: Vec<GitFile> = files.into_iter().collect();
        files.sort();
        Self { files }
    }
}

impl Listing {
    pub fn files(&self) -> &[GitFile] {
        &self.files
    }

    /// The folders that hold a `book.rotor`, from the top of the tree; the top itself is empty.
    pub fn roots(&self) -> BTreeSet<&str> {
        let folders = self.files.iter().filter_map(|file| match file.path.strip_suffix(BOOK)? {
            "" => Some(""),
            folder => folder.strip_suffix('/'),
        });
        folders.filter(|folder| !hidden(folder)).collect()
    }

    /// The files of the book in a folder, each with its path in the book: hidden folders are skipped, and a folder with
    /// its own `book.rotor` ends it.
    pub fn book(&self, root: &str) -> Vec<(&str, &GitFile)> {
        let roots = self.roots();
        let inside = |file: &'_ GitFile| below(root, &file.path).map(|range| range.to_owned());
        let belongs = |path: &str| {
            let folders = path.rsplit_once('/').map_or("", |(folders, _)| folders);
            let own = ancestors(folders).map(|folder| joined(root, folder)).any(|folder| roots.contains(&*folder));
            !hidden(folders) && !own
        };
        let files = self.files.iter().filter(|file| inside(file).is_some_and(|path| belongs(&path)));
        files.filter_map(|file| Some((below(root, &file.path)?, file))).collect()
    }
}

/// The folders of the books of a tree that lie in a folder, or the one around it.
pub fn books_in(listing: &Listing, folder: &str) -> Vec<String> {
    let roots = listing.roots();
    let around = std::iter::once(folder).chain(ancestors_of(folder)).find(|folder| roots.contains(folder));
    if let Some(around) = around {
        return vec![around.to_owned()];
    }
    roots.into_iter().filter(|root| below(folder, root).is_some()).map(str::to_owned).collect()
}

/// A path below a folder, as seen from there.
fn below<'p>(folder: &str, path: &'p str) -> Option<&'p str> {
    if folder.is_empty() {
        return Some(path);
    }
    path.strip_prefix(folder)?.strip_prefix('/')
}

fn joined(root: &str, folder: &str) -> String {
    if root.is_empty() { folder.to_owned() } else { format!("{root}/{folder}") }
}

/// A folder and those around it, without the top.
fn ancestors(folder: &str) -> impl Iterator<Item = &str> {
    std::iter::successors((!folder.is_empty()).then_some(folder), |folder| Some(folder.rsplit_once('/')?.0))
}

/// The folders around a folder, nearest first, the top last.
fn ancestors_of(folder: &str) -> impl Iterator<Item = &str> {
    let top = (!folder.is_empty()).then_some("");
    ancestors(folder).skip(1).chain(top)
}

fn hidden(folders: &str) -> bool {
    folders.split('/').any(|folder| folder.starts_with('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn listing(paths: &[&str]) -> Listing {
        paths.iter().filter_map(|path| GitFile::of("100644", "0", path.as_bytes())).collect()
    }

    #[test]
    fn files_belong_to_the_book_around_them() {
        let all = listing(&[
            "loose.rotor",
            "a/book.rotor",
            "a/x/y.rotor",
            "a/b/book.rotor",
            "a/b/z.rotor",
            "a/.hidden/h.rotor",
            "a/.h.rotor",
            "a/readme.md",
            "ab/c.rotor",
        ]);
        let of = |root: &str| all.book(root).into_iter().map(|(path, _)| path).collect::<Vec<_>>();
        assert_eq!(of("a"), [".h.rotor", "book.rotor", "x/y.rotor"]);
        assert_eq!(of("a/b"), ["book.rotor", "z.rotor"]);
        assert_eq!(of(""), ["ab/c.rotor", "loose.rotor"]);
        assert_eq!(books_in(&all, ""), ["a", "a/b"]);
        assert_eq!(books_in(&all, "a/x"), ["a"]);
        assert!(books_in(&all, "ab").is_empty());
    }

    #[test]
    fn links_and_other_repositories_are_no_sheets() {
        assert_eq!(GitFile::of("120000", "0", b"a.rotor"), None);
        assert_eq!(GitFile::of("160000", "0", b"a.rotor"), None);
        assert_eq!(GitFile::of("100644", "0", b"x/.rotor"), None);
        assert!(GitFile::of("100755", "0", "fan wheel µ\n.rotor".as_bytes()).is_some());
    }
}
