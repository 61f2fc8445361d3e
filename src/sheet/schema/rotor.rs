//! The rotor: its mass, bearings, planes, tolerance, keyways and parts.

use super::NameOf::*;
use super::ValueType::*;
use super::*;
use crate::units::Dimension as D;

pub static ROTOR: BlockSpec = BlockSpec {
    kind: Kind::Rotor,
    name: Some(Own),
    named_facts: None,
    meaning: "A rotor, or an assembly of rotors.",
    keys: &[
        key("drawing", Text, "Its drawing and issue."),
        key("mass", Quantity(&[D::MASS]), "Its whole mass.").derived().group("mass"),
        key("weighed", Weighing, "What scales under two places show: gives mass, mass centre and journal loads.")
            .measured()
            .group("mass"),
        key("mass centre", Quantity(&[D::LENGTH]), "Axial place of its centre of mass.").derived().any_sign(),
        key("datum", Text, "Where axial places count from."),
        key("bearings", Quantities(&[D::LENGTH], Some(2)), "The axial places of service bearings A and B.").any_sign(),
        key(
            "bearing arrangement",
            Choice(&["inboard", "overhung"]),
            "Whether the centre of mass is meant to lie between the bearings or outside them.",
        )
        .source("ISO 21940-2: inboard rotor, overhung rotor"),
        key("highest service speed", QuantityOrRange(&[D::SPEED]), "The highest speed in use; it sets the tolerance.")
            .source("ISO 21940-11"),
        key("highest safe speed", Quantity(&[D::SPEED]), "The speed never to be exceeded, on the machine or in use."),
        key("first bending critical", Quantity(&[D::SPEED]), "Its first bending critical speed."),
        key("zero angle", Text, "The mark its angles count from."),
        key("angles count", Choice(&["with rotation", "against rotation"]), "The direction in which its angles grow."),
        key("rotation", Choice(&["clockwise", "anticlockwise"]), "How it turns, seen from the end named."),
        key("seen from", Choice(&["drive end", "tail end"]), "The end from which the rotation is seen."),
        key("largest diameter", Quantity(&[D::LENGTH]), "The diameter that must clear the bed of the machine."),
        key("journal diameter", Quantity(&[D::LENGTH]), "Diameter of the journals that run in the supports."),
        key("polar inertia", Quantity(&[D::COUPLE]), "Moment of inertia about its axis."),
        key(
            "diametral inertia",
            Quantity(&[D::COUPLE]),
            "Moment of inertia about a diameter through its centre of mass.",
        ),
        key("correct only in", Names(Plane), "The planes in which the assembly may be corrected."),
        note(),
    ],
};

pub static PLANE: BlockSpec = BlockSpec {
    kind: Kind::Plane,
    name: Some(Own),
    named_facts: None,
    meaning: "A correction plane.",
    keys: &[
        key("at", Quantity(&[D::LENGTH]), "Its axial place.").must().any_sign(),
        key("radius", Quantity(&[D::LENGTH]), "Radius to the centre of mass of what is put on or taken off.")
            .group("radius"),
        key("diameter", Quantity(&[D::LENGTH]), "Twice the radius to that centre of mass.").group("radius"),
        key("correct", Choice(&["remove", "add", "either"]), "Whether material is taken off or put on."),
        key(
            "method",
            Choice(&[
                "drilling",
                "milling",
                "grinding",
                "welding",
                "clamping",
                "set screws",
                "washers",
                "sliding weights",
                "slot filler",
                "putty",
            ]),
            "How it is corrected.",
        ),
        key("surface diameter", Quantity(&[D::LENGTH]), "Diameter of the surface where the tool enters.")
            .group("surface"),
        key("surface radius", Quantity(&[D::LENGTH]), "Radius of the surface where the tool enters.").group("surface"),
        key("pitch diameter", Quantity(&[D::LENGTH]), "Diameter of the circle on which axial holes lie."),
        key("hole diameter", Quantity(&[D::LENGTH]), "Diameter of the drill."),
        key("point angle", Quantity(&[D::ANGLE]), "Included angle of the drill's point.")
            .default("118 deg")
            .source("common practice"),
        key(
            "depth",
            ValueType::Range(&[D::LENGTH]),
            "How deep a hole, flat or arc may go; a hole at its full diameter.",
        ),
        key("direction", Choice(&["radial", "axial"]), "How holes run.").default("radial"),
        key("wall", Quantity(&[D::LENGTH]), "Thickness of material where the hole goes in."),
        key("wall at least", Quantity(&[D::LENGTH]), "The wall that must be left behind a hole."),
        key("edge distance", Quantity(&[D::LENGTH]), "The least distance of a hole's centre from an edge."),
        key("hole spacing at least", Quantity(&[D::LENGTH]), "The least distance between the centres of two holes."),
        key("holes at most", Count, "How many holes may be drilled side by side for one correction.").default("1"),
        key("width", Quantity(&[D::LENGTH]), "Axial width of the flat or arc."),
        key("full arc", Quantity(&[D::ANGLE]), "The widest arc that may be ground, from end to end."),
        key("mass each", Quantity(&[D::MASS]), "Mass of one washer, screw, clamp or sliding weight."),
        key("weights", Count, "How many sliding weights the plane has.").default("2"),
        key("most per place", Quantity(&[D::MASS]), "The most mass that one place takes."),
        key("cured density", Quantity(&[D::DENSITY]), "Density of filler or putty once it has set."),
        key("room per place", Quantity(&[D::LENGTH]), "Depth of one slot that filler may take up."),
        key("slot width", Quantity(&[D::LENGTH]), "Width of one slot."),
        key("slot length", Quantity(&[D::LENGTH]), "Axial length of one slot."),
        key("material", Reference(Kind::Material), "What is taken off or put on."),
        key("places", Places, "Where masses can go: how many, evenly spaced, from which angle."),
        key(
            "places numbered",
            Choice(&["with rotation", "against rotation"]),
            "The direction in which the places are numbered.",
        ),
        key("places used", Positions, "The places already taken."),
        key("barred", Ranges(&[D::ANGLE]), "Angles where nothing may be corrected; a range may pass zero.").any_sign(),
        key("most correction", Quantity(&[D::UNBALANCE]), "The most that the drawing allows to be corrected here."),
        note(),
    ],
};

