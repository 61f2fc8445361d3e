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
        .headline();
    /// What of a setup it is set to: its setting is worked out.
    TAKES: Taken = "takes"
        .headline();
    /// What it moves by: a setting that is worked out has its decimals and its unit.
    STEP: DialStep = "step";
    /// The layout that a position means.
    POSITION: Layout = "position".per(Position).group("values");
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();
}

choice! {
    /// What of a setup a control may be set to.
    Taken {
        Layout = "layout",
        LeftSupportToLeftPlane = "left support to left plane",
        LeftSupportToRightPlane = "left support to right plane",
        BetweenPlanes = "between planes",
        LeftPlaneToRightSupport = "left plane to right support",
        RightPlaneToRightSupport = "right plane to right support",
        BetweenSupports = "between supports",
        LeftRadius = "left radius",
        RightRadius = "right radius",
        LeftDiameter = "left diameter",
        RightDiameter = "right diameter",
        BalancingSpeed = "balancing speed",
        MotorSpeed = "motor speed",
        MassOnMachine = "mass on machine",
        ToleranceLeft = "tolerance left",
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
