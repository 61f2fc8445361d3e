//! Materials.

use super::define::*;

block! {
    /// A material that is drilled, milled, ground off or filled in.
    Material named Own;

    /// Its density, with ± where it spreads.
    DENSITY: Density = "density".must().silent(Silent::ResultsMove);
    /// Where the density comes from.
    SOURCE: Text = "source"
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
