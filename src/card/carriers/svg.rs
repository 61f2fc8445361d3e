//! Drawings and pages as SVG. Every text is escaped by the template.

use maud::{Markup, PreEscaped, html};

use crate::card::document::{Card, Part, Section};
use crate::card::drawing::{Anchor, Drawing, Form, Pen, Shape};
use crate::card::page::{FOR_BROWSERS, Fonts, Page};
use crate::card::readable::{harmless, readable, shortened};

/// Space between two drawings or pages of one file.
const GAP: f64 = 6.0;

/// What the letters of the program are called in a file.
pub(super) const FAMILY: &str = "card, 'Noto Sans', 'DejaVu Sans Condensed', 'Arial Narrow', sans-serif";

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
        Pen::Heavy | Pen::Broken => "0.8",
        Pen::Normal => "0.4",
        Pen::Thin | Pen::Axis => "0.2",
        Pen::Dashed => "0.3",
    }
}

fn dashes(pen: Pen) -> &'static str {
    match pen {
        Pen::Dashed => "1.6 1",
        Pen::Broken => "4 2",
        Pen::Axis => "5 1.2 1 1.2",
        _ => "none",
    }
}

/// The faces that come with the program, as a rule of a style sheet.
pub(super) fn faces() -> String {
    let face = |(bytes, weight): (&[u8], &str)| {
        format!(
            "@font-face {{ font-family: card; font-weight: {weight}; src: url(data:font/woff2;base64,{}) format('woff2'); }}\n",
            base64(bytes)
        )
    };
    FOR_BROWSERS.map(face).concat()
}

fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let four = |three: &[u8]| {
        let number = three.iter().chain([&0, &0]).take(3).fold(0_u32, |number, byte| number << 8 | u32::from(*byte));
        let digit = |n: usize| match n <= three.len() {
            true => char::from(DIGITS[(number >> (18 - 6 * n) & 63) as usize]),
            false => '=',
        };
        [0, 1, 2, 3].map(digit)
    };
    bytes.chunks(3).flat_map(four).collect()
}

/// A drawing within a page of HTML.
pub(super) fn inline(drawing: &Drawing) -> Markup {
    let (width, height) = (n(drawing.width), n(drawing.height));
    html! {
        svg class="drawing" viewBox=(format!("0 0 {width} {height}")) style=(format!("width:{width}mm")) role="img"
            aria-label=(readable(&drawing.told)) data-scale=[drawing.scale.map(n)] {
            @for shape in &drawing.shapes { (self::shape(shape, None)) }
        }
    }
}

/// A side of paper within a page of HTML.
pub(super) fn side(page: &Page, fonts: &Fonts) -> Markup {
    let (width, height) = (n(page.drawing.width), n(page.drawing.height));
    html! {
        svg class="side" viewBox=(format!("0 0 {width} {height}")) width=(format!("{width}mm"))
            height=(format!("{height}mm")) role="img" aria-label=(readable(&page.drawing.told)) {
            @for shape in &page.drawing.shapes { (self::shape(shape, Some(fonts))) }
        }
    }
}

/// Pages below each other, as a file of their own.
pub fn svg(title: &str, pages: &[Page], fonts: &Fonts) -> String {
    let mut placed = Vec::new();
    let mut y = 0.0;
    for page in pages {
        placed.push(([0.0, y], &page.drawing));
        y += page.drawing.height + GAP;
    }
    file(title, &placed, Some(fonts))
}

/// A text is as long as its letters are, where the fonts are known.
fn shape(shape: &Shape, fonts: Option<&Fonts>) -> Markup {
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
                polyline points=(points(path)) fill="none" stroke="black" stroke-width=(width(*pen))
                    stroke-dasharray=(dashes(*pen)) data-of=[of] {}
            }
            Form::Text { at, anchor, size, text, strong, halo } => {
                text x=(n(at[0])) y=(n(at[1])) text-anchor=(anchored(*anchor)) font-size=(n(*size))
                    font-weight=(if *strong { "bold" } else { "normal" }) font-family=(FAMILY)
                    stroke=[halo.then_some("white")] stroke-width=[halo.then_some("1.2")]
                    stroke-linejoin=[halo.then_some("round")] paint-order=[halo.then_some("stroke")] fill="black"
                    textLength=[fonts.map(|fonts| n(fonts.width(text, *size, *strong)))] lengthAdjust=[fonts.map(|_| "spacingAndGlyphs")]
                    direction="ltr" unicode-bidi="plaintext" data-of=[of] { (harmless(text)) }
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

/// All drawings of a card below each other, as a file of their own. `None` when it has none.
pub fn drawings(card: &Card) -> Option<String> {
    let sections = card.sides.iter().flat_map(|side| &side.sections);
    let mut placed = Vec::new();
    let mut y = 0.0;
    for row in sections.flat_map(rows) {
        let mut x = 0.0;
        let mut tall = 0.0_f64;
        for drawing in row {
            placed.push(([x, y], drawing));
            x += drawing.width + GAP;
            tall = tall.max(drawing.height);
        }
        y += tall + GAP;
    }
    (!placed.is_empty()).then(|| file(&card.name, &placed, None))
}

fn rows(section: &Section) -> Vec<Vec<&Drawing>> {
    section.parts.iter().flat_map(rows_of).collect()
}

fn rows_of(part: &Part) -> Vec<Vec<&Drawing>> {
    match part {
        Part::Figures(figures) => vec![figures.iter().map(|figure| &figure.drawing).collect()],
        Part::Beside(_, figure) => vec![vec![&figure.drawing]],
        Part::Columns(columns) => columns.iter().flat_map(|column| &column.sections).flat_map(rows).collect(),
        _ => Vec::new(),
    }
}

fn file(title: &str, placed: &[([f64; 2], &Drawing)], fonts: Option<&Fonts>) -> String {
    let right = placed.iter().map(|([x, _], drawing)| x + drawing.width).fold(0.0, f64::max);
    let bottom = placed.iter().map(|([_, y], drawing)| y + drawing.height).fold(0.0, f64::max);
    let (width, height) = (n(right), n(bottom));
    let markup = html! {
        (PreEscaped("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"))
        svg xmlns="http://www.w3.org/2000/svg" width=(format!("{width}mm")) height=(format!("{height}mm"))
            viewBox=(format!("0 0 {width} {height}")) {
            title { (readable(title)) }
            style { (PreEscaped(faces())) }
            rect width=(width) height=(height) fill="white" {}
            @for ([x, y], drawing) in placed {
                g transform=(format!("translate({} {})", n(*x), n(*y))) data-scale=[drawing.scale.map(n)] {
                    @for shape in &drawing.shapes { (self::shape(shape, fonts)) }
                }
            }
        }
    };
    markup.into_string() + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    // RFC 4648, section 10.
    #[test]
    fn bytes_as_base64() {
        for (bytes, text) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }
}
