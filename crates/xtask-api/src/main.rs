//! `xtask-api <folder> <crate.json>…`: the public items of each crate, one a line, from the JSON that rustdoc writes.

use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let Some((folder, crates)) = words.split_first() else {
        eprintln!("usage: xtask-api <folder> <crate.json>…");
        return ExitCode::from(2);
    };
    for json in crates {
        if let Err(why) = list(Path::new(folder), Path::new(json)) {
            eprintln!("{json}: {why}");
            return ExitCode::FAILURE;
        }
    }
    ExitCode::SUCCESS
}

fn list(folder: &Path, json: &Path) -> Result<(), String> {
    let api = public_api::Builder::from_rustdoc_json(json)
        .omit_blanket_impls(true)
        .omit_auto_trait_impls(true)
        .omit_auto_derived_impls(true)
        .build()
        .map_err(|e| e.to_string())?;
    let lines: String = api.items().map(|item| format!("{item}\n")).collect();
    let name = json.file_stem().ok_or("no name")?;
    std::fs::write(folder.join(name).with_extension("txt"), lines).map_err(|e| e.to_string())
}
