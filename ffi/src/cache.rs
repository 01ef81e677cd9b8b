//! A memory for the numbers of heat, which belongs to the caller.

use crate::out::{caught, is_null, thing};
use crate::{FLOODBAR_SUCCESS, floodbar_status};
use floodbar::Cache;
use std::ptr;

/// Keeps the numbers of runs through heat (flash, dryer) under all that they hang on, bit for bit, for the calls that it is given to.
/// Answers are the same with it and without; only the time is not. Threads may share one.
#[allow(non_camel_case_types, reason = "the name in C")]
pub struct floodbar_cache(pub(crate) Cache);

/// Makes a cache that keeps so many runs at most; what was not asked for the longest goes first.
///
/// It belongs to the caller, who gives it back to floodbar_cache_free(). NULL, should the library have a fault of its own: the calls
/// then do without a cache.
///
/// @param entries how many runs it may keep
#[unsafe(no_mangle)]
pub extern "C" fn floodbar_cache_new(entries: usize) -> *mut floodbar_cache {
    let made = caught(|| Ok(Box::new(floodbar_cache(Cache::new(entries)))));
    made.map_or(ptr::null_mut(), Box::into_raw)
}

/// Frees a cache, from any thread. NULL is fine. What was prepared with it may go on: it keeps what it needs.
///
/// # Safety
/// `cache` is NULL, or came from floodbar_cache_new(), has not been freed before, and no call on another thread uses it.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_cache_free(cache: *mut floodbar_cache) {
    if !cache.is_null() {
        // SAFETY: the caller promises one that `floodbar_cache_new` let go with `into_raw`, once.
        drop(unsafe { Box::from_raw(cache) });
    }
}

/// How often a run was found in a cache, and how often it was not.
///
/// FLOODBAR_NULL_POINTER where any of the pointers is NULL; then nothing is written.
///
/// @param cache the cache
/// @param hits where the number of runs that were found goes
/// @param misses where the number of the others goes
///
/// # Safety
/// `cache` is NULL or a cache that has not been freed; `hits` and `misses` are NULL or point to a number that no other thread uses
/// during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn floodbar_cache_counts(
    cache: *const floodbar_cache,
    hits: *mut u64,
    misses: *mut u64,
) -> floodbar_status {
    let work = || {
        // SAFETY: the caller promises a cache or NULL.
        let cache = unsafe { thing(cache, "cache")? };
        if let Some((_, name)) = [(hits, "hits"), (misses, "misses")].iter().find(|(pointer, _)| pointer.is_null()) {
            return Err(is_null(name));
        }
        let (found, missed) = cache.0.counts();
        // SAFETY: not NULL, and the caller promises the rest.
        unsafe {
            hits.write(found);
            misses.write(missed);
        }
        Ok(())
    };
    caught(work).map_or_else(|error| error.code as floodbar_status, |()| FLOODBAR_SUCCESS)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::FLOODBAR_NULL_POINTER;

    #[test]
    fn a_cache_counts_and_null_is_refused() {
        let cache = floodbar_cache_new(4);
        let (mut hits, mut misses) = (7, 7);
        let both = (&raw mut hits, &raw mut misses);
        // SAFETY: pointers to what lives here, or NULL.
        unsafe {
            assert_eq!(floodbar_cache_counts(ptr::null(), both.0, both.1), FLOODBAR_NULL_POINTER);
            assert_eq!(floodbar_cache_counts(cache, ptr::null_mut(), both.1), FLOODBAR_NULL_POINTER);
            assert_eq!(floodbar_cache_counts(cache, both.0, ptr::null_mut()), FLOODBAR_NULL_POINTER);
        }
        assert_eq!((hits, misses), (7, 7));
        // SAFETY: as above; freed once.
        unsafe {
            assert_eq!(floodbar_cache_counts(cache, both.0, both.1), FLOODBAR_SUCCESS);
            floodbar_cache_free(cache);
            floodbar_cache_free(ptr::null_mut());
        }
        assert_eq!((hits, misses), (0, 0));
    }
}
