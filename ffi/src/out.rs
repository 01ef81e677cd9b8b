//! What pointers of a caller hold, and the one way out of every call: its text, its status, and no panic.

use crate::{FLOODBAR_NULL_POINTER, FLOODBAR_SUCCESS, floodbar_status};
use floodbar::{Code, Error};
use std::ffi::{CStr, CString, c_char};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::ptr;

/// Frees a text that one of the functions of this library gave, from any thread. NULL is fine.
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

/// The error that names a pointer.
pub(crate) fn is_null(name: &str) -> Error {
    Error::new(Code::NullPointer, "", format!("the pointer `{name}` is NULL"))
}

/// What a pointer holds, or the error that names it.
///
/// # Safety
/// `pointer` is NULL or points to what lives and stays the same for `'a`.
pub(crate) unsafe fn thing<'a, T>(pointer: *const T, name: &str) -> Result<&'a T, Error> {
    // SAFETY: the caller promises as much.
    unsafe { pointer.as_ref() }.ok_or_else(|| is_null(name))
}

/// A caller's text, or the error that names the pointer.
///
/// # Safety
/// `pointer` is NULL or points to zero-terminated text that lives and stays the same for `'a`.
pub(crate) unsafe fn text<'a>(pointer: *const c_char, name: &str) -> Result<&'a CStr, Error> {
    if pointer.is_null() {
        return Err(is_null(name));
    }
    // SAFETY: not NULL, and the caller promises the rest.
    Ok(unsafe { CStr::from_ptr(pointer) })
}

/// A caller's array, or the error that names the pointer.
///
/// # Safety
/// `pointer` is NULL or points to `length` items that live and stay the same for `'a`.
pub(crate) unsafe fn array<'a, T>(pointer: *const T, length: usize, name: &str) -> Result<&'a [T], Error> {
    if pointer.is_null() {
        return Err(is_null(name));
    }
    fits::<T>(length, name)?;
    // SAFETY: not NULL, not longer than memory can be, and the caller promises the rest.
    Ok(unsafe { std::slice::from_raw_parts(pointer, length) })
}

/// Refuses more items than memory can hold, naming the pointer to them.
pub(crate) fn fits<T>(length: usize, name: &str) -> Result<(), Error> {
    match length.checked_mul(size_of::<T>()).map(isize::try_from) {
        Some(Ok(_)) => Ok(()),
        _ => Err(Error::new(Code::TooLong, "", format!("no memory holds {length} items at `{name}`"))),
    }
}

/// Does the work and hands its text over, where it has one: the one way out of every call that has words.
///
/// # Safety
/// `out` is NULL or writable.
pub(crate) unsafe fn respond<T: Into<Option<String>>>(
    out: *mut *mut c_char,
    work: impl FnOnce() -> Result<T, Error>,
) -> floodbar_status {
    if out.is_null() {
        return FLOODBAR_NULL_POINTER;
    }
    // SAFETY: not NULL, and the caller promises the rest. Written before the work, so that no old pointer is freed twice.
    unsafe { out.write(ptr::null_mut()) };
    let text = |text: String| CString::new(text).map_err(|_| internal("the answer holds a zero byte"));
    let done = caught(work).and_then(|done| done.into().map(text).transpose());
    let (status, text) = match done {
        Ok(text) => (FLOODBAR_SUCCESS, text),
        // JSON escapes the zero byte, so an error's text always becomes a C string.
        Err(error) => {
            (error.code as floodbar_status, Some(CString::new(error.to_json().to_string()).unwrap_or_default()))
        }
    };
    if let Some(text) = text {
        // SAFETY: as above.
        unsafe { out.write(text.into_raw()) };
    }
    status
}

/// Does the work. A panic ends here: it would be undefined in the caller's frames.
pub(crate) fn caught<T>(work: impl FnOnce() -> Result<T, Error>) -> Result<T, Error> {
    let stopped = |_| Err(internal("a fault of this library stopped the calculation"));
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(stopped)
}

fn internal(message: &str) -> Error {
    Error::new(Code::Internal, "", message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::FLOODBAR_INTERNAL;
    use crate::tests::call;
    use serde_json::Value;

    #[test]
    fn a_panic_becomes_a_status() {
        let work = || -> Result<String, Error> { panic!("meant to: this test panics on purpose") };
        // SAFETY: a writable pointer.
        let (status, answer) = call(|out| unsafe { respond(out, work) });
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
    fn work_without_a_text_leaves_none() {
        // SAFETY: a writable pointer.
        assert_eq!(call(|out| unsafe { respond(out, || Ok(None)) }), (FLOODBAR_SUCCESS, Value::Null));
        // SAFETY: NULL is allowed.
        assert_eq!(unsafe { respond(ptr::null_mut(), || Ok(None)) }, FLOODBAR_NULL_POINTER);
    }

    #[test]
    fn nothing_is_larger_than_memory() {
        assert!(fits::<f64>(1_000_000, "row").is_ok());
        for length in [usize::MAX, usize::MAX / 8, usize::MAX / 16 + 1] {
            assert_eq!(fits::<f64>(length, "row").unwrap_err().code, Code::TooLong);
        }
    }
}
