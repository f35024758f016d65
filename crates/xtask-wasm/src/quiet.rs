//! A panic in the module ends it with `unreachable` either way: its message has nobody to read it, and the code that
//! writes the message is only weight. The compiler leaves it in, as the standard library comes compiled.

use walrus::ir::Value;
use walrus::{ConstExpr, Data, DataKind, FunctionBuilder, FunctionId, FunctionKind, Module};

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

/// Empties the places in the source that panics would name: file, line and column. Nothing reads them any more, but the
/// optimiser keeps all data; zeros take no room in a module that is sent compressed.
pub fn places(module: &mut Module) {
    let Some(mut memory) = Memory::of(module) else { return };
    let word = |m: &Memory, at: usize| m.get(at, 4).and_then(|b| b.try_into().ok()).map(u32::from_le_bytes);
    let mut found = Vec::new();
    for at in (0..memory.bytes.len()).step_by(4) {
        let [Some(file), Some(length), Some(line), Some(column)] =
            [0, 4, 8, 12].map(|k| word(&memory, at + k))
        else {
            continue;
        };
        let Some(begin) = (file as usize).checked_sub(memory.start) else { continue };
        let named = memory.get(begin, length as usize).is_some_and(is_source);
        if named && (1..100_000).contains(&line) && (1..1000).contains(&column) {
            found.extend([(at, 16), (begin, length as usize)]);
        }
    }
    for (begin, length) in found {
        memory.bytes.iter_mut().skip(begin).take(length).for_each(|b| *b = 0);
    }
    memory.put(module);
}

fn is_source(name: &[u8]) -> bool {
    let plain = |b: &u8| b.is_ascii_alphanumeric() || b"_-./".contains(b);
    name.len() < 200 && name.contains(&b'/') && name.ends_with(b".rs") && name.iter().all(plain)
}

/// What the data segments put into memory, from the lowest byte on.
struct Memory {
    start: usize,
    bytes: Vec<u8>,
}

impl Memory {
    fn of(module: &Module) -> Option<Self> {
        let parts: Vec<(usize, &Vec<u8>)> =
            module.data.iter().filter_map(|d| Some((offset(d)?, &d.value))).collect();
        // words lie at multiples of four
        let start = parts.iter().map(|(at, _)| at & !3).min()?;
        let end = parts.iter().map(|(at, bytes)| at + bytes.len()).max()?;
        let mut bytes = vec![0; end - start];
        for (at, part) in parts {
            bytes.get_mut(at - start..at - start + part.len())?.copy_from_slice(part);
        }
        Some(Self { start, bytes })
    }

    fn get(&self, begin: usize, length: usize) -> Option<&[u8]> {
        self.bytes.get(begin..begin.checked_add(length)?)
    }

    fn put(&self, module: &mut Module) {
        let all: Vec<_> = module.data.iter().map(Data::id).collect();
        for d in all {
            let d = module.data.get_mut(d);
            let Some(at) = offset(d) else { continue };
            if let Some(new) = self.get(at - self.start, d.value.len()) {
                d.value = new.to_vec();
            }
        }
    }
}

fn offset(data: &Data) -> Option<usize> {
    match data.kind {
        DataKind::Active { offset: ConstExpr::Value(Value::I32(at)), .. } => usize::try_from(at).ok(),
        _ => None,
    }
}

/// `core[c5930c85a12de822]::str` as `core::str`.
pub(crate) fn plain(name: &str) -> String {
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

    #[test]
    fn only_places_in_the_source_are_emptied() {
        let mut module = Module::default();
        let memory = module.memories.add_local(false, false, 1, None, None);
        let file = b"crates/a/src/b.rs";
        let record = |length: u32| [1024_u32, length, 12, 5].map(u32::to_le_bytes).concat();
        let kept = [record(16), b"crates/a/src/b.rs is read".to_vec()].concat();
        let data = [file.to_vec(), vec![7; 3], record(17), kept.clone()].concat();
        let offset = ConstExpr::Value(Value::I32(1024));
        module.data.add(DataKind::Active { memory, offset }, data);
        places(&mut module);
        let now = module.data.iter().next().unwrap().value.clone();
        assert_eq!(now, [vec![0; 17], vec![7; 3], vec![0; 16], kept].concat());
    }
}
