//! Chapters that are put together from several places.

use std::fs;
use std::path::Path;

use rotorbook::check::{self, Rule};

use super::{Site, links, pages, read, root};

const RECIPES: &str = "examples/recipes";

/// The recipes in the order of their first page, each with its sheets in full and with the cards that its commands make.
pub(super) fn recipes(site: &mut Site, folder: &Path) {
    let from = format!("{RECIPES}/README.md");
    let front = read(&from);
    let named: Vec<&str> =
        front.split("](").skip(1).filter_map(|rest| rest.split_once("/README.md)")).map(|(name, _)| name).collect();
    site.page(0, &from, "recipes/index.md", front.clone());
    for name in named {
        let page = format!("{RECIPES}/{name}");
        let text = with_card(site, name, &read(&format!("{page}/README.md")), folder);
        site.page(1, &format!("{page}/README.md"), &format!("recipes/{name}.md"), text + &in_full(&page));
    }
    let shop = format!("# The shop of the recipes\n{}", in_full(&format!("{RECIPES}/shop")));
    site.page(1, &format!("{RECIPES}/shop"), "recipes/shop.md", shop);
}

/// The sheets of a folder, printed.
fn in_full(folder: &str) -> String {
    let mut sheets: Vec<_> = fs::read_dir(root().join(folder)).unwrap().map(|entry| entry.unwrap().path()).collect();
    sheets.retain(|path| path.extension().is_some_and(|end| end == "rotor"));
    sheets.sort();
    let mut text = String::new();
    for path in sheets {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        text.push_str(&format!("\n## {name}\n\n```rotor\n{}```\n", fs::read_to_string(path).unwrap()));
    }
    text
}

/// A page with the picture of the card that its commands make, below what else they answer; of a setup the side for a run.
fn with_card(site: &mut Site, name: &str, page: &str, folder: &Path) -> String {
    let Some(line) = page.lines().find(|line| line.ends_with(" -o card.svg")) else { return page.to_owned() };
    let command = line.trim_end_matches(" -o card.svg");
    fs::create_dir_all(folder.join("recipes")).unwrap();
    let cards = ["pdf", "svg"].map(|ending| format!("recipes/{name}-card.{ending}"));
    let make = |card: &str, more: &str| {
        let line = format!("{command}{more} -o \"{}\"", folder.join(card).display());
        pages::run(&line, &root().join(RECIPES).join(name))
    };
    if site.is_drawn {
        let whole = make(&cards[0], "");
        assert!(whole.status.success(), "{line}: {}", pages::said(&whole));
        // A record has one side.
        assert!(make(&cards[1], " --run").status.success() || make(&cards[1], "").status.success(), "{line}");
    } else {
        cards.iter().for_each(|card| fs::write(folder.join(card), "").unwrap());
    }
    site.made.extend(cards);
    let picture = format!("[![The card]({name}-card.svg)]({name}-card.pdf)\n\n## By hand");
    page.replacen("## By hand", &picture, 1)
}

/// The guides of editors, below a page that lists them.
pub(super) fn editors(site: &mut Site) {
    let guides = ["vscode", "neovim", "helix", "emacs", "kate", "zed", "page"]
        .map(|editor| format!("editors/{editor}/README.md"));
    let list: String = guides.iter().map(|guide| format!("- [{}](../{guide})\n", title(&read(guide)))).collect();
    site.page(0, "editors", "editors/index.md", format!("# In your editor\n\n{list}"));
    for guide in guides {
        let to = guide.replace("/README", "");
        site.file(1, &guide, &to);
    }
}

fn title(page: &str) -> String {
    links::plain(page.lines().next().unwrap().trim_start_matches("# "))
}

/// What each command says with `--help`.
pub(super) fn commands(site: &mut Site) {
    let mut text = String::from("# Commands\n");
    for command in rotorbook::cli::command().get_subcommands_mut().filter(|command| !command.is_hide_set()) {
        let help = command.render_long_help().to_string();
        text.push_str(&format!("\n## {}\n\n```text\n{}\n```\n", command.get_name(), help.trim_end()));
    }
    site.page(0, "", "commands.md", text);
}

/// A page each, and a table of all.
pub(super) fn diagnostics(site: &mut Site) {
    let mut rules: Vec<&Rule> = check::rules().to_vec();
    rules.sort_by_key(|rule| rule.code);
    let mut table = String::from(
        "# Diagnostics\n\nWhat `rotorbook check` and an editor say, by code.\n\n| code | | |\n|---|---|---|\n",
    );
    for rule in &rules {
        table.push_str(&format!("| [`{0}`]({0}.md) | {1} | {2} |\n", rule.code, rule.severity.word(), rule.title));
    }
    // The reference lists them too, and leads here.
    site.page(0, "diagnostics", "diagnostics/index.md", table);
    for rule in rules {
        let (heading, body) = rule.page.split_once('\n').unwrap_or((rule.page, ""));
        let weighs = format!("`{}`, {}, since version {}", rule.code, rule.severity.word(), rule.since);
        let text = format!("{heading}\n\n{weighs}\n{body}");
        site.page_called(rule.code, 1, "diagnostics", &format!("diagnostics/{}.md", rule.code), text);
    }
}
