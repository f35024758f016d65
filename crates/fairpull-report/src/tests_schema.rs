//! The published JSON Schema against the model as it is written, key by key, both ways.

use crate::model::SCHEMA;
use crate::sample::invented;
use crate::schema_check::{faults, published};
use crate::to_json;
use serde_json::Value;
use std::collections::BTreeSet;

fn full() -> Value {
    let mut m = invented();
    m.comparisons[0].more_pulls = Some(2);
    serde_json::from_str(&to_json(&m).expect("finite")).expect("JSON")
}

#[test]
fn every_written_key_is_published_and_every_published_key_is_written() {
    let (faults, seen) = faults(&full());
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    let root = published();
    let mut named = BTreeSet::new();
    let mut collect = |name: &str, rule: &Value| {
        for key in rule["properties"].as_object().expect("properties").keys() {
            named.insert(format!("{name} {key}"));
        }
    };
    collect("#", &root);
    for (name, rule) in root["$defs"].as_object().expect("definitions") {
        collect(&format!("#/$defs/{name}"), rule);
    }
    assert_eq!(named, seen);
    assert_eq!(root["$id"], SCHEMA);
}

#[test]
fn the_check_finds_a_wrong_type_a_missing_and_an_unknown_key() {
    let mut v = full();
    v["states"][0]["pulls"][1]["samples"] = Value::from("many");
    v["comparisons"][0]["verdict"] = Value::from("triumph");
    let basis = v["basis"].as_object_mut().expect("basis");
    let site = basis.remove("site").expect("site");
    basis.insert("sight".to_owned(), site);
    let (faults, _) = faults(&v);
    assert_eq!(
        faults,
        [
            "$.basis: \"site\" is missing",
            "$.basis: `sight` is not in the schema",
            "$.comparisons[0].verdict: not in the list",
            "$.states[0].pulls[1].samples: \"many\" is not \"integer\"",
        ]
    );
}
