//! Choices that facts of several kinds of blocks share.

use super::define::*;

choice! {
    /// The direction in which angles or places are counted.
    Sense {
        /// Numbers grow in the direction in which the rotor turns.
        WithRotation = "with rotation".also_called(&["with the rotation", "with"]),
        /// Numbers grow against the direction in which the rotor turns.
        AgainstRotation = "against rotation".also_called(&["against the rotation", "against"]),
    }
}

choice! {
    /// An end of the machine or rotor, from which it is looked at.
    End {
        /// The end at which the rotor is driven.
        DriveEnd = "drive end",
        /// The end away from the drive.
        TailEnd = "tail end",
    }
}

choice! {
    /// Yes or no.
    YesNo {
        /// It is so.
        Yes = "yes",
        /// It is not so.
        No = "no",
    }
}
