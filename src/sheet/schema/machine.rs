//! The balancing machine, its readout and its own dials and switches.

use super::NameOf::*;
use super::ValueType::*;
use super::*;
use crate::units::Dimension as D;

/// What a readout may show an amount in.
pub(super) const READOUT_DIMENSIONS: &[D] = &[D::DIVISION, D::UNBALANCE, D::MASS, D::LENGTH, D::VELOCITY];

pub static MACHINE: BlockSpec = BlockSpec {
    kind: Kind::Machine,
    name: Some(Own),
    named_facts: None,
    meaning: "A balancing machine of the shop: what it takes and what it shows.",
    keys: &[
        key("supports", Choice(&["soft", "hard"]), "Soft supports sense motion, hard supports sense force.")
            .must()
            .source("ISO 21940-2"),
        key(
            "works",
            Choice(&["above resonance", "at resonance", "below resonance"]),
            "Where it works with respect to the resonance of rotor and supports.",
        ),
        key("drive", Choice(&["belt", "end", "air", "own"]), "What turns the rotor."),
        key("rotor mass", ValueType::Range(&[D::MASS]), "The masses it takes, arbor included."),
        key("swing", Quantity(&[D::LENGTH]), "The largest diameter that clears the bed."),
        key("journals", ValueType::Range(&[D::LENGTH]), "The journal diameters its supports take."),
        key("between supports", ValueType::Range(&[D::LENGTH]), "The distances its supports can be set to."),
        key("balancing speed", Ranges(&[D::SPEED]), "The speeds at which it can measure."),
        key("motor speed", Ranges(&[D::SPEED]), "The speeds of its motor."),
        key("pulley", Quantities(&[D::LENGTH], None), "Diameter of the motor pulley, or of each step of it."),
        key("belt slip", Percentage, "The share of speed lost between pulley and rotor.").or_zero().default("0 %"),
        key(
            "minimum achievable residual unbalance",
            Quantity(&[D::UNBALANCE]),
            "The least residual unbalance per plane that it can reach.",
        )
        .group("smallest residual")
        .source("ISO 21940-2; tested as in ISO 21940-21"),
        key(
            "smallest specific residual",
            Quantity(&[D::LENGTH]),
            "The least residual unbalance divided by the mass on the machine.",
        )
        .group("smallest residual")
        .source("ISO 21940-2"),
        key("unbalance reduction ratio", Percentage, "The share of an unbalance that one correction step removes.")
            .source("ISO 21940-2; tested as in ISO 21940-21"),
        key("tested", Date, "When the smallest residual and the reduction ratio were last tested."),
        key("serviced", Date, "When it was last moved, repaired or opened; calibrations from before are void."),
        key("channels", Names(Channel), "The names of its measuring channels, left first."),
        key("dimensions in", UnitName(&[D::LENGTH]), "The unit in which hard supports want their dimensions keyed in.")
            .default("mm"),
        note(),
    ],
};

pub static READOUT: BlockSpec = BlockSpec {
    kind: Kind::Readout,
    name: None,
    named_facts: None,
    meaning: "What the machine shows.",
    keys: &[
        key(
            "shows",
            Choice(&["div", "unbalance", "mass at set radius", "displacement", "velocity"]),
            "The quantity that the amount indicator shows.",
        )
        .must(),
        key("unit", UnitName(READOUT_DIMENSIONS), "The unit of what it shows; `div` needs none."),
        key("value", Choice(&["peak", "peak to peak", "rms"]), "Which value of an oscillation it shows."),
        key("full scale", Quantity(READOUT_DIMENSIONS), "The largest amount it shows."),
        key("smallest step", Quantity(READOUT_DIMENSIONS), "The smallest difference it shows."),
        key("angles", Choice(&["none", "by strobe", "measured"]), "How it shows angles.").must(),
        key("angle step", Quantity(&[D::ANGLE]), "The smallest difference of angle it shows."),
        key(
            "angles count",
            Choice(&["with rotation", "against rotation"]),
            "The direction in which the angles that it measures grow; numbers read off the rotor are the rotor's own.",
        ),
        key("strobe shows", Choice(&["number at pointer", "clock place of mark"]), "What is read under the strobe."),
        key("pointer at", Clock, "Where the pointer stands, as seen."),
        key("seen from", Choice(&["drive end", "tail end"]), "The end from which rotor and pointer are looked at."),
        note(),
    ],
};

pub static SCALE: BlockSpec = BlockSpec {
    kind: Kind::Scale,
    name: Some(Own),
    named_facts: None,
    meaning: "One of several scales of a dial.",
    keys: &[
        key("one mark is", Quantity(READOUT_DIMENSIONS), "What one printed mark of this scale stands for.").must(),
        key("marks", Number, "How many marks the scale has.").must(),
        key("smallest step", Quantity(&[D::MARK]), "The smallest part of a mark that can be read."),
        note(),
    ],
};

pub static CONTROL: BlockSpec = BlockSpec {
    kind: Kind::Control,
    name: Some(Own),
    named_facts: None,
    meaning: "A dial or switch of the machine, under the shop's own name for it, in panel order.",
    keys: &[
        key("range", DialRange, "The lowest and highest value of a dial.").group("values").any_sign(),
        key("positions", Positions, "The positions of a switch.").group("values"),
        note(),
    ],
};
