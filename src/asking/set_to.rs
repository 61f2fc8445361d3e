//! What the reading of a calibration was set to, from what was read, as its sheet says that it is taken.

use super::forms::Readout;
use super::question::Refused;
use crate::units::{self, Angle, Indication, Vector};
use crate::vocabulary::calibrate::TakenAs;

/// How one plane's calibration is read.
#[derive(Clone, Debug)]
pub(super) struct SetTo {
    readout: Readout,
    way: Way,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Way {
    /// The reading with the mass on.
    OneReading,
    /// What a mass alone reads, as on a balanced rotor; or the readings without and with it.
    OneOrDifference,
    /// The mean of two readings, with the mass half a turn on.
    MeanOfTwo,
    /// The vector difference of the readings with and without the mass.
    Difference,
    /// The same where the machine shows no angle: somebody else has worked it out.
    DifferenceAlone,
}

const DIFFERENCE: &str = "difference";
const MEAN: &str = "mean";

/// One reading as an answer gives it.
struct Read {
    number: f64,
    decimals: usize,
    /// The unit, and the scale where it has one.
    unit: String,
    angle: Option<Angle>,
}

impl SetTo {
    pub fn of(taken_as: Option<TakenAs>, readout: &Readout) -> Self {
        let way = match taken_as {
            Some(TakenAs::VectorDifference) if readout.shows_angles => Way::Difference,
            Some(TakenAs::VectorDifference) => Way::DifferenceAlone,
            Some(TakenAs::MeanOfTwoOppositePositions) => Way::MeanOfTwo,
            Some(TakenAs::OnePosition) | None => Way::OneReading,
        };
        Self { readout: readout.clone(), way }
    }

    /// How a check mass is read.
    pub fn of_check(is_difference: bool, readout: &Readout) -> Self {
        match is_difference {
            true => Self::of(Some(TakenAs::VectorDifference), readout),
            false if readout.shows_angles => Self { readout: readout.clone(), way: Way::OneOrDifference },
            false => Self::of(None, readout),
        }
    }

    /// `Calibration mass of hub, vector difference to set: 10.7 div. Readings without and with it`
    pub fn asks(&self, plane: &str, to_set: Option<&str>) -> String {
        let to_set = |what: &str| to_set.map(|reading| format!("{what}to set: {reading}"));
        let (head, asks) = match self.way {
            Way::OneReading | Way::OneOrDifference => (to_set(""), "Reading with it on"),
            Way::MeanOfTwo => (to_set("mean "), "Readings as put on and half a turn on"),
            Way::Difference => (to_set("vector difference "), "Readings without it and with it"),
            Way::DifferenceAlone => (to_set("vector difference "), "Difference of the readings with it and without it"),
        };
        let head = head.map(|head| format!(", {head}")).unwrap_or_default();
        format!("Calibration mass of {plane}{head}. {asks}")
    }

    /// The same of a check mass.
    pub fn asks_of_check(&self) -> &'static str {
        match self.way {
            Way::OneReading | Way::MeanOfTwo => "The mass alone reads",
            Way::OneOrDifference => "The mass alone reads, or the readings without the mass and with it",
            Way::Difference => "Readings without the mass and with it",
            Way::DifferenceAlone => "Difference of the readings with the mass and without it",
        }
    }

    pub fn example(&self) -> String {
        let amount = Readout { shows_angles: false, ..self.readout.clone() }.example();
        let reading = self.readout.example();
        match self.way {
            Way::OneReading | Way::DifferenceAlone => amount,
            Way::OneOrDifference => format!("{amount}, or {}, {reading}", self.readout.small().example()),
            Way::MeanOfTwo => format!("{amount}, {amount}; or `{MEAN} {amount}`"),
            Way::Difference => format!("{}, {reading}; or `{DIFFERENCE} {amount}`", self.readout.small().example()),
        }
    }

    /// The amount that was set, as a sheet has it. One reading alone is refused where two are wanted: nothing would tell
    /// it from what was set.
    pub fn amount(&self, given: &str) -> Result<String, Refused> {
        let word = match self.way {
            Way::OneReading | Way::DifferenceAlone => return self.readout.amount(given),
            Way::OneOrDifference if !given.contains(',') => return self.readout.amount(given),
            Way::OneOrDifference => DIFFERENCE,
            Way::MeanOfTwo => MEAN,
            Way::Difference => DIFFERENCE,
        };
        if let Some(alone) = given.strip_prefix(word) {
            return self.readout.amount(alone.trim());
        }
        let readings = given.split(',').map(|one| self.read(one.trim())).collect::<Result<Vec<_>, _>>()?;
        let [first, second] = &readings[..] else {
            return Err(Refused(format!("two readings are wanted: write `{}`", self.example())));
        };
        if first.unit != second.unit {
            return Err(Refused("both readings are wanted on the same scale, in the same unit".to_owned()));
        }
        let set = match self.way {
            Way::Difference | Way::OneOrDifference => {
                let vector = |read: &Read| {
                    let angle =
                        read.angle.ok_or_else(|| Refused("both readings are wanted with their angles".into()))?;
                    Ok(Vector::from_polar(Indication::new(read.number), angle))
                };
                (vector(second)? - vector(first)?).amount().value()
            }
            _ => (first.number + second.number) / 2.0,
        };
        let decimals = first.decimals.max(second.decimals);
        Ok(format!("{} {}", units::with_decimals(set, decimals as i32), first.unit))
    }

