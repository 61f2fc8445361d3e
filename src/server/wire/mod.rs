//! Standard input and output as the transport sees them.
//!
//! Both ends have a thread of their own, so that neither a client that does not read nor one that sends nonsense can
//! stop the server. Nothing but this folder touches standard output.

mod frame;
mod input;
mod output;

pub(super) use input::{Watch, read};
pub(super) use output::Output;
