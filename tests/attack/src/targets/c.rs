//! The C layer, with what a program may hand over by its header: NULL, texts of any bytes, any numbers of columns and rows.
#![allow(unsafe_code, reason = "pointers cross the C boundary")]

use crate::draw::Draw;
use crate::mutate::{request, spoil, stranger};
use crate::seeds::among;
use crate::telling;
use floodbar_ffi::*;
use serde_json::{Value, json};
use std::ffi::{CStr, CString, c_char};
use std::ptr;

/// Some calls, one after the other, with handles that live across them.
pub fn c(data: &[u8]) {
    let mut draw = Draw::new(data);
    let entries = *draw.pick(&[0, 1, 16, usize::MAX]);
    // SAFETY: NULL or a cache of the library, freed once and last.
    let cache = if draw.one_in(3) { ptr::null_mut() } else { floodbar_cache_new(entries) };
    for _ in 0..=draw.below(3) {
        let call = Call::drawn(&mut draw);
        telling(|| call.told(), || call.made(cache, &mut draw));
    }
    // SAFETY: as above.
    unsafe { floodbar_cache_free(cache) };
}

/// Texts for a call; none is NULL.
struct Call {
    id: Option<CString>,
    request: Option<CString>,
    spec: Option<CString>,
    kind: usize,
}

fn pointer(text: &Option<CString>) -> *const c_char {
    text.as_ref().map_or(ptr::null(), |text| text.as_ptr())
}

/// A text as C has it: up to its first zero; NULL now and then.
fn handed(mut text: Vec<u8>, draw: &mut Draw<'_>) -> Option<CString> {
    if draw.one_in(12) {
        spoil(&mut text, draw);
    }
    if draw.one_in(16) {
        text.extend([0xff, 0xc0, 0x80]);
    }
    let end = text.iter().position(|byte| *byte == 0).unwrap_or(text.len());
    text.truncate(end);
    (!draw.one_in(24)).then(|| CString::new(text).expect("no zero"))
}

/// What a call gave: its status, and its text as a document; the text is freed.
fn taken(status: floodbar_status, text: *mut c_char) -> Value {
    let told = floodbar_status_text(status);
    // SAFETY: never NULL, and zero-terminated.
    let told = unsafe { CStr::from_ptr(told) }.to_str().expect("UTF-8");
    assert_ne!(status, FLOODBAR_INTERNAL, "an internal fault");
    assert!(!text.is_null(), "{told}, and no text");
    // SAFETY: the library gave it, zero-terminated.
    let document: Value = serde_json::from_str(unsafe { CStr::from_ptr(text) }.to_str().expect("UTF-8")).expect("JSON");
    // SAFETY: the library gave it, and it is not used again.
    unsafe { floodbar_free(text) };
    if status != FLOODBAR_SUCCESS {
        assert_eq!(document["error"]["code"], told, "the status is not the error's code");
    }
    document
}

impl Call {
    fn drawn(draw: &mut Draw<'_>) -> Self {
        // What marches through heat is the other targets' business, but for one that goes into the cache.
        let seeds = among(|id| !crate::seeds::is_dear(id) || id == "flash.dwell");
        let seeds = *draw.pick(&seeds);
        let id = match draw.below(16) {
            0 => b"no.calculation".to_vec(),
            1 => draw.bytes(40).to_vec(),
            _ => seeds.calculation.id().as_bytes().to_vec(),
        };
        let request = request(&seeds.requests, seeds.calculation.request(), 2, draw);
        let kind = draw.below(7);
        let pointers: Vec<String> = crate::places::of_request(seeds.calculation.request(), &request)
            .into_iter()
            .map(|place| place.pointer)
            .collect();
        let outputs: Vec<String> = seeds.calculation.answer().names().map(|name| format!("/{name}")).collect();
        let input = crate::places::pointer(&pointers, draw);
        let output = crate::places::pointer(&outputs, draw);
        let spec = match kind {
            _ if draw.one_in(16) => stranger(draw),
            1 => json!({ "vary": input, "from": "1 mm", "to": "9 mm", "points": draw.below(5), "want": [output] }),
            2 => json!({ "vary": input, "from": "1", "to": "9", "want": output, "equals": 1 }),
            3 => {
                json!({ "pixels_wide": draw.below(9), "pixels_high": draw.below(9), "resolution": "300 /in", "ink": "dark" })
            }
            _ => json!({ "inputs": [input], "outputs": [output] }),
        };
        let request = if kind == 4 { json!([request, request, 7]) } else { request };
        Self {
            id: handed(id, draw),
            request: handed(request.to_string().into_bytes(), draw),
            spec: handed(spec.to_string().into_bytes(), draw),
            kind,
        }
    }

    fn told(&self) -> String {
        format!("call {}: {:?} {:?} {:?}", self.kind, self.id, self.request, self.spec)
    }

