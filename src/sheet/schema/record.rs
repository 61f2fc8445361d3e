//! The record: what one rotor did on a setup.

use super::NameOf::*;
use super::ValueType::*;
use super::*;
use crate::units::Dimension as D;

pub static RECORD: BlockSpec = BlockSpec {
    kind: Kind::Record,
    name: Some(Own),
    named_facts: None,
    meaning: "What one rotor did: its runs, corrections and verdict.",
    keys: &[
        key("setup", Reference(Kind::Setup), "The setup it ran on.").must(),
        key("revision", Text, "The revision of the sheet that it ran by.").own(),
        key("serial", Text, "The serial number of the rotor.").own(),
        key("date", Date, "When it was balanced.").own(),
        key("by", Text, "Who balanced it.").own(),
        note(),
    ],
};

pub static RUN: BlockSpec = BlockSpec {
    kind: Kind::Run,
    name: Some(Own),
    named_facts: None,
    meaning: "One run of the rotor.",
    keys: &[
        key("speed", Quantity(&[D::SPEED]), "The speed of the run.").measured(),
        key("calibration masses", Choice(&["off", "on"]), "Whether calibration masses were on the rotor.").must(),
        key("turned on arbor by", Quantity(&[D::ANGLE]), "How far the rotor was turned against its arbor.").any_sign(),
        key("angles from", Choice(&["rotor", "arbor"]), "Whose zero mark the angles count from."),
        key("remounted", Choice(&["yes", "no"]), "Whether the rotor was taken out and put back before this run."),
        key("reading", Reading, "What one channel reads.").per(Channel).measured().or_zero(),
        shows(),
        note(),
    ],
};

pub static CORRECTION: BlockSpec = BlockSpec {
    kind: Kind::Correction,
    name: Some(Plane),
    named_facts: None,
    meaning: "What was taken off or put on in one plane.",
    keys: &[
        key("after", Name(Run), "The run that called for it."),
        key("remove", Quantity(&[D::MASS]), "The mass taken off.").derived().measured().group("mass"),
        key("add", Quantity(&[D::MASS]), "The mass put on.").derived().measured().group("mass"),
        key("radius", Quantity(&[D::LENGTH]), "Radius to its centre.").measured().group("radius"),
        key("diameter", Quantity(&[D::LENGTH]), "Twice that radius.").measured().group("radius"),
        key("angle", Quantity(&[D::ANGLE]), "Its angle on the rotor.").derived().measured().any_sign(),
        key("depth", Quantity(&[D::LENGTH]), "Depth of the hole, flat or arc.").measured(),
        key("place", Quantity(&[D::MASS]), "The mass put on or taken off at one place.").per(Place).measured(),
        instrument(),
        note(),
    ],
};

pub static TRAVERSE: BlockSpec = BlockSpec {
    kind: Kind::Traverse,
    name: Some(Plane),
    named_facts: None,
    meaning: "A test mass put at each of several places in turn; gives the residual unbalance without trusting angles.",
    keys: &[
        key("mass", Quantity(&[D::MASS]), "The test mass.").must().measured(),
        key("radius", Quantity(&[D::LENGTH]), "Radius to its centre.").measured().group("radius"),
        key("diameter", Quantity(&[D::LENGTH]), "Twice that radius.").measured().group("radius"),
        key("places", Places, "Where it was put in turn.").must(),
        key("channel", Name(Channel), "The channel that was read."),
        key("readings", Readings, "One reading a place, in order.").must().measured().or_zero(),
        instrument(),
        note(),
    ],
};