pub static TOLERANCE: BlockSpec = BlockSpec {
    kind: Kind::Tolerance,
    name: None,
    named_facts: Some(NamedFacts {
        name: Plane,
        value: Quantity(&[D::UNBALANCE]),
        spec: key("plane", Quantity(&[D::UNBALANCE]), "The tolerance of one correction plane, named before the colon."),
    }),
    meaning: "The permissible residual unbalance, by one rule or several; where several stand, the lower governs.",
    keys: &[
        key("grade", Grade, "Balance quality grade.").source("ISO 21940-11"),
        key("edition", Text, "The edition of the standard that the grade is taken from."),
        key("total", Quantity(&[D::UNBALANCE]), "Permissible unbalance of the whole rotor."),
        key("at bearing a", Quantity(&[D::UNBALANCE]), "Permissible unbalance at bearing A."),
        key("at bearing b", Quantity(&[D::UNBALANCE]), "Permissible unbalance at bearing B."),
        key("static", Quantity(&[D::UNBALANCE]), "Permissible static unbalance."),
        key("couple", Quantity(&[D::COUPLE]), "Permissible couple unbalance."),
        key(
            "rule",
            Choice(&["W/N by journal load", "W/N by whole weight"]),
            "4W/N in oz·in per plane, W in lb, N in r/min: W the load on the journal, or the whole weight.",
        )
        .source("form 4W/N: seen in trade literature"),
        key("scaled from", Reference(Kind::Rotor), "A rotor of the book whose tolerance is scaled by mass and speed."),
        key(
            "split between planes",
            Choice(&["equal", "as mass"]),
            "How the tolerance is shared by two planes: alike, or more to the plane nearer the centre of mass.",
        )
        .default("equal"),
        key("planes", Choice(&["one", "two"]), "In how many planes the rotor is balanced."),
        key("source", Text, "Where the tolerance comes from: drawing note, contract, standard."),
        key("accepted by", Text, "Who accepted a tolerance that scaling loosened."),
        note(),
    ],
};

pub static SIMILAR_PART: BlockSpec = BlockSpec {
    kind: Kind::SimilarPart,
    name: None,
    named_facts: None,
    meaning: "A similar rotor that the book does not hold, with the tolerance on its job card.",
    keys: &[
        key("mass", Quantity(&[D::MASS]), "Its mass.").must(),
        key("highest service speed", Quantity(&[D::SPEED]), "Its highest service speed.").must(),
        key("total", Quantity(&[D::UNBALANCE]), "Its permissible unbalance.").must(),
        key("source", Text, "The card it stands on."),
        note(),
    ],
};

pub static KEYWAY: BlockSpec = BlockSpec {
    kind: Kind::Keyway,
    name: Some(Own),
    named_facts: None,
    meaning: "A keyway and the key convention the rotor is balanced with.",
    keys: &[
        key("at", Quantity(&[D::LENGTH]), "Its axial place.").any_sign(),
        key("key", Choice(&["half key", "full key", "no key"]), "What fills the keyway while the rotor is balanced.")
            .source("ISO 21940-32"),
        key("width", Quantity(&[D::LENGTH]), "Width of the key."),
        key("height", Quantity(&[D::LENGTH]), "Height of the whole key."),
        key("length", Quantity(&[D::LENGTH]), "Length of the key of the final assembly."),
        key("radius", Quantity(&[D::LENGTH]), "Radius to the centre of mass of the half key."),
        key("material", Reference(Kind::Material), "Material of the key.").default("carbon steel"),
        key("mark", Text, "The mark on the end face that names the convention."),
        note(),
    ],
};

pub static MADE_OF: BlockSpec = BlockSpec {
    kind: Kind::MadeOf,
    name: Some(Item(Kind::Rotor)),
    named_facts: None,
    meaning: "A part of an assembly, itself a rotor of the book.",
    keys: &[
        key("at", Quantity(&[D::LENGTH]), "Where the part's datum lies in the assembly.").any_sign(),
        key("quantity", Count, "How many of it.").default("1"),
        key("balanced", Choice(&["by itself", "not balanced", "after fitting"]), "Whether the part comes balanced."),
        key("fitted at", Quantity(&[D::ANGLE]), "The angle of its zero mark in the assembly.").any_sign(),
        key("match mark", Text, "The marks that must meet."),
        key("indexed by", Quantity(&[D::ANGLE]), "The steps in which it can be turned against the shaft."),
        key(
            "record",
            Reference(Kind::Record),
            "The record whose last runs tell the part's own unbalance, from which the clocking of the parts follows.",
        )
        .group("known unbalance"),
        key("unbalance", UnbalanceVector, "Its own unbalance in one of its planes, in its own angles, from its card.")
            .per(PlaneOfPart)
            .or_zero()
            .group("known unbalance"),
        key("fit clearance", Quantity(&[D::LENGTH]), "Diametral clearance of its fit.").or_zero(),
        key("face runout", Quantity(&[D::LENGTH]), "Total indicator reading of its face.").or_zero(),
        key("at diameter", Quantity(&[D::LENGTH]), "The diameter on which the face runout was read."),
        note(),
    ],
};
