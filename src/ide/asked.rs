//! The question of an editor: what stands here, what can be done here?

use std::cell::OnceCell;

use super::place::Place;
use crate::book::{Computed, Computing};

/// A place of a file, and what is computed around it, worked out once for all who ask.
pub(super) struct Asked<'c, 'b> {
    pub computing: &'c Computing<'b>,
    computed: OnceCell<Computed<'b>>,
    pub place: Place<'b>,
    pub offset: u32,
}

impl<'c, 'b> Asked<'c, 'b> {
    pub fn new(computing: &'c Computing<'b>, place: Place<'b>, offset: u32) -> Self {
        Self { computing, computed: OnceCell::new(), place, offset }
    }

    /// What is computed of the item that the place lies in.
    pub fn computed(&self) -> Option<&Computed<'b>> {
        let id = self.place.blocks()?.item;
        Some(self.computed.get_or_init(|| self.computing.item(id)))
    }
}
