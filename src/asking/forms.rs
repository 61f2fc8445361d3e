//! How answers are written, from the short words of the bench to a line of a sheet.

use super::question::Refused;
use super::set_to::SetTo;
use crate::book::{MachineFacts, SetupResults, Val};
use crate::check;
use crate::units::{Indication, Unit};
use crate::vocabulary::proof::shows_beside;
use crate::vocabulary::readout::{self, StrobeShows};
use crate::vocabulary::{Fact, Reading};

/// What an answer is, and what it may leave out.
#[derive(Clone, Debug)]
pub(super) enum Form {
    /// A number, which has this unit where it names none.
    Amount(Unit),
    /// An angle, or a numbered place, of which these are the angles: place 1 first.
    Angle(Vec<String>),
    /// Several of them: so many.
    Amounts(Unit, usize),
    /// One of these words, or how one of them begins.
    Choice(&'static [&'static str]),
    /// Some of these names, between commas.
    Names(Vec<String>),
    /// What one channel reads, with what is read for the angle after `@`.
    Reading(Readout),
    /// Several readings of one channel, between commas.
    Readings(Readout),
    /// What a mass reads on this day, without an angle.
    OfDay(String, SetTo),
    /// What the reading of a calibration was set to.
    SetTo(SetTo),
}

/// What readings are read on.
#[derive(Clone, Debug)]
pub(super) struct Readout {
    pub unit: Unit,
    pub scales: Vec<String>,
    /// A number that can be read on it.
    pub number: String,
    pub shows_angles: bool,
    /// What is read for the angle is a place on a clock.
    pub shows_clock: bool,
    /// How the line of a clock place beside the reading begins, where that is a fact of its own: `shows near`.
    pub clock_beside: Option<String>,
}

