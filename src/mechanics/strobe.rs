//! From where a mark is seen under a strobe to an angle on the rotor.

use crate::units::Angle;

/// The direction of a place of the clock, clockwise from twelve: 3 o'clock is at 90°. The hour is taken as on a dial,
/// from 1 to 12.
pub fn clock_direction(hour: u8, minute: u8) -> Angle {
    Angle::degrees(f64::from(hour % 12) * 30.0 + f64::from(minute) * 0.5)
}

/// Which way round the dial something runs, as seen.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Round {
    Clockwise,
    Anticlockwise,
}

impl Round {
    /// The same seen from the other end.
    pub fn from_the_other_end(self) -> Self {
        match self {
            Round::Clockwise => Round::Anticlockwise,
            Round::Anticlockwise => Round::Clockwise,
        }
    }
}

/// The rotor's angle that is at a place while its zero mark is seen at another; both directions as of
/// [`clock_direction`]. `angles_grow` is the way in which the rotor's angles grow, as seen from the same end.
///
/// Source: plain geometry.
pub fn angle_at_place(place: Angle, mark: Angle, angles_grow: Round) -> Angle {
    match angles_grow {
        Round::Clockwise => (place - mark).within_one_turn(),
        Round::Anticlockwise => (mark - place).within_one_turn(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_at_six_under_a_pointer_at_three_stands_a_quarter_turn_off() {
        let (three, six) = (clock_direction(3, 0), clock_direction(6, 0));
        assert!((six.in_degrees() - 180.0).abs() < 1e-12);
        assert!((clock_direction(4, 30).in_degrees() - 135.0).abs() < 1e-12);
        assert!((clock_direction(12, 30).in_degrees() - 15.0).abs() < 1e-12);
        // With the zero at six and angles growing clockwise, 90° is at nine and 270° at three.
        assert!((angle_at_place(three, six, Round::Clockwise).in_degrees() - 270.0).abs() < 1e-9);
        assert!((angle_at_place(three, six, Round::Anticlockwise).in_degrees() - 90.0).abs() < 1e-9);
    }
}
