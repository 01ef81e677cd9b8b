//! A calculation made ready for rows of plain numbers, which go in and out without JSON.

use crate::operators::Asked;
use crate::out::{array, caught, fits, is_null, respond, thing};
use crate::{FLOODBAR_SUCCESS, floodbar_cache, floodbar_status};
use floodbar::catalogue::BLOCK;
use floodbar::{Code, Error, Prepared};
use std::ffi::c_char;
use std::ptr;

/// A calculation that is ready for rows of numbers. It never changes: threads may share one and run it at once.
#[allow(non_camel_case_types, reason = "the name in C")]
pub struct floodbar_prepared(Prepared);

/// Makes a calculation ready for rows of numbers: the request is read once, then the named numbers are set and read as doubles in the
/// named units.
///
/// With FLOODBAR_SUCCESS, *prepared is the prepared calculation and *error_json is NULL. With any other status *prepared is NULL and
/// *error_json is the error, whose pointer leads into the request or into the columns, whichever has such a field. Whatever both held
/// before is overwritten and not freed. If either of the two pointers is NULL, nothing is prepared and the status is
/// FLOODBAR_NULL_POINTER.
///
/// The prepared calculation belongs to the caller, who gives it back to floodbar_prepared_free(); the text is freed as all texts are. The
/// request, the columns and the cache may go as soon as the call is over.
///
/// Safe to call from many threads at once.
///
/// @param cache where the numbers of heat are kept, now and when it runs; NULL for nowhere
/// @param id the calculation's name
/// @param request_json the request; numbers that the inputs set need not stand in it
/// @param columns_json "inputs", numbers of the request, and "outputs", numbers of the answer, such as
///     {"inputs": [{"at": "/printed_area", "unit": "cm2"}], "outputs": [{"at": "/mass_to_mix", "unit": "g"}]};
///     a truth value is 0 or 1; a word is asked as {"at": "/verdict", "equals": "cured"}. A unit left out is the usual one of that
///     number, never chosen by size
/// @param prepared where the prepared calculation goes
/// @param error_json where the text of an error goes
///
/// # Safety
/// `cache` is NULL or a cache that no one frees during the call; the texts are as in floodbar_calculate(); `prepared` and
/// `error_json` are NULL or point to a pointer that no other thread uses during the call, and not to the same one.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_prepare(
    cache: *mut floodbar_cache,
    id: *const c_char,
    request_json: *const c_char,
    columns_json: *const c_char,
    prepared: *mut *mut floodbar_prepared,
    error_json: *mut *mut c_char,
) -> floodbar_status {
    if !prepared.is_null() {
        // SAFETY: not NULL, and the caller promises the rest.
        unsafe { prepared.write(ptr::null_mut()) };
    }
    let work = || {
        if prepared.is_null() {
            return Err(is_null("prepared"));
        }
        // SAFETY: the caller promises zero-terminated text, a cache, or NULL.
        let Asked { cache, id, request, spec } =
            unsafe { Asked::of(cache, id, request_json, columns_json, "columns_json")? };
        let ready = match cache {
            Some(cache) => cache.prepare(&id, &request, &spec),
            None => floodbar::prepare(&id, &request, &spec),
        }?;
        // SAFETY: not NULL, and the caller promises the rest.
        unsafe { prepared.write(Box::into_raw(Box::new(floodbar_prepared(ready)))) };
        Ok(None)
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(error_json, work) }
}

