//! Fonts of the system, for letters that the program's own lack.

use std::collections::BTreeSet;
use std::path::PathBuf;

use walkdir::WalkDir;

use super::all_bytes;
use crate::card::FontFile;

/// A font with the letters of several scripts has less, in bytes.
const LARGEST: u64 = 64 << 20;

/// Files that together have these letters, as far as there are some; each takes the place of several where it can.
pub fn fonts_for(letters: &BTreeSet<char>) -> Vec<FontFile> {
    let mut wanted = letters.clone();
    let mut found = Vec::new();
    for path in files() {
        if wanted.is_empty() {
            break;
        }
        let Ok(data) = all_bytes(&path, LARGEST) else { continue };
        let file = FontFile { data, index: 0 };
        let has: Vec<char> = wanted.iter().copied().filter(|letter| file.has(*letter)).collect();
        if !has.is_empty() {
            has.iter().for_each(|letter| {
                wanted.remove(letter);
            });
            found.push(file);
        }
    }
    found
}

/// Upright ones first, as the names have it; in the order of their names, so that a card is set the same again.
fn files() -> Vec<PathBuf> {
    let walk = folders().into_iter().flat_map(|folder| WalkDir::new(folder).sort_by_file_name());
    let is_font = |path: &PathBuf| {
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default().to_lowercase();
        ["ttf", "otf", "ttc", "otc"].contains(&ending.as_str())
    };
    let mut files: Vec<PathBuf> =
        walk.filter_map(Result::ok).map(walkdir::DirEntry::into_path).filter(is_font).collect();
    let is_plain = |path: &PathBuf| {
        let name = path.file_stem().and_then(|name| name.to_str()).unwrap_or_default().to_lowercase();
        !["bold", "italic", "oblique", "mono", "serif", "light", "thin", "black"].iter().any(|word| name.contains(word))
    };
    files.sort_by_key(|path| !is_plain(path));
    files
}

fn folders() -> Vec<PathBuf> {
    let home = std::env::var_os("HOME").map(PathBuf::from);
    let mut folders: Vec<PathBuf> = match () {
        () if cfg!(windows) => {
            std::env::var_os("WINDIR").map(|folder| PathBuf::from(folder).join("Fonts")).into_iter().collect()
        }
        () if cfg!(target_os = "macos") => vec!["/System/Library/Fonts".into(), "/Library/Fonts".into()],
        () => vec!["/usr/share/fonts".into(), "/usr/local/share/fonts".into()],
    };
    let own: &[&str] = if cfg!(target_os = "macos") { &["Library/Fonts"] } else { &[".local/share/fonts", ".fonts"] };
    folders.extend(home.iter().flat_map(|home| own.iter().map(|folder| home.join(folder))));
    folders
}
