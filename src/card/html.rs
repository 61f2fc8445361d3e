//! A card as a page that needs nothing else: no script, nothing loaded, every text escaped by the template.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::Printed;
use super::document::{Card, Figure, Part, Row, Section, Step, Table, Value};
use super::style::{STYLE, sheet_of_paper};
use super::svg;
use super::words::{Piece, Words};
use crate::syntax::Kind;
use crate::text::harmless;

/// No text of a sheet is printed longer than this; it says so when one is.
pub(super) const LONGEST: usize = 400;

/// The page loads nothing and runs nothing, whatever a text in it may be taken for.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// Longer words of a stamp take several lines.
const LONG_WORD: usize = 12;

/// Which cards stand in the same page, to lead to from one another.
struct Cards<'a>(&'a [Card]);

impl Cards<'_> {
    fn anchor(&self, kind: Kind, name: &str) -> Option<String> {
        if self.0.len() < 2 {
            return None;
        }
        let at = self.0.iter().position(|card| card.kind == kind && card.name == name)?;
        Some(format!("card-{}", at + 1))
    }
}

/// The paper that a page is set for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Paper {
    A4,
    Letter,
}

/// One card as a page; without a paper, it takes what the printer holds.
pub fn page(card: &Card, paper: Option<Paper>) -> String {
    document(&title(card), std::slice::from_ref(card), None, paper)
}

/// Several cards as one page, with a table of contents.
pub fn booklet(title: &str, cards: &[Card], printed: &Printed, paper: Option<Paper>) -> String {
    let foot = Words::said("Printed ").state(printed.on.clone()).say(" from ").state(printed.state.clone()).say(".");
    document(title, cards, Some(contents(title, cards, &[foot])), paper)
}

fn title(card: &Card) -> String {
    format!("{} {}", card.kind, card.name)
}

fn document(title: &str, cards: &[Card], contents: Option<Markup>, paper: Option<Paper>) -> String {
    let linked = Cards(cards);
    let mut style = STYLE.to_owned();
    style.push_str(match paper {
        Some(Paper::A4) => "@page { size: A4 portrait; }\n",
        Some(Paper::Letter) => "@page { size: letter portrait; }\n",
        None => "",
    });
    for (n, card) in cards.iter().enumerate() {
        let word = card.stamp.as_ref().map(|stamp| stamp.at_foot(card.preview)).unwrap_or_default();
        let name = format!("{}: {}", card.kind, shortened(&harmless(&card.name), 70));
        style.push_str(&format!(".paper-{n} {{ page: paper-{n}; }}\n", n = n + 1));
        style.push_str(&sheet_of_paper(&format!("paper-{}", n + 1), &name, &word));
    }
    let markup = html! {
        (DOCTYPE)
        html lang="en" dir="ltr" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width";
                title { (shortened(&harmless(title), 120)) }
                style { (PreEscaped(style)) }
            }
            body {
                @if let Some(contents) = &contents { (contents) }
                @for (n, card) in cards.iter().enumerate() {
                    article id=(format!("card-{}", n + 1)) class=(format!("paper-{}", n + 1)) { (article(card, &linked)) }
                }
            }
        }
    };
    markup.into_string() + "\n"
}

fn contents(title: &str, cards: &[Card], foot: &[Words]) -> Markup {
    let kinds = [Kind::Setup, Kind::Rotor, Kind::Record];
    html! {
        nav {
            h1 { bdi { (readable(title)) } }
            @for kind in kinds {
                @let of_kind: Vec<(usize, &Card)> =
                    cards.iter().enumerate().filter(|(_, card)| card.kind == kind).collect();
                @if !of_kind.is_empty() {
                    h2 { (heading_of(kind)) }
                    table {
                        @for (n, card) in of_kind {
                            tr {
                                td { a href=(format!("#card-{}", n + 1)) { bdi { (breakable(&readable(&card.name))) } } }
                                td { @if let Some(stamp) = &card.stamp { (stamp.word) } }
                            }
                        }
                    }
                }
            }
            @for words in foot { p class="below" { (self::words(words)) } }
        }
    }
}

const fn heading_of(kind: Kind) -> &'static str {
    match kind {
        Kind::Setup => "Setups",
        Kind::Rotor => "Rotors",
        _ => "Records",
    }
}