/// Works out rows of numbers: one column for each input, one for each output, in the order in which they were prepared.
///
/// The call is a success though rows fail: row_status says for each row whether it has an answer, else why not, and all outputs of
/// a row that failed are NaN, as is a number that an answer does not have. An input that is NaN or infinite is FLOODBAR_OUT_OF_RANGE,
/// of its row alone. The answers are those of floodbar_calculate(), bit for bit; floodbar_explain() words what is wrong with a row.
///
/// The call fails as a whole, and has written nothing, with FLOODBAR_NULL_POINTER where `prepared` or a column is NULL, with
/// FLOODBAR_IMPOSSIBLE for another number of columns than was prepared, and with FLOODBAR_TOO_LONG for more rows than memory holds.
/// Without rows no column is looked at, and each may be NULL.
///
/// Inputs are never written. The prepared calculation stays as it is, and what the rows need belongs to the call: many threads may run
/// one at once, each into its own columns. Nothing is allocated for a row of a closed formula that has an answer; what a call
/// allocates once pays from a few rows on.
///
/// @param prepared the prepared calculation
/// @param rows how many numbers each column has
/// @param inputs the columns of the inputs; they are read only
/// @param inputs_count how many they are
/// @param outputs the columns that are written; none overlaps with another one, with an input or with the three below
/// @param outputs_count how many they are
/// @param row_status a status for each row; NULL where it is not wanted
/// @param row_cautions how many cautions each row met; NULL where it is not wanted
/// @param row_limits how many limits each row met; NULL where it is not wanted
///
/// # Safety
/// `prepared` is NULL or came from floodbar_prepare() and is not freed during the call. `inputs` and `outputs` are NULL or point to so
/// many pointers, each of them NULL or to `rows` doubles, and the last three are NULL or point to `rows` entries, all aligned as C
/// aligns them; no other thread writes what is read, nor uses what is written, during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_run(
    prepared: *const floodbar_prepared,
    rows: usize,
    inputs: *const *const f64,
    inputs_count: usize,
    outputs: *const *mut f64,
    outputs_count: usize,
    row_status: *mut floodbar_status,
    row_cautions: *mut u32,
    row_limits: *mut u32,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises a prepared calculation or NULL.
        let ready = &unsafe { thing(prepared, "prepared")? }.0;
        // SAFETY: the caller promises so many pointers, or NULL.
        let (inputs, outputs) = unsafe {
            (
                columns(inputs, inputs_count, ready.inputs().len(), rows, "inputs")?,
                columns(outputs.cast(), outputs_count, ready.outputs().len(), rows, "outputs")?,
            )
        };
        let mut scratch = ready.rows()?;
        for begin in (0..rows).step_by(BLOCK) {
            let end = rows.min(begin.saturating_add(BLOCK));
            scratch.begin(end.saturating_sub(begin));
            for (index, column) in inputs.iter().enumerate() {
                // SAFETY: not NULL, and the caller promises `rows` numbers there.
                scratch.give(index, (begin..end).map(|row| unsafe { column.add(row).read() }));
            }
            let mut row = begin;
            scratch.work(|seen| {
                let status = seen.status.map_or_else(|code| code as floodbar_status, |()| FLOODBAR_SUCCESS);
                // SAFETY: the caller promises `rows` entries there, or NULL.
                unsafe {
                    put(row_status, row, status);
                    put(row_cautions, row, seen.cautions);
                    put(row_limits, row, seen.limits);
                }
                row = row.saturating_add(1);
            });
            for (index, column) in outputs.iter().enumerate() {
                for (row, found) in (begin..end).zip(scratch.taken(index)) {
                    // SAFETY: not NULL, and the caller promises `rows` numbers there.
                    unsafe { column.cast_mut().add(row).write(found) };
                }
            }
        }
        Ok(())
    };
    caught(work).map_or_else(|error| error.code as floodbar_status, |()| FLOODBAR_SUCCESS)
}

/// Answers one row in full: the answer of floodbar_calculate() to the request with these numbers in it, or its error.
///
/// Status, ownership of the text, and threads, as in floodbar_calculate().
///
/// @param prepared the prepared calculation
/// @param input_row a number for each input, in the order in which they were prepared
/// @param inputs_count how many they are
/// @param answer_json where the text goes
///
/// # Safety
/// `prepared` is NULL or came from floodbar_prepare() and is not freed during the call; `input_row` is NULL or points to so many
/// doubles that no one changes during the call; `answer_json` is as in floodbar_calculate().
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_explain(
    prepared: *const floodbar_prepared,
    input_row: *const f64,
    inputs_count: usize,
    answer_json: *mut *mut c_char,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises a prepared calculation or NULL.
        let ready = unsafe { thing(prepared, "prepared")? };
        // SAFETY: the caller promises so many numbers, or NULL.
        let row = if inputs_count == 0 { &[] } else { unsafe { array(input_row, inputs_count, "input_row")? } };
        ready.0.explain(row)?.to_text()
    };
    // SAFETY: the caller promises a writable pointer or NULL.
    unsafe { respond(answer_json, work) }
}

