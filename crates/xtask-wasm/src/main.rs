//! `xtask-wasm <module.wasm> <folder> <name>`: JavaScript and TypeScript bindings for a built module.

mod order;
mod quiet;

use std::process::ExitCode;
use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [module, folder, name] = words.as_slice() else {
        eprintln!("usage: xtask-wasm <module.wasm> <folder> <name>");
        return ExitCode::from(2);
    };
    let mut bindgen = Bindgen::new();
    let made = bindgen
        .input_path(module)
        .web(true)
        .and_then(|b| b.typescript(true).remove_producers_section(true).out_name(name).generate_output());
    let done = made.and_then(|mut output| {
        quiet::panics(output.wasm_mut());
        quiet::places(output.wasm_mut());
        order::names(output.wasm_mut());
        output.emit(folder)
    });
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("{module}: {e:#}");
            ExitCode::FAILURE
        }
    }
}
