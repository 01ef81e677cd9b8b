//! What became of a call, as a number and its name.

use std::ffi::c_char;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::read;
    use floodbar::Code;

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
}
