//! The C layer: JSON text in, JSON text out, a status, and nothing else. The header is written from this file.

#![allow(unsafe_code, reason = "pointers cross the C boundary")]

use floodbar::{Code, Error};
use std::ffi::{CStr, CString, c_char};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::ptr;

/// What became of a call: 0 is success, any other number says why there is no answer. Numbers are only ever added.
#[allow(non_camel_case_types, reason = "the name in C")]
pub type floodbar_status = i32;

/// There is an answer.
pub const FLOODBAR_SUCCESS: floodbar_status = 0;
/// The request is not JSON, is not UTF-8, or repeats a key.
pub const FLOODBAR_BAD_JSON: floodbar_status = 1;
/// No calculation has that name.
pub const FLOODBAR_UNKNOWN_CALCULATION: floodbar_status = 2;
/// A field that the request does not have.
pub const FLOODBAR_UNKNOWN_FIELD: floodbar_status = 3;
/// A field that the request needs is absent.
pub const FLOODBAR_MISSING_FIELD: floodbar_status = 4;
/// Text that is not a quantity, or a bare number where one belongs.
pub const FLOODBAR_BAD_QUANTITY: floodbar_status = 5;
/// A quantity of another dimension.
pub const FLOODBAR_WRONG_DIMENSION: floodbar_status = 6;
/// Outside what can exist, or a word that is not on the list.
pub const FLOODBAR_OUT_OF_RANGE: floodbar_status = 7;
/// Each value can exist, but not together.
pub const FLOODBAR_IMPOSSIBLE: floodbar_status = 8;
/// The question has no answer for these values.
pub const FLOODBAR_NO_SOLUTION: floodbar_status = 9;
/// A pointer is NULL that must not be.
pub const FLOODBAR_NULL_POINTER: floodbar_status = 10;
/// A fault of this library.
pub const FLOODBAR_INTERNAL: floodbar_status = 11;
/// A limit of size, depth or steps.
pub const FLOODBAR_TOO_LONG: floodbar_status = 12;
/// A JSON type that the field does not take.
pub const FLOODBAR_WRONG_TYPE: floodbar_status = 13;

/// The binary interface that this header describes. A program that loads the library at run time compares it with what
/// floodbar_abi() says.
pub const FLOODBAR_ABI: u32 = 1;

const CATALOGUE: &str = include_str!(concat!(env!("OUT_DIR"), "/catalogue.json"));

/// Answers a request.
///
/// With FLOODBAR_SUCCESS, *answer_json is the answer. With any other status it is the error:
/// {"error": {"code", "field", "message", "got", "allowed"}}, where "code" is what floodbar_status_text() says of the
/// status and "field" is a JSON pointer into the request.
///
/// Both are zero-terminated UTF-8 on one line. They belong to the caller, who gives them back to floodbar_free().
/// Whatever *answer_json held before is overwritten and not freed; after the call it is NULL or a text to be freed,
/// whatever the status. If answer_json itself is NULL, nothing is calculated and the status is all there is.
///
/// Safe to call from many threads at once: no call depends on another. Nothing is written to the standard streams, unless
/// the library has a fault of its own (FLOODBAR_INTERNAL).
///
/// @param id the calculation's name, such as "mesh.geometry"; one that is not UTF-8 is FLOODBAR_UNKNOWN_CALCULATION
/// @param request_json the request, such as {"mesh": "77-55"}; UTF-8
/// @param answer_json where the text goes
///
/// # Safety
/// `id` and `request_json` are NULL or point to zero-terminated text that no one changes during the call. `answer_json` is
/// NULL or points to a `char *` that no other thread uses during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_calculate(
    id: *const c_char,
    request_json: *const c_char,
    answer_json: *mut *mut c_char,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises zero-terminated text or NULL.
        let (id, request) = unsafe { (text(id, "id")?, text(request_json, "request_json")?) };
        // Bytes that are not UTF-8 become replacement characters, which no calculation has in its name.
        floodbar::calculate_text(&id.to_string_lossy(), request.to_bytes())
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(answer_json, work) }
}

