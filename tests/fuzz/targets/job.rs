#![no_main]
libfuzzer_sys::fuzz_target!(|data: &[u8]| fairpull_fuzz::targets::job(data));
