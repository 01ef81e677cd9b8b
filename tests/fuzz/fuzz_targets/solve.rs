#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| floodbar_attack::targets::run("solve", data));
