//! What a result needs before it is worked out at all: said of a pin that has nothing to be compared with.

use crate::syntax::Kind;

/// Why a block has no result of this name, although blocks of its kind may have one.
pub(super) fn needs(block: Kind, name: &str) -> &'static str {
    match (block, name) {
        (Kind::Rotor, "mass") => "it follows from `weighed` or from the parts, and neither is given",
        (Kind::Rotor, "mass centre") => {
            "it follows from `weighed` or from the places of the parts, and neither is given"
        }
        (Kind::Rotor, "journal load a" | "journal load b") => "`bearings` and `mass centre` are missing",
        (Kind::Tolerance, "tolerance at a" | "tolerance at b") => "`bearings` is missing",
        (Kind::Rotor, _) => "the rotor is not made of parts",
        (Kind::Tolerance, "governing rule") => "only one rule is stated",
        (Kind::Plane, "greatest correction") => "the plane does not say how it is corrected",
        (Kind::MadeOf, "fit unbalance") => "`fit clearance` is missing",
        (Kind::MadeOf, "runout couple") => "`face runout` is missing",
        (Kind::Setup, "motor speed") => "`belt runs on` or the `pulley` is missing",
        (Kind::Setup, "resonance ratio") => "`resonance found at` is missing",
        (Kind::Setup, "arrangement" | "a" | "b" | "c" | "r1" | "r2") => {
            "it needs a machine with hard supports, `supports at`, and two planes that are read"
        }
        (Kind::Calibrate, "mass" | "radius") => "it is computed only where it is left out and a `reading` is given",
        (Kind::Calibrate, "residual error") => "`taken as` with a `residual at calibration` is missing",
        (Kind::Calibrate, "suggested mass") => "`masses` is missing, or no mass of the set suits this plane",
        (Kind::Calibrate, "scale") => "no scale of the readout shows the reading",
        (Kind::Calibrate, "tolerance over residual" | "smallest residual" | "traverse test mass") => {
            "the machine does not state the smallest residual it reaches"
        }
        (Kind::Calibrate, "one division as pieces") => "`mass each` of the plane is missing",
        (Kind::Calibrate, "one division as depth") => "no depth that the plane allows takes off one division",
        (Kind::Calibrate, "full scale is") => "`full scale` of the readout is missing",
        (Kind::Calibrate, "pre-balance unbalance") => "`pre-balance to` is missing",
        (Kind::Calibrate, "one division as spread") => {
            "the plane has no pair of sliding weights, or one division is more than the pair makes"
        }
        (Kind::Calibrate, "limit to read") => "the machine's readout shows neither unbalance nor mass at a set radius",
        (Kind::Calibrate, _) => "the machine's readout does not show divisions",
        (Kind::Trial, "interference") => "another plane with a trial of its own is missing",
        (Kind::Trial, _) => "the run has no mass in a plane, or no run without it to compare with",
        (Kind::Setup, "calibration") => "the `proof` does not say what it was made with",
        (Kind::Setup, "lowest same speed" | "highest same speed" | "mass on machine") => {
            "what it rests on is not given"
        }
        (Kind::Setup, _) => "it follows from trial runs, and the sheet has none that tell it",
        (Kind::Run, name) if name.starts_with("reduction") || name == "effect of correction" => {
            "no correction leads to this run"
        }
        (Kind::Run, name) if name.starts_with("steps needed") || name.starts_with("left after a step") => {
            "the machine does not state its unbalance reduction ratio, or the tolerance is kept already"
        }
        (Kind::Run, _) => "the readings of this run do not tell it",
        (Kind::Record, _) => "the runs of this record do not tell it",
        (Kind::Correction, "holding force") => "no mass is put on, or the highest service speed is missing",
        (Kind::Correction, "done" | "left" | "fit") => "the block does not state what was done, and where",
        (Kind::Correction, _) => "it is worked out only where the block leaves it out and a run calls for it",
        (Kind::CheckMass, "lowest reading" | "highest reading") => "`within` is missing",
        _ => "what it rests on is not given",
    }
}