impl Readout {
    pub fn of(setup: &SetupResults<'_>) -> Self {
        let readout = setup.machine.as_ref().and_then(|machine: &MachineFacts<'_>| machine.readout.as_ref());
        let (end, step) = match readout.map(|readout| (readout, readout.scales.first())) {
            Some((_, Some(scale))) => (scale.marks, scale.smallest_step),
            Some((readout, None)) => {
                let amount = |amount: &Val<Indication>| Some(readout.unit.from_base(amount.get()?.value()));
                (amount(&readout.full_scale), amount(&readout.smallest_step))
            }
            None => (None, None),
        };
        let strobe = readout.and_then(|readout| readout.block.choice(readout::STROBE_SHOWS));
        Self {
            number: number_on(end.unwrap_or(25.0), step.unwrap_or(0.1)),
            shows_clock: strobe == Some(StrobeShows::ClockPlaceOfMark),
            unit: readout.map_or(Unit::DIVISION, |readout| readout.unit),
            scales: readout
                .map_or_else(Vec::new, |readout| readout.scales.iter().map(|scale| scale.name.to_owned()).collect()),
            shows_angles: setup.reads_angles(),
            clock_beside: None,
        }
    }

    /// For what a channel reads, with a clock place as a fact of its own.
    pub fn beside(&self, reading: Fact<Reading>, channel: &str) -> Self {
        let head = format!("{} {}", shows_beside(reading), check::name_as_written(channel));
        Self { clock_beside: Some(head), ..self.clone() }
    }

    /// With examples near what is expected, where that is read on its only scale.
    pub fn near(&self, expected: Option<Indication>) -> Self {
        let expected =
            expected.filter(|_| self.scales.is_empty()).map(|expected| self.unit.from_base(expected.value()));
        let decimals = self.number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let number = expected.map(|expected| format!("{expected:.decimals$}"));
        Self { number: number.unwrap_or_else(|| self.number.clone()), ..self.clone() }
    }

    /// With a tenth of its number as the example: what is left of a rotor without a mass.
    pub fn small(&self) -> Self {
        let decimals = self.number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let number = self.number.parse::<f64>().map(|number| format!("{:.decimals$}", number / 10.0));
        Self { number: number.unwrap_or_else(|_| self.number.clone()), ..self.clone() }
    }

    /// For several readings in one fact, which has no clock places.
    pub fn of_several(&self) -> Self {
        Self { shows_angles: self.shows_angles && !self.shows_clock, ..self.clone() }
    }

    /// `8.8 mark on fine @ 310`
    pub fn example(&self) -> String {
        let amount = match self.scales.first() {
            Some(scale) => format!("{} {} on {}", self.number, Unit::MARK, check::name_as_written(scale)),
            None => format!("{} {}", self.number, self.unit),
        };
        match (self.shows_angles, self.shows_clock) {
            (false, _) => amount,
            (true, true) => format!("{amount} @ 4:30"),
            (true, false) => format!("{amount} @ 310"),
        }
    }

    /// The amount as a sheet has it.
    pub fn amount(&self, given: &str) -> Result<String, Refused> {
        let words: Vec<&str> = given.split_whitespace().collect();
        let scale = |name: &str| self.scales.iter().find(|scale| scale.trim() == name.trim_matches('"'));
        let on = |number: &str, scale: &str| format!("{number} {} on {}", Unit::MARK, check::name_as_written(scale));
        match words[..] {
            [number] if is_number(number) && self.scales.is_empty() => Ok(format!("{number} {}", self.unit)),
            [number] if is_number(number) => Err(Refused(format!(
                "the readout has several scales: write `{}`, or `{number} {}`",
                on(number, &self.scales[0]),
                self.unit
            ))),
            [number, "on", name] | [number, name] if is_number(number) && scale(name).is_some() => {
                Ok(on(number, name.trim_matches('"')))
            }
            [number, "on", name] if is_number(number) && !self.scales.is_empty() => {
                Err(Refused(format!("the readout has no scale {name}: it has {}", check::and_list(&self.scales))))
            }
            [number, unit] if is_number(number) && !self.shows(unit) => {
                Err(Refused(format!("the readout does not show {unit}: write `{}`", self.example())))
            }
            _ => Ok(words.join(" ")),
        }
    }

    /// Whether an amount in this unit can be read on it; what is no unit is told by what reads the sheet.
    fn shows(&self, unit: &str) -> bool {
        let Ok(unit) = Unit::parse(unit) else { return true };
        unit.dimension() == self.unit.dimension() || unit == Unit::MARK
    }

    /// The reading, and what is a fact of its own beside it.
    fn reading(&self, given: &str) -> Result<(String, Option<String>), Refused> {
        let (amount, angle) = match given.split_once('@') {
            Some((amount, angle)) => (amount.trim(), Some(angle.trim())),
            None => (given.trim(), None),
        };
        let amount = self.amount(amount)?;
        match angle {
            None if self.shows_angles => {
                // `8.8 div`, `8.8 mark on fine`
                let words: Vec<&str> = amount.split(' ').collect();
                let is_amount = matches!(words.len(), 2 | 4) && is_number(words[0]);
                let without =
                    if is_amount { format!(", or `{amount} @ -` where none can be read") } else { String::new() };
                Err(Refused(format!("what is read for the angle is missing: write `{}`{without}", self.example())))
            }
            None | Some("-") => Ok((amount, None)),
            Some(clock) if clock.contains(':') || clock.contains("o'clock") => match &self.clock_beside {
                Some(head) => Ok((amount, Some(format!("{head}: {clock}")))),
                None => Err(Refused("an angle in degrees is wanted here, not a place on a clock".to_owned())),
            },
            // A number alone may be an hour or an angle.
            Some(_) if self.shows_clock && self.clock_beside.is_some() => Err(Refused(format!(
                "the strobe shows where the mark is, as on the face of a clock, and not degrees: write `{}`",
                self.example()
            ))),
            Some(angle) => Ok((format!("{amount} @ {}", angle_of_a_turn(angle)?), None)),
        }
    }
}

impl Form {
    /// The lines of a fact that an answer is.
    pub fn lines(&self, head: &str, given: &str) -> Result<Vec<String>, Refused> {
        let is_one =
            matches!(self, Form::Amount(_) | Form::Angle(_) | Form::Reading(_) | Form::OfDay(..) | Form::SetTo(_));
        if is_one && has_decimal_comma(given) {
            let written = given.replacen(',', ".", 1);
            return Err(Refused(format!("`{given}` has a decimal comma: write a point, `{written}`")));
        }
        let mut more = None;
        let value = match self {
            Form::Amount(unit) => amount(given, *unit)?,
            Form::Angle(places) => at_angle(places, given)?,
            Form::Amounts(unit, number) => {
                let amounts: Vec<String> =
                    without_order(given).split(',').map(|one| amount(one.trim(), *unit)).collect::<Result<_, _>>()?;
                if amounts.len() != *number {
                    return Err(Refused(format!(
                        "{number} values are wanted, with a comma between them, not {}",
                        amounts.len()
                    )));
                }
                amounts.join(", ")
            }
            Form::Choice(words) => chosen(words, given)?.to_owned(),
            Form::Names(names) => named(names, given)?,
            Form::Reading(readout) => {
                let (reading, beside) = readout.reading(given)?;
                more = beside;
                reading
            }
            Form::OfDay(day, set_to) => format!("{day}, {}", set_to.amount(given)?),
            Form::Readings(readout) => {
                let each = given.split(',').map(|one| Ok(readout.reading(one)?.0));
                each.collect::<Result<Vec<_>, Refused>>()?.join(", ")
            }
            Form::SetTo(set_to) => set_to.amount(given)?,
        };
        Ok(std::iter::once(format!("{head}: {value}")).chain(more).collect())
    }
}

/// About a third of the way up a scale, to what can be read on it.
fn number_on(end: f64, step: f64) -> String {
    let decimals = (-step.log10()).ceil().clamp(0.0, 4.0);
    format!("{:.*}", decimals as usize, (0.35 * end / step).round() * step)
}

/// The rest of a text that begins with these words, in capitals or not.
pub(super) fn without_head<'g>(given: &'g str, head: &str) -> Option<&'g str> {
    let (own, rest) = given.split_at_checked(head.len())?;
    let is_word = rest.is_empty() || rest.starts_with(char::is_whitespace);
    (is_word && own.eq_ignore_ascii_case(head)).then(|| rest.trim_start())
}

