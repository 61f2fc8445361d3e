//! The machine's own dials and switches.

use super::define::*;

block! {
    /// A dial or switch of the machine, under the shop's own name for it, in panel order.
    Control named Own;

    /// The lowest and highest value of a dial.
    RANGE: DialRange = "range".group("values").any_sign()
        .headline();
    /// The positions of a switch.
    POSITIONS: Positions = "positions".group("values")
        .headline();
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();
}
