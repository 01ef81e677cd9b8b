//! What can be asked of any calculation beside one answer: many of them, a sweep, a search.

use crate::out::{respond, text};
use crate::{floodbar_cache, floodbar_status};
use floodbar::catalogue::find;
use floodbar::{Cache, Error, wire};
use serde_json::Value;
use std::borrow::Cow;
use std::ffi::{CStr, c_char};

/// Answers many requests of one calculation, in their order.
///
/// With FLOODBAR_SUCCESS, *answers_json is a list with an entry for each request: its answer, or its error as
/// {"error": {...}}. A request that fails spoils no other, and the call is a success; only a fault of the call itself (NULL, an
/// unknown calculation, a text that is no list) gives another status and one error. The text may have up to 64 MiB here and a
/// million requests, where other calls take 4 MiB. A list of one request is floodbar_calculate() with a cache.
///
/// Ownership of the text, and threads, as in floodbar_calculate().
///
/// @param cache where the numbers of heat are kept; NULL for nowhere
/// @param id the calculation's name
/// @param requests_json the requests, such as [{"mesh": "77-55"}, {"mesh": "55-64"}]; UTF-8
/// @param answers_json where the text goes
///
/// # Safety
/// `cache` is NULL or a cache that no one frees during the call; the others are as in floodbar_calculate().
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_calculate_many(
    cache: *mut floodbar_cache,
    id: *const c_char,
    requests_json: *const c_char,
    answers_json: *mut *mut c_char,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises zero-terminated text, a cache, or NULL.
        let (id, requests, cache) = unsafe { (text(id, "id")?, text(requests_json, "requests_json")?, cache.as_ref()) };
        let (id, requests) = (id.to_string_lossy(), requests.to_bytes());
        match cache {
            Some(cache) => cache.0.calculate_many_text(&id, requests),
            None => floodbar::calculate_many_text(&id, requests),
        }
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(answers_json, work) }
}

/// Answers a calculation at many points of one of its inputs, at most 10,000.
///
/// The specification has "vary" (a JSON pointer into the request, whose number need not stand in it), and either "from", "to",
/// "points" and perhaps "spacing" ("linear" or "geometric"), or "values", a list of whatever belongs there; and perhaps "want", a list
/// of JSON pointers into the answer, each by itself or as {"at", "unit"} or {"at", "equals"}.
///
/// The answer has "x" and "answers", a list of answers and errors; or, with "want", "x", "columns" and "errors". A point that fails
/// spoils no other. A pointer of an error of the call leads into the request or into the specification, whichever has such a field.
///
/// Status, ownership of the text, and threads, as in floodbar_calculate().
///
/// @param cache where the numbers of heat are kept; NULL for nowhere
/// @param id the calculation's name
/// @param request_json the request
/// @param spec_json the specification, such as {"vary": "/over_mesh", "from": "0 um", "to": "40 um", "points": 9}
/// @param answer_json where the text goes
///
/// # Safety
/// As floodbar_calculate_many().
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_sweep(
    cache: *mut floodbar_cache,
    id: *const c_char,
    request_json: *const c_char,
    spec_json: *const c_char,
    answer_json: *mut *mut c_char,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises zero-terminated text, a cache, or NULL.
        let Asked { cache, id, request, spec } = unsafe { Asked::of(cache, id, request_json, spec_json, "spec_json")? };
        let answer = match cache {
            Some(cache) => cache.sweep(&id, &request, &spec),
            None => floodbar::sweep(&id, &request, &spec),
        };
        Ok(answer?.to_string())
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(answer_json, work) }
}

/// Finds the value of an input at which a number of the answer is what is wanted.
///
/// The specification has "vary" (a JSON pointer into the request), "from", "to", "want" (a JSON pointer into the answer) and
/// "equals". The answer has "value" and "reached", "others" where there is more than one, "evaluations", and "jump"; where nothing
/// in the range does it the status is FLOODBAR_NO_SOLUTION, and the error says what the answer is at both ends.
///
/// Status, ownership of the text, and threads, as in floodbar_calculate().
///
/// @param cache where the numbers of heat are kept; NULL for nowhere
/// @param id the calculation's name
/// @param request_json the request
/// @param spec_json the specification, such as
///     {"vary": "/prints", "from": "1", "to": "1000", "want": "/mass_to_mix", "equals": "1 kg"}
/// @param answer_json where the text goes
///
/// # Safety
/// As floodbar_calculate_many().
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_solve(
    cache: *mut floodbar_cache,
    id: *const c_char,
    request_json: *const c_char,
    spec_json: *const c_char,
    answer_json: *mut *mut c_char,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises zero-terminated text, a cache, or NULL.
        let Asked { cache, id, request, spec } = unsafe { Asked::of(cache, id, request_json, spec_json, "spec_json")? };
        let answer = match cache {
            Some(cache) => cache.solve(&id, &request, &spec),
            None => floodbar::solve(&id, &request, &spec),
        };
        Ok(answer?.to_string())
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(answer_json, work) }
}

