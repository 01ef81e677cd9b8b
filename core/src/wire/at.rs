//! A place in a document, written as a JSON pointer (RFC 6901). Kept as links on the stack: it costs nothing until an
//! error needs it.

use crate::error::clip;
use std::fmt;

/// Keys of fewer bytes are never cut.
const SHORT: usize = 100;

/// Where a value stands.
#[derive(Debug, Clone, Copy)]
pub struct At<'a> {
    up: Option<&'a At<'a>>,
    step: Step<'a>,
}

#[derive(Debug, Clone, Copy)]
enum Step<'a> {
    Root,
    Key(&'a str),
    Index(usize),
}

impl<'a> At<'a> {
    /// The whole document.
    pub const ROOT: At<'static> = At { up: None, step: Step::Root };

    /// A member of the object here.
    #[must_use]
    pub const fn key(&'a self, key: &'a str) -> Self {
        Self { up: Some(self), step: Step::Key(key) }
    }

    /// An element of the array here.
    #[must_use]
    pub const fn index(&'a self, index: usize) -> Self {
        Self { up: Some(self), step: Step::Index(index) }
    }

    /// Whether this is the whole document.
    #[must_use]
    pub const fn is_root(&self) -> bool {
        self.up.is_none()
    }

    /// Whether this is a member of the document itself.
    #[must_use]
    pub const fn is_at_root(&self) -> bool {
        matches!(self.up, Some(up) if up.is_root())
    }

    /// The member's name, for messages: in an array, that of the array; empty at the root.
    #[must_use]
    pub fn name(&self) -> &'a str {
        match self.step {
            Step::Key(key) => key,
            Step::Index(_) => self.up.map_or("", Self::name),
            Step::Root => "",
        }
    }
}

impl fmt::Display for At<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(up) = self.up {
            up.fmt(f)?;
        }
        match self.step {
            Step::Root => Ok(()),
            // Most need nothing put together.
            Step::Key(key) if key.len() < SHORT && !key.contains(['~', '/']) => {
                f.write_str("/")?;
                f.write_str(key)
            }
            // A key of megabytes must not make an error of megabytes.
            Step::Key(key) => write!(f, "/{}", clip(key).replace('~', "~0").replace('/', "~1")),
            Step::Index(index) => write!(f, "/{index}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::At;

    #[test]
    fn pointers_escape_as_rfc_6901_says() {
        let list = At::ROOT.key("a/b");
        let item = list.index(3);
        assert_eq!(item.key("m~n").to_string(), "/a~1b/3/m~0n");
        assert_eq!(At::ROOT.to_string(), "");
    }
}
