//! The shop and what it keeps: instruments, materials, masses, arbors.

use super::NameOf::*;
use super::ValueType::*;
use super::*;
use crate::units::Dimension as D;

pub static SHOP: BlockSpec = BlockSpec {
    kind: Kind::Shop,
    name: Some(Own),
    named_facts: None,
    meaning: "The shop and its rules; one a book, in `book.rotor`, which marks the root of the book.",
    keys: &[
        key("format", Count, "The version of this format that the book is written in.").must(),
        key("unbalance unit", UnitName(&[D::UNBALANCE]), "The unit in which unbalances are shown.").default("g·mm"),
        key(
            "calibration unbalance",
            NumberRange,
            "How many times the tolerance of a plane its calibration unbalance should be.",
        )
        .default("5 to 20")
        .source("common practice"),
        key("calibration uncertainty", Percentage, "The highest accepted uncertainty of a reading to set, as k = 2.")
            .default("5 %")
            .source("common practice"),
        key("interference", Percentage, "The highest accepted correction plane interference ratio.")
            .default("5 %")
            .source("term: ISO 21940-2"),
        note(),
    ],
};

pub static INSTRUMENT: BlockSpec = BlockSpec {
    kind: Kind::Instrument,
    name: Some(Own),
    named_facts: None,
    meaning: "A scale, calliper or protractor: its resolution feeds the uncertainty of what it measured.",
    keys: &[
        key("measures", Choice(&["mass", "length", "angle"]), "What the instrument measures.").must(),
        key("range", Range(&[D::MASS, D::LENGTH, D::ANGLE]), "The values the instrument can take.").or_zero(),
        key("resolution", Quantity(&[D::MASS, D::LENGTH, D::ANGLE]), "The smallest step of its readout.").must(),
        note(),
    ],
};

pub static SEVERITY: BlockSpec = BlockSpec {
    kind: Kind::Severity,
    name: Some(Code),
    named_facts: None,
    meaning: "How this shop ranks one diagnostic, with the reason.",
    keys: &[
        key("level", Choice(&["error", "warning", "note", "off"]), "How much it weighs in this shop.").must(),
        key("because", Text, "Why the shop ranks it so.").must(),
        note(),
    ],
};

pub static MATERIAL: BlockSpec = BlockSpec {
    kind: Kind::Material,
    name: Some(Own),
    named_facts: None,
    meaning: "A material that is drilled, milled, ground off or filled in.",
    keys: &[
        key("density", Quantity(&[D::DENSITY]), "Its density, with ± where it spreads.").must(),
        key("source", Text, "Where the density comes from."),
        note(),
    ],
};

pub static MASSES: BlockSpec = BlockSpec {
    kind: Kind::Masses,
    name: Some(Own),
    named_facts: None,
    meaning: "A set of calibration and trial masses that the shop keeps.",
    keys: &[
        key("values", Quantities(&[D::MASS], None), "The masses of the set.").must(),
        key("uncertainty", Quantity(&[D::MASS]), "What each value is known to, as expanded uncertainty with k = 2."),
        note(),
    ],
};

pub static ARBOR: BlockSpec = BlockSpec {
    kind: Kind::Arbor,
    name: Some(Own),
    named_facts: None,
    meaning: "An auxiliary shaft that carries a part while it is balanced.",
    keys: &[
        key("mass", Quantity(&[D::MASS]), "Its mass.").measured(),
        key("unbalance left", UnbalanceVector, "Its own unbalance towards the left support, in its own angles.")
            .measured()
            .or_zero(),
        key("unbalance right", UnbalanceVector, "Its own unbalance towards the right support, in its own angles.")
            .measured()
            .or_zero(),
        key("date", Date, "When the unbalances were found."),
        key("expanded to", Quantity(&[D::LENGTH]), "The diameter it is expanded to when it carries this part."),
        key("fit clearance", Quantity(&[D::LENGTH]), "Diametral clearance between arbor and bore.").or_zero(),
        key("runout", Quantity(&[D::LENGTH]), "Total indicator reading of its seat.").or_zero(),
        key(
            "centring repeatability",
            Quantity(&[D::LENGTH]),
            "How far the axis of a part moves from one mounting to the next.",
        )
        .or_zero(),
        key("zero angle", Text, "The mark its angles count from."),
        note(),
    ],
};