    fn read(&self, given: &str) -> Result<Read, Refused> {
        let (amount, angle) = match given.split_once('@') {
            Some((amount, angle)) => (amount.trim(), Some(angle.trim())),
            None => (given, None),
        };
        let unreadable = |what: &str| Refused(format!("`{what}` cannot be read: write `{}`", self.example()));
        let amount = self.readout.amount(amount)?;
        let (digits, unit) = amount.split_once(' ').ok_or_else(|| unreadable(&amount))?;
        let number: f64 = digits.parse().map_err(|_| unreadable(&amount))?;
        let angle =
            angle.map(|angle| degrees(angle).map(Angle::degrees).ok_or_else(|| unreadable(angle))).transpose()?;
        let decimals = digits.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        Ok(Read { number, decimals, unit: unit.to_owned(), angle })
    }
}

/// The direction that an angle or a place on a clock means. From which side and place it counts makes no difference to
/// the difference of two.
fn degrees(given: &str) -> Option<f64> {
    match given.split_once(':') {
        Some((hours, minutes)) => {
            Some(hours.trim().parse::<f64>().ok()? * 30.0 + minutes.trim().parse::<f64>().ok()? / 2.0)
        }
        None => given.trim_end_matches("deg").trim().parse().ok(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    fn set_to(taken_as: TakenAs, scales: &[&str]) -> SetTo {
        let readout = Readout {
            unit: Unit::DIVISION,
            scales: scales.iter().map(|scale| (*scale).to_owned()).collect(),
            number: "8.8".to_owned(),
            shows_angles: true,
            shows_clock: false,
            clock_beside: None,
        };
        SetTo::of(Some(taken_as), &readout)
    }

    /// Worked by hand: 11.6 - 0.9 along one line; 11.1 at a right angle to 0.9 is the long side of 11.1² + 0.9² = 124.02,
    /// 11.14; opposite, 9.8 + 0.9 = 10.7; half past four on a clock is 135°, half past ten opposite.
    #[test]
    fn a_difference_is_taken_of_both_readings_as_vectors() {
        let difference = set_to(TakenAs::VectorDifference, &[]);
        for (given, set) in [
            ("0.9 @ 0, 11.6 @ 0", "10.7 div"),
            ("0.9@90, 11.1@0 deg", "11.1 div"),
            ("0.90 @ 90, 11.10 @ 0", "11.14 div"),
            ("0.9 @ 180, 9.8 @ 0", "10.7 div"),
            ("0.9 @ 10:30, 9.8 @ 4:30", "10.7 div"),
            ("difference 10.7", "10.7 div"),
        ] {
            assert_eq!(difference.amount(given).unwrap(), set, "{given}");
        }
        let scales = set_to(TakenAs::VectorDifference, &["fine"]);
        assert_eq!(scales.amount("1.8 fine @ 0, 23.2 fine @ 0").unwrap(), "21.4 mark on fine");
    }

    /// (10.3 + 11.1) ÷ 2 = 10.7.
    #[test]
    fn a_mean_is_taken_of_both_amounts() {
        let mean = set_to(TakenAs::MeanOfTwoOppositePositions, &[]);
        assert_eq!(mean.amount("10.3, 11.1 @ 180").unwrap(), "10.7 div");
        assert_eq!(mean.amount("mean 10.7").unwrap(), "10.7 div");
    }

    /// 9.1 at 0 less 0.9 opposite is 10.0; alone it is what it is.
    #[test]
    fn a_check_mass_is_read_alone_or_by_both_readings() {
        let check = SetTo::of_check(false, &set_to(TakenAs::OnePosition, &[]).readout);
        assert_eq!(check.amount("0.9 @ 180, 9.1 @ 0").unwrap(), "10.0 div");
        assert_eq!(check.amount("10.0").unwrap(), "10.0 div");
        assert!(check.amount("0.9, 9.1").unwrap_err().0.contains("with their angles"));
    }

    #[test]
    fn one_reading_is_not_taken_for_two() {
        let refused = |taken_as: TakenAs, given: &str| set_to(taken_as, &[]).amount(given).unwrap_err().0;
        assert!(refused(TakenAs::VectorDifference, "11.6").contains("two readings are wanted"));
        assert!(refused(TakenAs::VectorDifference, "0.9, 11.6").contains("with their angles"));
        assert!(refused(TakenAs::MeanOfTwoOppositePositions, "11.6").contains("two readings are wanted"));
        assert_eq!(set_to(TakenAs::OnePosition, &[]).amount("11.6").unwrap(), "11.6 div");
    }
}
