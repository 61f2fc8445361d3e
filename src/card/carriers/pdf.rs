//! Pages as PDF: lines and letters, one font a face, nothing else.

use miniz_oxide::deflate::{CompressionLevel, compress_to_vec_zlib};
use pdf_writer::types::{LineCapStyle, TextRenderingMode};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::pdf_fonts::Embedded;
use crate::card::drawing::{Anchor, Form, Pen};
use crate::card::page::{Fonts, POINT, Page, Run};
use crate::card::readable::harmless;

/// How far a control point lies from the end of a quarter of a circle, as a share of its radius.
const QUARTER: f64 = 0.552_285;
/// The halo round letters, to either side.
const HALO: f32 = 1.2;

const CATALOG: Ref = Ref::new(1);
const TREE: Ref = Ref::new(2);
const ABOUT: Ref = Ref::new(3);
const FIRST: i32 = 4;

/// The pages as one file.
pub fn pdf(title: &str, pages: &[Page], fonts: &Fonts) -> Vec<u8> {
    let mut embedded = Embedded::default();
    let contents: Vec<Vec<u8>> = pages.iter().map(|page| Writing::page(page, fonts, &mut embedded)).collect();
    let mut pdf = Pdf::new();
    let mut next = FIRST;
    let mut new = || {
        next += 1;
        Ref::new(next - 1)
    };
    let ids: Vec<(Ref, Ref)> = pages.iter().map(|_| (new(), new())).collect();
    let faces = embedded.write(&mut pdf, fonts, &mut new);
    pdf.catalog(CATALOG).pages(TREE).lang(TextStr("en"));
    pdf.pages(TREE).kids(ids.iter().map(|(page, _)| *page)).count(pages.len() as i32);
    pdf.document_info(ABOUT).title(TextStr(&harmless(title))).producer(TextStr("rotorbook"));
    for ((page, (id, content)), written) in pages.iter().zip(ids).zip(contents) {
        let size = [page.drawing.width, page.drawing.height].map(|side| (side / POINT) as f32);
        let mut entry = pdf.page(id);
        entry.parent(TREE).media_box(Rect::new(0.0, 0.0, size[0], size[1])).contents(content);
        let mut resources = entry.resources();
        let mut named = resources.fonts();
        for (name, font) in &faces {
            named.pair(Name(name.as_bytes()), *font);
        }
        named.finish();
        resources.finish();
        entry.finish();
        let packed = compress_to_vec_zlib(&written, CompressionLevel::DefaultLevel as u8);
        pdf.stream(content, &packed).filter(Filter::FlateDecode);
    }
    pdf.finish()
}

/// One page on its way.
struct Writing<'a> {
    content: Content,
    fonts: &'a Fonts,
    embedded: &'a mut Embedded,
}

impl<'a> Writing<'a> {
    fn page(page: &Page, fonts: &'a Fonts, embedded: &'a mut Embedded) -> Vec<u8> {
        let mut writing = Self { content: Content::new(), fonts, embedded };
        // Millimetres from the upper left corner, y down.
        let scale = (1.0 / POINT) as f32;
        writing.content.transform([scale, 0.0, 0.0, -scale, 0.0, (page.drawing.height / POINT) as f32]);
        writing.content.set_line_cap(LineCapStyle::ButtCap);
        page.drawing.shapes.iter().for_each(|shape| writing.shape(&shape.form));
        writing.content.finish().to_vec()
    }

    fn pen(&mut self, pen: Pen) {
        let (width, dashes): (f32, &[f32]) = match pen {
            Pen::Heavy => (0.8, &[]),
            Pen::Broken => (0.8, &[4.0, 2.0]),
            Pen::Normal => (0.4, &[]),
            Pen::Thin => (0.2, &[]),
            Pen::Dashed => (0.3, &[1.6, 1.0]),
            Pen::Axis => (0.2, &[5.0, 1.2, 1.0, 1.2]),
        };
        self.content.set_line_width(width).set_dash_pattern(dashes.iter().copied(), 0.0);
        self.content.set_stroke_gray(0.0);
    }

