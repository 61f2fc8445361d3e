//! Drawings as SVG. Every text is escaped by the template.

use maud::{Markup, PreEscaped, html};

use super::document::{Card, Part};
use super::drawing::{Anchor, Drawing, Form, Pen, Shape};
use super::html::{readable, shortened};
use crate::text::harmless;

/// Space between two drawings of one file.
const GAP: f64 = 6.0;

/// Coordinates to a hundredth of a millimetre.
fn n(value: f64) -> String {
    let text = format!("{:.2}", value + 0.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn points(points: &[[f64; 2]]) -> String {
    points.iter().map(|[x, y]| format!("{},{}", n(*x), n(*y))).collect::<Vec<_>>().join(" ")
}

fn width(pen: Pen) -> &'static str {
    match pen {
        Pen::Heavy => "0.8",
        Pen::Normal => "0.4",
        Pen::Thin | Pen::Axis => "0.2",
        Pen::Dashed => "0.3",
    }
}

fn dashes(pen: Pen) -> &'static str {
    match pen {
        Pen::Dashed => "1.6 1",
        Pen::Axis => "5 1.2 1 1.2",
        _ => "none",
    }
}

/// A drawing within a page.
pub(super) fn inline(drawing: &Drawing) -> Markup {
    let (width, height) = (n(drawing.width), n(drawing.height));
    html! {
        svg class="drawing" viewBox=(format!("0 0 {width} {height}")) style=(format!("width:{width}mm")) role="img"
            aria-label=(readable(&drawing.told)) data-scale=[drawing.scale.map(n)] {
            @for shape in &drawing.shapes { (self::shape(shape)) }
        }
    }
}

fn shape(shape: &Shape) -> Markup {
    let of = (!shape.of.is_empty()).then(|| shortened(&harmless(&shape.of), 60));
    html! {
        @match &shape.form {
            Form::Line { from, to, pen } => {
                line x1=(n(from[0])) y1=(n(from[1])) x2=(n(to[0])) y2=(n(to[1])) stroke="black"
                    stroke-width=(width(*pen)) stroke-dasharray=(dashes(*pen)) data-of=[of] {}
            }
            Form::Rectangle { at, width: wide, height, pen } => {
                rect x=(n(at[0])) y=(n(at[1])) width=(n(*wide)) height=(n(*height)) fill="white" stroke="black"
                    stroke-width=(width(*pen)) stroke-dasharray=(dashes(*pen)) data-of=[of] {}
            }
            Form::Circle { at, radius, pen, filled } => {
                circle cx=(n(at[0])) cy=(n(at[1])) r=(n(*radius)) fill=(fill(*filled)) stroke="black"
                    stroke-width=(width(*pen)) stroke-dasharray=(dashes(*pen)) data-of=[of] {}
            }
            Form::Outline { points: outline, pen, filled } => {
                polygon points=(points(outline)) fill=(if *filled { "black" } else { "white" }) stroke="black"
                    stroke-width=(width(*pen)) data-of=[of] {}
            }
            Form::Path { points: path, pen } => {
                polyline points=(points(path)) fill="none" stroke="black" stroke-width=(width(*pen)) data-of=[of] {}
            }
            Form::Text { at, anchor, size, text, strong } => {
                text x=(n(at[0])) y=(n(at[1])) text-anchor=(anchored(*anchor)) font-size=(n(*size))
                    font-weight=(if *strong { "bold" } else { "normal" }) font-family="sans-serif" stroke="white"
                    stroke-width="1.2" stroke-linejoin="round" paint-order="stroke" fill="black"
                    direction="ltr" unicode-bidi="plaintext" data-of=[of] { (readable(text)) }
            }
        }
    }
}

fn fill(filled: bool) -> &'static str {
    if filled { "black" } else { "none" }
}

fn anchored(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

/// All drawings of a card under each other, as a file of their own. `None` when it has none.
pub fn standalone(card: &Card) -> Option<String> {
    let parts = card.sections.iter().flat_map(|section| &section.parts);
    let drawings = parts.filter_map(|part| match part {
        Part::Figures(figures) => Some(figures.iter().map(|figure| &figure.drawing)),
        _ => None,
    });
    let rows: Vec<Vec<&Drawing>> = drawings.map(Iterator::collect).collect();
    if rows.is_empty() {
        return None;
    }
    let mut placed = Vec::new();
    let (mut y, mut right) = (0.0, 0.0_f64);
    for row in rows {
        let mut x = 0.0;
        let mut tall = 0.0_f64;
        for drawing in row {
            placed.push((x, y, drawing));
            x += drawing.width + GAP;
            tall = tall.max(drawing.height);
        }
        right = right.max(x - GAP);
        y += tall + GAP;
    }
    let (width, height) = (n(right), n(y - GAP));
    let markup = html! {
        (PreEscaped("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"))
        svg xmlns="http://www.w3.org/2000/svg" width=(format!("{width}mm")) height=(format!("{height}mm"))
            viewBox=(format!("0 0 {width} {height}")) {
            title { (readable(&card.name)) }
            rect width=(width) height=(height) fill="white" {}
            @for (x, y, drawing) in placed {
                g transform=(format!("translate({} {})", n(x), n(y))) data-scale=[drawing.scale.map(n)] {
                    @for shape in &drawing.shapes { (self::shape(shape)) }
                }
            }
        }
    };
    Some(markup.into_string() + "\n")
}
