//! tests/bare/src/every.rs: the address of every public function of the crates that must not panic, so that the link
//! proof holds each of them whole, whatever it is called with. Made from docs/api, which is held against the code.

use crate::step::Failure;
use crate::supply::text;
use std::collections::BTreeMap;
use std::path::Path;

/// Items that stand behind the feature `std` of their crate (text and data of the desk), and are no part of the proof.
const NEEDS_STD: [&str; 9] = [
    "fairpull_fuels::ChangesGiven",
    "fairpull_fuels::CycleGiven",
    "fairpull_fuels::KnockInput",
    "fairpull_fuels::OwnBlend",
    "fairpull_fuels::Stated",
    "fairpull_fuels::Verdict",
    "fairpull_fuels::knock",
    "fairpull_fuels::parse_fuel",
    "fairpull_tree::fields",
];

/// What stands for a type parameter.
const FOR: [(&str, &str); 4] = [
    ("Corrected<P>", "Corrected::<fairpull_core::PowerAtCrank>"),
    ("CorrectedSlice<'a, P>", "CorrectedSlice::<fairpull_core::PowerAtCrank>"),
    ("::new<I>", "::new::<[fairpull_core::PowerAtCrank; 4]>"),
    (
        "::with_vapour<E: core::convert::From<fairpull_core::Refusal>>",
        "::with_vapour::<fairpull_core::Refusal>",
    ),
];

const HEAD: &str = "\
//! The address of every public function, so that each is linked whole and not only as far as one call reaches.
//! Written by `cargo xtask bare --write` from docs/api.

