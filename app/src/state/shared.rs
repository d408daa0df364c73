//! A value shared by pointer.

use std::ops::Deref;
use std::sync::Arc;

/// Shares a value; two are equal when they are the same one, so that a memo never compares books
/// or plans field by field.
pub struct Shared<T>(Arc<T>);

impl<T> Shared<T> {
    /// Shares it.
    pub fn new(value: T) -> Self {
        Self(Arc::new(value))
    }
}

impl<T: Clone> Shared<T> {
    /// The value itself; a copy only where somebody else still shares it.
    #[must_use]
    pub fn own(self) -> T {
        Arc::try_unwrap(self.0).unwrap_or_else(|shared| (*shared).clone())
    }
}

impl<T: Default> Default for Shared<T> {
    fn default() -> Self {
        Self::new(T::default())
    }
}

impl<T> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Self(Arc::clone(&self.0))
    }
}

impl<T> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Deref for Shared<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_means_the_same_one() {
        let one = Shared::new(String::from("a"));
        assert!(one == one.clone());
        assert!(one != Shared::new(String::from("a")));
    }

    #[test]
    fn what_nobody_else_shares_is_not_copied() {
        let one = Shared::new(String::from("a"));
        let place = one.as_ptr();
        let own = one.own();
        assert_eq!(own.as_ptr(), place);
        let one = Shared::new(own);
        let (other, own) = (one.clone(), one.own());
        assert_ne!(own.as_ptr(), other.as_ptr());
    }
}