fn article(card: &Card, cards: &Cards<'_>) -> Markup {
    html! {
        header {
            div {
                p class="kind" { (kind_of(card.kind)) }
                h1 { bdi { (breakable(&readable(&card.name))) } }
            }
            @if let Some(stamp) = &card.stamp {
                div class=(if stamp.firm { "stamp" } else { "stamp loose" }) {
                    @if card.preview && stamp.word != "PREVIEW" { strong { "PREVIEW" } }
                    b class=[(stamp.word.len() > LONG_WORD).then_some("long")] { (stamp.word) }
                    span { (stamp.meaning) }
                }
            }
        }
        @if !card.alarms.is_empty() {
            div class="alarm" role="alert" { @for alarm in &card.alarms { p { (words(alarm)) } } }
        }
        (rows(&card.head, "head", cards))
        @for section in &card.sections { (self::section(section, cards)) }
        footer { @for line in &card.foot { p { (words(line)) } } }
    }
}

const fn kind_of(kind: Kind) -> &'static str {
    match kind {
        Kind::Setup => "Bench card of the setup",
        Kind::Record => "Record of a rotor",
        _ => "Rotor",
    }
}

fn section(section: &Section, cards: &Cards<'_>) -> Markup {
    html! {
        section class=[section.boxed.then_some("boxed")] {
            h2 { (section.title) }
            @for kept in kept_together(&section.parts) {
                div class="kept" { @for part in kept { (self::part(part, cards)) } }
            }
        }
    }
}

/// Figures stay on one sheet of paper with what is said of them.
fn kept_together(parts: &[Part]) -> Vec<&[Part]> {
    let starts: Vec<usize> = (0..parts.len())
        .filter(|n| *n == 0 || matches!(parts[*n], Part::Order(_) | Part::Steps(_) | Part::Table(_) | Part::Figures(_)))
        .collect();
    let ends = starts.iter().skip(1).copied().chain([parts.len()]);
    starts.iter().zip(ends).map(|(start, end)| &parts[*start..end]).collect()
}

fn part(part: &Part, cards: &Cards<'_>) -> Markup {
    match part {
        Part::Text(text) => html! { p { (words(text)) } },
        Part::Order(text) => html! { p class="order" { (words(text)) } },
        Part::Rows(list) => rows(list, "facts", cards),
        Part::Table(table) => self::table(table, cards),
        Part::Beside(list, table) => html! {
            div class="beside" { (rows(list, "facts single", cards)) div { (self::table(table, cards)) } }
        },
        Part::Steps(steps) => html! { ol class="steps" { @for step in steps { (self::step(step, cards)) } } },
        Part::Figures(figures) => html! { div class="figures" { @for figure in figures { (self::figure(figure)) } } },
        Part::Cautions(cautions) => {
            html! { ul class="cautions" { @for caution in cautions { li { (words(caution)) " " } } } }
        }
    }
}

fn rows(rows: &[Row], class: &str, cards: &Cards<'_>) -> Markup {
    html! {
        dl class=(class) {
            @for row in rows {
                div class=[span_of(row)] { dt { (words(&row.label)) } dd { (value(&row.value, cards)) } }
            }
        }
    }
}

/// Rows stand three beside each other; two where they are longer, and what is long alone.
fn span_of(row: &Row) -> Option<&'static str> {
    let long = |words: &Words| words.0.iter().map(|piece| piece.text().chars().count()).sum::<usize>();
    let value = match &row.value {
        Value::Text(words) => long(words),
        Value::Item { name, .. } => name.chars().count(),
        Value::Hole(why) => long(why) + 24,
        Value::Blank(_) => 10,
        Value::Choice(choices) => choices.iter().map(|choice| choice.len() + 6).sum(),
    };
    match long(&row.label) + value {
        0..=21 => None,
        22..=40 => Some("half"),
        _ => Some("all"),
    }
}

fn step(step: &Step, cards: &Cards<'_>) -> Markup {
    html! {
        li class=[step.boxed.then_some("boxed")] {
            span class="box" {}
            div { (words(&step.does)) }
            @if !step.rows.is_empty() { (rows(&step.rows, "facts", cards)) }
        }
    }
}