/// Functions and methods, inherent and of traits, except the printing of text: the library beneath prints floats with
/// assertions of its own.
pub const EVERY: &[*const ()] = &[
";

/// Compares, or writes where `write` says so; answers how many functions there are.
pub fn check(root: &Path, crates: &[String], write: bool) -> Result<usize, Failure> {
    let mut functions = Vec::new();
    let mut listings = Vec::new();
    for name in crates {
        listings.push(text(&root.join("docs/api").join(format!("{name}.txt")))?);
    }
    let listings = reachable(&listings);
    let traits = traits(&listings);
    for listing in &listings {
        of_crate(listing, &traits, &mut functions);
    }
    // core's printing of floats keeps assertions of its own, so what prints is no part of the proof
    functions.retain(|f| !needs_std(f) && !f.contains(">::fmt as "));
    functions.sort();
    functions.dedup();
    let lines: String = functions.iter().map(|f| format!("    {f} as *const (),\n")).collect();
    let whole = format!("{HEAD}{lines}];\n");
    let path = root.join("tests/bare/src/every.rs");
    if std::fs::read_to_string(&path).is_ok_and(|old| old == whole) {
        return Ok(functions.len());
    }
    if write {
        std::fs::write(&path, whole)
            .map_err(|e| Failure::new(format!("{}: {e}", path.display()), "cargo xtask bare --write"))?;
        return Ok(functions.len());
    }
    Err(Failure::new(
        format!("{} does not name every public function of docs/api", path.display()),
        "cargo xtask bare --write",
    ))
}

/// The listings with each path as a user writes it: rustdoc names the private module in which a type of another crate
/// was born.
fn reachable(listings: &[String]) -> Vec<String> {
    let lines = || listings.iter().flat_map(|l| l.lines());
    let modules: Vec<&str> = lines().filter_map(|l| l.strip_prefix("pub mod ")).collect();
    let roots = modules.iter().filter(|m| !m.contains("::"));
    let roots: Vec<String> = roots.map(|m| format!("{m}::")).collect();
    listings
        .iter()
        .map(|listing| {
            let mut out = String::new();
            let mut rest = listing.as_str();
            while let Some((at, root)) =
                roots.iter().filter_map(|r| Some((rest.find(r.as_str())?, r))).min_by_key(|(at, _)| *at)
            {
                let end = at + root.len();
                out += &rest[..end];
                rest = &rest[end..];
                let segment = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
                let module = rest[segment..].starts_with("::") && rest.starts_with(char::is_lowercase);
                if module && !modules.contains(&format!("{root}{}", &rest[..segment]).as_str()) {
                    rest = &rest[segment + 2..];
                }
            }
            out + rest
        })
        .collect()
}

/// Whether an item behind `std` is named.
fn needs_std(line: &str) -> bool {
    NEEDS_STD.iter().any(|n| {
        line.match_indices(n).any(|(at, _)| !line[at + n.len()..].starts_with(|c: char| c.is_alphanumeric()))
    })
}

/// Methods of our own traits with the number of their arguments.
type Traits = BTreeMap<String, Vec<(String, usize)>>;

fn traits(listings: &[String]) -> Traits {
    let mut all = Traits::new();
    for listing in listings {
        let mut inside: Option<String> = None;
        for line in listing.lines() {
            if let Some(rest) = line.strip_prefix("pub trait ") {
                // a path holds `::`, the bounds begin with `: `
                inside = Some(rest.split(": ").next().unwrap_or(rest).trim().to_owned());
            } else if line.starts_with("impl") || line.starts_with("pub mod ") {
                inside = None;
            }
            if let (Some(t), Some(f)) = (&inside, function(line))
                && let Some(method) = f.path.strip_prefix(&format!("{t}::"))
            {
                all.entry(t.clone()).or_default().push((method.to_owned(), f.arguments));
            }
        }
    }
    all
}

fn of_crate(listing: &str, traits: &Traits, functions: &mut Vec<String>) {
    let mut of_trait: Option<(String, String)> = None;
    for line in listing.lines() {
        if line.starts_with("impl") {
            let line = generic_free(line);
            let line = line.trim_start_matches("impl").trim();
            of_trait = line.split_once(" for ").map(|(t, x)| (t.to_owned(), x.to_owned()));
            if let Some((t, x)) = &of_trait {
                for (method, arguments) in traits.get(t).into_iter().flatten() {
                    functions.push(format!("<{x} as {t}>::{method} as {}", pointer(*arguments)));
                }
            }
            continue;
        }
        let Some(f) = function(line) else { continue };
        if NEEDS_STD.iter().any(|n| f.path.starts_with(n))
            || traits.keys().any(|t| f.path.starts_with(&format!("{t}::")))
        {
            continue;
        }
        match &of_trait {
            Some((_, x))
                if !f.path.starts_with(&format!("{}::", x.replace("::<", "<")))
                    && !f.path.starts_with(&format!("{x}::")) =>
            {
                of_trait = None;
                functions.push(format!("{} as {}", f.path, pointer(f.arguments)));
            }
            Some((t, _)) if traits.contains_key(t) => {}
            Some((t, x)) => {
                let method = f.path.rsplit("::").next().unwrap_or("");
                functions.push(format!("<{x} as {t}>::{method} as {}", pointer(f.arguments)));
            }
            None => functions.push(format!("{} as {}", f.path, pointer(f.arguments))),
        }
    }
}

struct Function {
    path: String,
    arguments: usize,
}

/// A line of a listing that is a function.
fn function(line: &str) -> Option<Function> {
    let rest = line.strip_prefix("pub ")?;
    let rest = rest.strip_prefix("const ").unwrap_or(rest);
    let rest = generic_free(rest.strip_prefix("fn ")?);
    let open = rest.find('(')?;
    let (mut depth, mut arguments, mut filled) = (0i32, 0, false);
    for c in rest[open..].replace("->", "").chars() {
        match c {
            '(' | '[' | '<' => depth += 1,
            ')' | ']' | '>' => depth -= 1,
            ',' if depth == 1 => arguments += 1,
            _ => filled |= depth >= 1 && !c.is_whitespace(),
        }
        if depth == 0 {
            break;
        }
    }
    Some(Function { path: rest[..open].to_owned(), arguments: arguments + usize::from(filled) })
}

/// Without lifetimes, and with a type in the place of each type parameter.
fn generic_free(line: &str) -> String {
    let line = FOR.iter().fold(line.to_owned(), |line, (parameter, ours)| line.replace(parameter, ours));
    let mut out = String::new();
    let mut rest = line.as_str();
    while let Some(at) = rest.find("<'") {
        let Some(end) = rest[at..].find('>') else { break };
        out += &rest[..at];
        rest = &rest[at + end + 1..];
    }
    out + rest
}

fn pointer(arguments: usize) -> String {
    format!("fn({}) -> _", vec!["_"; arguments].join(", "))
}
