//! What is kept of a day, by a proof or by the record of a run: one declaration for both.

use super::of::Bearing;

/// Which limit of a day a fact keeps.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Keeps {
    AtBearing(Bearing),
    Static,
    Couple,
    /// The place about which a couple is taken.
    CoupleAbout,
    /// What a plane was allowed: its share of the limits at the bearings, and without these a limit of its own.
    Allowed,
    /// The limit of a plane's own, beside limits at the bearings.
    InPlane,
    OnChannel,
    /// That half of the whole was taken for each, for want of a mass centre.
    Halved,
}

/// A kind of block with the facts that are kept. Only in a proof does another fact of today void what was calibrated.
macro_rules! kept_block {
    ($(#[doc = $meaning:literal])+ $kind:ident, $silent:ident;) => {
        block! {
            $(#[doc = $meaning])+
            $kind;

            /// The revision of the sheet.
            REVISION: Text = "revision"
                .silent(Silent::$silent);
            /// The rotor; for another one a calibration is void.
            ROTOR: To<rotor::Block> = "rotor"
                .proven_if_said("proven for rotor")
                .silent(Silent::$silent);
            /// The machine; on another one a calibration is void.
            MACHINE: To<machine::Block> = "machine"
                .proven("proven on")
                .silent(Silent::$silent);
            /// The arbor; on another one a calibration is void.
            ARBOR: To<arbor::Block> = "arbor"
                .proven("proven on")
                .silent(Silent::$silent);
            /// The balancing speed; at another one a calibration is void.
            BALANCING_SPEED: Speed = "balancing speed"
                .proven("proven at")
                .silent(Silent::$silent);
            /// Where the belt ran; elsewhere it voids a calibration.
            BELT_RUNS_ON: Length = "belt runs on".such_as("120 mm")
                .proven("proven with the belt on")
                .silent(Silent::$silent);
            /// The step of the pulley; another one voids a calibration.
            PULLEY: Length = "pulley".such_as("90 mm")
                .proven("proven with {}")
                .silent(Silent::$silent);
            /// Where the supports were; elsewhere a calibration is void.
            SUPPORTS_AT: Pair<Length> = "supports at".such_as("0 mm, 164 mm").any_sign()
                .proven("proven with supports at")
                .silent(Silent::$silent);
            /// The plane that a channel read; another one voids a calibration.
            CHANNEL: Named<PlaneName> = "channel".per(Channel)
                .proven_if_said("proven with {} on")
                .silent(Silent::$silent);
            /// What the machine's angle pointed at; the other spot voids a calibration.
            INDICATES: setup::Indicates = "indicates"
                .proven_if_said("proven with the angle at the")
                .silent(Silent::$silent);
            /// The set from which its masses were taken.
            MASSES: To<masses::Block> = "masses"
                .silent(Silent::$silent);
            /// The mass of the rotor; another one voids a calibration.
            ROTOR_MASS: Mass = "rotor mass".such_as("4.82 kg")
                .proven("proven with {}")
                .silent(Silent::$silent);
            /// Where the bearings were, by which limits and levers of the day hold; others void a calibration.
            BEARINGS: Pair<Length> = "bearings".such_as("0 mm, 164 mm").any_sign()
                .proven_if_said("proven with {} at")
                .silent(Silent::$silent);
            /// The direction in which the rotor's angles grew; the other one voids a calibration.
            ANGLES_COUNT: Sense = "angles count"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// How the rotor turned; the other way round voids a calibration.
            ROTATION: rotor::Rotation = "rotation"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// How the readout showed angles; another way voids a calibration.
            READOUT_ANGLES: readout::AngleDisplay = "readout angles"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// The direction in which the angles that it measured grew; the other one voids a calibration.
            READOUT_COUNTS: Sense = "readout counts"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// What was read under the strobe; anything else voids a calibration.
            STROBE_SHOWS: readout::StrobeShows = "strobe shows"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// Where the pointer stood; elsewhere it voids a calibration.
            POINTER_AT: Clock = "pointer at"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// The end from which rotor and pointer were looked at; the other one voids a calibration.
            POINTER_SEEN_FROM: End = "pointer seen from"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// Which value of an oscillation the readout showed; another one voids a calibration.
            READOUT_VALUE: readout::OscillationValue = "readout value"
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// Whether the tolerance was that of a rotor for one plane.
            PLANES: tolerance::PlanesBalanced = "planes"
                .silent(Silent::$silent);
            /// The correction radius of a plane.
            CORRECTION_RADIUS: Length = "correction radius".per(Plane)
                .silent(Silent::$silent);
            /// Twice that radius, where the rotor says the diameter.
            CORRECTION_DIAMETER: Length = "correction diameter".such_as("268.4 mm").per(Plane)
                .silent(Silent::$silent);
            /// The places of a plane that day, by which the corrections at places are read.
            PLACES_IN: PlacesAround = "places in".per(Plane)
                .silent(Silent::$silent);
            /// The direction in which these places were numbered.
            PLACES_NUMBERED_IN: Sense = "places numbered in".per(Plane)
                .silent(Silent::$silent);
            /// Which of them were taken.
            PLACES_USED_IN: Positions = "places used in".per(Plane)
                .silent(Silent::$silent);
            /// Where a correction plane was; elsewhere it voids a calibration.
            PLANE: Length = "plane".such_as("38 mm").per(Plane).any_sign()
                .proven("proven with {} at")
                .silent(Silent::$silent);
            /// The calibration mass of a plane; another one voids a calibration.
            CALIBRATION_MASS: Mass = "calibration mass".per(Plane).measured()
                .proven("proven with {}")
                .silent(Silent::$silent);
            /// The radius of that mass; another one voids a calibration.
            CALIBRATION_RADIUS: Length = "calibration radius".per(Plane).measured()
                .proven("proven with {}")
                .silent(Silent::$silent);
            /// Twice that radius, where the sheet says the diameter.
            CALIBRATION_DIAMETER: Length = "calibration diameter".such_as("268.4 mm").per(Plane).measured()
                .proven("proven with {}")
                .silent(Silent::$silent);
            /// The angle of that mass on the rotor; another one voids a calibration.
            CALIBRATION_ANGLE: Angle = "calibration angle".such_as("0 deg").per(Plane).measured().any_sign()
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// How the calibration reading of a plane was taken.
            CALIBRATION_TAKEN_AS: calibrate::TakenAs = "calibration taken as".per(Plane)
                .silent(Silent::$silent);
            /// What strobe or pointer showed with that mass on; anything else voids a calibration.
            CALIBRATION_SHOWS: ClockOrAngle = "calibration shows".per(Plane).any_sign()
                .proven_if_said("proven with {}")
                .silent(Silent::$silent);
            /// What a control was set to; another setting voids a calibration.
            SETTING: Setting = "setting".per(Control).any_sign()
                .proven("proven with {}")
                .silent(Silent::$silent);
            /// What bearing A was allowed that day.
            LIMIT_AT_BEARING_A: Unbalance = "limit at bearing a"
                .keeps(Keeps::AtBearing(Bearing::A))
                .silent(Silent::$silent);
            /// What bearing B was allowed that day.
            LIMIT_AT_BEARING_B: Unbalance = "limit at bearing b"
                .keeps(Keeps::AtBearing(Bearing::B))
                .silent(Silent::$silent);
            /// The static unbalance that was allowed that day.
            LIMIT_STATIC: Unbalance = "limit static"
                .keeps(Keeps::Static)
                .silent(Silent::$silent);
            /// The couple unbalance that was allowed that day.
            LIMIT_COUPLE: Couple = "limit couple"
                .keeps(Keeps::Couple)
                .silent(Silent::$silent);
            /// The place about which that couple is taken.
            LIMIT_COUPLE_ABOUT: Length = "limit couple about".such_as("71 mm").any_sign()
                .keeps(Keeps::CoupleAbout)
                .silent(Silent::$silent);
            /// What one plane was allowed that day: its share of the limits at the bearings, and without these its limit.
            LIMIT_IN: Unbalance = "limit in".per(Plane)
                .keeps(Keeps::Allowed)
                .silent(Silent::$silent);
            /// The limit that was stated for one plane that day, beside limits at the bearings.
            LIMIT_STATED_IN: Unbalance = "limit stated in".per(Plane)
                .keeps(Keeps::InPlane)
                .silent(Silent::$silent);
            /// Whether each was allowed half of the whole, for want of a mass centre.
            LIMITS_HALVED: YesNo = "limits halved"
                .keeps(Keeps::Halved)
                .silent(Silent::$silent);
            /// What one channel was allowed to read that day.
            LIMIT_ON: ReadoutAmount = "limit on".such_as("2.8 mm/s").per(Channel)
                .keeps(Keeps::OnChannel)
                .silent(Silent::$silent);
            /// A remark in the shop's own words.
            NOTE: Text = "note".repeats()
                .silent(Silent::Remark);
        }
    };
}

pub(super) use kept_block;
