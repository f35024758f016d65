//! The tree reader of JSON against `serde_json`, and what it refuses with its place.

use fairpull_tree::{Data, Fault, Node, Unwritten, compact, json, pretty, toml};
use proptest::prelude::*;
use serde_json::Value;

/// The tree as the other reader would have it.
fn value(node: &Node) -> Value {
    match &node.data {
        Data::Null => Value::Null,
        Data::Truth(b) => Value::from(*b),
        Data::Whole(n) => Value::from(*n),
        Data::Large(n) => Value::from(*n),
        Data::Number(x) => Value::from(*x),
        Data::Text(t) | Data::Date(t) => Value::from(t.as_str()),
        Data::List(items) => items.iter().map(value).collect(),
        Data::Table(entries) => entries.iter().map(|(k, v)| (k.name.clone(), value(v))).collect(),
    }
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        any::<f64>()
            .prop_filter("finite, written one way", |x| x.is_finite() && !tied(*x))
            .prop_map(Value::from),
        (-400_i32..400).prop_map(|e| Value::from(1.234_567 * power_of_two(e))),
        ".*".prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 48, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::hash_map(".*", inner, 0..6).prop_map(|m| m.into_iter().collect()),
        ]
    })
}

/// True where two shortest texts lie equally near: core takes the upper one, serde_json the even one, and both are read
/// as the number.
fn tied(x: f64) -> bool {
    let (Ok(ours), Ok(theirs)) = (compact(&x), serde_json::to_string(&x)) else { return false };
    ours != theirs && ours.len() == theirs.len() && [ours, theirs].iter().all(|t| t.parse() == Ok(x))
}

/// A power of two as a number, 0 and infinity cut off.
fn power_of_two(e: i32) -> f64 {
    f64::from_bits(((e + 1023) as u64) << 52)
}

