//! A memory for the numbers of heat, which belongs to the caller.

use super::{Prepared, answer_text, answered, answers, answers_text, prepare, solve, sweep};
use crate::error::Error;
use crate::wire::{Kept, Memory, Shared};
use lru::LruCache;
use serde_json::Value;
use std::fmt;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Keeps the numbers of runs through heat (flash, dryer) under all that they hang on, bit for bit; never what is said about them. So
/// answers, refusals for too much work among them, are the same with it and without. Bounded: what was not asked for the longest
/// goes first. Threads may share one; a copy is the same cache.
///
/// ```
/// use serde_json::json;
/// let cache = floodbar::Cache::new(100);
/// let request = json!({ "dryer": "air-dryer-2m", "ink": "plastisol", "cloth": "cotton-jersey-180" });
/// let answer = cache.calculate("dryer.window", &request)?;
/// assert_eq!(cache.calculate("dryer.window", &request)?, answer);
/// assert_eq!(cache.counts(), (1, 1)); // one hit, one miss
/// # Ok::<(), floodbar::Error>(())
/// ```
#[derive(Clone)]
pub struct Cache {
    store: Arc<Store>,
}

struct Store {
    kept: Mutex<LruCache<Vec<u8>, Kept>>,
    entries: usize,
    hits: AtomicU64,
    misses: AtomicU64,
}

impl Store {
    /// What is kept. A thread that panicked while it held this has broken nothing: it is left alone between calls of the list.
    fn kept(&self) -> MutexGuard<'_, LruCache<Vec<u8>, Kept>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Memory for Store {
    fn recall(&self, key: &[u8]) -> Option<Kept> {
        let found = self.kept().get(key).cloned();
        let count = if found.is_some() { &self.hits } else { &self.misses };
        count.fetch_add(1, Ordering::Relaxed);
        found
    }

    fn keep(&self, key: Vec<u8>, value: Kept) {
        let mut kept = self.kept();
        kept.push(key, value);
        while kept.len() > self.entries {
            kept.pop_lru();
        }
    }
}

impl Cache {
    /// One that keeps so many runs at most.
    #[must_use]
    pub fn new(entries: usize) -> Self {
        let kept = Mutex::new(LruCache::unbounded());
        Self { store: Arc::new(Store { kept, entries, hits: AtomicU64::new(0), misses: AtomicU64::new(0) }) }
    }

    /// How often a run was found here, and how often it was not.
    #[must_use]
    pub fn counts(&self) -> (u64, u64) {
        (self.store.hits.load(Ordering::Relaxed), self.store.misses.load(Ordering::Relaxed))
    }

    /// As [`calculate`](super::calculate).
    ///
    /// # Errors
    /// The same.
    pub fn calculate(&self, id: &str, request: &Value) -> Result<Value, Error> {
        answered(Some(&self.shared()), id, request)?.to_value()
    }

    /// As [`calculate_text`](super::calculate_text).
    ///
    /// # Errors
    /// The same.
    pub fn calculate_text(&self, id: &str, request: &[u8]) -> Result<String, Error> {
        answer_text(Some(&self.shared()), id, request)
    }

    /// As [`calculate_many`](super::calculate_many).
    ///
    /// # Errors
    /// The same.
    pub fn calculate_many(&self, id: &str, requests: &Value) -> Result<Value, Error> {
        answers(Some(&self.shared()), id, requests)
    }

    /// As [`calculate_many_text`](super::calculate_many_text).
    ///
    /// # Errors
    /// The same.
    pub fn calculate_many_text(&self, id: &str, requests: &[u8]) -> Result<String, Error> {
        answers_text(Some(&self.shared()), id, requests)
    }

    /// As [`sweep`](super::sweep()).
    ///
    /// # Errors
    /// The same.
    pub fn sweep(&self, id: &str, request: &Value, spec: &Value) -> Result<Value, Error> {
        sweep::with(Some(&self.shared()), id, request, spec)
    }

    /// As [`solve`](super::solve()).
    ///
    /// # Errors
    /// The same.
    pub fn solve(&self, id: &str, request: &Value, spec: &Value) -> Result<Value, Error> {
        solve::with(Some(&self.shared()), id, request, spec)
    }

    /// As [`prepare`](super::prepare()); what is prepared keeps the cache.
    ///
    /// # Errors
    /// The same.
    pub fn prepare(&self, id: &str, request: &Value, columns: &Value) -> Result<Prepared, Error> {
        prepare::with(Some(&self.shared()), id, request, columns)
    }

    fn shared(&self) -> Shared {
        Arc::<Store>::clone(&self.store)
    }
}

impl fmt::Debug for Cache {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Cache").field("entries", &self.store.entries).field("counts", &self.counts()).finish()
    }
}