/// Angles as weights are ordered to them: `60 deg, 300 deg` of `TURN WEIGHT 1 TO 60 deg, WEIGHT 2 TO 300 deg`.
pub(super) fn without_order(given: &str) -> String {
    let angle = |(n, one): (usize, &str)| {
        let one = one.trim();
        let one = without_head(one, "turn").unwrap_or(one);
        without_head(one, &format!("weight {n} to")).unwrap_or(one).to_owned()
    };
    (1..).zip(given.split(',')).map(angle).collect::<Vec<_>>().join(", ")
}

/// The one word that begins so.
pub(super) fn chosen<'w>(words: &[&'w str], given: &str) -> Result<&'w str, Refused> {
    let given = given.to_lowercase();
    let begins: Vec<&&str> = words.iter().filter(|word| word.starts_with(&given)).collect();
    match (words.iter().find(|word| **word == given), &begins[..]) {
        (Some(word), _) => Ok(word),
        (None, [one]) => Ok(one),
        _ => Err(Refused(format!("answer with {}", check::or_list(words)))),
    }
}

/// The names that are meant, each as a sheet writes it: one alone that has the words of the answer in it.
fn named(names: &[String], given: &str) -> Result<String, Refused> {
    let one = |part: &str| {
        let part = part.trim().trim_matches('"').to_lowercase();
        let exact = names.iter().find(|name| name.to_lowercase() == part);
        let mut like = names.iter().filter(|name| !part.is_empty() && name.to_lowercase().contains(&part));
        match (exact, like.next(), like.next()) {
            (Some(name), ..) | (None, Some(name), None) => Ok(check::name_as_written(name)),
            _ => Err(Refused(format!("answer with {}", check::or_list(names)))),
        }
    };
    Ok(given.split(',').map(one).collect::<Result<Vec<_>, _>>()?.join(", "))
}

/// `310 deg` of `310`; as it is written where it has a unit.
pub(super) fn with_unit(given: &str, unit: Unit) -> String {
    if is_number(given) { format!("{given} {unit}") } else { given.split_whitespace().collect::<Vec<_>>().join(" ") }
}

/// An amount in this unit where it names none; an angle within one turn.
fn amount(given: &str, unit: Unit) -> Result<String, Refused> {
    if unit == Unit::DEGREE { angle_of_a_turn(given) } else { Ok(with_unit(given, unit)) }
}

/// `60 deg` of `60`, or of `place 3` where that is its angle.
fn at_angle(places: &[String], given: &str) -> Result<String, Refused> {
    let lower = given.trim().to_lowercase();
    let Some(place) = lower.strip_prefix("place ").map(str::trim) else { return angle_of_a_turn(given) };
    let nth = place.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
    match nth.and_then(|nth| places.get(nth)) {
        Some(angle) => Ok(angle.clone()),
        None if places.is_empty() => Err(Refused("the plane numbers no places: write the angle".to_owned())),
        None => Err(Refused(format!("the plane has no place {place}: it has places 1 to {}", places.len()))),
    }
}

/// An angle within one turn: nothing on a machine shows more.
pub(super) fn angle_of_a_turn(given: &str) -> Result<String, Refused> {
    let written = with_unit(given, Unit::DEGREE);
    let degrees = written.split_once(' ').filter(|(_, unit)| Unit::parse(unit) == Ok(Unit::DEGREE));
    match degrees.and_then(|(number, _)| number.parse::<f64>().ok()) {
        Some(degrees) if !(0.0..=360.0).contains(&degrees) => {
            Err(Refused(format!("{written} is not an angle of one turn: write it from 0 to 360 {}", Unit::DEGREE)))
        }
        _ => Ok(written),
    }
}

