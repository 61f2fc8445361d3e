//! Starting sheets: what is known of a kind of item before anything is known of the one in hand.
//!
//! Facts that are needed are a `?`, in the order in which the bench gives them; others are named in comments. Facts whose
//! wrong guess would hurt are asked for, not shown. `cli::new` writes them, and editors begin with them.

mod around;
mod draft;
mod file_name;
mod like;
mod starts;

pub use draft::{BlockName, Draft, given_name, given_text};
pub use file_name::{file_name, plain_file_name};
pub use like::setup_like;
pub use starts::{Context, Start};