fn table(table: &Table, cards: &Cards<'_>) -> Markup {
    let class = |value: &Value| match value {
        Value::Blank(_) => Some("blank"),
        Value::Text(words) if is_number(words) => Some("number"),
        _ => None,
    };
    html! {
        table {
            @if !table.caption.is_empty() { caption { (words(&table.caption)) } }
            thead { tr { @for head in &table.heads { th { (words(head)) } } } }
            tbody {
                @for row in &table.rows {
                    tr {
                        @for cell in row {
                            td class=[class(cell)] { @if !matches!(cell, Value::Blank(_)) { (value(cell, cards)) } }
                        }
                    }
                }
            }
        }
        @for line in &table.below { p class="below" { (words(line)) } }
    }
}

fn is_number(words: &Words) -> bool {
    matches!(&words.0[..], [piece @ (Piece::Said(_) | Piece::Stated(_))] if piece.text().starts_with(|c: char| c.is_ascii_digit()) && !piece.text().contains(' '))
}

fn figure(figure: &Figure) -> Markup {
    html! {
        figure style=(format!("width:{:.0}mm", figure.drawing.width)) {
            @if !figure.title.is_empty() { figcaption class="title" { (words(&figure.title)) } }
            (svg::inline(&figure.drawing))
            @for line in &figure.below { figcaption { (words(line)) } }
        }
    }
}

fn value(value: &Value, cards: &Cards<'_>) -> Markup {
    match value {
        Value::Text(text) => words(text),
        Value::Item { kind, name } => html! {
            @match cards.anchor(*kind, name) {
                Some(anchor) => a href=(format!("#{anchor}")) { bdi { b { (breakable(&readable(name))) } } },
                None => bdi { b { (breakable(&readable(name))) } },
            }
        },
        Value::Hole(why) => html! {
            span class="hole" { span class="line" {} "not computed, because " (words(why)) }
        },
        Value::Blank(unit) => html! { span class="line" {} @if !unit.is_empty() { " " (unit) } },
        Value::Choice(choices) => html! {
            @for choice in choices { span class="choice" { span class="box" {} " " (choice) } }
        },
    }
}

fn words(words: &Words) -> Markup {
    html! {
        @for piece in &words.0 {
            @match piece {
                Piece::Said(text) => (readable(text)),
                Piece::Stated(text) => bdi { (breakable(&readable(text))) },
                Piece::Strong(text) => (strong(&readable(text))),
                Piece::Whole(text) => (strong(&harmless(text))),
            }
        }
    }
}

/// What the eye should find: numbers large, their uncertainty smaller behind them.
fn strong(text: &str) -> Markup {
    if !text.contains(" ± ") {
        return html! { b { bdi { (breakable(text)) } } };
    }
    html! {
        @for (n, part) in text.split(" @ ").enumerate() {
            @if n > 0 { " " b { "@ " } }
            (number_with_spread(part))
        }
    }
}

/// `310.0 deg ± 4.1 deg with rotation`: the number, its spread, and what is said of it.
fn number_with_spread(text: &str) -> Markup {
    let Some((number, rest)) = text.split_once(" ± ") else { return html! { b { bdi { (breakable(text)) } } } };
    let mut words = rest.splitn(3, ' ');
    let spread: Vec<&str> = words.by_ref().take(2).collect();
    html! {
        b class="amount" { bdi { (number) } } " " span class="spread" { "± " bdi { (spread.join(" ")) } }
        @if let Some(rest) = words.next() { " " bdi { (breakable(rest)) } }
    }
}

/// Words that are longer than a column may be broken; fourteen letters of a wide font are as much as one of a table with
/// two channels holds.
fn breakable(text: &str) -> Markup {
    const LONG: usize = 14;
    html! {
        @for (n, word) in text.split(' ').enumerate() {
            @if n > 0 { " " }
            @if word.chars().count() > LONG {
                @for (n, character) in word.chars().enumerate() {
                    @if n > 0 && n % 8 == 0 { wbr; }
                    (character)
                }
            } @else { (word) }
        }
    }
}

/// A text as it may be printed: nothing that turns its neighbours, and no longer than a card has room for.
pub(super) fn readable(text: &str) -> String {
    shortened(&harmless(text), LONGEST)
}

pub(super) fn shortened(text: &str, most: usize) -> String {
    let count = text.chars().count();
    if count <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most).collect();
    format!("{kept}… [cut here: {} more characters stand in the sheet]", count - most)
}
