//! The setup: one rotor on one machine, and how the machine is made to read in its tolerance.

use super::NameOf::*;
use super::ValueType::*;
use super::*;
use crate::units::Dimension as D;

pub static SETUP: BlockSpec = BlockSpec {
    kind: Kind::Setup,
    name: Some(Own),
    named_facts: None,
    meaning: "The sheet: one rotor on one machine.",
    keys: &[
        key("rotor", Reference(Kind::Rotor), "The rotor that is set up.").must(),
        key("machine", Reference(Kind::Machine), "The machine it is set up on.").must(),
        key("arbor", Reference(Kind::Arbor), "The arbor that carries it."),
        key("masses", Reference(Kind::Masses), "The set from which calibration and trial masses are taken."),
        key("like", Reference(Kind::Setup), "The setup whose facts hold here too where this one gives none."),
        key("leave out", LineHeads, "Facts and blocks of the other setup that do not hold here.").own(),
        key("status", Choice(&["draft", "released"]), "Whether the sheet may be used at the machine.")
            .own()
            .default("draft"),
        key("revision", Text, "Its revision.").own(),
        key("by", Text, "Who wrote it.").own(),
        key("date", Date, "When it was written.").own(),
        key("balancing speed", Quantity(&[D::SPEED]), "The speed at which the machine measures.").must(),
        key("same speed within", Percentage, "The band in which a run counts as run at the same speed.")
            .default("3 %")
            .source("common practice"),
        key("speed found by", Choice(&["peak", "tachometer"]), "How the technician finds the balancing speed."),
        key("resonance found at", Quantity(&[D::SPEED]), "The speed at which rotor and supports resound."),
        key("belt runs on", Quantity(&[D::LENGTH]), "The diameter on the rotor that the belt runs on."),
        key("motor speed", Quantity(&[D::SPEED]), "The speed of the motor.").derived(),
        key("pulley", Quantity(&[D::LENGTH]), "The step of the motor pulley that is used."),
        key(
            "supports at",
            Quantities(&[D::LENGTH], Some(2)),
            "The axial places of the machine's supports, left first.",
        )
        .any_sign(),
        key("indicates", Choice(&["heavy spot", "light spot"]), "What the machine's angle points at."),
        key("tolerance reads", Quantity(&[D::DIVISION]), "What the readout shows at the tolerance of a plane.")
            .demand(),
        key("pre-balance to", Reading, "The reading to come below before calibration begins.").demand(),
        key("channel", Name(Plane), "The plane that a channel reads once the planes are separated.").per(Channel),
        key(
            "trials made",
            Choice(&["before calibration", "as calibrated"]),
            "Whether the trial runs were made before the dials were set, and so say nothing of readings since.",
        )
        .default("as calibrated"),
        key(
            "arrangement",
            Choice(&[
                "planes between supports",
                "left plane outside",
                "right plane outside",
                "both outside left",
                "both outside right",
                "one plane outside each support",
            ]),
            "How planes and supports lie to each other on hard supports.",
        )
        .derived()
        .group("dimensions"),
        key("a", Quantity(&[D::LENGTH]), "Distance from the left support to the left plane.").derived().any_sign(),
        key("b", Quantity(&[D::LENGTH]), "Distance between the planes.").derived(),
        key("c", Quantity(&[D::LENGTH]), "Distance from the right plane to the right support.").derived().any_sign(),
        key("r1", Quantity(&[D::LENGTH]), "Correction radius of the left plane.").derived(),
        key("r2", Quantity(&[D::LENGTH]), "Correction radius of the right plane.").derived(),
        key("drilled to", Quantity(&[D::LENGTH]), "Depth of hole for which the sheet's table of divisions stops."),
        key("caution", Text, "A caution of the shop's own.").repeats(),
        note(),
    ],
};

pub static SETTINGS: BlockSpec = BlockSpec {
    kind: Kind::Settings,
    name: None,
    named_facts: Some(NamedFacts {
        name: Control,
        value: Setting,
        spec: key("control", Setting, "What the control is set to at the start, or `as found`.").any_sign(),
    }),
    meaning: "What the machine's own dials and switches are set to, in panel order.",
    keys: &[note()],
};

pub static CALIBRATE: BlockSpec = BlockSpec {
    kind: Kind::Calibrate,
    name: Some(Plane),
    named_facts: None,
    meaning: "How one plane is calibrated: a known mass at a known radius, and the reading to set.",
    keys: &[
        key("mass", Quantity(&[D::MASS]), "The calibration mass.").derived().measured(),
        key("radius", Quantity(&[D::LENGTH]), "Radius to the centre of the calibration mass.")
            .derived()
            .measured()
            .group("radius"),
        key("diameter", Quantity(&[D::LENGTH]), "Twice that radius.").measured().group("radius"),
        key("angle", Quantity(&[D::ANGLE]), "The angle on the rotor at which it is put.").measured().any_sign(),
        key("shows", ClockOrAngle, "What strobe or pointer shows with the mass on.").any_sign(),
        key("reading", Reading, "The reading to set.").derived().demand(),
        key(
            "taken as",
            Choice(&["one position", "mean of two opposite positions", "vector difference"]),
            "How the reading is taken, so that the rotor's own unbalance does not spoil it.",
        ),
        key(
            "residual at calibration",
            Quantity(&[D::UNBALANCE, D::DIVISION]),
            "The rotor's own unbalance at that time.",
        )
        .or_zero(),
        instrument(),
        note(),
    ],
};

