//! Functions in the order that compresses best: those of one path side by side, the like-sized together.

use walrus::{FunctionId, FunctionKind, Module};

/// Names every function by its path without hashes and its size; the optimiser puts them in the order of their names.
pub fn names(module: &mut Module) {
    let found: Vec<(FunctionId, String)> = module
        .funcs
        .iter()
        .filter_map(|f| match &f.kind {
            FunctionKind::Local(local) => {
                let name = crate::quiet::plain(f.name.as_deref().unwrap_or_default());
                Some((f.id(), format!("{} {:07}", without_hash(&name), local.size())))
            }
            _ => None,
        })
        .collect();
    for (k, (id, name)) in found.into_iter().enumerate() {
        // names are unique
        module.funcs.get_mut(id).name = Some(format!("{name} {k}"));
    }
}

/// `a::b::h0123456789abcdef` as `a::b`.
fn without_hash(name: &str) -> &str {
    match name.rsplit_once("::h") {
        Some((path, hash)) if hash.len() == 16 && hash.bytes().all(|b| b.is_ascii_hexdigit()) => path,
        _ => name,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use walrus::FunctionBuilder;

    #[test]
    fn one_path_stands_together_by_size() {
        let mut module = Module::default();
        let mut make = |name: &str, drops: usize| {
            let mut b = FunctionBuilder::new(&mut module.types, &[], &[]);
            b.name(name.to_owned());
            (0..drops).for_each(|_| {
                b.func_body().i32_const(1).drop();
            });
            b.finish(vec![], &mut module.funcs)
        };
        let large = make("a::b::h0123456789abcdef", 9);
        let small = make("a::b::hfedcba9876543210", 2);
        let other = make("a[0123456789abcdef]::c::h1", 1);
        names(&mut module);
        let name = |id| module.funcs.get(id).name.clone().unwrap();
        assert!(name(small) < name(large) && name(large) < name(other));
        assert!(name(other).starts_with("a::c::h1 0"), "{}", name(other));
    }
}
