//! The language reference in pages, by what one looks for: its own list of that makes the chapters.

use super::links::{Fences, plain, slug};
use super::{Site, read};

const FROM: &str = "grammar/README.md";

/// The list of chapters.
const CONTENTS: &str = "What are you looking for?";

/// Headings with a page for each heading below them.
const SPLIT: [&str; 2] = ["Kinds and keys", "Results"];

struct Section<'a> {
    title: String,
    text: &'a str,
}

/// A text cut before each heading of a level. What precedes the first is a section without a title.
fn sections(text: &str, level: usize) -> Vec<Section<'_>> {
    let sign = format!("{} ", "#".repeat(level));
    let mut fences = Fences::default();
    let mut sections = Vec::new();
    let (mut title, mut begin, mut at) = (String::new(), 0, 0);
    for line in text.split_inclusive('\n') {
        if fences.is_text(line) && line.starts_with(&sign) {
            sections.push(Section { title, text: &text[begin..at] });
            (title, begin) = (plain(&line[sign.len()..]), at);
        }
        at += line.len();
    }
    sections.push(Section { title, text: &text[begin..] });
    sections
}

/// Headings higher by some levels, as a page begins with the highest.
fn raised(text: &str, by: usize) -> String {
    let mut fences = Fences::default();
    let lines = text.lines().map(|line| match fences.is_text(line) && line.starts_with('#') {
        true => &line[by..],
        false => line,
    });
    lines.filter(|line| !line.starts_with("<!--")).map(|line| format!("{line}\n")).collect()
}

/// A page's file from its title.
fn file(title: &str) -> String {
    format!("reference/{}.md", slug(title))
}

/// A line of a list that leads to a page of this folder.
fn link(title: &str) -> String {
    format!("- [{title}]({}.md)\n", slug(title))
}

/// A chapter of the list: its title, and the names of its headings in links.
fn chapter(bullet: &str) -> (String, Vec<&str>) {
    let title = bullet.split("**").nth(1).unwrap_or_else(|| panic!("a chapter without a title: {bullet}"));
    let slugs = bullet.split("](#").skip(1).map(|rest| rest.split(')').next().unwrap());
    (title.to_owned(), slugs.collect())
}

pub(super) fn pages(site: &mut Site) {
    let text = read(FROM);
    let sections = sections(&text, 2);
    let contents = sections.iter().find(|section| section.title == CONTENTS).unwrap();
    let chapters: Vec<_> = contents.text.split("\n- ").skip(1).map(chapter).collect();
    for section in sections[1..].iter().filter(|section| section.title != CONTENTS) {
        let named = chapters.iter().filter(|(_, slugs)| slugs.contains(&&*slug(&section.title))).count();
        assert_eq!(named, 1, "{} is in {named} chapters of the reference", section.title);
    }
    site.page(0, FROM, "reference/index.md", format!("{}{}", sections[0].text, contents.text));
    for (title, slugs) in &chapters {
        let section = |name: &&str| sections.iter().find(|section| slug(&section.title) == **name);
        let parts: Vec<&Section<'_>> =
            slugs.iter().map(|name| section(name).unwrap_or_else(|| panic!("the reference has no {name}"))).collect();
        let links: String = parts.iter().map(|part| link(&part.title)).collect();
        site.page(1, FROM, &file(title), format!("# {title}\n\n{links}"));
        for part in parts {
            section_pages(site, part);
        }
    }
}

fn section_pages(site: &mut Site, section: &Section<'_>) {
    // Each has a page of its own, and the table is there.
    if section.title == "Diagnostics" {
        let about = section.text.split("<!--").next().unwrap();
        let text = format!("{}\n[All of them, by code](../diagnostics/index.md)\n", raised(about, 1));
        return site.page(2, FROM, &file(&section.title), text);
    }
    if !SPLIT.contains(&&*section.title) {
        site.page(2, FROM, &file(&section.title), raised(section.text, 1));
        return;
    }
    let parts = sections(section.text, 3);
    let links: String = parts[1..].iter().map(|part| link(&part.title)).collect();
    site.page(2, FROM, &file(&section.title), format!("{}\n{links}", raised(parts[0].text, 1)));
    for part in &parts[1..] {
        site.page(3, FROM, &file(&part.title), raised(part.text, 2));
    }
}
