//! The language reference in pages, by what one looks for.

use super::links::{Fences, plain, slug};
use super::{Site, read};

const FROM: &str = "grammar/README.md";

/// The headings of the reference in chapters. A heading with pages of its own has a page a heading below it.
const CHAPTERS: &[(&str, &str, &[&str])] = &[
    (
        "Write a sheet",
        "What a line says, how values and units are written, which blocks there are and what goes into them.",
        &["A sheet in one look", "Words, names, strings", "Values", "Units", "Kinds and keys", "Layout"],
    ),
    (
        "Understand a number",
        "Where a result comes from, what its ± means, and what a pin holds.",
        &[
            "How well a number is known",
            "Pinned results",
            "Facts that belong together",
            "Results",
            "Materials that every book knows",
        ],
    ),
    (
        "Work at the machine",
        "Angles, controls, trial runs, and how a record becomes a verdict.",
        &["Angles", "Controls", "Trials", "Records"],
    ),
    (
        "Keep a book",
        "Which files belong together, how one sheet follows another, and what stays readable.",
        &["Books and names", "like", "Versions", "What a sheet cannot say"],
    ),
    ("Read broken text", "For those who write tools.", &["When a line is broken", "Grammar"]),
];

/// Headings that are split further.
const SPLIT: [&str; 2] = ["Kinds and keys", "Results"];

/// This heading has a page for each of its rows elsewhere.
const ELSEWHERE: &str = "Diagnostics";

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

/// Headings one level higher, as a page begins with the highest.
fn raised(text: &str, by: usize) -> String {
    let mut fences = Fences::default();
    let lines = text.lines().map(|line| match fences.is_text(line) && line.starts_with('#') {
        true => &line[by..],
        false => line,
    });
    let shown = lines.filter(|line| !line.starts_with("<!--"));
    shown.map(|line| format!("{line}\n")).collect()
}

/// A page's file from its title.
fn file(title: &str) -> String {
    format!("reference/{}.md", slug(title))
}

pub(super) fn pages(site: &mut Site) {
    let text = read(FROM);
    let sections = sections(&text, 2);
    let named: Vec<&str> = CHAPTERS.iter().flat_map(|(_, _, titles)| titles.iter().copied()).chain([ELSEWHERE]).collect();
    for section in &sections[1..] {
        assert!(named.contains(&&*section.title), "{} is in no chapter of the reference", section.title);
    }
    let mut front = sections[0].text.to_owned();
    front.push_str("## What are you looking for?\n\n| | |\n|---|---|\n");
    for (chapter, about, _) in CHAPTERS {
        front.push_str(&format!("| [{chapter}](#{}) | {about} |\n", slug(chapter)));
    }
    let listed = |titles: &[&str]| -> String {
        titles.iter().map(|title| format!("- [{title}](@{title})\n")).collect()
    };
    for (chapter, _, titles) in CHAPTERS {
        front.push_str(&format!("\n## {chapter}\n\n{}", listed(titles)));
    }
    // Pages of one folder: the links between them are known here.
    for title in &named {
        front = front.replace(&format!("(@{title})"), &format!("({})", file(title).trim_start_matches("reference/")));
    }
    site.page(0, "grammar/README.md", "reference/index.md", front);
    for (chapter, about, titles) in CHAPTERS {
        let links: String =
            titles.iter().map(|title| format!("- [{title}]({})\n", file(title).trim_start_matches("reference/"))).collect();
        site.page(1, "", &file(chapter), format!("# {chapter}\n\n{about}\n\n{links}"));
        for title in *titles {
            let section = sections.iter().find(|section| section.title == *title);
            section_pages(site, section.unwrap_or_else(|| panic!("the reference has no {title}")));
        }
    }
}

fn section_pages(site: &mut Site, section: &Section<'_>) {
    if !SPLIT.contains(&&*section.title) {
        site.page(2, FROM, &file(&section.title), raised(section.text, 1));
        return;
    }
    let parts = sections(section.text, 3);
    let links: String = parts[1..]
        .iter()
        .map(|part| format!("- [{}]({})\n", part.title, file(&part.title).trim_start_matches("reference/")))
        .collect();
    site.page(2, FROM, &file(&section.title), format!("{}\n{links}", raised(parts[0].text, 1)));
    for part in &parts[1..] {
        site.page(3, FROM, &file(&part.title), raised(part.text, 2));
    }
}