    fn shape(&mut self, form: &Form) {
        match form {
            Form::Line { from, to, pen } => self.through(&[*from, *to], *pen),
            Form::Path { points, pen } => self.through(points, *pen),
            Form::Rectangle { at, width, height, pen } => {
                self.pen(*pen);
                let [x, y, width, height] = [at[0], at[1], *width, *height].map(|number| number as f32);
                self.content.set_fill_gray(1.0).rect(x, y, width, height).fill_nonzero_and_stroke();
            }
            Form::Circle { at, radius, pen, filled } => self.circle(*at, *radius, *pen, *filled),
            Form::Outline { points, pen, filled } => {
                self.pen(*pen);
                self.content.set_fill_gray(if *filled { 0.0 } else { 1.0 });
                self.along(points);
                self.content.close_path().fill_nonzero_and_stroke();
            }
            Form::Text { at, anchor, size, text, strong, halo } => {
                let wide = self.fonts.width(text, *size, *strong);
                let back = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => wide / 2.0,
                    Anchor::End => wide,
                };
                self.text([at[0] - back, at[1]], *size, &harmless(text), *strong, *halo);
            }
        }
    }

    fn along(&mut self, points: &[[f64; 2]]) {
        for (n, [x, y]) in points.iter().enumerate() {
            let (x, y) = (*x as f32, *y as f32);
            if n == 0 {
                self.content.move_to(x, y)
            } else {
                self.content.line_to(x, y)
            };
        }
    }

    fn through(&mut self, points: &[[f64; 2]], pen: Pen) {
        self.pen(pen);
        self.along(points);
        self.content.stroke();
    }

    fn circle(&mut self, [x, y]: [f64; 2], radius: f64, pen: Pen, filled: bool) {
        self.pen(pen);
        let at = |across: f64, down: f64| [(x + across * radius) as f32, (y + down * radius) as f32];
        let [startx, starty] = at(1.0, 0.0);
        self.content.move_to(startx, starty);
        for (from, to) in
            [([1.0, 0.0], [0.0, 1.0]), ([0.0, 1.0], [-1.0, 0.0]), ([-1.0, 0.0], [0.0, -1.0]), ([0.0, -1.0], [1.0, 0.0])]
        {
            let control = |own: [f64; 2], other: [f64; 2]| at(own[0] + QUARTER * other[0], own[1] + QUARTER * other[1]);
            let ([a, b], [c, d], [e, f]) = (control(from, to), control(to, from), at(to[0], to[1]));
            self.content.cubic_to(a, b, c, d, e, f);
        }
        self.content.close_path();
        match filled {
            true => self.content.set_fill_gray(0.0).fill_nonzero_and_stroke(),
            false => self.content.stroke(),
        };
    }

    fn text(&mut self, [x, y]: [f64; 2], size: f64, text: &str, strong: bool, halo: bool) {
        let runs = self.fonts.runs(text, strong);
        for is_halo in [true, false] {
            if is_halo && !halo {
                continue;
            }
            let mode = if is_halo { TextRenderingMode::Stroke } else { TextRenderingMode::Fill };
            self.content.set_dash_pattern([], 0.0).set_line_width(HALO).set_stroke_gray(1.0).set_fill_gray(0.0);
            self.content.begin_text().set_text_rendering_mode(mode);
            let mut at = x;
            for run in &runs {
                self.run(run, [at, y], size);
                at += run.letters.iter().map(|letter| letter.wide).sum::<f64>() * size;
            }
            self.content.end_text();
        }
    }

    fn run(&mut self, run: &Run, [x, y]: [f64; 2], size: f64) {
        let name = self.embedded.name(run.face);
        self.content.set_font(Name(name.as_bytes()), size as f32);
        self.content.set_text_matrix([1.0, 0.0, 0.0, -1.0, x as f32, y as f32]);
        let bytes: Vec<u8> = run.letters.iter().flat_map(|letter| self.embedded.glyph(run.face, *letter)).collect();
        self.content.show(Str(&bytes));
    }
}