/// `312,5`
pub(super) fn has_decimal_comma(given: &str) -> bool {
    let letters: Vec<char> = given.chars().collect();
    letters.windows(3).any(|three| matches!(three, [a, ',', b] if a.is_ascii_digit() && b.is_ascii_digit()))
}

pub(super) fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    digits.starts_with(|c: char| c.is_ascii_digit()) && digits.chars().all(|c| c.is_ascii_digit() || c == '.')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readout(scales: &[&str]) -> Readout {
        Readout {
            unit: Unit::DIVISION,
            scales: scales.iter().map(|scale| (*scale).to_owned()).collect(),
            number: number_on(25.0, 0.1),
            shows_angles: true,
            shows_clock: false,
            clock_beside: Some("shows near".to_owned()),
        }
    }

    fn lines(form: &Form, given: &str) -> Vec<String> {
        form.lines("reading near", given).unwrap()
    }

    #[test]
    fn short_words_become_lines_of_a_sheet() {
        let plain = Form::Reading(readout(&[]));
        assert_eq!(lines(&plain, "8.8@310"), ["reading near: 8.8 div @ 310 deg"]);
        assert_eq!(lines(&plain, "8.8 @ 4:30"), ["reading near: 8.8 div", "shows near: 4:30"]);
        assert_eq!(lines(&plain, "8.8 @ -"), ["reading near: 8.8 div"]);
        let scales = Form::Reading(readout(&["fine", "coarse"]));
        for given in ["8.8 fine @ 310", "8.8 on fine @ 310 deg", "8.8 mark on fine @ 310"] {
            assert_eq!(lines(&scales, given), ["reading near: 8.8 mark on fine @ 310 deg"]);
        }
        assert_eq!(lines(&Form::Amounts(Unit::DEGREE, 3), "0, 120,240 deg"), ["reading near: 0 deg, 120 deg, 240 deg"]);
        assert_eq!(lines(&Form::Choice(&["yes", "no"]), "Y"), ["reading near: yes"]);
        let several = Form::Readings(readout(&[]));
        assert_eq!(lines(&several, "0.5 @ 105, 0.6@110"), ["reading near: 0.5 div @ 105 deg, 0.6 div @ 110 deg"]);
    }

    #[test]
    fn what_is_missing_is_asked_for() {
        let refused = |form: Form, given: &str| form.lines("reading near", given).unwrap_err().0;
        assert!(refused(Form::Reading(readout(&[])), "8.8").contains("what is read for the angle is missing"));
        assert!(refused(Form::Reading(readout(&["fine"])), "8.8 @ 310").contains("several scales"));
        assert_eq!(
            refused(Form::Reading(readout(&[])), "5 g @ 310"),
            "the readout does not show g: write `8.8 div @ 310`"
        );
        let clock = Form::Reading(Readout { shows_clock: true, ..readout(&["fine"]) });
        for given in ["2 fine @ 3", "30 fine @ 200", "30 fine @ 200 deg"] {
            let said = clock.lines("reading near", given).unwrap_err().0;
            assert!(said.contains("as on the face of a clock") && said.contains("@ 4:30"), "{given}: {said}");
        }
        assert_eq!(lines(&clock, "2 fine @ 3:00"), ["reading near: 2 mark on fine", "shows near: 3:00"]);
        let places = || Form::Angle(vec!["0 deg".to_owned(), "22.5 deg".to_owned()]);
        assert_eq!(lines(&places(), "Place 2"), ["reading near: 22.5 deg"]);
        assert_eq!(refused(places(), "place 3"), "the plane has no place 3: it has places 1 to 2");
        assert_eq!(refused(Form::Amount(Unit::DEGREE), "312,5"), "`312,5` has a decimal comma: write a point, `312.5`");
        let turn = "-5 deg is not an angle of one turn: write it from 0 to 360 deg";
        assert_eq!(refused(Form::Amount(Unit::DEGREE), "-5"), turn);
        assert!(refused(Form::Reading(readout(&[])), "8.8 @ 400").contains("not an angle of one turn"));
        assert!(refused(Form::Choice(&["rotor", "arbor"]), "r2").contains("answer with rotor or arbor"));
        assert!(refused(Form::Choice(&["light", "leave"]), "l").contains("answer with"));
    }
}
