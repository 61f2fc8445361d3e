//! Choices that facts of several kinds of blocks share.

use super::define::*;

choice! {
    /// The direction in which angles or places are counted.
    Sense {
        WithRotation = "with rotation".also_called(&["with the rotation", "with"]),
        AgainstRotation = "against rotation".also_called(&["against the rotation", "against"]),
    }
}

choice! {
    /// An end of the machine or rotor, from which it is looked at.
    End {
        DriveEnd = "drive end",
        TailEnd = "tail end",
    }
}

choice! {
    /// Yes or no.
    YesNo {
        Yes = "yes",
        No = "no",
    }
}
