//! A small convex problem: pushes that must balance, none of them negative, with the least effort.

/// How far apart balance may be pulled to save effort; far below what anything is measured to.
const SLACK: f64 = 1e-8;

/// Non-negative `f` that lowers ½ fᵀHf + gᵀf under A f = b as far as it can be met: what is left of A f − b
/// counts with its square over twice [`SLACK`].
///
/// `effort` is H, row after row, symmetric and positive definite; `pull` is g; `balance` holds A column by column,
/// `wanted` is b. The answer is the only one, since H is definite.
///
/// Lawson and Hanson's active set (*Solving Least Squares Problems*, 1974, chapter 23: from memory), with the balance
/// eliminated by its own small system instead of a heavy weight, which keeps the arithmetic sound.
pub fn least<const K: usize>(
    effort: &[f64],
    pull: &[f64],
    balance: &[[f64; K]],
    wanted: &[f64; K],
) -> Vec<f64> {
    let n = balance.len();
    let mut f = vec![0.0; n];
    // Those that may push, and those that were just found not to help after all.
    let mut pushing: Vec<usize> = Vec::new();
    let mut refused = vec![false; n];
    let Some(mut held) = held(&pushing, effort, pull, balance, wanted) else { return f };
    for _ in 0..10 * n + 10 {
        // The one that promises most is let push.
        let mut best: Option<(usize, f64)> = None;
        for i in (0..n).filter(|i| !refused[*i] && !pushing.contains(i)) {
            let mut gain = -pull[i];
            let mut size = 1.0;
            for k in 0..K {
                gain += balance[i][k] * held.price[k];
                size += (balance[i][k] * held.price[k]).abs();
            }
            for (j, &other) in pushing.iter().enumerate() {
                gain -= effort[i * n + other] * held.push[j];
            }
            if 1e-10 * size < gain && best.is_none_or(|(_, most)| most < gain) {
                best = Some((i, gain));
            }
        }
        let Some((next, _)) = best else { break };
        let mut trial = pushing.clone();
        trial.push(next);
        let Some(mut now) = self::held(&trial, effort, pull, balance, wanted) else { break };
        if now.push.last().is_none_or(|p| *p <= 0.0) {
            refused[next] = true;
            continue;
        }
        refused.fill(false);
        // Back towards the last answer until none pulls.
        loop {
            let mut share: f64 = 1.0;
            for (j, &i) in trial.iter().enumerate() {
                if now.push[j] <= 0.0 {
                    share = share.min(f[i] / (f[i] - now.push[j]));
                }
            }
            for (j, &i) in trial.iter().enumerate() {
                f[i] += share * (now.push[j] - f[i]);
            }
            if share == 1.0 {
                break;
            }
            let before = trial.len();
            trial.retain(|&i| 1e-14 < f[i]);
            for i in 0..n {
                if !trial.contains(&i) {
                    f[i] = 0.0;
                }
            }
            match self::held(&trial, effort, pull, balance, wanted) {
                Some(again) if trial.len() < before => now = again,
                _ => return f,
            }
        }
        pushing = trial;
        held = now;
    }
    f
}

/// The answer when just these push, whatever their sign, and what each kind of balance then costs.
struct Held<const K: usize> {
    push: Vec<f64>,
    price: [f64; K],
}

fn held<const K: usize>(
    pushing: &[usize],
    effort: &[f64],
    pull: &[f64],
    balance: &[[f64; K]],
    wanted: &[f64; K],
) -> Option<Held<K>> {
    let (n, m) = (balance.len(), pushing.len());
    let h: Vec<f64> = pushing.iter().flat_map(|i| pushing.iter().map(move |j| effort[i * n + j])).collect();
    let h = factored(h, m)?;
    let pulls: Vec<f64> = pushing.iter().map(|i| pull[*i]).collect();
    let pulls = solved(&h, m, pulls);
    let columns: Vec<Vec<f64>> =
        (0..K).map(|k| solved(&h, m, pushing.iter().map(|i| balance[*i][k]).collect())).collect();
    let dot = |k: usize, v: &[f64]| -> f64 { pushing.iter().zip(v).map(|(i, x)| balance[*i][k] * x).sum() };
    let mut s = vec![0.0; K * K];
    let mut right = wanted.to_vec();
    for k in 0..K {
        for l in 0..K {
            s[k * K + l] = dot(k, &columns[l]);
        }
        s[k * K + k] += SLACK;
        right[k] += dot(k, &pulls);
    }
    let s = factored(s, K)?;
    let found = solved(&s, K, right);
    let mut price = [0.0; K];
    price.copy_from_slice(&found);
    let mut push: Vec<f64> = pulls.iter().map(|p| -p).collect();
    for (k, column) in columns.iter().enumerate() {
        for (p, c) in push.iter_mut().zip(column) {
            *p += c * price[k];
        }
    }
    Some(Held { push, price })
}

/// Cholesky's factor of a symmetric positive definite matrix, `None` if it isn't one.
fn factored(mut a: Vec<f64>, n: usize) -> Option<Vec<f64>> {
    for i in 0..n {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| a[i * n + k] * a[j * n + k]).sum();
            let left = a[i * n + j] - known;
            if i != j {
                a[i * n + j] = left / a[j * n + j];
            } else if 0.0 < left && left.is_finite() {
                a[i * n + i] = left.sqrt();
            } else {
                return None;
            }
        }
    }
    Some(a)
}

fn solved(factor: &[f64], n: usize, mut v: Vec<f64>) -> Vec<f64> {
    for i in 0..n {
        let known: f64 = (0..i).map(|k| factor[i * n + k] * v[k]).sum();
        v[i] = (v[i] - known) / factor[i * n + i];
    }
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|k| factor[k * n + i] * v[k]).sum();
        v[i] = (v[i] - known) / factor[i * n + i];
    }
    v
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A beam on supports at these places, loaded with 1 at `load`.
    fn beam(places: &[f64], load: f64) -> Vec<f64> {
        let n = places.len();
        let mut effort = vec![0.0; n * n];
        for i in 0..n {
            effort[i * n + i] = 1.0;
        }
        let balance: Vec<[f64; 2]> = places.iter().map(|x| [1.0, *x]).collect();
        least(&effort, &vec![0.0; n], &balance, &[1.0, load])
    }

    fn close(got: &[f64], want: &[f64]) {
        assert!(got.iter().zip(want).all(|(g, w)| (g - w).abs() < 1e-6), "{got:?} is not {want:?}");
    }

    #[test]
    fn two_supports_carry_by_the_lever() {
        close(&beam(&[0.0, 1.0], 0.25), &[0.75, 0.25]);
    }

    #[test]
    fn what_is_free_is_shared_evenly() {
        close(&beam(&[-1.0, 0.0, 1.0], 0.0), &[1.0 / 3.0; 3]);
    }

    #[test]
    fn none_pulls() {
        // By least norm alone the far support would pull: 5/6, 1/3, −1/6.
        close(&beam(&[0.0, 1.0, 2.0], 0.0), &[1.0, 0.0, 0.0]);
        // Off the beam's end nothing balances; the nearest comes nearest.
        let f = beam(&[0.0, 1.0], 3.0);
        assert_eq!(f[0], 0.0);
        // Least squares of (f − 1, f − 3).
        assert!((f[1] - 2.0).abs() < 1e-6, "{f:?}");
    }
}
