//! Messages of the server held against the protocol's own description of itself.
//!
//! The description is looked for as `shared/reference/lsp-metaModel.json` in a folder above the project; where it is
//! absent, messages are taken as they are.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::OnceLock;

use serde_json::Value;

pub struct MetaModel {
    requests: BTreeMap<String, Value>,
    notifications: BTreeMap<String, Value>,
    structures: BTreeMap<String, Value>,
    enumerations: BTreeMap<String, Value>,
    aliases: BTreeMap<String, Value>,
}

/// The description, read once.
pub fn meta_model() -> Option<&'static MetaModel> {
    static MODEL: OnceLock<Option<MetaModel>> = OnceLock::new();
    MODEL.get_or_init(read).as_ref()
}

fn read() -> Option<MetaModel> {
    let above = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors();
    let path = above.map(|folder| folder.join("shared/reference/lsp-metaModel.json")).find(|path| path.is_file());
    let Some(path) = path else {
        eprintln!("messages are not held against the protocol's description: there is no lsp-metaModel.json");
        return None;
    };
    let model: Value = serde_json::from_slice(&std::fs::read(path).ok()?).expect("the description is JSON");
    let by = |list: &str, key: &str| -> BTreeMap<String, Value> {
        let all = model[list].as_array().expect("a list").iter();
        all.map(|one| (one[key].as_str().expect("a name").to_owned(), one.clone())).collect()
    };
    Some(MetaModel {
        requests: by("requests", "method"),
        notifications: by("notifications", "method"),
        structures: by("structures", "name"),
        enumerations: by("enumerations", "name"),
        aliases: by("typeAliases", "name"),
    })
}

type Checked = Result<(), String>;

impl MetaModel {
    /// Checks a message of the server; `asked` is the method of the request that a response answers.
    pub fn check(&self, message: &Value, asked: Option<&str>) -> Checked {
        if message["jsonrpc"] != "2.0" {
            return Err("it does not say which version of JSON-RPC it is".to_owned());
        }
        let method = message["method"].as_str();
        match (method, asked) {
            (Some(method), _) if message.get("id").is_some() => self.params(&self.requests, method, message),
            (Some(method), _) => self.params(&self.notifications, method, message),
            (None, Some(asked)) => self.response(asked, message),
            (None, None) => self.error(&message["error"]),
        }
    }

    fn params(&self, of: &BTreeMap<String, Value>, method: &str, message: &Value) -> Checked {
        let described = of.get(method).ok_or_else(|| format!("there is no method {method}"))?;
        match (described.get("params"), message.get("params")) {
            (Some(params), given) => self.value(params, given.unwrap_or(&Value::Null), method),
            (None, None | Some(Value::Null)) => Ok(()),
            (None, Some(_)) => Err(format!("{method} takes no parameters")),
        }
    }

    fn response(&self, asked: &str, message: &Value) -> Checked {
        if let Some(error) = message.get("error") {
            return self.error(error);
        }
        match self.requests.get(asked) {
            Some(request) => self.value(&request["result"], &message["result"], asked),
            None => Err(format!("{asked} has an answer although there is no such request")),
        }
    }

    fn error(&self, error: &Value) -> Checked {
        let whole = error["code"].is_i64() && error["message"].is_string();
        if whole { Ok(()) } else { Err(format!("{error} is no error")) }
    }