/// Frees a prepared calculation, from any thread. NULL is fine.
///
/// # Safety
/// `prepared` is NULL, or came from floodbar_prepare(), has not been freed before, and no call on another thread uses it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_prepared_free(prepared: *mut floodbar_prepared) {
    if !prepared.is_null() {
        // SAFETY: the caller promises one that `floodbar_prepare` let go with `into_raw`, once.
        drop(unsafe { Box::from_raw(prepared) });
    }
}

/// A caller's columns: as many as are wanted, none of them NULL, unless there are no rows. What they point to is left alone.
///
/// # Safety
/// `pointer` is NULL or points to `count` pointers.
unsafe fn columns(
    pointer: *const *const f64,
    count: usize,
    wanted: usize,
    rows: usize,
    name: &str,
) -> Result<Vec<*const f64>, Error> {
    if count != wanted {
        return Err(Error::new(Code::Impossible, "", format!("{count} {name} for {wanted}")));
    }
    fits::<f64>(rows, name)?;
    if count == 0 || rows == 0 {
        return Ok(Vec::new());
    }
    // SAFETY: the caller promises as much.
    let columns = unsafe { array(pointer, count, name)? };
    if columns.iter().any(|column| column.is_null()) {
        return Err(is_null(name));
    }
    Ok(columns.to_vec())
}

