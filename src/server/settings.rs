//! What a person can set in the editor.

use serde::Deserialize;
use serde_json::Value;

use crate::ide::HintsShown;

/// The section that the settings stand in.
pub(super) const SECTION: &str = "rotorbook";

#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(super) struct Settings {
    pub hints: HintsShown,
}

/// The settings as they are sent: `{ "inlayHints": "all" | "results" | "off" }`, each alone or all in the section.
#[derive(Deserialize, Default)]
#[serde(rename_all = "camelCase", default)]
struct Sent {
    inlay_hints: Option<Value>,
}

impl Settings {
    /// The settings with what was sent put in; what cannot be understood changes nothing.
    pub fn with(self, sent: &Value) -> Self {
        Self { hints: read(sent).as_ref().and_then(hints).unwrap_or(self.hints) }
    }

    /// What of it cannot be understood, in words for a person.
    pub fn problem(sent: &Value) -> Option<String> {
        let value = read(sent).filter(|value| !value.is_null() && hints(value).is_none())?;
        Some(format!("`{SECTION}.inlayHints` is `{value}`; it takes `\"all\"`, `\"results\"` or `\"off\"`"))
    }
}

/// What was sent of the one setting there is.
fn read(sent: &Value) -> Option<Value> {
    let section = sent.get(SECTION).unwrap_or(sent);
    Sent::deserialize(section).unwrap_or_default().inlay_hints
}

/// The words for it.
#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum Word {
    All,
    Results,
    Off,
}

/// A word, or a switch as some editors have it.
fn hints(value: &Value) -> Option<HintsShown> {
    if let Value::Bool(on) = value {
        return Some(if *on { HintsShown::All } else { HintsShown::Off });
    }
    Some(match Word::deserialize(value).ok()? {
        Word::All => HintsShown::All,
        Word::Results => HintsShown::Results,
        Word::Off => HintsShown::Off,
    })
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn settings_are_read_alone_and_in_their_section() {
        let set = |sent: Value| Settings::default().with(&sent).hints;
        assert_eq!(set(json!({ "inlayHints": "results" })), HintsShown::Results);
        assert_eq!(set(json!({ "rotorbook": { "inlayHints": "off" } })), HintsShown::Off);
        assert_eq!(set(json!({ "rotorbook": { "inlayHints": false } })), HintsShown::Off);
    }

    #[test]
    fn what_cannot_be_understood_changes_nothing() {
        let results = Settings { hints: HintsShown::Results };
        for sent in [json!(null), json!(3), json!({ "inlayHints": "none" }), json!({ "rotorbook": [] })] {
            assert_eq!(results.with(&sent), results, "{sent}");
        }
        let problem = Settings::problem(&json!({ "rotorbook": { "inlayHints": "none" } })).unwrap();
        assert_eq!(problem, "`rotorbook.inlayHints` is `\"none\"`; it takes `\"all\"`, `\"results\"` or `\"off\"`");
        assert_eq!(Settings::problem(&json!({ "inlayHints": null })), None);
    }
}