/// Measures a separation: printed area, edges, finest line and gap. The answer is that of "artwork.measure", and goes into the
/// "artwork" of "ink.usage" and "job.plan" as it stands.
///
/// The pixels are bytes, row by row from the top. How to read them stands in the request:
/// {"pixels_wide": 3900, "pixels_high": 4800, "resolution": "300 /in", "ink": "dark"}, with "stride" where rows are further
/// apart than they are wide, and "edge_length_scale" for the reach of a stencil's edge. They are read during the call only.
///
/// Status, answer and error as in floodbar_calculate().
///
/// @param pixels the first of them
/// @param length how many bytes there are
/// @param spec_json how to read them; UTF-8
/// @param answer_json where the text goes
///
/// # Safety
/// `pixels` is NULL or points to `length` bytes that no one changes during the call; `spec_json` and `answer_json` are as
/// `request_json` and `answer_json` of floodbar_calculate().
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_artwork_measure(
    pixels: *const u8,
    length: usize,
    spec_json: *const c_char,
    answer_json: *mut *mut c_char,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises as much.
        let (pixels, spec) = unsafe { (bytes(pixels, length, "pixels")?, text(spec_json, "spec_json")?) };
        floodbar::artwork::measure_bytes(pixels, &floodbar::wire::document(spec.to_bytes())?)?.to_text()
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(answer_json, work) }
}

/// Lists all calculations, as one JSON document: for each the name, the question it answers, the formula, the sources,
/// an example, and the JSON Schemas (draft 2020-12) of request and answer.
///
/// The text belongs to the caller, as that of floodbar_calculate() does, and is the same at every call.
///
/// @param catalogue_json where the text goes
///
/// # Safety
/// `catalogue_json` is NULL or points to a `char *` that no other thread uses during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_catalogue(catalogue_json: *mut *mut c_char) -> floodbar_status {
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(catalogue_json, || Ok(CATALOGUE.to_owned())) }
}

/// Frees a text that floodbar_calculate(), floodbar_artwork_measure() or floodbar_catalogue() gave, from any thread. NULL is fine.
///
/// Not for texts from floodbar_status_text() or floodbar_version(): those are never freed.
///
/// # Safety
/// `text` is NULL, or came from this library, still has the length it came with, and has not been freed before.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_free(text: *mut c_char) {
    if !text.is_null() {
        // SAFETY: the caller promises a text that `respond` let go with `into_raw`, once.
        drop(unsafe { CString::from_raw(text) });
    }
}

/// The name of a status: "success", or the "code" of the error, such as "bad_quantity"; "unknown_status" for a number
/// that this version does not know. Never NULL; valid for as long as the library is loaded; not to be freed.
#[unsafe(no_mangle)]
pub extern "C" fn floodbar_status_text(status: floodbar_status) -> *const c_char {
    let name = match status {
        FLOODBAR_SUCCESS => c"success",
        FLOODBAR_BAD_JSON => c"bad_json",
        FLOODBAR_UNKNOWN_CALCULATION => c"unknown_calculation",
        FLOODBAR_UNKNOWN_FIELD => c"unknown_field",
        FLOODBAR_MISSING_FIELD => c"missing_field",
        FLOODBAR_BAD_QUANTITY => c"bad_quantity",
        FLOODBAR_WRONG_DIMENSION => c"wrong_dimension",
        FLOODBAR_OUT_OF_RANGE => c"out_of_range",
        FLOODBAR_IMPOSSIBLE => c"impossible",
        FLOODBAR_NO_SOLUTION => c"no_solution",
        FLOODBAR_NULL_POINTER => c"null_pointer",
        FLOODBAR_INTERNAL => c"internal",
        FLOODBAR_TOO_LONG => c"too_long",
        FLOODBAR_WRONG_TYPE => c"wrong_type",
        _ => c"unknown_status",
    };
    name.as_ptr()
}

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

/// A caller's text, or the error that names the pointer.
///
/// # Safety
/// `pointer` is NULL or points to zero-terminated text that lives and stays the same for `'a`.
unsafe fn text<'a>(pointer: *const c_char, name: &str) -> Result<&'a CStr, Error> {
    if pointer.is_null() {
        return Err(Error::new(Code::NullPointer, "", format!("the pointer `{name}` is NULL")));
    }
    // SAFETY: not NULL, and the caller promises the rest.
    Ok(unsafe { CStr::from_ptr(pointer) })
}

/// A caller's bytes, or the error that names the pointer.
///
/// # Safety
/// `pointer` is NULL or points to `length` bytes that live and stay the same for `'a`.
unsafe fn bytes<'a>(pointer: *const u8, length: usize, name: &str) -> Result<&'a [u8], Error> {
    if pointer.is_null() {
        return Err(Error::new(Code::NullPointer, "", format!("the pointer `{name}` is NULL")));
    }
    if isize::try_from(length).is_err() {
        return Err(Error::new(Code::TooLong, "", format!("no memory holds {length} bytes at `{name}`")));
    }
    // SAFETY: not NULL, not longer than memory can be, and the caller promises the rest.
    Ok(unsafe { std::slice::from_raw_parts(pointer, length) })
}