pub static TRIAL: BlockSpec = BlockSpec {
    kind: Kind::Trial,
    name: Some(Own),
    named_facts: None,
    meaning: "One run with a known mass in one plane, or the run as found without any.",
    keys: &[
        key("mass in", Name(Plane), "The plane that carries the trial mass."),
        key("mass", Quantity(&[D::MASS]), "The trial mass.").measured(),
        key("radius", Quantity(&[D::LENGTH]), "Radius to its centre.").measured().group("radius"),
        key("diameter", Quantity(&[D::LENGTH]), "Twice that radius.").measured().group("radius"),
        key("angle", Quantity(&[D::ANGLE]), "Its angle on the rotor.").measured().any_sign(),
        key("trial mass", Choice(&["taken off", "left on"]), "What happens to it before the next run."),
        key("speed", Quantity(&[D::SPEED]), "The speed of the run.").measured(),
        key("reading", Reading, "What one channel reads.").per(Channel).measured().or_zero(),
        shows(),
        instrument(),
        note(),
    ],
};

pub static PROOF: BlockSpec = BlockSpec {
    kind: Kind::Proof,
    name: None,
    named_facts: None,
    meaning: "What shows that the setup may be trusted; a released sheet needs it.",
    keys: &[
        key("date", Date, "When it was proven."),
        key("by", Text, "Who proved it."),
        key("revision", Text, "The revision of the sheet that was proven; another one has not been."),
        key("machine", Reference(Kind::Machine), "The machine it was proven on; another one voids the calibration."),
        key("arbor", Reference(Kind::Arbor), "The arbor it was proven on; another one voids the calibration."),
        key("balancing speed", Quantity(&[D::SPEED]), "The speed it was proven at; another one voids the calibration."),
        key("belt runs on", Quantity(&[D::LENGTH]), "Where the belt ran; elsewhere it voids the calibration."),
        key("pulley", Quantity(&[D::LENGTH]), "The step of the pulley; another one voids the calibration."),
        key(
            "supports at",
            Quantities(&[D::LENGTH], Some(2)),
            "Where the supports stood; elsewhere the calibration is void.",
        )
        .any_sign(),
        key("rotor mass", Quantity(&[D::MASS]), "The mass of the rotor; another one voids the calibration."),
        key("plane", Quantity(&[D::LENGTH]), "Where a correction plane was; elsewhere it voids the calibration.")
            .per(Plane)
            .any_sign(),
        key("calibration mass", Quantity(&[D::MASS]), "The calibration mass of a plane; another one voids it.")
            .per(Plane),
        key("calibration radius", Quantity(&[D::LENGTH]), "The radius at which it stood; another one voids it.")
            .per(Plane),
        key("calibration diameter", Quantity(&[D::LENGTH]), "Twice that radius, where the sheet says the diameter.")
            .per(Plane),
        key("setting", Setting, "What a control was set to; another setting voids the calibration.")
            .per(Control)
            .any_sign(),
        key("start reading", Reading, "What one channel reads before any mass is put on.")
            .per(Channel)
            .measured()
            .or_zero(),
        key("back at start", Reading, "What one channel reads when all masses are off again.")
            .per(Channel)
            .measured()
            .or_zero(),
        key("remounted", Readings, "What one channel reads each time the rotor was taken out and put back.")
            .per(Channel)
            .measured()
            .or_zero(),
        note(),
    ],
};

const PROOF_KEYS: &[KeySpec] = &[
    key("mass", Quantity(&[D::MASS]), "The mass put in this plane.").must().measured(),
    key("radius", Quantity(&[D::LENGTH]), "Radius to its centre.").measured().group("radius"),
    key("diameter", Quantity(&[D::LENGTH]), "Twice that radius.").measured().group("radius"),
    key("angle", Quantity(&[D::ANGLE]), "Its angle on the rotor.").measured().any_sign(),
    key("reading", Reading, "What one channel reads.").per(Channel).measured().or_zero(),
    shows(),
    instrument(),
    note(),
];

pub static SEPARATION: BlockSpec = BlockSpec {
    kind: Kind::Separation,
    name: Some(Plane),
    named_facts: None,
    meaning: "A mass in this plane, and what both channels read.",
    keys: PROOF_KEYS,
};

pub static LINEARITY: BlockSpec = BlockSpec {
    kind: Kind::Linearity,
    name: Some(Plane),
    named_facts: None,
    meaning: "Twice the mass in this plane, and what both channels read.",
    keys: PROOF_KEYS,
};

pub static CHECK_MASS: BlockSpec = BlockSpec {
    kind: Kind::CheckMass,
    name: None,
    named_facts: None,
    meaning: "The mass that shows, before a kept sheet is used again, that it still holds.",
    keys: &[
        key("plane", Name(Plane), "The plane it is put in.").must(),
        key("mass", Quantity(&[D::MASS]), "The check mass.").must().measured(),
        key("radius", Quantity(&[D::LENGTH]), "Radius to its centre.").measured().group("radius"),
        key("diameter", Quantity(&[D::LENGTH]), "Twice that radius.").measured().group("radius"),
        key("angle", Quantity(&[D::ANGLE]), "Its angle on the rotor.").measured().any_sign(),
        key("reading", Reading, "What it must read.").derived().demand(),
        key("within", PercentageOrAmount, "How far the reading may be off before the sheet is not to be used."),
        instrument(),
        note(),
    ],
};
