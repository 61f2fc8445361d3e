//! Cards as a page of HTML that needs nothing else: no script, nothing loaded, every text escaped by the template. It
//! holds the sides of paper, which print as they are, and the same blocks in one column for a narrow screen.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::said::{Said, cells, heads, labelled};
use super::svg;
use crate::card::Printed;
use crate::card::document::{Card, Column, Figure, Number, Part, Row, Section, Side, Step, Table, Value};
use crate::card::page::{Fonts, Page, Paper, pages};
use crate::card::readable::{harmless, readable, shortened};
use crate::card::words::{Piece, Words};
use crate::syntax::Kind;

pub(super) const STYLE: &str = include_str!("style.css");

/// The page loads nothing and runs nothing, whatever a text in it may be taken for.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; font-src data:";

/// Longer words of a stamp take several lines.
const LONG_WORD: usize = 12;

/// What a part is shown among.
#[derive(Clone, Copy, Default)]
pub(super) struct Among<'a> {
    /// Cards of the same page, to lead to from one another.
    cards: &'a [Card],
    /// What another version of it says: what that does not say is marked.
    other: Option<&'a Said>,
}

impl<'a> Among<'a> {
    /// Beside another version.
    pub fn beside(other: &'a Said) -> Self {
        Self { other: Some(other), ..Self::default() }
    }

    fn anchor(&self, kind: Kind, name: &str) -> Option<String> {
        if self.cards.len() < 2 {
            return None;
        }
        let at = self.cards.iter().position(|card| card.kind == kind && card.name == name)?;
        Some(format!("card-{}", at + 1))
    }

    fn is_said(&self, text: impl FnOnce() -> String) -> bool {
        self.other.is_none_or(|other| other.says(&text()))
    }

    /// The class of an element that the other version does not have.
    fn mark(&self, text: impl FnOnce() -> String) -> Option<&'static str> {
        (!self.is_said(text)).then_some(DIFFERS)
    }
}

/// The class of what another version does not have.
const DIFFERS: &str = "differs";

/// Cards with their pages; several with a table of contents.
pub fn html(title: &str, cards: &[Card], printed: &Printed, paper: Paper, fonts: &Fonts) -> String {
    let linked = Among { cards, other: None };
    let [width, height] = paper.size();
    let size = format!("@page {{ size: {width}mm {height}mm; margin: 0; }}\n");
    let sides: Vec<Vec<Page>> = cards.iter().map(|card| pages(card, paper, fonts)).collect();
    document(
        title,
        &format!("{size}{STYLE}"),
        &html! {
            @if cards.len() > 1 { (contents(title, cards, printed)) }
            @for (n, (card, sides)) in cards.iter().zip(&sides).enumerate() {
                article id=(format!("card-{}", n + 1)) {
                    div class="paper" { @for page in sides { (svg::side(page, fonts)) } }
                    div class="column" { @for side in &card.sides { (self::side(side, card.preview, linked)) } }
                }
            }
        },
    )
}

/// A page that loads nothing and runs nothing, with the letters of the program.
pub(super) fn document(title: &str, style: &str, body: &Markup) -> String {
    let style = format!("{}{style}", svg::faces());
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
            body { (body) }
        }
    };
    markup.into_string() + "\n"
}

