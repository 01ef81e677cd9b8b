//! The committed header is the one that the source gives.

use std::path::Path;

#[test]
fn the_header_is_up_to_date() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    let header = folder.join("include/floodbar.h");
    let mut written = Vec::new();
    cbindgen::Builder::new()
        .with_config(cbindgen::Config::from_file(folder.join("cbindgen.toml")).unwrap())
        .with_src(folder.join("src/lib.rs"))
        .generate()
        .unwrap()
        .write(&mut written);
    if std::env::var_os("FLOODBAR_WRITE_HEADER").is_some() {
        std::fs::write(&header, &written).unwrap();
    }
    assert!(
        std::fs::read(&header).unwrap_or_default() == written,
        "ffi/include/floodbar.h is not what the source gives; write it anew with: \
         FLOODBAR_WRITE_HEADER=1 cargo test -p floodbar-ffi --test header"
    );
}
