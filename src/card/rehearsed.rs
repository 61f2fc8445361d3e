//! What a rehearsal of a setup showed, on its set-up card.

use super::document::{Card, Figure, Part, Section};
use super::drawing::{Bar, bars};
use super::words::Words;

/// What is told of a rehearsal.
#[derive(Clone, Debug)]
pub struct Rehearsed {
    pub sentences: Vec<String>,
    pub bars: Vec<Bar>,
    /// `1,000 rotors, seed 7`
    pub drawn: String,
}

/// At the end of the last side of a card.
pub fn with_rehearsal(card: &mut Card, rehearsed: &Rehearsed) {
    let Some(side) = card.sides.last_mut() else { return };
    let title = Words::said("Rehearsed: ").state(rehearsed.drawn.clone());
    let figure = Figure {
        title: Words::said("True final unbalance, as a share of the governing limit"),
        drawing: bars(&rehearsed.bars, "True unbalance of rehearsed rotors, as a share of their limit"),
        below: vec![Words::said("Open bars are over the limit.")],
    };
    let told = rehearsed.sentences.iter().fold(Section::new(title), |section, said| section.text(Words::whole(said)));
    side.sections.push(told.part(Part::Figures(vec![figure])));
}
