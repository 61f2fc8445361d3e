//! The machine's own dials and switches.

use super::define::*;
use super::setup::Layout;
use crate::units::Dimension;

block! {
    /// A dial or switch of the machine, under the shop's own name for it, in panel order.
    Control named Own;

    /// The lowest and highest value of a dial.
    RANGE: DialRange = "range".group("values").any_sign()
        .headline()
        .alert(AlertCode::LimitLoosened, Grave::WhenWidened);
    /// The positions of a switch.
    POSITIONS: Positions = "positions".group("values")
        .headline()
        .silent(Silent::Checked);
    /// What of a setup it is set to: its setting is worked out.
    TAKES: Taken = "takes"
        .headline()
        .silent(Silent::ResultsMove);
    /// What it moves by: a setting that is worked out has its decimals and its unit.
    STEP: DialStep = "step".silent(Silent::ResultsMove);
    /// The layout that a position means.
    POSITION: Layout = "position".per(Position).group("values").silent(Silent::Checked);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// What of a setup a control may be set to.
    Taken {
        /// How planes and supports lie to each other.
        Layout = "layout",
        /// The distance from the left support to the left plane.
        LeftSupportToLeftPlane = "left support to left plane",
        /// The distance from the left support to the right plane.
        LeftSupportToRightPlane = "left support to right plane",
        /// The distance between the planes.
        BetweenPlanes = "between planes",
        /// The distance from the left plane to the right support.
        LeftPlaneToRightSupport = "left plane to right support",
        /// The distance from the right plane to the right support.
        RightPlaneToRightSupport = "right plane to right support",
        /// The distance between the supports.
        BetweenSupports = "between supports",
        /// The correction radius of the left plane.
        LeftRadius = "left radius",
        /// The correction radius of the right plane.
        RightRadius = "right radius",
        /// Twice the correction radius of the left plane.
        LeftDiameter = "left diameter",
        /// Twice the correction radius of the right plane.
        RightDiameter = "right diameter",
        /// The balancing speed of the setup.
        BalancingSpeed = "balancing speed",
        /// The motor speed of the setup.
        MotorSpeed = "motor speed",
        /// The mass of rotor, arbor and extra masses together.
        MassOnMachine = "mass on machine",
        /// The tolerance of the left plane.
        ToleranceLeft = "tolerance left",
        /// The tolerance of the right plane.
        ToleranceRight = "tolerance right",
    }
}

impl Taken {
    /// What it is measured in; `None` of the layout, for which a position stands.
    pub const fn dimension(self) -> Option<Dimension> {
        Some(match self {
            Self::Layout => return None,
            Self::BalancingSpeed | Self::MotorSpeed => Dimension::SPEED,
            Self::MassOnMachine => Dimension::MASS,
            Self::ToleranceLeft | Self::ToleranceRight => Dimension::UNBALANCE,
            Self::LeftSupportToLeftPlane
            | Self::LeftSupportToRightPlane
            | Self::BetweenPlanes
            | Self::LeftPlaneToRightSupport
            | Self::RightPlaneToRightSupport
            | Self::BetweenSupports
            | Self::LeftRadius
            | Self::RightRadius
            | Self::LeftDiameter
            | Self::RightDiameter => Dimension::LENGTH,
        })
    }

    /// Whether it is of the left plane, and of the right one.
    pub const fn planes(self) -> [bool; 2] {
        match self {
            Self::Layout | Self::BetweenPlanes => [true, true],
            Self::LeftSupportToLeftPlane
            | Self::LeftPlaneToRightSupport
            | Self::LeftRadius
            | Self::LeftDiameter
            | Self::ToleranceLeft => [true, false],
            Self::LeftSupportToRightPlane
            | Self::RightPlaneToRightSupport
            | Self::RightRadius
            | Self::RightDiameter
            | Self::ToleranceRight => [false, true],
            Self::BetweenSupports | Self::BalancingSpeed | Self::MotorSpeed | Self::MassOnMachine => [false, false],
        }
    }
}