    fn value(&self, described: &Value, value: &Value, at: &str) -> Checked {
        let wrong = |what: &str| Err(format!("{at}: {value} is not {what}"));
        match described["kind"].as_str().expect("every type has a kind") {
            "base" => self.base(described["name"].as_str().expect("a name"), value, at),
            "reference" => self.reference(described["name"].as_str().expect("a name"), value, at),
            "array" => {
                let Some(all) = value.as_array() else { return wrong("a list") };
                all.iter()
                    .enumerate()
                    .try_for_each(|(n, one)| self.value(&described["element"], one, &format!("{at}[{n}]")))
            }
            "map" => {
                let Some(all) = value.as_object() else { return wrong("a map") };
                all.iter().try_for_each(|(key, one)| self.value(&described["value"], one, &format!("{at}.{key}")))
            }
            "or" => {
                let each = described["items"].as_array().expect("a list").iter();
                let errors: Vec<String> = each.map_while(|one| self.value(one, value, at).err()).collect();
                let all = described["items"].as_array().map_or(0, Vec::len);
                if errors.len() < all { Ok(()) } else { Err(errors.join("; or ")) }
            }
            "and" => {
                let each = described["items"].as_array().expect("a list");
                each.iter().try_for_each(|one| self.value(one, value, at))
            }
            "tuple" => {
                let items = described["items"].as_array().expect("a list");
                let Some(all) = value.as_array().filter(|all| all.len() == items.len()) else {
                    return wrong("a tuple");
                };
                items.iter().zip(all).try_for_each(|(item, one)| self.value(item, one, at))
            }
            "literal" => self.properties(&[&described["value"]], value, at),
            "stringLiteral" | "integerLiteral" | "booleanLiteral" => {
                if *value == described["value"] {
                    Ok(())
                } else {
                    wrong(&described["value"].to_string())
                }
            }
            other => panic!("types of kind {other} are not known"),
        }
    }

    fn base(&self, name: &str, value: &Value, at: &str) -> Checked {
        let fits = match name {
            "URI" | "DocumentUri" => value.as_str().is_some_and(|text| text.contains(':')),
            "string" | "RegExp" => value.is_string(),
            "integer" => value.as_i64().is_some_and(|number| i32::try_from(number).is_ok()),
            "uinteger" => value.as_u64().is_some_and(|number| number <= i32::MAX as u64),
            "decimal" => value.is_number(),
            "boolean" => value.is_boolean(),
            "null" => value.is_null(),
            other => panic!("there is no base type {other}"),
        };
        if fits { Ok(()) } else { Err(format!("{at}: {value} is not of type {name}")) }
    }

    fn reference(&self, name: &str, value: &Value, at: &str) -> Checked {
        if matches!(name, "LSPAny" | "LSPObject" | "LSPArray") {
            return Ok(());
        }
        if let Some(alias) = self.aliases.get(name) {
            return self.value(&alias["type"], value, at);
        }
        if let Some(enumeration) = self.enumerations.get(name) {
            return self.enumeration(enumeration, value, at);
        }
        let mut parts = Vec::new();
        self.parts(name, &mut parts);
        self.properties(&parts, value, at)
    }

    fn enumeration(&self, enumeration: &Value, value: &Value, at: &str) -> Checked {
        if enumeration["supportsCustomValues"] == true {
            return self.value(&enumeration["type"], value, at);
        }
        let all = enumeration["values"].as_array().expect("a list");
        let known = all.iter().any(|one| one["value"] == *value);
        if known { Ok(()) } else { Err(format!("{at}: {value} is no {}", enumeration["name"])) }
    }

    /// A structure with all that it extends.
    fn parts<'m>(&'m self, name: &str, parts: &mut Vec<&'m Value>) {
        let structure = &self.structures[name];
        parts.push(structure);
        let others = ["extends", "mixins"].into_iter().filter_map(|key| structure[key].as_array()).flatten();
        for other in others {
            self.parts(other["name"].as_str().expect("a name"), parts);
        }
    }

    fn properties(&self, parts: &[&Value], value: &Value, at: &str) -> Checked {
        let Some(object) = value.as_object() else { return Err(format!("{at}: {value} is no object")) };
        let known: Vec<&Value> = parts.iter().filter_map(|part| part["properties"].as_array()).flatten().collect();
        for property in &known {
            let name = property["name"].as_str().expect("a name");
            match object.get(name) {
                Some(value) => self.value(&property["type"], value, &format!("{at}.{name}"))?,
                None if property["optional"] == true => {}
                None => return Err(format!("{at}: {name} is missing in {value}")),
            }
        }
        let is_known = |key: &&String| known.iter().any(|property| property["name"] == **key);
        match object.keys().find(|key| !is_known(key)) {
            Some(key) => Err(format!("{at}: there is no property {key} in {value}")),
            None => Ok(()),
        }
    }
}