/// Does the work and hands its text over: the one way out of every call.
///
/// # Safety
/// `out` is NULL or writable.
unsafe fn respond(out: *mut *mut c_char, work: impl FnOnce() -> Result<String, Error>) -> floodbar_status {
    if out.is_null() {
        return FLOODBAR_NULL_POINTER;
    }
    // SAFETY: not NULL, and the caller promises the rest. Written before the work, so that no old pointer is freed twice.
    unsafe { out.write(ptr::null_mut()) };
    let (status, text) = outcome(work);
    // SAFETY: as above.
    unsafe { out.write(text.into_raw()) };
    status
}

/// The status and text of the work. A panic ends here: it would be undefined in the caller's frames.
fn outcome(work: impl FnOnce() -> Result<String, Error>) -> (floodbar_status, CString) {
    let internal = |message: &str| Error::new(Code::Internal, "", message);
    let done = catch_unwind(AssertUnwindSafe(work))
        .unwrap_or_else(|_| Err(internal("a fault of this library stopped the calculation")))
        .and_then(|text| CString::new(text).map_err(|_| internal("the answer holds a zero byte")));
    match done {
        Ok(text) => (FLOODBAR_SUCCESS, text),
        // JSON escapes the zero byte, so an error's text always becomes a C string.
        Err(error) => (error.code as floodbar_status, CString::new(error.to_json().to_string()).unwrap_or_default()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    fn read(text: *const c_char) -> String {
        // SAFETY: the library gave it.
        unsafe { CStr::from_ptr(text) }.to_str().unwrap().to_owned()
    }

    /// The status and document of a call, its text freed.
    fn call(function: impl FnOnce(*mut *mut c_char) -> floodbar_status) -> (floodbar_status, Value) {
        let mut text = ptr::null_mut();
        let status = function(&raw mut text);
        let document = serde_json::from_str(&read(text)).unwrap();
        // SAFETY: the library gave it, and it is not used again.
        unsafe { floodbar_free(text) };
        (status, document)
    }

    fn calculate(id: Option<&CStr>, request: Option<&CStr>) -> (floodbar_status, Value) {
        let pointer = |text: Option<&CStr>| text.map_or(ptr::null(), CStr::as_ptr);
        // SAFETY: NULL or zero-terminated, and a writable pointer.
        call(|out| unsafe { floodbar_calculate(pointer(id), pointer(request), out) })
    }

    #[test]
    fn statuses_are_the_codes_of_core() {
        let statuses = [
            FLOODBAR_BAD_JSON,
            FLOODBAR_UNKNOWN_CALCULATION,
            FLOODBAR_UNKNOWN_FIELD,
            FLOODBAR_MISSING_FIELD,
            FLOODBAR_BAD_QUANTITY,
            FLOODBAR_WRONG_DIMENSION,
            FLOODBAR_OUT_OF_RANGE,
            FLOODBAR_IMPOSSIBLE,
            FLOODBAR_NO_SOLUTION,
            FLOODBAR_NULL_POINTER,
            FLOODBAR_INTERNAL,
            FLOODBAR_TOO_LONG,
            FLOODBAR_WRONG_TYPE,
        ];
        assert_eq!(statuses, Code::ALL.map(|code| code as floodbar_status));
        assert_eq!(statuses.map(|s| read(floodbar_status_text(s))), Code::ALL.map(|code| code.text().to_owned()));
        assert_eq!(read(floodbar_status_text(FLOODBAR_SUCCESS)), "success");
        for unknown in [-1, 14, i32::MAX, i32::MIN] {
            assert_eq!(read(floodbar_status_text(unknown)), "unknown_status");
        }
    }

    #[test]
    fn the_answer_is_that_of_core() {
        let (status, answer) = calculate(Some(c"mesh.geometry"), Some(c"{\"mesh\": \"77-55\"}"));
        assert_eq!(status, FLOODBAR_SUCCESS);
        assert_eq!(answer, floodbar::calculate("mesh.geometry", &serde_json::json!({ "mesh": "77-55" })).unwrap());
    }

    #[test]
    fn an_error_comes_with_its_text() {
        let (status, answer) = calculate(Some(c"mesh.geometry"), Some(c"{\"mesh\": \"77\"}"));
        assert_eq!(status, FLOODBAR_BAD_QUANTITY);
        assert_eq!(answer.pointer("/error/field").unwrap(), "/mesh");
    }

    #[test]
    fn null_pointers_are_named() {
        for (id, request, name) in [(None, Some(c"{}"), "`id`"), (Some(c"mesh.geometry"), None, "`request_json`")] {
            let (status, answer) = calculate(id, request);
            assert_eq!(status, FLOODBAR_NULL_POINTER);
            assert_eq!(answer.pointer("/error/code").unwrap(), "null_pointer");
            assert_eq!(answer.pointer("/error/field").unwrap(), "");
            assert!(answer.pointer("/error/message").unwrap().as_str().unwrap().contains(name));
        }
        // SAFETY: NULL is allowed.
        let statuses = unsafe {
            floodbar_free(ptr::null_mut());
            [
                floodbar_calculate(c"mesh.geometry".as_ptr(), c"{}".as_ptr(), ptr::null_mut()),
                floodbar_catalogue(ptr::null_mut()),
            ]
        };
        assert_eq!(statuses, [FLOODBAR_NULL_POINTER; 2]);
    }

    fn measure(pixels: Option<&[u8]>, length: usize, spec: Option<&CStr>) -> (floodbar_status, Value) {
        let pixels = pixels.map_or(ptr::null(), <[u8]>::as_ptr);
        let spec = spec.map_or(ptr::null(), CStr::as_ptr);
        // SAFETY: NULL or as many bytes, NULL or zero-terminated, and a writable pointer.
        call(|out| unsafe { floodbar_artwork_measure(pixels, length, spec, out) })
    }

    #[test]
    fn pixels_are_measured_as_core_measures_them() {
        let pixels = [255, 255, 255, 255, 0, 255, 255, 255, 255];
        let spec = c"{\"pixels_wide\": 3, \"pixels_high\": 3, \"resolution\": \"100 /cm\", \"ink\": \"dark\"}";
        let (status, answer) = measure(Some(&pixels), pixels.len(), Some(spec));
        assert_eq!(status, FLOODBAR_SUCCESS);
        let spec = serde_json::from_slice(spec.to_bytes()).unwrap();
        assert_eq!(answer, floodbar::artwork::measure_bytes(&pixels, &spec).unwrap().to_value().unwrap());
    }

    #[test]
    fn pixels_that_are_not_there_are_refused() {
        let pixels = [0; 9];
        let spec = c"{\"pixels_wide\": 3, \"pixels_high\": 3, \"resolution\": \"100 /cm\", \"ink\": \"dark\"}";
        assert_eq!(measure(None, 9, Some(spec)).0, FLOODBAR_NULL_POINTER);
        assert_eq!(measure(Some(&pixels), 9, None).0, FLOODBAR_NULL_POINTER);
        assert_eq!(measure(Some(&pixels), usize::MAX, Some(spec)).0, FLOODBAR_TOO_LONG);
        let (status, answer) = measure(Some(&pixels), 8, Some(spec));
        assert_eq!(status, FLOODBAR_IMPOSSIBLE);
        assert_eq!(answer.pointer("/error/field").unwrap(), "/pixels_high");
        assert_eq!(measure(Some(&pixels), 9, Some(c"{")).0, FLOODBAR_BAD_JSON);
    }

    #[test]
    fn bytes_that_are_not_utf_8_are_refused() {
        assert_eq!(calculate(Some(c"mesh.geometr\xff"), Some(c"{}")).0, FLOODBAR_UNKNOWN_CALCULATION);
        assert_eq!(calculate(Some(c"mesh.geometry"), Some(c"{\"mesh\": \"\xff\"}")).0, FLOODBAR_BAD_JSON);
    }

    #[test]
    fn a_panic_becomes_a_status() {
        // SAFETY: a writable pointer.
        let (status, answer) = call(|out| unsafe { respond(out, || panic!("meant to: this test panics on purpose")) });
        assert_eq!(status, FLOODBAR_INTERNAL);
        assert_eq!(answer.pointer("/error/code").unwrap(), "internal");
    }

    #[test]
    fn an_answer_with_a_zero_byte_is_not_cut_short() {
        // SAFETY: a writable pointer.
        let (status, answer) = call(|out| unsafe { respond(out, || Ok("{}\0".to_owned())) });
        assert_eq!(status, FLOODBAR_INTERNAL);
        assert_eq!(answer.pointer("/error/message").unwrap(), "the answer holds a zero byte");
    }

    #[test]
    fn the_catalogue_lists_what_core_calculates() {
        // SAFETY: a writable pointer.
        let (status, catalogue) = call(|out| unsafe { floodbar_catalogue(out) });
        assert_eq!(status, FLOODBAR_SUCCESS);
        let listed: Vec<_> =
            catalogue["calculations"].as_array().unwrap().iter().map(|c| c["id"].as_str().unwrap()).collect();
        assert_eq!(listed, floodbar::catalogue::CALCULATIONS.iter().map(|c| c.id()).collect::<Vec<_>>());
    }

    #[test]
    fn version_and_interface_are_told() {
        assert_eq!(read(floodbar_version()), env!("CARGO_PKG_VERSION"));
        assert_eq!(floodbar_abi(), FLOODBAR_ABI);
    }
}
