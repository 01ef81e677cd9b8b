//! One request, one answer; and the list of what can be asked.

use crate::floodbar_status;
use crate::out::{array, respond, text};
use std::ffi::c_char;

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
        let (pixels, spec) = unsafe { (array(pixels, length, "pixels")?, text(spec_json, "spec_json")?) };
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
    unsafe { respond(catalogue_json, || Ok(floodbar::catalogue::describe().to_string())) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::{call, pointer};
    use crate::*;
    use serde_json::Value;
    use std::ffi::CStr;
    use std::ptr;

    fn calculate(id: Option<&CStr>, request: Option<&CStr>) -> (floodbar_status, Value) {
        // SAFETY: NULL or zero-terminated, and a writable pointer.
        call(|out| unsafe { floodbar_calculate(pointer(id), pointer(request), out) })
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
        // SAFETY: NULL or as many bytes, NULL or zero-terminated, and a writable pointer.
        call(|out| unsafe { floodbar_artwork_measure(pixels, length, pointer(spec), out) })
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
    fn the_catalogue_lists_what_core_calculates() {
        // SAFETY: a writable pointer.
        let (status, catalogue) = call(|out| unsafe { floodbar_catalogue(out) });
        assert_eq!(status, FLOODBAR_SUCCESS);
        let listed: Vec<_> =
            catalogue["calculations"].as_array().unwrap().iter().map(|c| c["id"].as_str().unwrap()).collect();
        assert_eq!(listed, floodbar::catalogue::CALCULATIONS.iter().map(|c| c.id()).collect::<Vec<_>>());
    }
}
