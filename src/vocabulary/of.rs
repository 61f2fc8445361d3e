//! What one of several results of a name is of.

use std::fmt;

/// The plane, bearing, channel or control that a result is of. Two of them are never equal because their words are: a plane may
/// be called what a bearing is called.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum Of {
    Plane(Box<str>),
    Bearing(Bearing),
    Channel(Box<str>),
    ChannelAndPlane { channel: Box<str>, plane: Box<str> },
    Control(Box<str>),
}

/// A service bearing of the rotor.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Bearing {
    A,
    B,
}

impl Bearing {
    pub const BOTH: [Self; 2] = [Self::A, Self::B];

    /// As a result names it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::A => "bearing a",
            Self::B => "bearing b",
        }
    }
}

/// As it follows the name of the result: `hub`, `bearing a`, `left, hub`.
impl fmt::Display for Of {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Plane(name) | Self::Channel(name) | Self::Control(name) => f.write_str(name),
            Self::Bearing(bearing) => f.write_str(bearing.words()),
            Self::ChannelAndPlane { channel, plane } => write!(f, "{channel}, {plane}"),
        }
    }
}
