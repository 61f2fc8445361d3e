//! What a declaration says of a result.

use std::borrow::Cow;

use super::alert::{AlertCode, Grave, Guard};
use super::hint::Hint;
use super::of::Of;
use crate::syntax::Kind;

/// What a block has several results of one name for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Each {
    Plane,
    Channel,
    ChannelAndPlane,
    /// A correction plane, or `bearing a` and `bearing b`.
    PlaneOrBearing,
    /// Bearing, plane, static or couple: whatever a limit is set on.
    Limit,
    /// A control of the machine, which is named alone.
    Control,
}

impl Each {
    pub const fn words(self) -> &'static str {
        match self {
            Each::Plane => "plane",
            Each::Channel => "channel",
            Each::ChannelAndPlane => "channel, plane",
            Each::PlaneOrBearing => "plane or bearing",
            Each::Limit => "limit",
            Each::Control => "control",
        }
    }
}

/// One result by name.
#[derive(Debug)]
pub struct ResultSpec {
    /// As pinned in the text and shown in hints.
    pub name: &'static str,
    /// The kind of block it belongs to.
    pub block: Kind,
    /// What follows the name where the block has one such result for each: `unbalance hub`.
    pub per: Option<Each>,
    /// Which change of it a reviewer must not miss, beside its loss; what has none is silent: both values are shown.
    pub guard: Option<Guard>,
    pub meaning: &'static str,
    /// How a hint says it; `None` for what is only of interest to who asks for it, in tooltips, hovers and the preview.
    pub hint: Option<Hint>,
    /// An inner block is there for it; the first that is known is the headline.
    pub is_headline: bool,
    /// Whether the declaration says how a hint stands to it.
    has_hint: bool,
    is_silent: bool,
}

impl ResultSpec {
    pub(super) const fn new(block: Kind, name: &'static str, meaning: &'static str) -> Self {
        Self {
            name,
            block,
            per: None,
            guard: None,
            meaning,
            hint: None,
            is_headline: false,
            has_hint: false,
            is_silent: false,
        }
    }

    /// The declaration as it stands; one that does not say how a hint stands to the result, or what becomes of a change,
    /// does not compile.
    pub(super) const fn declared(self) -> Self {
        assert!(self.has_hint, "a result is said by a hint or is quiet: give it `.hint(…)` or `.quiet()`");
        assert!(
            self.guard.is_some() != self.is_silent,
            "a change of a result is an alert or is none: give it `.alert(…)` or `.silent()`"
        );
        self
    }

    /// A hint says it, in these words; read by `ide::hints`.
    pub(super) const fn hint(mut self, hint: Hint) -> Self {
        self.hint = Some(hint);
        self.has_hint = true;
        self
    }

    /// An inner block is there for it; read by `ide::symbols`.
    pub(super) const fn headline(mut self) -> Self {
        self.is_headline = true;
        self
    }

    /// No hint says it.
    pub(super) const fn quiet(mut self) -> Self {
        self.has_hint = true;
        self
    }

    pub(super) const fn of_each(mut self, each: Each) -> Self {
        self.per = Some(each);
        self
    }

    /// A change of it that is grave, which `diff` tells as an alert of this code.
    pub(super) const fn alert(mut self, code: AlertCode, grave: Grave) -> Self {
        self.guard = Some(Guard { code, grave });
        self
    }

    /// No change of it is an alert: both values are shown, and that one is lost is alerted to whatever it is.
    pub(super) const fn silent(mut self) -> Self {
        self.is_silent = true;
        self
    }

    /// When a change of it is told as an alert of this code, if ever.
    pub fn alerts_as(&self, code: AlertCode) -> Option<Grave> {
        self.guard.filter(|guard| guard.code == code).map(|guard| guard.grave)
    }

    /// As it is pinned and shown: `reading`, `unbalance hub`; the setting of a control has no other name than that.
    pub fn named(&self, of: Option<&Of>) -> Cow<'static, str> {
        match of {
            None => Cow::Borrowed(self.name),
            Some(Of::Control(control)) => Cow::Owned(control.to_string()),
            Some(of) => Cow::Owned(format!("{} {of}", self.name)),
        }
    }

    /// Whether a pin of this name may mean this result: the name alone, or with what it is of after it.
    pub fn answers_to(&self, pinned: &str) -> bool {
        if self.per == Some(Each::Control) {
            return true;
        }
        match (self.per, pinned.strip_prefix(self.name)) {
            (None, Some(rest)) => rest.is_empty(),
            (Some(_), Some(rest)) => rest.strip_prefix(' ').is_some_and(|of| !of.is_empty()),
            (_, None) => false,
        }
    }
}

/// A result is its declaration, and no other of the same words.
impl PartialEq for ResultSpec {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self, other)
    }
}

impl Eq for ResultSpec {}
