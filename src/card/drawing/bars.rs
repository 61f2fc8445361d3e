//! How many there are of each kind, as bars across the page.

use super::{Anchor, Drawing, Form, Pen, SIZE, wide};

/// One bar.
#[derive(Clone, Debug)]
pub struct Bar {
    pub label: String,
    pub count: usize,
    /// Drawn as an outline, to be told from the others.
    pub is_open: bool,
}

const ROW: f64 = 4.2;
const LONGEST: f64 = 90.0;

pub(in crate::card) fn bars(bars: &[Bar], told: &str) -> Drawing {
    let label = bars.iter().map(|bar| wide(&bar.label)).fold(0.0, f64::max) + 2.0;
    let most = bars.iter().map(|bar| bar.count).max().unwrap_or(1).max(1) as f64;
    let mut drawing = Drawing::new(label + LONGEST + 14.0, ROW * bars.len() as f64 + 1.0, told);
    for (n, bar) in bars.iter().enumerate() {
        let top = ROW * n as f64;
        let below = top + ROW - 0.8;
        drawing.text("", [label - 2.0, top + SIZE], Anchor::End, bar.label.clone());
        if bar.count == 0 {
            continue;
        }
        let end = label + LONGEST * bar.count as f64 / most;
        let points = vec![[label, top + 0.6], [end, top + 0.6], [end, below], [label, below]];
        drawing.add("", Form::Outline { points, pen: Pen::Thin, filled: !bar.is_open });
        drawing.text("", [end + 1.5, top + SIZE], Anchor::Start, bar.count.to_string());
    }
    drawing.line("", [label, 0.0], [label, ROW * bars.len() as f64], Pen::Thin);
    drawing
}
