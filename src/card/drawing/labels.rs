//! Words beside each other: as many lines as it takes that none stands on another.

use super::wide;

/// A label that wants to stand over or under a place.
pub(super) struct Label {
    pub at: f64,
    pub text: String,
}

/// A label where it stands: the middle of its text, and its line from 0.
pub(super) struct Placed {
    /// The place that it speaks of.
    pub at: f64,
    pub middle: f64,
    pub line: usize,
    pub text: String,
}

/// Free space between two labels of a line.
const GAP: f64 = 2.5;

/// Puts labels into lines between `low` and `high`, each as near to its place as there is room.
pub(super) fn place(mut labels: Vec<Label>, low: f64, high: f64) -> Vec<Placed> {
    labels.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut ends: Vec<f64> = Vec::new();
    let mut placed = Vec::new();
    for label in labels {
        let half = wide(&label.text) / 2.0;
        let middle = label.at.min(high - half).max(low + half);
        let free = ends.iter().position(|end| end + GAP <= middle - half);
        let line = free.unwrap_or(ends.len());
        match free {
            Some(line) => ends[line] = middle + half,
            None => ends.push(middle + half),
        }
        placed.push(Placed { at: label.at, middle, line, text: label.text });
    }
    placed
}

/// How many lines the labels take.
pub(super) fn lines(placed: &[Placed]) -> usize {
    placed.iter().map(|label| label.line + 1).max().unwrap_or(0)
}