/// What an operator is asked.
pub(crate) struct Asked<'a> {
    pub cache: Option<&'a Cache>,
    pub id: Cow<'a, str>,
    pub request: Value,
    pub spec: Value,
}

impl<'a> Asked<'a> {
    /// Reads it. The first pointer that is NULL is named, then an unknown calculation, then a text that is not JSON.
    ///
    /// # Safety
    /// Each pointer is NULL or points to zero-terminated text, or to a cache, that lives and stays the same for `'a`.
    pub(crate) unsafe fn of(
        cache: *const floodbar_cache,
        id: *const c_char,
        request: *const c_char,
        spec: *const c_char,
        name: &str,
    ) -> Result<Self, Error> {
        // SAFETY: the caller promises as much.
        let (id, request_text, spec_text, cache) =
            unsafe { (text(id, "id")?, text(request, "request_json")?, text(spec, name)?, cache.as_ref()) };
        let id = id.to_string_lossy();
        find(&id)?;
        let (request, spec) = (document(request_text, "request_json")?, document(spec_text, name)?);
        Ok(Self { cache: cache.map(|cache| &cache.0), id, request, spec })
    }
}

/// A document of a call that takes two of them: a fault of its text says which.
fn document(text: &CStr, name: &str) -> Result<Value, Error> {
    wire::document(text.to_bytes()).map_err(|mut error| {
        error.message.insert_str(0, &format!("`{name}`: "));
        error
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::{call, pointer};
    use crate::*;
    use serde_json::json;
    use std::ptr;

    const REQUEST: &CStr =
        c"{\"mesh\": \"77-55\", \"ink\": \"plastisol\", \"printed_area\": \"300 cm2\", \"prints\": 50}";
    const SWEEP: &CStr = c"{\"vary\": \"/over_mesh\", \"from\": \"0 um\", \"to\": \"40 um\", \"points\": 3}";
    const SOLVE: &CStr =
        c"{\"vary\": \"/prints\", \"from\": 1, \"to\": 10000, \"want\": \"/mass_to_mix\", \"equals\": \"1 kg\"}";

    fn value(text: &CStr) -> Value {
        serde_json::from_slice(text.to_bytes()).unwrap()
    }

    fn many(cache: *mut floodbar_cache, id: Option<&CStr>, requests: Option<&CStr>) -> (floodbar_status, Value) {
        // SAFETY: NULL or zero-terminated, NULL or a cache, and a writable pointer.
        call(|out| unsafe { floodbar_calculate_many(cache, pointer(id), pointer(requests), out) })
    }

    type Operator = unsafe extern "C" fn(
        *mut floodbar_cache,
        *const c_char,
        *const c_char,
        *const c_char,
        *mut *mut c_char,
    ) -> floodbar_status;

    fn ask(
        operator: Operator,
        cache: *mut floodbar_cache,
        [id, request, spec]: [Option<&CStr>; 3],
    ) -> (floodbar_status, Value) {
        // SAFETY: NULL or zero-terminated, NULL or a cache, and a writable pointer.
        call(|out| unsafe { operator(cache, pointer(id), pointer(request), pointer(spec), out) })
    }

    #[test]
    fn many_answers_are_those_of_core() {
        let requests = c"[{\"mesh\": \"77-55\"}, {\"mesh\": 5}, {\"mesh\": \"55-64\"}]";
        let (status, answers) = many(ptr::null_mut(), Some(c"mesh.geometry"), Some(requests));
        assert_eq!(status, FLOODBAR_SUCCESS);
        assert_eq!(answers, floodbar::calculate_many("mesh.geometry", &value(requests)).unwrap());
        assert_eq!(answers.pointer("/1/error/code").unwrap(), "wrong_type");
        assert_eq!(many(ptr::null_mut(), Some(c"mesh.geometry"), Some(c"[]")), (FLOODBAR_SUCCESS, json!([])));
    }

    #[test]
    fn a_fault_of_the_list_fails_the_call() {
        let id = Some(c"mesh.geometry");
        let status = |id, requests| many(ptr::null_mut(), id, requests).0;
        assert_eq!(status(None, Some(c"[]")), FLOODBAR_NULL_POINTER);
        assert_eq!(status(id, None), FLOODBAR_NULL_POINTER);
        assert_eq!(status(Some(c"mesh"), Some(c"[")), FLOODBAR_UNKNOWN_CALCULATION);
        assert_eq!(status(id, Some(c"[")), FLOODBAR_BAD_JSON);
        assert_eq!(status(id, Some(c"{}")), FLOODBAR_WRONG_TYPE);
        // SAFETY: zero-terminated, and NULL is allowed.
        let silent = unsafe {
            floodbar_calculate_many(ptr::null_mut(), c"mesh.geometry".as_ptr(), c"[]".as_ptr(), ptr::null_mut())
        };
        assert_eq!(silent, FLOODBAR_NULL_POINTER);
    }

    #[test]
    fn operators_answer_as_core_does() {
        let (id, request) = (c"ink.usage", value(REQUEST));
        let none = ptr::null_mut();
        let swept = ask(floodbar_sweep, none, [Some(id), Some(REQUEST), Some(SWEEP)]);
        assert_eq!(swept, (FLOODBAR_SUCCESS, floodbar::sweep("ink.usage", &request, &value(SWEEP)).unwrap()));
        let solved = ask(floodbar_solve, none, [Some(id), Some(REQUEST), Some(SOLVE)]);
        assert_eq!(solved, (FLOODBAR_SUCCESS, floodbar::solve("ink.usage", &request, &value(SOLVE)).unwrap()));
    }

    #[test]
    fn operators_refuse_what_is_not_there_and_name_it() {
        let good = [Some(c"ink.usage"), Some(REQUEST)];
        for (operator, spec) in [(floodbar_sweep as Operator, SWEEP), (floodbar_solve, SOLVE)] {
            let good = [good[0], good[1], Some(spec)];
            for (index, name) in ["`id`", "`request_json`", "`spec_json`"].into_iter().enumerate() {
                let mut asked = good;
                asked[index] = None;
                let (status, error) = ask(operator, ptr::null_mut(), asked);
                assert_eq!(status, FLOODBAR_NULL_POINTER);
                assert!(error.pointer("/error/message").unwrap().as_str().unwrap().contains(name));
                let mut asked = good;
                asked[index] = Some(c"{");
                let (status, error) = ask(operator, ptr::null_mut(), asked);
                let code = if index == 0 { FLOODBAR_UNKNOWN_CALCULATION } else { FLOODBAR_BAD_JSON };
                assert_eq!(status, code);
                assert!(index == 0 || error.pointer("/error/message").unwrap().as_str().unwrap().contains(name));
            }
            let (status, error) = ask(operator, ptr::null_mut(), [good[0], good[1], Some(c"{\"vary\": \"/thread\"}")]);
            assert_eq!(status, FLOODBAR_UNKNOWN_FIELD);
            assert_eq!(error.pointer("/error/field").unwrap(), "/vary");
            // SAFETY: zero-terminated, and NULL is allowed.
            let silent = unsafe {
                operator(ptr::null_mut(), c"ink.usage".as_ptr(), REQUEST.as_ptr(), spec.as_ptr(), ptr::null_mut())
            };
            assert_eq!(silent, FLOODBAR_NULL_POINTER);
        }
    }

    #[test]
    fn a_cache_is_used_and_changes_nothing() {
        let requests = c"[{\"dryer\": \"air-dryer-2m\", \"ink\": \"plastisol\", \"cloth\": \"cotton-jersey-180\"}]";
        let cache = floodbar_cache_new(100);
        let without = many(ptr::null_mut(), Some(c"dryer.window"), Some(requests));
        let first = many(cache, Some(c"dryer.window"), Some(requests));
        let second = many(cache, Some(c"dryer.window"), Some(requests));
        assert_eq!((&first, &second), (&without, &without));
        let request = c"{\"dryer\": \"air-dryer-2m\", \"ink\": \"plastisol\", \"cloth\": \"cotton-jersey-180\"}";
        let spec = c"{\"vary\": \"/ink\", \"values\": [\"plastisol\"]}";
        let (status, swept) = ask(floodbar_sweep, cache, [Some(c"dryer.window"), Some(request), Some(spec)]);
        assert_eq!((status, swept.pointer("/answers/0")), (FLOODBAR_SUCCESS, without.1.pointer("/0")));
        let (mut hits, mut misses) = (0, 0);
        // SAFETY: a cache, two numbers; freed once.
        unsafe {
            assert_eq!(floodbar_cache_counts(cache, &raw mut hits, &raw mut misses), FLOODBAR_SUCCESS);
            floodbar_cache_free(cache);
        }
        assert_eq!((hits, misses), (2, 1));
    }
}