fn contents(title: &str, cards: &[Card], printed: &Printed) -> Markup {
    html! {
        nav {
            h1 { bdi { (readable(title)) } }
            @for kind in [Kind::Setup, Kind::Rotor, Kind::Record] {
                @let of_kind: Vec<(usize, &Card)> =
                    cards.iter().enumerate().filter(|(_, card)| card.kind == kind).collect();
                @if !of_kind.is_empty() {
                    h2 { (heading_of(kind)) }
                    table {
                        @for (n, card) in of_kind {
                            tr {
                                td { a href=(format!("#card-{}", n + 1)) { bdi { (breakable(&readable(&card.name))) } } }
                                @let side = card.sides.first();
                                td { @if let Some(stamp) = side.and_then(|side| side.stamp.as_ref()) { (stamp.word) } }
                                td { @for words in side.iter().flat_map(|side| &side.under) { (self::words(words)) " " } }
                            }
                        }
                    }
                }
            }
            p class="below" { "Printed " (printed.on) " from " (printed.state) "." }
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

fn side(side: &Side, is_preview: bool, among: Among<'_>) -> Markup {
    html! {
        header {
            div {
                p class="kind" { (side.what) }
                h1 { (words(&side.name)) }
                @for line in &side.under { p class="below" { (words(line)) } }
            }
            @if let Some(stamp) = &side.stamp {
                div class=(if stamp.firm { "stamp" } else { "stamp loose" }) {
                    @if is_preview && stamp.word != "PREVIEW" { strong { "PREVIEW" } }
                    b class=[(stamp.word.len() > LONG_WORD).then_some("long")] { (stamp.word) }
                    span { (stamp.meaning) }
                }
            }
        }
        @if !side.alarms.is_empty() {
            div class="alarm" role="alert" { @for alarm in &side.alarms { p { (words(alarm)) } } }
        }
        @for section in &side.sections { (self::section(section, among)) }
        footer { p { (words(&side.every)) } @for line in &side.foot { p { (words(line)) } } }
    }
}

fn section(section: &Section, among: Among<'_>) -> Markup {
    html! {
        section class=[section.boxed.then_some("boxed")] {
            @if !section.title.is_empty() { h2 { (words(&section.title)) } }
            @for part in &section.parts { (self::part(part, among)) }
        }
    }
}

pub(super) fn part(part: &Part, among: Among<'_>) -> Markup {
    match part {
        Part::Text(text) => html! { p class=[among.mark(|| text.plain())] { (words(text)) } },
        Part::Far(text) => html! { p class="far" { span class=[among.mark(|| text.plain())] { (words(text)) } } },
        Part::Rows(list) | Part::Fields(list) => rows(list, among),
        Part::Numbers(numbers) => {
            html! { dl class="numbers" { @for number in numbers { (self::number(number, among)) } } }
        }
        Part::Table(table) => self::table(table, among),
        Part::Columns(columns) => html! { @for column in columns { (self::column(column, among)) } },
        Part::Steps(steps) => html! { ol class="steps" { @for step in steps { (self::step(step, among)) } } },
        Part::Beside(table, figure) => html! { (self::table(table, among)) (self::figure(figure, among)) },
        Part::Figures(figures) => {
            html! { div class="figures" { @for figure in figures { (self::figure(figure, among)) } } }
        }
        Part::Cautions(cautions) => {
            html! { ul class="cautions" { @for caution in cautions { li class=[among.mark(|| caution.plain())] { (words(caution)) " " } } } }
        }
    }
}

fn column(column: &Column, among: Among<'_>) -> Markup {
    html! { @for section in &column.sections { (self::section(section, among)) } }
}

fn number(number: &Number, among: Among<'_>) -> Markup {
    let mark = among.mark(|| labelled(&number.head(), &number.value));
    html! { div class=[mark] { dt { (words(&number.head())) } dd { (value(&number.value, among)) } } }
}

fn rows(rows: &[Row], among: Among<'_>) -> Markup {
    html! {
        dl {
            @for row in rows {
                div class=[among.mark(|| labelled(&row.label, &row.value))] {
                    dt { (words(&row.label)) }
                    dd { (value(&row.value, among)) }
                }
            }
        }
    }
}

fn step(step: &Step, among: Among<'_>) -> Markup {
    html! {
        li class=[step.boxed.then_some("boxed")] {
            span class="box" {}
            div class=[among.mark(|| step.does.plain())] { (words(&step.does)) }
            @if !step.rows.is_empty() { (rows(&step.rows, among)) }
        }
    }
}

fn table(table: &Table, among: Among<'_>) -> Markup {
    html! {
        table {
            @if !table.caption.is_empty() { caption { (words(&table.caption)) } }
            thead { tr class=[among.mark(|| heads(table))] { @for head in &table.heads { th { (words(head)) } } } }
            tbody {
                @for row in &table.rows {
                    tr class=[among.mark(|| cells(row))] { @for cell in row { td { @if !matches!(cell, Value::Blank(_)) { (value(cell, among)) } } } }
                }
            }
        }
        @for line in &table.below { p class="below" { span class=[among.mark(|| line.plain())] { (words(line)) } } }
    }
}

fn figure(figure: &Figure, among: Among<'_>) -> Markup {
    let is_other = among.other.is_some_and(|other| !other.draws(&figure.drawing));
    html! {
        figure class=[is_other.then_some(DIFFERS)] style=(format!("width:{:.0}mm", figure.drawing.width)) {
            @if !figure.title.is_empty() { figcaption class="title" { (words(&figure.title)) } }
            (svg::inline(&figure.drawing))
            @for line in &figure.below { figcaption { (words(line)) } }
        }
    }
}

fn value(value: &Value, among: Among<'_>) -> Markup {
    match value {
        Value::Text(text) => words(text),
        Value::Item { kind, name } => html! {
            @match among.anchor(*kind, name) {
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
        @for piece in &words.pieces {
            @match piece {
                Piece::Said(text) => (readable(text)),
                Piece::Stated(text) => bdi { (breakable(&readable(text))) },
                Piece::Strong(text) => b { bdi { (breakable(&readable(text))) } },
                Piece::Hand(text) => b class="hand" { bdi { (breakable(&readable(text))) } },
                Piece::Whole(text) => b { bdi { (breakable(&harmless(text))) } },
            }
        }
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
