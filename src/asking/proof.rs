//! The proof of a setup, in the order of the bench: what the masses read, back at the start, mounted again.

use super::forms::{Form, Readout};
use super::question::{Into, Line, Question, Wanted};
use super::runs::{Asked, channels, is_written, reads};
use super::set_to::SetTo;
use crate::book::{self, Book, Computing, EffectiveBlock, ItemId, SetupResults};
use crate::check;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Edit;
use crate::units::{Amount, Unit};
use crate::vocabulary::{AnyFact, Fact, Reading, calibrate, plane, proof, separation};

/// A proof that is being written.
struct Proving<'b, 'c> {
    book: &'b Book,
    setup: &'c SetupResults<'b>,
    proof: &'b Block,
    readout: Readout,
    left_out: &'c [String],
}

/// The next question of the proof of this name, which the setup has; `None` when it holds all. What is left out is not
/// asked.
pub fn next_of_proof<'b>(
    computing: &Computing<'b>,
    setup: &SetupResults<'b>,
    name: &str,
    left_out: &[String],
) -> Option<Question<'b>> {
    let book = computing.book();
    let proof = book.item(setup.id).inner(Kind::Proof).find(|proof| proof.name_text() == name)?;
    let proving = Proving { book, setup, proof, readout: Readout::of(setup), left_out };
    proving.next()
}

/// The edit by which a proof takes the facts over that it was made with.
pub fn taken_over(computing: &Computing<'_>, setup: ItemId) -> Option<Edit> {
    check::facts_of_proof(computing, setup)
}

