//! Bounded damped least squares: a projected Levenberg-Marquardt method. Knows no bodies.
//!
//! Minimises half the sum of squared rows over unknowns that live on a manifold: [`Problem::moved`]
//! applies a step. Bounds hold exactly at every step. Deterministic: iteration limits, never time limits.

pub mod share;

/// Rows of a least-squares problem at one point: values and their derivatives.
pub struct Rows {
    unknowns: usize,
    /// Value of each row.
    pub values: Vec<f64>,
    /// Derivatives, row after row.
    pub slopes: Vec<f64>,
    /// Rows that read one unknown only: (unknown, value, derivative).
    pub single: Vec<(usize, f64, f64)>,
}

impl Rows {
    pub fn new(unknowns: usize) -> Rows {
        Rows { unknowns, values: Vec::new(), slopes: Vec::new(), single: Vec::new() }
    }

    pub fn clear(&mut self) {
        self.values.clear();
        self.slopes.clear();
        self.single.clear();
    }

    /// Adds a row of that value with no derivatives yet and returns them to be filled.
    pub fn add(&mut self, value: f64) -> &mut [f64] {
        self.values.push(value);
        let start = self.slopes.len();
        self.slopes.resize(start + self.unknowns, 0.0);
        &mut self.slopes[start..]
    }

    /// Half the sum of squares.
    pub fn cost(&self) -> f64 {
        let full: f64 = self.values.iter().map(|v| v * v).sum();
        let single: f64 = self.single.iter().map(|(_, v, _)| v * v).sum();
        0.5 * (full + single)
    }
}

/// A bounded least-squares problem.
pub trait Problem {
    /// A point of the manifold that the unknowns live on.
    type At: Clone;
    /// How many unknowns a step has.
    fn unknowns(&self) -> usize;
    /// Rows at `at`; with `slopes` false the derivatives may be left out.
    fn rows(&self, at: &Self::At, slopes: bool, rows: &mut Rows);
    /// `at` moved by `step`.
    fn moved(&self, at: &Self::At, step: &[f64]) -> Self::At;
    /// How far unknown `i` may still go down and up from `at`.
    fn room(&self, at: &Self::At, i: usize) -> (f64, f64);
}

/// When to stop.
#[derive(Clone, Copy, Debug)]
pub struct Effort {
    pub steps: usize,
    /// Stop when the model promises to lower the cost by less than this share of it (plus 1e-9).
    pub promise: f64,
    /// How warily the first step goes, a share of each unknown's own stiffness: 0 goes where the model falls to at once.
    pub caution: f64,
}

/// How a solve ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ended {
    pub cost: f64,
    /// Steps taken (0: the start was already an answer).
    pub steps: usize,
    pub converged: bool,
}

/// Lowers the cost from `at` until no step promises anything more, or the effort is spent.
///
/// Doing no harm: started at an answer it converged to, it takes no step, since the same test that
/// ended the first solve ends the second before its first step.
pub fn minimise<P: Problem>(problem: &P, at: &mut P::At, effort: Effort) -> Ended {
    let n = problem.unknowns();
    let mut rows = Rows::new(n);
    let mut trial = Rows::new(n);
    problem.rows(at, true, &mut rows);
    let mut cost = rows.cost();
    let mut normal = vec![0.0; n * n];
    let mut factor = vec![0.0; n * n];
    let mut slope = vec![0.0; n];
    let mut step = vec![0.0; n];
    let mut free: Vec<usize> = Vec::with_capacity(n);
    let mut damping = effort.caution.max(LEAST_DAMPING);
    let mut growth = GROWTH;
    let mut taken = 0;
    normal_equations(&rows, &mut normal, &mut slope);
    while taken < effort.steps {
        // An unknown that stands at a bound and is pushed against it is left out.
        free.clear();
        for i in 0..n {
            let (down, up) = problem.room(at, i);
            let held = (down <= 0.0 && 0.0 < slope[i]) || (up <= 0.0 && slope[i] < 0.0);
            if !held {
                free.push(i);
            }
        }
        let enough = effort.promise * cost + 1e-9;
        let mut moved_on = false;
        let mut asked_undamped = false;
        for _ in 0..14 {
            let mut promise =
                bounded_step(problem, at, &normal, &slope, &free, damping, &mut factor, &mut step);
            if !asked_undamped && promise.is_some_and(|p| p <= enough) {
                // What an undamped step promises decides whether to stop; it does not depend on the
                // damping that happens to be left over, so an answer stays an answer. A damped step never
                // promises more, so this needs looking at only here, and once.
                let whole = bounded_step(problem, at, &normal, &slope, &free, 1e-9, &mut factor, &mut step);
                if whole.is_some_and(|p| p <= enough) {
                    return Ended { cost, steps: taken, converged: true };
                }
                asked_undamped = true;
                promise = bounded_step(problem, at, &normal, &slope, &free, damping, &mut factor, &mut step);
            }
            let Some(promise) = promise else {
                damping *= growth;
                growth *= 2.0;
                continue;
            };
            let next = problem.moved(at, &step);
            problem.rows(&next, false, &mut trial);
            let next_cost = trial.cost();
            let gain = (cost - next_cost) / promise.max(1e-300);
            if next_cost < cost && next_cost.is_finite() {
                *at = next;
                // Nielsen's rule, bolder on the way down.
                let t = 2.0 * gain.min(1.5) - 1.0;
                damping = (damping * (1.0 - t * t * t).max(0.1)).max(LEAST_DAMPING);
                growth = GROWTH;
                moved_on = true;
                break;
            }
            damping *= growth;
            growth *= GROWTH;
        }
        if !moved_on {
            // No step helps, though one was promised.
            return Ended { cost, steps: taken, converged: false };
        }
        taken += 1;
        problem.rows(at, true, &mut rows);
        cost = rows.cost();
        normal_equations(&rows, &mut normal, &mut slope);
    }
    Ended { cost, steps: taken, converged: false }
}

