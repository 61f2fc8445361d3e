//! What a person can set in the editor.

use std::time::Duration;

use serde::Deserialize;
use serde_json::Value;

use crate::ide::HintsShown;

/// The section that the settings are in.
pub(super) const SECTION: &str = "rotorbook";

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Settings {
    pub hints: HintsShown,
    /// How long a line must rest before it is said what is wrong with it.
    pub error_delay: Duration,
    /// What an edit's consequences are told beside.
    pub since: Since,
}

/// What a book is compared with.
#[derive(Deserialize, Clone, Copy, PartialEq, Eq, Debug, Default)]
#[serde(rename_all = "lowercase")]
pub(super) enum Since {
    /// The last commit; without one, the last save.
    #[default]
    Commit,
    Save,
    Off,
}

impl Default for Settings {
    fn default() -> Self {
        Self { hints: HintsShown::default(), error_delay: Duration::from_secs(1), since: Since::default() }
    }
}

/// The longest that a person may want to wait.
const LONGEST_DELAY: u64 = 60_000;

/// The settings as they are sent, each alone or all in the section: `"inlayHints": "all" | "results" | "off"`,
/// `"errorDelay"` in milliseconds, `"consequences": "commit" | "save" | "off"`.
#[derive(Deserialize, Default)]
#[serde(rename_all = "camelCase", default)]
struct Sent {
    inlay_hints: Value,
    error_delay: Value,
    consequences: Value,
}

impl Settings {
    /// The settings with what was sent put in; what cannot be understood changes nothing.
    pub fn with(self, sent: &Value) -> Self {
        let sent = read(sent);
        Self {
            hints: hints(&sent.inlay_hints).unwrap_or(self.hints),
            error_delay: delay(&sent.error_delay).unwrap_or(self.error_delay),
            since: since(&sent.consequences).unwrap_or(self.since),
        }
    }

    /// What of it cannot be understood, in words for a person.
    pub fn problem(sent: &Value) -> Option<String> {
        let sent = read(sent);
        let problem = |name: &str, value: &Value, is_read: bool, takes: &str| {
            (!value.is_null() && !is_read).then(|| format!("`{SECTION}.{name}` is `{value}`; it takes {takes}"))
        };
        let hints = hints(&sent.inlay_hints).is_some();
        let delay = delay(&sent.error_delay).is_some();
        let since = since(&sent.consequences).is_some();
        problem("inlayHints", &sent.inlay_hints, hints, "`\"all\"`, `\"results\"` or `\"off\"`")
            .or_else(|| problem("errorDelay", &sent.error_delay, delay, "milliseconds, 60000 at most"))
            .or_else(|| problem("consequences", &sent.consequences, since, "`\"commit\"`, `\"save\"` or `\"off\"`"))
    }
}

fn read(sent: &Value) -> Sent {
    Sent::deserialize(sent.get(SECTION).unwrap_or(sent)).unwrap_or_default()
}

fn since(value: &Value) -> Option<Since> {
    Since::deserialize(value).ok()
}

fn delay(value: &Value) -> Option<Duration> {
    value.as_u64().filter(|milliseconds| *milliseconds <= LONGEST_DELAY).map(Duration::from_millis)
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
        let later = Settings::default().with(&json!({ "errorDelay": 250 }));
        assert_eq!(later.error_delay, Duration::from_millis(250));
    }

    #[test]
    fn what_cannot_be_understood_changes_nothing() {
        let results = Settings { hints: HintsShown::Results, ..Settings::default() };
        let wrong = json!({ "inlayHints": "none", "errorDelay": -1 });
        for sent in [json!(null), json!(3), wrong, json!({ "rotorbook": [] })] {
            assert_eq!(results.with(&sent), results, "{sent}");
        }
        let problem = Settings::problem(&json!({ "rotorbook": { "inlayHints": "none" } })).unwrap();
        assert_eq!(problem, "`rotorbook.inlayHints` is `\"none\"`; it takes `\"all\"`, `\"results\"` or `\"off\"`");
        assert_eq!(Settings::problem(&json!({ "inlayHints": null })), None);
        let problem = Settings::problem(&json!({ "errorDelay": "soon" })).unwrap();
        assert_eq!(problem, "`rotorbook.errorDelay` is `\"soon\"`; it takes milliseconds, 60000 at most");
    }
}
