//! Whether everything could be published as it stands; nothing is sent anywhere.

use crate::step::{Failure, Plan, cargo};
use crate::supply::APART;
use crate::{api, dependencies, setup, supply, wasm};
use std::process::Command;

/// Supply, public items, manifests, then a dry run of each publication.
pub fn check(plan: &mut Plan) -> Result<(), Failure> {
    supply::check(plan, false)?;
    api::check(plan, false)?;
    plan.step("manifests", manifests)?;
    let mut words = vec!["publish", "--dry-run", "--locked", "--allow-dirty"];
    let names = dependencies::published(&plan.root)?;
    words.extend(names.iter().flat_map(|n| ["--package", n.as_str()]));
    let publish = cargo(plan, &words);
    plan.command("cargo publish, dry run", publish)?;
    setup::all(plan, false)?;
    wasm::module(plan)?;
    wasm::build_scripts(plan)?;
    let mut npm = Command::new("npm");
    npm.args(["publish", "--dry-run", "--access", "public"]).current_dir(plan.root.join("wasm"));
    plan.command("npm publish, dry run", npm)
}

/// A registry knows no paths: what lies beside a crate needs a version too, the tests' own crates left out.
fn unversioned(file: &str, manifest: &str, wrong: &mut Vec<String>) {
    for line in manifest.lines().filter(|l| l.contains("path = \"") && !l.contains("path = \"tests/")) {
        let Some((name, what)) = line.split_once(" = {") else { continue };
        if !what.contains("version = ") {
            wrong.push(format!("{file}: {name} has a path and no version: add version = \"…\""));
        }
    }
}

/// What a registry shows of a crate, and the texts of the licences, are in each.
fn manifests(plan: &Plan) -> Result<(), Failure> {
    let mut wrong = Vec::new();
    let mut names = dependencies::published(&plan.root)?;
    names.extend(APART.rsplit('/').next().map(String::from));
    for name in names {
        let folder = plan.root.join("crates").join(&name);
        let manifest = supply::text(&folder.join("Cargo.toml"))?;
        for key in
            ["description", "license", "repository", "readme", "keywords", "categories", "rust-version"]
        {
            let begins = |l: &str| {
                l.strip_prefix(key).is_some_and(|r| r.starts_with(" = ") || r.starts_with(".workspace"))
            };
            if !manifest.lines().any(begins) {
                wrong.push(format!("{name}: no {key} in its Cargo.toml"));
            }
        }
        unversioned(&format!("crates/{name}/Cargo.toml"), &manifest, &mut wrong);
        for licence in ["LICENSE-MIT", "LICENSE-APACHE"] {
            if !folder.join(licence).is_file() {
                wrong.push(format!("{name}: no {licence}; link it to the one at the top"));
            }
        }
    }
    unversioned("Cargo.toml", &supply::text(&plan.root.join("Cargo.toml"))?, &mut wrong);
    // npm packs no links, so it has copies, under names that npm packs by itself
    for (copy, licence) in [("LICENSE.MIT", "LICENSE-MIT"), ("LICENSE.APACHE", "LICENSE-APACHE")] {
        if supply::text(&plan.root.join("wasm").join(copy))? != supply::text(&plan.root.join(licence))? {
            wrong.push(format!("wasm/{copy} differs from {licence} at the top: copy it"));
        }
    }
    let changes = supply::text(&plan.root.join("docs/CHANGELOG.md"))?;
    let version = env!("CARGO_PKG_VERSION");
    if !changes.lines().any(|l| l == "## Unreleased" || l.starts_with(&format!("## {version}"))) {
        wrong.push(format!("docs/CHANGELOG.md: neither `## Unreleased` nor a section for {version}"));
    }
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(wrong.join("\n        "), "cargo xtask release-check"))
    }
}
