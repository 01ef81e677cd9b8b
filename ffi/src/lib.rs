//! The C layer: JSON text in, JSON text out, a status; and columns of plain numbers for what was prepared. The header is written from
//! these files.

#![allow(unsafe_code, reason = "pointers cross the C boundary")]

mod cache;
mod calculate;
mod operators;
mod out;
mod prepared;
mod status;

pub use cache::*;
pub use calculate::*;
pub use operators::*;
pub use out::floodbar_free;
pub use prepared::*;
pub use status::*;

use std::ffi::c_char;

/// The binary interface that this header describes. A program that loads the library at run time compares it with what
/// floodbar_abi() says.
pub const FLOODBAR_ABI: u32 = 1;

/// The version of the library, such as "1.2.3". Valid for as long as the library is loaded; not to be freed.
#[unsafe(no_mangle)]
pub extern "C" fn floodbar_version() -> *const c_char {
    concat!(env!("CARGO_PKG_VERSION"), "\0").as_ptr().cast()
}

/// The number of the binary interface. It grows when a program compiled with an older header would no longer work.
#[unsafe(no_mangle)]
pub extern "C" fn floodbar_abi() -> u32 {
    FLOODBAR_ABI
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;
    use std::ffi::CStr;
    use std::ptr;

    pub(crate) fn read(text: *const c_char) -> String {
        // SAFETY: the library gave it.
        unsafe { CStr::from_ptr(text) }.to_str().unwrap().to_owned()
    }

    /// NULL, or where the text stands.
    pub(crate) fn pointer(text: Option<&CStr>) -> *const c_char {
        text.map_or(ptr::null(), CStr::as_ptr)
    }

    /// The status and document of a call, its text freed; no document where there is no text.
    pub(crate) fn call(function: impl FnOnce(*mut *mut c_char) -> floodbar_status) -> (floodbar_status, Value) {
        // What was there before is overwritten.
        let mut text = ptr::dangling_mut();
        let status = function(&raw mut text);
        if text.is_null() {
            return (status, Value::Null);
        }
        let document = serde_json::from_str(&read(text)).unwrap();
        // SAFETY: the library gave it, and it is not used again.
        unsafe { floodbar_free(text) };
        (status, document)
    }

    #[test]
    fn version_and_interface_are_told() {
        assert_eq!(read(floodbar_version()), env!("CARGO_PKG_VERSION"));
        assert_eq!(floodbar_abi(), FLOODBAR_ABI);
    }
}