/// Damping is relative to the diagonal, where a stiff contact stands beside a soft wish: it starts low,
/// or the soft ones would creep.
const LEAST_DAMPING: f64 = 1e-8;
const GROWTH: f64 = 4.0;

/// `normal` = JᵀJ (lower triangle), `slope` = Jᵀr.
fn normal_equations(rows: &Rows, normal: &mut [f64], slope: &mut [f64]) {
    let n = rows.unknowns;
    normal.fill(0.0);
    slope.fill(0.0);
    let mut filled: Vec<usize> = Vec::with_capacity(n);
    for (value, derivatives) in rows.values.iter().zip(rows.slopes.chunks_exact(n)) {
        filled.clear();
        filled.extend((0..n).filter(|&i| derivatives[i] != 0.0));
        for (k, &i) in filled.iter().enumerate() {
            let di = derivatives[i];
            slope[i] += di * value;
            let row = &mut normal[i * n..i * n + i + 1];
            for &j in &filled[..=k] {
                row[j] += di * derivatives[j];
            }
        }
    }
    for &(i, value, derivative) in &rows.single {
        slope[i] += derivative * value;
        normal[i * n + i] += derivative * derivative;
    }
}

/// Solves (JᵀJ + damping · diag) step = −Jᵀr on the free unknowns by Cholesky; false if it can't.
fn solve_step(
    normal: &[f64],
    slope: &[f64],
    free: &[usize],
    damping: f64,
    n: usize,
    factor: &mut [f64],
    step: &mut [f64],
) -> bool {
    step.fill(0.0);
    let m = free.len();
    for a in 0..m {
        let ia = free[a];
        for b in 0..=a {
            factor[a * m + b] = normal[ia * n + free[b]];
        }
        let d = normal[ia * n + ia];
        factor[a * m + a] = d + damping * (d + 1e-3);
    }
    for a in 0..m {
        let (above, below) = factor.split_at_mut(a * m);
        let row_a = &mut below[..=a];
        for b in 0..a {
            let row_b = &above[b * m..=b * m + b];
            row_a[b] = (row_a[b] - dot(&row_a[..b], &row_b[..b])) / row_b[b];
        }
        let value = row_a[a] - dot(&row_a[..a], &row_a[..a]);
        if value <= 0.0 || !value.is_finite() {
            return false;
        }
        row_a[a] = value.sqrt();
    }
    let mut y = vec![0.0; m];
    for a in 0..m {
        let known = dot(&factor[a * m..a * m + a], &y[..a]);
        y[a] = (-slope[free[a]] - known) / factor[a * m + a];
    }
    for a in (0..m).rev() {
        y[a] /= factor[a * m + a];
        let (rest, last) = y.split_at_mut(a);
        for (r, f) in rest.iter_mut().zip(&factor[a * m..a * m + a]) {
            *r -= f * last[0];
        }
    }
    for a in 0..m {
        step[free[a]] = y[a];
    }
    true
}

