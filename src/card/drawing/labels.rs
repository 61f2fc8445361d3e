//! Words beside each other: as many lines as it takes that none is on another.

use super::wide;

/// A label that wants to stand over or under a place.
pub(super) struct Label {
    pub at: f64,
    pub text: String,
}

/// A label where it is: the middle of its text, and its line from 0.
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

/// The same in one line, labels pushed apart as far as they must be; in several lines where one is too short.
pub(super) fn side_by_side(labels: Vec<Label>, low: f64, high: f64) -> Vec<Placed> {
    let room: f64 = labels.iter().map(|label| wide(&label.text) + GAP).sum();
    if room > high - low {
        return place(labels, low, high);
    }
    let mut placed = place(labels, low, high);
    placed.iter_mut().for_each(|label| label.line = 0);
    // Each push shares the overlap between both; a last pass from the right keeps all on the paper.
    for _ in 0..200 {
        for n in 1..placed.len() {
            let least = (wide(&placed[n - 1].text) + wide(&placed[n].text)) / 2.0 + GAP;
            let over = least - (placed[n].middle - placed[n - 1].middle);
            if over > 1e-9 {
                placed[n - 1].middle -= over / 2.0;
                placed[n].middle += over / 2.0;
            }
        }
        for label in &mut placed {
            let half = wide(&label.text) / 2.0;
            label.middle = label.middle.min(high - half).max(low + half);
        }
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_of_one_place_stand_beside_each_other() {
        let label = |text: &str| Label { at: 50.0, text: text.to_owned() };
        let placed = side_by_side(vec![label("first plane"), label("second plane")], 0.0, 100.0);
        let apart = placed[1].middle - placed[0].middle;
        assert!(apart >= (wide("first plane") + wide("second plane")) / 2.0, "{apart}");
        assert_eq!(lines(&placed), 1);
        assert_eq!(lines(&place(vec![label("first plane"), label("second plane")], 0.0, 100.0)), 2);
    }
}