    fn made(&self, cache: *mut floodbar_cache, draw: &mut Draw<'_>) {
        let (id, request, spec) = (pointer(&self.id), pointer(&self.request), pointer(&self.spec));
        let mut text: *mut c_char = ptr::dangling_mut();
        let out: *mut *mut c_char = if draw.one_in(16) { ptr::null_mut() } else { &raw mut text };
        // SAFETY: NULL or zero-terminated texts, a cache that lives, and a writable pointer or NULL.
        let status = unsafe {
            match self.kind {
                0 => floodbar_calculate(id, request, out),
                1 => floodbar_sweep(cache, id, request, spec, out),
                2 => floodbar_solve(cache, id, request, spec, out),
                3 => {
                    let pixels = draw.rest();
                    let (first, length) =
                        if draw.one_in(8) { (ptr::null(), draw.below(9)) } else { (pixels.as_ptr(), pixels.len()) };
                    floodbar_artwork_measure(first, length, spec, out)
                }
                4 => floodbar_calculate_many(cache, id, request, out),
                5 => {
                    let (mut hits, mut misses) = (0, 0);
                    let status = floodbar_cache_counts(cache, &raw mut hits, &raw mut misses);
                    assert_eq!(status == FLOODBAR_SUCCESS, !cache.is_null(), "counts of a cache");
                    return;
                }
                _ => return self.prepared(cache, draw),
            }
        };
        match out.is_null() {
            true => assert_eq!(status, FLOODBAR_NULL_POINTER, "nowhere to put an answer"),
            false => drop(taken(status, text)),
        }
        if self.kind == 0 && !out.is_null() {
            self.same_as_core(status);
        }
    }

    /// The status is that of core, to texts that are there.
    fn same_as_core(&self, status: floodbar_status) {
        let (Some(id), Some(request)) = (&self.id, &self.request) else {
            return assert_eq!(status, FLOODBAR_NULL_POINTER);
        };
        let core = floodbar::calculate_text(&id.to_string_lossy(), request.to_bytes());
        assert_eq!(core.is_ok(), status == FLOODBAR_SUCCESS, "{core:?}");
    }

    fn prepared(&self, cache: *mut floodbar_cache, draw: &mut Draw<'_>) {
        let mut prepared: *mut floodbar_prepared = ptr::dangling_mut();
        let mut error: *mut c_char = ptr::dangling_mut();
        // SAFETY: as for the other calls; two pointers of their own.
        let status = unsafe {
            floodbar_prepare(
                cache,
                pointer(&self.id),
                pointer(&self.request),
                pointer(&self.spec),
                &raw mut prepared,
                &raw mut error,
            )
        };
        if status != FLOODBAR_SUCCESS {
            assert!(prepared.is_null(), "a fault and something prepared");
            taken(status, error);
            return;
        }
        assert!(!prepared.is_null() && error.is_null());
        let rows = draw.below(4);
        let (input, mut output): (Vec<f64>, Vec<f64>) = ((0..rows).map(|_| draw.any()).collect(), vec![0.5; rows]);
        let (mut status_of, mut cautions, mut limits) = (vec![-1; rows], vec![0; rows], vec![0; rows]);
        let inputs = [if draw.one_in(12) { ptr::null() } else { input.as_ptr() }, ptr::null()];
        let outputs = [if draw.one_in(12) { ptr::null_mut() } else { output.as_mut_ptr() }, ptr::null_mut()];
        let (inputs_count, outputs_count) = if draw.one_in(6) { (draw.below(3), draw.below(3)) } else { (1, 1) };
        let wanted = |list: *mut u32, draw: &mut Draw<'_>| if draw.one_in(3) { ptr::null_mut() } else { list };
        let (cautions, limits) = (wanted(cautions.as_mut_ptr(), draw), wanted(limits.as_mut_ptr(), draw));
        // SAFETY: columns of so many rows or NULL, of which as many pointers are there as are told.
        let ran = unsafe {
            floodbar_run(
                prepared,
                rows,
                inputs.as_ptr(),
                inputs_count,
                outputs.as_ptr(),
                outputs_count,
                status_of.as_mut_ptr(),
                cautions,
                limits,
            )
        };
        let is_written = status_of.iter().any(|status| *status != -1);
        assert!(ran == FLOODBAR_SUCCESS || !is_written, "a call that failed has written");
        if ran == FLOODBAR_SUCCESS {
            for (status, value) in status_of.iter().zip(&output) {
                assert!(*status >= 0 && (*status == FLOODBAR_SUCCESS || value.is_nan()), "status {status}, {value}");
            }
        }
        let mut text: *mut c_char = ptr::dangling_mut();
        let row = [1.0, 2.0];
        // SAFETY: NULL or so many doubles, and a writable pointer.
        let status = unsafe { floodbar_explain(prepared, row.as_ptr(), draw.below(3), &raw mut text) };
        taken(status, text);
        // SAFETY: the library gave it, and it is not used again.
        unsafe { floodbar_prepared_free(prepared) };
    }
}
