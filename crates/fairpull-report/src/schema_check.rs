//! A value against the published JSON Schema; for tests.

use serde_json::{Map, Value};
use std::collections::BTreeSet;
use std::path::Path;

/// The published schema.
pub fn published() -> Value {
    let above = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors();
    let path = above.map(|d| d.join("docs/result-schema.json")).find(|p| p.exists());
    let text = path
        .and_then(|p| std::fs::read_to_string(p).ok())
        .unwrap_or_else(|| panic!("no docs/result-schema.json"));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("docs/result-schema.json: {e}"))
}

/// The part of JSON Schema (draft 2020-12) the file uses, and stricter: a key it does not name is a fault.
struct Check<'a> {
    root: &'a Value,
    seen: BTreeSet<String>,
    faults: Vec<String>,
}

const KNOWN: [&str; 13] = [
    "$schema",
    "$id",
    "$comment",
    "$defs",
    "title",
    "description",
    "type",
    "required",
    "properties",
    "items",
    "enum",
    "const",
    "minimum",
];

impl Check<'_> {
    fn fault(&mut self, path: &str, what: &str) {
        self.faults.push(format!("{path}: {what}"));
    }

    fn value(&mut self, rule: &Value, name: &str, path: &str, v: &Value) {
        let rule = rule.as_object().unwrap_or_else(|| panic!("{path}: a rule is an object"));
        if let Some(target) = rule.get("$ref").and_then(Value::as_str) {
            let next = self.root.pointer(target.trim_start_matches('#')).cloned().unwrap_or(Value::Null);
            assert!(next.is_object(), "{path}: {target} is not defined");
            return self.value(&next, target, path, v);
        }
        for word in rule.keys().filter(|k| !KNOWN.contains(&k.as_str()) && !k.ends_with("Items")) {
            self.fault(path, &format!("the schema uses `{word}`, which this check does not know"));
        }
        if rule.get("const").is_some_and(|c| c != v) {
            self.fault(path, "not the constant");
        }
        if rule.get("enum").and_then(Value::as_array).is_some_and(|list| !list.contains(v)) {
            self.fault(path, "not in the list");
        }
        if rule.get("type").is_some_and(|t| !of_type(t, v)) {
            self.fault(path, &format!("{v} is not {}", rule["type"]));
        }
        let length = v.as_array().map_or(0, Vec::len) as u64;
        let bound = |key: &str| rule.get(key).and_then(Value::as_u64);
        if bound("minItems").is_some_and(|n| length < n) || bound("maxItems").is_some_and(|n| length > n) {
            self.fault(path, "wrong number of items");
        }
        if let (Some(items), Some(list)) = (rule.get("items"), v.as_array()) {
            for (i, item) in list.iter().enumerate() {
                self.value(items, name, &format!("{path}[{i}]"), item);
            }
        }
        if let Some(map) = v.as_object() {
            self.object(rule, name, path, map);
        }
    }

    fn object(&mut self, rule: &Map<String, Value>, name: &str, path: &str, map: &Map<String, Value>) {
        let none = Map::new();
        let properties = rule.get("properties").and_then(Value::as_object).unwrap_or(&none);
        for key in rule.get("required").and_then(Value::as_array).into_iter().flatten() {
            if !key.as_str().is_some_and(|k| map.contains_key(k)) {
                self.fault(path, &format!("{key} is missing"));
            }
        }
        for (key, v) in map {
            match properties.get(key) {
                Some(next) => {
                    self.seen.insert(format!("{name} {key}"));
                    self.value(next, name, &format!("{path}.{key}"), v);
                }
                None => self.fault(path, &format!("`{key}` is not in the schema")),
            }
        }
    }
}

fn of_type(wanted: &Value, v: &Value) -> bool {
    let is = |t: &Value| match t.as_str() {
        Some("object") => v.is_object(),
        Some("array") => v.is_array(),
        Some("string") => v.is_string(),
        Some("number") => v.is_number(),
        Some("integer") => v.is_u64() || v.is_i64(),
        Some("boolean") => v.is_boolean(),
        Some("null") => v.is_null(),
        _ => false,
    };
    wanted.as_array().map_or_else(|| is(wanted), |list| list.iter().any(is))
}

/// What is wrong with a value, and which keys of the schema it uses.
pub fn faults(v: &Value) -> (Vec<String>, BTreeSet<String>) {
    let root = published();
    let mut check = Check { root: &root, seen: BTreeSet::new(), faults: Vec::new() };
    check.value(&root, "#", "$", v);
    (check.faults, check.seen)
}