/// Four sums side by side: the same order everywhere, and room for the machine to do them at once.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (ca, cb) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = ca.remainder().iter().zip(cb.remainder()).map(|(x, y)| x * y).sum();
    for (x, y) in ca.zip(cb) {
        for k in 0..4 {
            sums[k] += x[k] * y[k];
        }
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

/// The damped step with every unknown kept within its room: from the start towards the model's lowest
/// point until a bound is met, then on along it among the others. The model falls all the way, so the
/// promise is never negative. `None` if the equations can't be solved.
#[expect(clippy::too_many_arguments, reason = "scratch space is handed down so that no step allocates it")]
fn bounded_step<P: Problem>(
    problem: &P,
    at: &P::At,
    normal: &[f64],
    slope: &[f64],
    free: &[usize],
    damping: f64,
    factor: &mut [f64],
    step: &mut [f64],
) -> Option<f64> {
    let n = slope.len();
    let mut open = free.to_vec();
    let mut sum = vec![0.0; n];
    let mut pull = slope.to_vec();
    // Each pass but the last meets at least one bound; past the cap what is left is left for the next step.
    for _ in 0..MOST_BOUNDS {
        if !solve_step(normal, &pull, &open, damping, n, factor, step) {
            return None;
        }
        let part = |i: usize| {
            let (down, up) = problem.room(at, i);
            let room = if step[i] < 0.0 { down + sum[i] } else { up - sum[i] };
            if room < step[i].abs() { room.max(0.0) / step[i].abs() } else { f64::INFINITY }
        };
        let share = open.iter().map(|&i| part(i)).fold(1.0, f64::min);
        // Only what meets its bound now stays there: what others would meet later may never come to pass.
        let met: Vec<usize> = open.iter().copied().filter(|&i| part(i) <= share * (1.0 + 1e-12)).collect();
        for &i in &open {
            sum[i] += share * step[i];
        }
        if met.is_empty() {
            break;
        }
        open.retain(|i| !met.contains(i));
        // The slope of the damped model where we are now.
        pull.copy_from_slice(slope);
        for i in 0..n {
            if sum[i] == 0.0 {
                continue;
            }
            pull[i] += damping * (normal[i * n + i] + 1e-3) * sum[i];
            for j in 0..n {
                let (a, b) = if j < i { (i, j) } else { (j, i) };
                pull[j] += normal[a * n + b] * sum[i];
            }
        }
    }
    step.copy_from_slice(&sum);
    Some(promised(normal, slope, step, free, n))
}

/// Bounds met within one step before the rest is left to the next.
const MOST_BOUNDS: usize = 40;

/// How much the quadratic model says `step` lowers the cost.
fn promised(normal: &[f64], slope: &[f64], step: &[f64], free: &[usize], n: usize) -> f64 {
    let mut first = 0.0;
    let mut second = 0.0;
    for (k, &i) in free.iter().enumerate() {
        first += slope[i] * step[i];
        let mut s = 0.5 * normal[i * n + i] * step[i];
        for &j in &free[..k] {
            s += normal[i * n + j] * step[j];
        }
        second += s * step[i];
    }
    -first - second
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rosenbrock's valley, with bounds.
    struct Valley {
        low: [f64; 2],
        high: [f64; 2],
    }

    impl Problem for Valley {
        type At = [f64; 2];
        fn unknowns(&self) -> usize {
            2
        }
        fn rows(&self, at: &[f64; 2], _slopes: bool, rows: &mut Rows) {
            rows.clear();
            let [x, y] = *at;
            let d = rows.add(10.0 * (y - x * x));
            d[0] = -20.0 * x;
            d[1] = 10.0;
            rows.single.push((0, 1.0 - x, -1.0));
        }
        fn moved(&self, at: &[f64; 2], step: &[f64]) -> [f64; 2] {
            [at[0] + step[0], at[1] + step[1]]
        }
        fn room(&self, at: &[f64; 2], i: usize) -> (f64, f64) {
            (at[i] - self.low[i], self.high[i] - at[i])
        }
    }

    const EFFORT: Effort = Effort { steps: 100, promise: 1e-12, caution: 0.0 };

    #[test]
    fn finds_the_bottom_of_a_curved_valley_and_stays_there() {
        let p = Valley { low: [-9.0, -9.0], high: [9.0, 9.0] };
        let mut at = [-1.2, 1.0];
        let ended = minimise(&p, &mut at, EFFORT);
        assert!(ended.converged);
        assert!((at[0] - 1.0).abs() < 1e-4 && (at[1] - 1.0).abs() < 1e-4, "{at:?}");
        let before = at;
        assert_eq!(minimise(&p, &mut at, EFFORT).steps, 0);
        assert_eq!(at, before);
    }

    #[test]
    fn holds_its_bounds() {
        // With x at most 0.5 the lowest point is (0.5, 0.25): the second row vanishes on y = x².
        let p = Valley { low: [-9.0, -9.0], high: [0.5, 9.0] };
        let mut at = [-1.2, 1.0];
        assert!(minimise(&p, &mut at, EFFORT).converged);
        assert!((at[0] - 0.5).abs() < 1e-9 && (at[1] - 0.25).abs() < 1e-5, "{at:?}");
    }
}
