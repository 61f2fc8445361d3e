//! Faces in a PDF: of each only the letters that are used, with the text that they stand for.

use std::collections::BTreeMap;

use miniz_oxide::deflate::{CompressionLevel, compress_to_vec_zlib};
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;
use ttf_parser::{Face, RawFace, Tag};

use crate::card::page::{Fonts, Letter};

const SYSTEM: SystemInfo<'_> = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// What a face is used for.
#[derive(Default)]
struct Used {
    glyphs: GlyphRemapper,
    /// By the number of the glyph in the file: what it means, and its width as a share of the size.
    letters: BTreeMap<u16, (char, f64)>,
}

/// The faces that are used, by number.
#[derive(Default)]
pub(super) struct Embedded(BTreeMap<usize, Used>);

impl Embedded {
    pub fn name(&self, face: usize) -> String {
        format!("F{face}")
    }

    /// The bytes that show a letter.
    pub fn glyph(&mut self, face: usize, letter: Letter) -> [u8; 2] {
        let used = self.0.entry(face).or_default();
        let glyph = used.glyphs.remap(letter.glyph);
        used.letters.insert(glyph, (letter.letter, letter.wide));
        glyph.to_be_bytes()
    }

    /// Writes all faces; their names and where they are.
    pub fn write(&self, pdf: &mut Pdf, fonts: &Fonts, new: &mut impl FnMut() -> Ref) -> Vec<(String, Ref)> {
        let write = |(face, used): (&usize, &Used)| {
            let ids = [new(), new(), new(), new(), new()];
            let written = used.write(pdf, fonts.bytes(*face), &format!("ROTORB+Card{face}"), ids);
            (self.name(*face), written)
        };
        self.0.iter().map(write).collect()
    }
}

impl Used {
    /// The five objects that a font of two-byte letters is made of: ISO 32000-1, 9.7.
    fn write(&self, pdf: &mut Pdf, (data, index): (&[u8], u32), name: &str, ids: [Ref; 5]) -> Ref {
        let [font, cid, descriptor, file, texts] = ids;
        let face = Face::parse(data, index).ok();
        let is_cff = face.as_ref().is_some_and(|face| face.tables().cff.is_some());
        let subset = subsetter::subset(data, index, &self.glyphs).unwrap_or_else(|_| data.to_vec());
        pdf.type0_font(font)
            .base_font(Name(name.as_bytes()))
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(texts);
        let mut entry = pdf.cid_font(cid);
        entry.subtype(if is_cff { CidFontType::Type0 } else { CidFontType::Type2 });
        entry.base_font(Name(name.as_bytes())).system_info(SYSTEM).font_descriptor(descriptor).default_width(0.0);
        if !is_cff {
            entry.cid_to_gid_map_predefined(Name(b"Identity"));
        }
        let mut widths = entry.widths();
        for (glyph, (_, wide)) in &self.letters {
            widths.consecutive(*glyph, [(wide * 1000.0) as f32]);
        }
        widths.finish();
        entry.finish();
        describe(pdf, descriptor, name, face.as_ref(), file, is_cff);
        // Of a face in the compact format, its one table is what goes into a file.
        let table =
            RawFace::parse(&subset, 0).ok().and_then(|face| face.table(Tag::from_bytes(b"CFF "))).filter(|_| is_cff);
        let packed = compress_to_vec_zlib(table.unwrap_or(&subset), CompressionLevel::DefaultLevel as u8);
        let mut stream = pdf.stream(file, &packed);
        stream.filter(Filter::FlateDecode);
        if is_cff {
            stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
        }
        stream.finish();
        let mut map = UnicodeCmap::new(Name(b"Card"), SYSTEM);
        self.letters.iter().for_each(|(glyph, (letter, _))| map.pair(*glyph, *letter));
        pdf.cmap(texts, &map.finish());
        font
    }
}

fn describe(pdf: &mut Pdf, id: Ref, name: &str, face: Option<&Face<'_>>, file: Ref, is_cff: bool) {
    let em = face.map_or(1000.0, |face| f32::from(face.units_per_em()));
    let share = |value: i16| f32::from(value) * 1000.0 / em;
    let of = |value: fn(&Face<'_>) -> i16| face.map_or(0.0, |face| share(value(face)));
    let bounds = face.map(ttf_parser::Face::global_bounding_box);
    let bounds = bounds.map_or(Rect::new(0.0, 0.0, 1000.0, 1000.0), |found| {
        Rect::new(share(found.x_min), share(found.y_min), share(found.x_max), share(found.y_max))
    });
    let mut descriptor = pdf.font_descriptor(id);
    descriptor.name(Name(name.as_bytes())).flags(FontFlags::SYMBOLIC).bbox(bounds).italic_angle(0.0);
    descriptor.ascent(of(|face| face.ascender())).descent(of(|face| face.descender()));
    descriptor.cap_height(of(|face| face.capital_height().unwrap_or(700))).stem_v(90.0);
    match is_cff {
        true => descriptor.font_file3(file),
        false => descriptor.font_file2(file),
    };
}