/// Writes an entry of an array, where there is one.
///
/// # Safety
/// `array` is NULL or has more than `index` entries.
unsafe fn put<T>(array: *mut T, index: usize, value: T) {
    if !array.is_null() {
        // SAFETY: not NULL, and the caller promises the rest.
        unsafe { array.add(index).write(value) };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::{call, pointer};
    use crate::*;
    use serde_json::{Value, json};
    use std::ffi::CStr;

    const ID: &CStr = c"ink.usage";
    const REQUEST: &CStr = c"{\"mesh\": \"77-55\", \"ink\": \"plastisol\", \"prints\": 50}";
    const COLUMNS: &CStr = c"{\"inputs\": [{\"at\": \"/printed_area\", \"unit\": \"cm2\"}, \"/prints\"], \"outputs\": [{\"at\": \"/mass_to_mix\", \"unit\": \"g\"}]}";

    /// A prepared calculation that is freed when it goes.
    struct Owned(*mut floodbar_prepared);

    impl Drop for Owned {
        fn drop(&mut self) {
            // SAFETY: the library gave it, and it is freed once.
            unsafe { floodbar_prepared_free(self.0) };
        }
    }

    fn prepare(texts: [Option<&CStr>; 3]) -> (floodbar_status, Owned, Value) {
        let [id, request, columns] = texts.map(pointer);
        // What was there before is overwritten.
        let mut prepared = ptr::dangling_mut();
        // SAFETY: NULL or zero-terminated, and writable pointers.
        let (status, error) =
            call(|out| unsafe { floodbar_prepare(ptr::null_mut(), id, request, columns, &raw mut prepared, out) });
        (status, Owned(prepared), error)
    }

    fn usage() -> Owned {
        let (status, prepared, error) = prepare([Some(ID), Some(REQUEST), Some(COLUMNS)]);
        assert_eq!((status, error), (FLOODBAR_SUCCESS, Value::Null));
        prepared
    }

    fn run(prepared: &Owned, rows: usize, inputs: &[*const f64], outputs: &[*mut f64]) -> floodbar_status {
        let (i, o) = (inputs.as_ptr(), outputs.as_ptr());
        let none = ptr::null_mut();
        // SAFETY: columns of so many rows, or NULL.
        unsafe { floodbar_run(prepared.0, rows, i, inputs.len(), o, outputs.len(), ptr::null_mut(), none, none) }
    }

    #[test]
    fn threads_may_share_what_is_prepared() {
        const fn shared<T: Send + Sync>() {}
        shared::<floodbar_prepared>();
        shared::<floodbar_cache>();
    }

    #[test]
    fn rows_are_those_of_core() {
        let prepared = usage();
        let (areas, prints) = ([300.0, -1.0, f64::NAN, 9_000.0], [50.0, 50.0, 50.0, 1.5]);
        let mut masses = [0.0; 4];
        let (mut status, mut cautions, mut limits) = ([-1; 4], [9; 4], [9; 4]);
        // SAFETY: columns and arrays of four rows.
        let done = unsafe {
            floodbar_run(
                prepared.0,
                4,
                [areas.as_ptr(), prints.as_ptr()].as_ptr(),
                2,
                [masses.as_mut_ptr()].as_ptr(),
                1,
                status.as_mut_ptr(),
                cautions.as_mut_ptr(),
                limits.as_mut_ptr(),
            )
        };
        assert_eq!(done, FLOODBAR_SUCCESS);
        let document = |text: &CStr| serde_json::from_slice::<Value>(text.to_bytes()).unwrap();
        let core = floodbar::prepare("ink.usage", &document(REQUEST), &document(COLUMNS)).unwrap();
        let mut wanted = [0.0; 4];
        let rows = core.run(&[&areas, &prints], &mut [&mut wanted]).unwrap();
        assert_eq!(masses.map(f64::to_bits), wanted.map(f64::to_bits));
        assert!(masses[0] > 0.0 && masses[1..].iter().all(|mass| mass.is_nan()));
        assert_eq!(status, [FLOODBAR_SUCCESS, FLOODBAR_OUT_OF_RANGE, FLOODBAR_OUT_OF_RANGE, FLOODBAR_OUT_OF_RANGE]);
        assert_eq!(cautions.to_vec(), rows.iter().map(|row| row.cautions).collect::<Vec<_>>());
        assert_eq!(limits.to_vec(), rows.iter().map(|row| row.limits).collect::<Vec<_>>());
    }

    #[test]
    fn columns_are_counted_and_none_is_null() {
        let prepared = usage();
        let (areas, prints, mut masses) = ([300.0], [50.0], [0.0]);
        let (area, print, mass, null) = (areas.as_ptr(), prints.as_ptr(), masses.as_mut_ptr(), ptr::null());
        for (inputs, outputs, status) in [
            (&[area, print][..], &[mass][..], FLOODBAR_SUCCESS),
            (&[area], &[mass], FLOODBAR_IMPOSSIBLE),
            (&[area, print, print], &[mass], FLOODBAR_IMPOSSIBLE),
            (&[area, print], &[], FLOODBAR_IMPOSSIBLE),
            (&[area, print], &[mass, mass], FLOODBAR_IMPOSSIBLE),
            (&[area, null], &[mass], FLOODBAR_NULL_POINTER),
            (&[area, print], &[ptr::null_mut()], FLOODBAR_NULL_POINTER),
        ] {
            assert_eq!(run(&prepared, 1, inputs, outputs), status);
        }
        // Without rows nothing is looked at but how many columns there are.
        assert_eq!(run(&prepared, 0, &[null, null], &[ptr::null_mut()]), FLOODBAR_SUCCESS);
        assert_eq!(run(&prepared, 0, &[null], &[ptr::null_mut()]), FLOODBAR_IMPOSSIBLE);
        assert_eq!(run(&prepared, usize::MAX, &[area, print], &[mass]), FLOODBAR_TOO_LONG);
        assert_eq!(run(&Owned(ptr::null_mut()), 1, &[area, print], &[mass]), FLOODBAR_NULL_POINTER);
        let none = ptr::null_mut();
        let all = |rows, inputs| {
            let wanted = (ptr::null(), ptr::null());
            // SAFETY: NULL is allowed.
            unsafe { floodbar_run(prepared.0, rows, wanted.0, inputs, wanted.1, 1, ptr::null_mut(), none, none) }
        };
        assert_eq!([all(0, 2), all(1, 2)], [FLOODBAR_SUCCESS, FLOODBAR_NULL_POINTER]);
    }

    #[test]
    fn a_row_is_explained_as_it_is_calculated() {
        let prepared = usage();
        let explain = |row: &[f64]| {
            // SAFETY: so many numbers, and a writable pointer.
            call(|out| unsafe { floodbar_explain(prepared.0, row.as_ptr(), row.len(), out) })
        };
        let asked = json!({ "mesh": "77-55", "ink": "plastisol", "printed_area": "300 cm2", "prints": 20 });
        assert_eq!(explain(&[300.0, 20.0]), (FLOODBAR_SUCCESS, floodbar::calculate("ink.usage", &asked).unwrap()));
        let (status, error) = explain(&[300.0, 0.0]);
        assert_eq!((status, error.pointer("/error/field")), (FLOODBAR_OUT_OF_RANGE, Some(&json!("/prints"))));
        assert_eq!(explain(&[300.0]).0, FLOODBAR_IMPOSSIBLE);
        // SAFETY: NULL is allowed, and writable pointers.
        unsafe {
            let none = |out| floodbar_explain(prepared.0, ptr::null(), 2, out);
            assert_eq!(call(none).0, FLOODBAR_NULL_POINTER);
            let nothing = |out| floodbar_explain(prepared.0, ptr::null(), 0, out);
            assert_eq!(call(nothing).0, FLOODBAR_IMPOSSIBLE);
            assert_eq!(call(|out| floodbar_explain(ptr::null(), [1.0].as_ptr(), 1, out)).0, FLOODBAR_NULL_POINTER);
            assert_eq!(floodbar_explain(prepared.0, [1.0].as_ptr(), 1, ptr::null_mut()), FLOODBAR_NULL_POINTER);
        }
    }

    #[test]
    fn what_cannot_be_prepared_is_null_with_an_error() {
        let good = [Some(ID), Some(REQUEST), Some(COLUMNS)];
        let refused = |index: usize, text| {
            let mut texts = good;
            texts[index] = text;
            let (status, prepared, error) = prepare(texts);
            assert!(prepared.0.is_null());
            assert_eq!(
                error.pointer("/error/code").unwrap().as_str().unwrap(),
                crate::tests::read(floodbar_status_text(status))
            );
            status
        };
        for index in 0..3 {
            assert_eq!(refused(index, None), FLOODBAR_NULL_POINTER);
        }
        assert_eq!(refused(0, Some(c"ink")), FLOODBAR_UNKNOWN_CALCULATION);
        assert_eq!(refused(1, Some(c"{")), FLOODBAR_BAD_JSON);
        assert_eq!(refused(1, Some(c"{\"mesh\": \"77-55\"}")), FLOODBAR_MISSING_FIELD);
        assert_eq!(refused(2, Some(c"{\"inputs\": [\"/thread\"], \"outputs\": []}")), FLOODBAR_UNKNOWN_FIELD);
        assert_eq!(
            refused(2, Some(c"{\"inputs\": [{\"at\": \"/prints\", \"unit\": \"um\"}], \"outputs\": []}")),
            FLOODBAR_BAD_QUANTITY
        );
    }

    #[test]
    fn both_ways_out_are_needed() {
        let (id, request, columns) = (ID.as_ptr(), REQUEST.as_ptr(), COLUMNS.as_ptr());
        // SAFETY: zero-terminated, NULL or writable pointers.
        let (status, error) =
            call(|out| unsafe { floodbar_prepare(ptr::null_mut(), id, request, columns, ptr::null_mut(), out) });
        assert_eq!(status, FLOODBAR_NULL_POINTER);
        assert!(error.pointer("/error/message").unwrap().as_str().unwrap().contains("`prepared`"));
        let mut prepared = ptr::dangling_mut();
        // SAFETY: as above.
        let status =
            unsafe { floodbar_prepare(ptr::null_mut(), id, request, columns, &raw mut prepared, ptr::null_mut()) };
        assert_eq!((status, prepared), (FLOODBAR_NULL_POINTER, ptr::null_mut()));
    }

    #[test]
    fn threads_run_at_once_and_a_cache_may_go_meanwhile() {
        let cache = floodbar_cache_new(1);
        let mut prepared = ptr::null_mut();
        // SAFETY: zero-terminated, and writable pointers.
        let (status, _) = call(|out| unsafe {
            floodbar_prepare(cache, ID.as_ptr(), REQUEST.as_ptr(), COLUMNS.as_ptr(), &raw mut prepared, out)
        });
        assert_eq!(status, FLOODBAR_SUCCESS);
        let (areas, prints) = ([300.0, 10.0, -1.0], [50.0, 20.0, 1.0]);
        let masses = |prepared: &Owned| {
            let mut masses = [0.0; 3];
            let status = run(prepared, 3, &[areas.as_ptr(), prints.as_ptr()], &[masses.as_mut_ptr()]);
            (status, masses.map(f64::to_bits))
        };
        struct Shared(Owned);
        // SAFETY: the header promises it of what was prepared.
        unsafe impl Sync for Shared {}
        impl Shared {
            fn get(&self) -> &Owned {
                &self.0
            }
        }
        let shared = Shared(Owned(prepared));
        let wanted = masses(&usage());
        std::thread::scope(|scope| {
            let threads: Vec<_> = (0..4).map(|_| scope.spawn(|| masses(shared.get()))).collect();
            // SAFETY: it came from `floodbar_cache_new`, and no call is given it any more.
            unsafe { floodbar_cache_free(cache) };
            for thread in threads {
                assert_eq!(thread.join().unwrap(), wanted);
            }
        });
        assert_eq!(wanted.0, FLOODBAR_SUCCESS);
        assert!(f64::from_bits(wanted.1[0]) > 0.0 && f64::from_bits(wanted.1[2]).is_nan());
    }

    #[test]
    fn what_is_prepared_outlives_its_cache() {
        let cache = floodbar_cache_new(10);
        let request = c"{\"ink\": \"plastisol\", \"cloth\": \"cotton-jersey-180\", \"dryer\": \"air-dryer-2m\"}";
        let columns = c"{\"inputs\": [{\"at\": \"/start\", \"unit\": \"degC\"}], \"outputs\": [\"/fastest\"]}";
        let mut prepared = ptr::null_mut();
        let (starts, mut speeds) = ([25.0, 25.0], [0.0; 2]);
        let (mut hits, mut misses) = (0, 0);
        // SAFETY: zero-terminated, columns of two rows, writable pointers; each freed once.
        unsafe {
            let (status, _) = call(|out| {
                floodbar_prepare(
                    cache,
                    c"dryer.window".as_ptr(),
                    request.as_ptr(),
                    columns.as_ptr(),
                    &raw mut prepared,
                    out,
                )
            });
            assert_eq!(status, FLOODBAR_SUCCESS);
            let owned = Owned(prepared);
            assert_eq!(run(&owned, 2, &[starts.as_ptr()], &[speeds.as_mut_ptr()]), FLOODBAR_SUCCESS);
            floodbar_cache_counts(cache, &raw mut hits, &raw mut misses);
            assert_eq!((hits, misses), (1, 1));
            floodbar_cache_free(cache);
            assert_eq!(run(&owned, 2, &[starts.as_ptr()], &[speeds.as_mut_ptr()]), FLOODBAR_SUCCESS);
        }
        assert!(speeds[0] > 0.0 && speeds[0].to_bits() == speeds[1].to_bits());
    }
}