impl<'b> Proving<'b, '_> {
    fn next(&self) -> Option<Question<'b>> {
        let into = || Into::Block(self.setup.id, self.proof);
        let open = |facts: Vec<Asked>| {
            let mut open = facts.into_iter().filter(|fact| !is_written(self.proof, &fact.head));
            open.find(|fact| !self.is_left_out(&fact.head)).map(|fact| self.question("Proof", fact, into()))
        };
        open(self.calibrations())
            .or_else(|| open(self.each_channel(proof::START_READING, "with no mass on")))
            .or_else(|| self.masses(Kind::Separation))
            .or_else(|| self.masses(Kind::Linearity))
            .or_else(|| open(self.each_channel(proof::BACK_AT_START, "with the calibration masses off again")))
            .or_else(|| open(self.remounted()))
    }

    fn is_left_out(&self, head: &str) -> bool {
        self.left_out.iter().any(|other| other == head)
    }

    fn question(&self, about: &str, fact: Asked, into: Into<'b>) -> Question<'b> {
        let Asked { head, asks, example, usual, form, may_be_unknown: may_be_left_out } = fact;
        let wanted = Wanted::Line(Box::new(Line { into, form, puts_on: None, may_be_left_out, once: None }));
        Question { about: about.to_owned(), asks, example, usual, head, wanted }
    }

    /// What the reading of each plane was set to with its calibration mass, taken as the sheet says.
    fn calibrations(&self) -> Vec<Asked> {
        let calibrated = self.setup.calibrations.iter().filter_map(|one| Some((one, one.block.as_ref()?)));
        calibrated
            .map(|(one, block)| {
                let readout = self.readout.near(one.reading.get());
                let set_to = SetTo::of(block.choice(calibrate::TAKEN_AS), &readout);
                let to_set = self.written(block, calibrate::READING.any()).or_else(|| {
                    let reading = one.reading.get()?;
                    Some(book::display_value(reading.raw(), one.reading.unit, 0.0))
                });
                Asked {
                    head: named(proof::CALIBRATION_READING, one.plane),
                    asks: set_to.asks(one.plane, to_set.as_deref()),
                    example: set_to.example(),
                    usual: None,
                    form: Form::SetTo(set_to),
                    may_be_unknown: true,
                }
            })
            .collect()
    }

    fn each_channel(&self, fact: Fact<Reading>, when: &str) -> Vec<Asked> {
        let each = channels(self.setup).into_iter().map(|channel| Asked {
            head: format!("{fact} {}", check::name_as_written(channel)),
            asks: format!("{}, {when}", reads(self.setup, channel)),
            example: self.readout.example(),
            usual: None,
            form: Form::Reading(self.readout.beside(fact, channel)),
            may_be_unknown: true,
        });
        each.collect()
    }

    fn remounted(&self) -> Vec<Asked> {
        let readout = self.readout.of_several();
        let one = readout.example();
        let each = channels(self.setup).into_iter().map(|channel| Asked {
            head: format!("{} {}", proof::REMOUNTED, check::name_as_written(channel)),
            asks: format!("{}, each time it was mounted again", reads(self.setup, channel)),
            example: format!("{one}, {one}, {one}; `-` to leave it out"),
            usual: None,
            form: Form::Readings(readout.clone()),
            may_be_unknown: true,
        });
        each.collect()
    }

    /// A mass in each plane alone, read on all channels; then another one.
    fn masses(&self, kind: Kind) -> Option<Question<'b>> {
        let planes: Vec<&str> = self.setup.channels.iter().map(|(_, plane)| *plane).collect();
        planes.into_iter().find_map(|plane| {
            let heading = format!("{kind} {}", check::name_as_written(plane));
            if self.is_left_out(&heading) {
                return None;
            }
            let block = self.proof.inner(kind).find(|block| block.name_text() == plane);
            let facts = self.of_mass(kind, plane);
            let mut open = facts.into_iter().filter(|fact| block.is_none_or(|block| !is_written(block, &fact.head)));
            let fact = open.next()?;
            let into = match block {
                Some(block) => Into::Block(self.setup.id, block),
                None => {
                    Into::New { item: self.setup.id, outer: self.proof, heading, before: Vec::new(), after: Vec::new() }
                }
            };
            let about = match kind {
                Kind::Separation => format!("Proof, a mass in {plane} alone"),
                _ => format!("Proof, another mass in {plane} alone"),
            };
            Some(self.question(&about, fact, into))
        })
    }

    fn of_mass(&self, kind: Kind, plane: &str) -> Vec<Asked> {
        let older = self.older(kind, plane);
        let before = |fact: AnyFact| older.and_then(|block| self.written(block, fact));
        let mut facts = vec![
            Asked {
                head: separation::MASS.to_string(),
                asks: "Mass, weighed with the wax or tape that holds it".to_owned(),
                example: match kind {
                    Kind::Separation => format!("1.50 {}", Unit::GRAM),
                    _ => format!("3.00 {}; `-` to leave it out", Unit::GRAM),
                },
                usual: before(separation::MASS.any()).or_else(|| self.calibration_mass(kind, plane)),
                form: Form::Amount(Unit::GRAM),
                may_be_unknown: true,
            },
            Asked {
                head: separation::RADIUS.to_string(),
                asks: "At radius".to_owned(),
                example: format!("134 {}", Unit::MILLIMETRE),
                usual: before(separation::RADIUS.any()).or_else(|| self.radius(plane)),
                form: Form::Amount(Unit::MILLIMETRE),
                may_be_unknown: true,
            },
            Asked {
                head: separation::ANGLE.to_string(),
                asks: "At angle".to_owned(),
                example: format!("0 {}", Unit::DEGREE),
                // No angle is taken for the one at which the mass is put on without a word of the sheet.
                usual: before(separation::ANGLE.any()).or_else(|| self.of_calibration(plane, calibrate::ANGLE.any())),
                form: Form::Amount(Unit::DEGREE),
                may_be_unknown: true,
            },
        ];
        facts.extend(channels(self.setup).into_iter().map(|channel| Asked {
            head: format!("{} {}", separation::READING, check::name_as_written(channel)),
            asks: reads(self.setup, channel),
            example: self.readout.example(),
            usual: None,
            form: Form::Reading(self.readout.beside(separation::READING, channel)),
            may_be_unknown: true,
        }));
        facts
    }

    /// The same mass in the latest proof before this one.
    fn older(&self, kind: Kind, plane: &str) -> Option<&EffectiveBlock<'b>> {
        let older = self.setup.block.inner(Kind::Proof).filter(|proof| proof.name_text() != self.proof.name_text());
        let latest = older.max_by_key(|proof| proof.day(proof::DATE))?;
        latest.inner(kind).find(|block| block.name_text() == plane)
    }

    /// A plane is separated with its calibration mass; the other mass is another one.
    fn calibration_mass(&self, kind: Kind, plane: &str) -> Option<String> {
        self.of_calibration(plane, calibrate::MASS.any()).filter(|_| kind == Kind::Separation)
    }

    /// A fact of the calibration mass of a plane, as it is written.
    fn of_calibration(&self, plane: &str, fact: AnyFact) -> Option<String> {
        let calibrated = self.setup.calibrations.iter().find(|one| one.plane == plane)?;
        self.written(calibrated.block.as_ref()?, fact)
    }

    /// The radius of the calibration mass of a plane, else of the plane itself.
    fn radius(&self, plane: &str) -> Option<String> {
        self.of_calibration(plane, calibrate::RADIUS.any()).or_else(|| {
            let rotor = self.setup.rotor.as_deref()?;
            self.written(&rotor.plane(plane)?.block, plane::RADIUS.any())
        })
    }

    fn written(&self, block: &EffectiveBlock<'b>, fact: AnyFact) -> Option<String> {
        let field = block.field(fact).filter(|field| !field.field.value.is_hole())?;
        Some(field.field.value_span.of(&self.book.file(field.item.file).text).to_owned())
    }
}

fn named(fact: Fact<Reading>, plane: &str) -> String {
    format!("{fact} {}", check::name_as_written(plane))
}
