//! A panic in the module ends it with `unreachable` either way: its message has nobody to read it, and the code that
//! writes the message is only weight. The compiler leaves it in, as the standard library comes compiled.

use walrus::{FunctionBuilder, FunctionId, FunctionKind, Module};

/// Where panics begin, without the hash of their crate.
const BEGIN: [&str; 12] = [
    "core::panicking::",
    "core::slice::index::slice_",
    "core::slice::sort::shared::smallsort::panic_on_ord_violation",
    "core::str::slice_error_fail",
    "core::option::expect_failed",
    "core::option::unwrap_failed",
    "core::result::unwrap_failed",
    "core::num::from_ascii_radix_panic",
    "core::cell::panic_",
    "alloc::raw_vec::handle_error",
    "alloc::alloc::handle_alloc_error",
    "std::panicking::",
];

/// Makes every function that begins a panic a bare `unreachable`; the optimiser then drops what only they called.
pub fn panics(module: &mut Module) {
    let begin = |name: &str| {
        let plain = plain(name);
        BEGIN.iter().any(|b| plain.starts_with(b))
    };
    let found: Vec<FunctionId> = module
        .funcs
        .iter_local()
        .filter(|(id, _)| module.funcs.get(*id).name.as_deref().is_some_and(begin))
        .map(|(id, _)| id)
        .collect();
    for id in found {
        let ty = module.types.get(module.funcs.get(id).ty());
        let (params, results) = (ty.params().to_vec(), ty.results().to_vec());
        let mut builder = FunctionBuilder::new(&mut module.types, &params, &results);
        builder.func_body().unreachable();
        let args = params.iter().map(|p| module.locals.add(*p)).collect();
        module.funcs.get_mut(id).kind = FunctionKind::Local(builder.local_func(args));
    }
}

/// `core[c5930c85a12de822]::str` as `core::str`.
fn plain(name: &str) -> String {
    let mut depth = 0_usize;
    name.chars()
        .filter(|c| {
            depth += usize::from(*c == '[');
            let keep = depth == 0;
            depth = depth.saturating_sub(usize::from(*c == ']'));
            keep
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use walrus::ValType;

    #[test]
    fn only_what_begins_a_panic_is_emptied() {
        let mut module = Module::default();
        let mut make = |name: &str| {
            let mut b = FunctionBuilder::new(&mut module.types, &[ValType::I32], &[ValType::I32]);
            let arg = module.locals.add(ValType::I32);
            b.name(name.to_owned()).func_body().local_get(arg);
            b.finish(vec![arg], &mut module.funcs)
        };
        let (panic, plain) = (make("core[c5930c85a12de822]::panicking::panic_fmt"), make("core::fmt::write"));
        panics(&mut module);
        let size = |id| module.funcs.get(id).kind.unwrap_local().size();
        let first = |id| {
            let f = module.funcs.get(id).kind.unwrap_local();
            format!("{:?}", f.block(f.entry_block()).instrs.first().map(|i| &i.0))
        };
        assert_eq!((size(panic), size(plain)), (1, 1));
        assert!(first(panic).contains("Unreachable") && first(plain).contains("LocalGet"));
    }
}
