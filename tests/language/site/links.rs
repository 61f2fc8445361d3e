//! Links between pages of the repository become links between pages of the site.

use std::fs;
use std::path::{Component, Path, PathBuf};

use super::{Page, Site, root};

/// Text without the signs of Markdown, for a title.
pub(super) fn plain(text: &str) -> String {
    text.replace(['`', '*'], "").trim().to_owned()
}

/// The name that a heading has in a link, as mdBook and forges make it.
pub(super) fn slug(heading: &str) -> String {
    let kept = |character: char| match character {
        ' ' => Some('-'),
        '-' | '_' => Some(character),
        _ if character.is_alphanumeric() => Some(character.to_ascii_lowercase()),
        _ => None,
    };
    heading.trim().chars().filter_map(kept).collect()
}

/// Whether lines are inside a fence, one after another.
#[derive(Default)]
pub(super) struct Fences(bool);

impl Fences {
    /// Whether this line is text, and not code or a fence.
    pub(super) fn is_text(&mut self, line: &str) -> bool {
        let fence = line.trim_start().starts_with("```");
        self.0 ^= fence;
        !self.0 && !fence
    }
}

/// The headings of a page by their names in links.
fn slugs(page: &Page) -> Vec<String> {
    let mut fences = Fences::default();
    let lines = page.text.lines().filter(|line| fences.is_text(line) && line.starts_with('#'));
    lines.map(|line| slug(line.trim_start_matches('#'))).collect()
}

/// The places in a line where a target of a link begins and ends.
fn targets(line: &str) -> Vec<(usize, usize)> {
    let starts = line.match_indices("](").map(|(at, sign)| at + sign.len());
    starts.filter_map(|from| Some((from, from + line[from..].find(')')?))).collect()
}

/// A path without `..`.
fn resolved(folder: &Path, target: &str) -> String {
    let mut parts = PathBuf::new();
    for component in folder.join(target).components() {
        match component {
            Component::ParentDir => _ = parts.pop(),
            other => parts.push(other),
        }
    }
    parts.to_string_lossy().replace('\\', "/")
}

/// From one page to another, both below the sources.
fn relative(from: &str, to: &str) -> String {
    format!("{}{to}", "../".repeat(from.matches('/').count()))
}

/// Whether this goes along as it is.
fn is_file(path: &str) -> bool {
    [".png", ".svg", ".json"].iter().any(|ending| path.ends_with(ending))
}

/// The texts of all pages with their links rewritten; what they show goes along.
pub(super) fn rewritten(site: &mut Site) -> Vec<String> {
    let mut files = Vec::new();
    let texts = site.pages.iter().map(|page| {
        let mut fences = Fences::default();
        let mut text = String::new();
        for line in page.text.lines() {
            let mut line = line.to_owned();
            if fences.is_text(&line) {
                for (from, to) in targets(&line).into_iter().rev() {
                    if let Some(target) = rewritten_target(site, page, &line[from..to], &mut files) {
                        line.replace_range(from..to, &target);
                    }
                }
            }
            text.push_str(&line);
            text.push('\n');
        }
        text
    });
    let texts = texts.collect();
    site.files.extend(files);
    texts
}

/// What a link says in the site, where it is to be changed.
fn rewritten_target(site: &Site, page: &Page, target: &str, files: &mut Vec<(PathBuf, String)>) -> Option<String> {
    let in_site = resolved(Path::new(&page.to).parent().unwrap(), target);
    let mut written = site.pages.iter().map(|page| &page.to).chain(&site.made);
    if target.starts_with("http") || written.any(|to| *to == in_site) {
        return None;
    }
    let (path, fragment) = target.split_once('#').unwrap_or((target, ""));
    let source = match path {
        "" => page.from.clone(),
        _ => resolved(Path::new(&page.from).parent().unwrap_or(Path::new("")), path),
    };
    if is_file(&source) {
        let to = format!("files/{}", source.replace('/', "-"));
        files.push((root().join(&source), to.clone()));
        return Some(relative(&page.to, &to));
    }
    // A sheet of a recipe is printed at the end of its page.
    if let Some(sheet) = path.strip_suffix(".rotor").filter(|sheet| !sheet.contains('/')) {
        return Some(format!("#{}", slug(&format!("{sheet}.rotor"))));
    }
    let parts = site.pages.iter().filter(|page| page.from == source);
    let led_to = match fragment {
        "" => parts.clone().next(),
        _ => parts.clone().find(|page| slugs(page).iter().any(|slug| slug == fragment)),
    };
    let led_to = led_to.unwrap_or_else(|| panic!("{}: {target} is not a page of the site", page.from));
    let hash = if fragment.is_empty() { String::new() } else { format!("#{fragment}") };
    Some(format!("{}{hash}", relative(&page.to, &led_to.to)))
}

/// The links of all pages below a folder to files: where they are, and where they lead.
pub(super) fn of_folder(folder: &Path) -> Vec<(String, String)> {
    let walk = walkdir::WalkDir::new(folder).into_iter().filter_map(Result::ok).map(walkdir::DirEntry::into_path);
    let mut links = Vec::new();
    for path in walk.filter(|path| path.extension().is_some_and(|end| end == "md")) {
        let text = fs::read_to_string(&path).unwrap();
        let from = path.strip_prefix(folder).unwrap().to_string_lossy().into_owned();
        let mut fences = Fences::default();
        for line in text.lines().filter(|line| fences.is_text(line)) {
            let found = targets(line).into_iter().map(|(begin, end)| line[begin..end].split('#').next().unwrap());
            let files = found.filter(|target| !target.is_empty() && !target.starts_with("http"));
            links.extend(files.map(|target| (from.clone(), target.to_owned())));
        }
    }
    links
}
