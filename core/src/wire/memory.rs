//! Where the numbers of heat may be kept: they are told apart by all that they hang on, bit for bit.

use super::field::View;
use super::numbers::leaves;
use super::record::Record;
use core::any::Any;
use std::sync::Arc;

/// A memory that calculations share.
pub(crate) type Shared = Arc<dyn Memory>;

/// Keeps values under keys; it may forget any.
pub(crate) trait Memory: Send + Sync {
    /// What was kept under this key, if it still is.
    fn recall(&self, key: &[u8]) -> Option<Kept>;
    /// Keeps a value.
    fn keep(&self, key: Vec<u8>, kept: Kept);
}

/// A value, and the rows of equations that it took.
#[derive(Clone)]
pub(crate) struct Kept {
    pub value: Arc<dyn Any + Send + Sync>,
    pub work: u64,
}

/// All that a calculation hangs on, as bytes: its name, the accuracy, and each content of the request with its place.
pub(super) fn key(name: &str, accuracy: f64, request: &dyn Record) -> Vec<u8> {
    let mut key = name.as_bytes().to_vec();
    key.extend(accuracy.to_bits().to_le_bytes());
    leaves(request, &mut |leaf| {
        key.extend(leaf.key.to_le_bytes());
        match &leaf.view {
            View::Text(text) => {
                key.extend((text.len() as u64).to_le_bytes());
                key.extend(text.as_bytes());
            }
            View::Flag(flag) => key.push(u8::from(*flag)),
            _ => key.extend(leaf.number().map_or(0, |(_, _, si)| si.to_bits()).to_le_bytes()),
        }
    });
    key
}