/// Every shape that a type can be written in.
#[derive(serde::Serialize)]
enum Shape {
    Unit,
    New(f64),
    Pair(u8, Option<char>),
    Named { text: &'static str, empty: [u8; 0] },
}

#[derive(serde::Serialize)]
struct Shapes(Vec<Shape>, (), std::collections::BTreeMap<i32, bool>, i8, f32);

#[test]
fn every_shape_is_written_as_serde_json_writes_it() {
    let named = || Shape::Named { text: "\u{1}\u{7f}\"\\/\t[", empty: [] };
    let all =
        vec![Shape::Unit, Shape::New(f64::NAN), Shape::Pair(3, Some('\n')), Shape::Pair(4, None), named()];
    let shapes = Shapes(all, (), [(-1, true), (2, false)].into(), -128, 0.5);
    assert_eq!(compact(&shapes).unwrap(), serde_json::to_string(&shapes).unwrap());
    let finite = Shapes(vec![named(), Shape::New(0.0)], (), [].into(), i8::MAX, 0.25);
    assert_eq!(pretty(&finite).unwrap(), serde_json::to_string_pretty(&finite).unwrap());
    assert_eq!(pretty(&shapes), Err(Unwritten::NotFinite { path: "[0][1].New".into() }));
    let nameless: std::collections::BTreeMap<(u8, u8), u8> = [((1, 2), 3)].into();
    assert_eq!(compact(&nameless), Err(Unwritten::Refused { message: "a key must be a text".into() }));
    assert!(serde_json::to_string(&nameless).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_serde_json_writes_is_read_as_it_was(v in any_json()) {
        for text in [v.to_string(), serde_json::to_string_pretty(&v).unwrap()] {
            prop_assert_eq!(&value(&json(&text).unwrap()), &v);
        }
    }

    #[test]
    fn the_same_bytes_are_written(v in any_json()) {
        prop_assert_eq!(compact(&v).unwrap(), serde_json::to_string(&v).unwrap());
        prop_assert_eq!(pretty(&v).unwrap(), serde_json::to_string_pretty(&v).unwrap());
    }

    #[test]
    fn numbers_are_written_with_the_same_digits(bits in any::<u64>(), e in -320_i32..300, m in 1.0_f64..10.0) {
        let ten: f64 = format!("1e{e}").parse().unwrap();
        for x in [f64::from_bits(bits), m * ten, -m * ten, ten] {
            if x.is_finite() && !tied(x) {
                prop_assert_eq!(compact(&x).unwrap(), serde_json::to_string(&x).unwrap());
            }
        }
    }

    #[test]
    fn both_readers_agree_on_what_is_json(text in r#"[\[\]{}",:0-9.eE+\-truefalsn\\ /u]{0,24}"#) {
        let theirs = serde_json::from_str::<Value>(&text);
        match json(&text) {
            Ok(ours) => prop_assert_eq!(Some(value(&ours)), theirs.ok()),
            // a key that stands twice is taken there
            Err(e) if e.message.starts_with("duplicate") => {}
            Err(_) => prop_assert!(theirs.is_err(), "{}", text),
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in ".*") {
        let _ = (json(&text), toml(&text));
    }
}

#[test]
fn refusals_have_a_place() {
    let at = |text: &str| {
        let e = json(text).unwrap_err();
        let (line, column) = e.place(text);
        format!("{line}:{column} {e}")
    };
    let all = [
        "",
        "{",
        "[1,]",
        "{\"a\" 1}",
        "{\"a\":1,\n \"a\":2}",
        "01",
        "1.",
        "-",
        "1e999",
        "\"\\x\"",
        "\"\\ud800\"",
        "\"\u{1}\"",
        "nul",
        "[1] 2",
        "{a:1}",
    ];
    insta::assert_snapshot!(all.map(at).join("\n"), @r##"
    1:1 the text ends before the value is complete
    1:2 the text ends before the value is complete
    1:4 expected a value
    1:6 expected `:`
    2:2 duplicate field `a`
    1:2 trailing characters
    1:3 the text ends before the value is complete
    1:2 the text ends before the value is complete
    1:1 number out of range
    1:3 invalid escape
    1:8 lone surrogate in a text
    1:2 a control character stands in a text
    1:1 expected a value
    1:5 trailing characters
    1:2 expected a key in double quotes
    "##);
    let deep = "[".repeat(200);
    assert_eq!(json(&deep).unwrap_err().message, "nested too deeply");
}

#[test]
fn questions_are_read_from_both_forms() {
    #[derive(Debug, Default, PartialEq)]
    struct Question {
        power: f64,
        names: Vec<String>,
        turns: Option<u8>,
        kind: Option<Kind>,
        pair: Option<(f64, f64)>,
    }
    #[derive(Clone, Copy, Debug, PartialEq)]
    enum Kind {
        Plain,
        Round,
    }
    fairpull_tree::fields!(Question { power, names = default, turns, kind, pair });
    fairpull_tree::words!(Kind { "plain" => Plain, "held" => Round });
    let read = |text: &str| -> Result<Question, Fault> {
        if text.starts_with('{') { json(text) } else { toml(text) }.and_then(Node::read)
    };
    let full = Question {
        power: 4.0,
        names: vec!["a".into()],
        turns: Some(3),
        kind: Some(Kind::Round),
        pair: Some((1.0, 2.0)),
    };
    let form = r#"{"power":4,"names":["a"],"turns":3,"kind":"held","pair":[1,2.0]}"#;
    assert_eq!(read(form).unwrap(), full);
    let form = "power = 4\nnames = [\"a\"]\nturns = 3\nkind = \"held\"\npair = [1, 2.0]\n";
    assert_eq!(read(form).unwrap(), full);
    assert_eq!(read("power = 1.0\nkind = \"plain\"").unwrap().kind, Some(Kind::Plain));
    assert_eq!(read("{\"power\":1,\"turns\":null}").unwrap().turns, None);
    let at = |text: &str| {
        let e = read(text).unwrap_err();
        let (line, column) = e.place(text);
        format!("{line}:{column} {e}")
    };
    let all = [
        "power = \"4\"",
        "powr = 4",
        "names = []",
        "power = 1\nturns = 300",
        "power = 1\nturns = 1.5",
        "power = 1\nkind = \"round\"",
        "power = 1\nkind = 3",
        "power = 1\nnames = [\n1]",
        "power = 1979-05-27",
        "power = 99999999999999999999",
        "power = 1\npair = [1]",
        "{\"power\": [1]}",
        "{\"power\": 1, \"kind\": {\"plain\": 1}}",
        "{\"power\": null}",
        "[]",
    ];
    let field = |text: &str| read(text).unwrap_err().field(&toml(text).unwrap());
    let fields =
        ["power = 1\nturns = 300", "power = 1\nnames = [\"a\", 1]", "powr = 1", "names = []"].map(field);
    assert_eq!(fields, ["turns", "names", "", ""]);
    insta::assert_snapshot!(all.map(at).join("\n"), @r##"
    1:9 invalid type: string "4", expected a number
    1:1 unknown field `powr`, expected one of `power`, `names`, `turns`, `kind`, `pair`
    1:1 missing field `power`
    2:9 invalid value: integer `300`, expected a whole number from 0 to 255
    2:9 invalid type: floating point `1.5`, expected a whole number
    2:8 unknown variant `round`, expected `plain` or `held`
    2:8 invalid type: integer `3`, expected a string
    3:1 invalid type: integer `1`, expected a string
    1:9 invalid type: date or time, expected a number
    1:9 integer number overflowed
    2:8 invalid length 1, expected a list of 2
    1:11 invalid type: sequence, expected a number
    1:22 invalid type: map, expected a string
    1:11 invalid type: null, expected a number
    1:2 unquoted keys cannot be empty, expected letters, numbers, `-`, `_`
    "##);
}

#[test]
fn fields_are_read_as_derived_readers_read_them() {
    #[derive(Debug, Default, PartialEq, serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Question {
        power: f64,
        title: Option<String>,
        #[serde(default)]
        names: Vec<String>,
        turns: Option<u8>,
        pair: Option<(f64, f64)>,
        #[serde(default)]
        whole: bool,
        inner: Option<Inner>,
    }
    #[derive(Debug, Default, PartialEq, serde::Deserialize)]
    #[serde(deny_unknown_fields, default)]
    struct Inner {
        a: Option<f64>,
        b: bool,
    }
    fairpull_tree::fields!(Question { power, title, names = default, turns, pair, whole = default, inner });
    fairpull_tree::fields!(Inner default { a, b });
    // a type of the language is no word for a reader of the message
    let in_words = |m: &str| {
        let of =
            if m.starts_with("invalid value") { "a whole number from 0 to 255" } else { "a whole number" };
        m.replace("expected f64", "expected a number").replace("expected u8", &format!("expected {of}"))
    };
    let both = |text: &str| {
        let ours = toml(text).and_then(Node::read::<Question>);
        let theirs = ::toml::from_str::<Question>(text);
        (ours.map_err(|e| (e.message, e.span)), theirs.map_err(|e| (in_words(e.message()), e.span())))
    };
    for text in [
        "power = 1",
        "power = 2.5\ntitle = 'x'\nnames = ['a', 'b']\nturns = 4\npair = [1, 2.5]\nwhole = true",
        "power = 1\n[inner]\na = 3",
        "title = 'x'",
        "power = true",
        "power = 1\nturns = 256",
        "power = 1\nturns = -1",
        "power = 1\nnames = 'a'",
        "power = 1\nnames = [1]",
        "power = 1\nwhole = 'yes'",
        "power = 1\nother = 1",
        "power = 1\n[inner]\nc = 3",
        "power = 1\ninner = 3",
    ] {
        let (ours, theirs) = both(text);
        assert_eq!(ours, theirs, "{text}");
    }
}
