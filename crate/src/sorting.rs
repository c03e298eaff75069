//! Stable sorting by one shared copy of the standard library's code. That code is compiled anew for every
//! type it is called with, some 6 KB of wasm each time; here it sorts indices, whatever they stand for.

use core::cmp::Ordering;

/// As the slice's own `sort`.
///
/// ```
/// let mut words = ["b", "c", "a"];
/// layfigure::sorting::sort(&mut words);
/// assert_eq!(words, ["a", "b", "c"]);
/// ```
pub fn sort<T: Ord>(items: &mut [T]) {
    sort_by(items, T::cmp);
}

/// As the slice's own `sort_by_key`.
pub fn sort_by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(items, |a, b| key(a).cmp(&key(b)));
}

/// As the slice's own `sort_by`.
pub fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let pair = |a: usize, b: usize| match (items.get(a), items.get(b)) {
        (Some(a), Some(b)) => compare(a, b),
        _ => Ordering::Equal,
    };
    if (1..items.len()).all(|i| pair(i - 1, i) != Ordering::Greater) {
        return;
    }
    let order = order(items.len(), &pair);
    // Places before `i` are done: what belonged at `i` may have been swapped to where one of them came from.
    for i in 0..items.len() {
        let mut from = order.get(i).copied().unwrap_or(i);
        while from < i {
            from = order.get(from).copied().unwrap_or(i);
        }
        items.swap(i, from);
    }
}

/// The indices below `count` in order.
#[inline(never)]
fn order(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| compare(*a, *b));
    order
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_sorts_as_the_library_does(mut items in prop::collection::vec((0u8..6, any::<u16>()), 0..40)) {
            let mut known = items.clone();
            known.sort_by_key(|item| item.0);
            super::sort_by_key(&mut items, |item| item.0);
            prop_assert_eq!(&items, &known, "equal ones keep their order");
            known.sort();
            super::sort(&mut items);
            prop_assert_eq!(items, known);
        }
    }
}
