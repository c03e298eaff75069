//! `layfigure residuals [--body KIND] [--stature CM]`: serves the settling of every key pose of the catalog over a pipe,
//! so that another solver can be set on it.
//!
//! First comes a line of JSON: for each pose its name and number of unknowns. Then each question is three whole numbers
//! (32 bits, low byte first), the pose's number, where the turn of the pelvis is counted from (0 the cold start, 1 our answer)
//! and what is asked, followed by the unknowns (64-bit floats, low byte first) where they are needed. Each answer is two
//! whole numbers, rows and columns, and so many floats, row after row.
//!
//! | asked | needs | answer |
//! | --- | --- | --- |
//! | 0 | | lowest, highest, cold start, our answer: four rows of the unknowns |
//! | 1 | unknowns | the rows' values: one row |
//! | 2 | unknowns | the rows' derivatives by the unknowns |
//! | 3 | | solved once more from the cold start: half the sum of squares, and the seconds it took |
//!
//! Unknowns: the pelvis' place (3, metres), its turn as a rotation vector before the turn that it is counted from (3, radians),
//! joint coordinates (radians), places of what stands about (3 each, metres), shares of the weight. Rows that hold
//! nothing back just now (a muscle not at its length, skin not in the floor) are left out, so their number changes from
//! point to point; values and derivatives at one point belong together.

use super::{Fault, Given};
use crate::body::dof::{COUNT, Dof};
use crate::body::range::Limits;
use crate::catalog::Catalog;
use crate::measure::radians;
use crate::pose::problem::{At, JOINTS, LEAST_SHARE, REST, Settling, TURN};
use crate::pose::settle::{self, Posed};
use crate::solve::{Problem, Rows};
use crate::space::{Rotation, Vec3, turning_axis, v3};
use std::io::{Read, Write};

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["body", "stature"])?;
    let body = given.body();
    let mut posed: Vec<(String, Posed)> = Vec::new();
    for exercise in Catalog::embedded().exercises() {
        for p in settle::problems(&body, &exercise.poses, &Limits::none()) {
            posed.push((format!("{} {}", exercise.id, p.name), p));
        }
    }
    serve(&posed).map_err(|fault| Fault::Outside(format!("The pipe broke: {fault}")))?;
    Ok(String::new())
}

fn serve(posed: &[(String, Posed)]) -> std::io::Result<()> {
    let (mut ask, mut tell) = (std::io::stdin().lock(), std::io::stdout().lock());
    let listed: Vec<serde_json::Value> = posed
        .iter()
        .map(|(name, p)| {
            serde_json::json!({"name": name, "unknowns": p.settling().unknowns(), "converged": p.converged()})
        })
        .collect();
    writeln!(tell, "{}", serde_json::Value::from(listed))?;
    tell.flush()?;
    loop {
        let mut head = [0; 12];
        match ask.read_exact(&mut head) {
            Err(fault) if fault.kind() == std::io::ErrorKind::UnexpectedEof => return Ok(()),
            done => done?,
        }
        let [pose, from, asked] =
            [0, 4, 8].map(|i| u32::from_le_bytes([head[i], head[i + 1], head[i + 2], head[i + 3]]));
        let Some((_, p)) = posed.get(pose as usize) else {
            return Err(std::io::Error::other(format!("there is no pose {pose}")));
        };
        let chart = Chart { settling: p.settling(), from: if from == 0 { p.start() } else { p.answer() } };
        let mut unknowns = || -> std::io::Result<Vec<f64>> {
            let mut bytes = vec![0; 8 * chart.settling.unknowns()];
            ask.read_exact(&mut bytes)?;
            let mut x = Vec::with_capacity(chart.settling.unknowns());
            for b in bytes.chunks_exact(8) {
                x.push(f64::from_le_bytes([b[0], b[1], b[2], b[3], b[4], b[5], b[6], b[7]]));
            }
            Ok(x)
        };
        let (columns, values) = match asked {
            0 => (chart.settling.unknowns(), chart.ends(p)),
            1 => {
                let values = chart.values(&unknowns()?);
                (values.len(), values)
            }
            2 => (chart.settling.unknowns(), chart.slopes(&unknowns()?)),
            3 => (2, again(p)),
            other => return Err(std::io::Error::other(format!("nothing is asked by {other}"))),
        };
        let rows = values.len() / columns.max(1);
        let mut bytes = Vec::with_capacity(8 + 8 * values.len());
        bytes.extend((rows as u32).to_le_bytes());
        bytes.extend((columns as u32).to_le_bytes());
        bytes.extend(values.iter().flat_map(|v| v.to_le_bytes()));
        tell.write_all(&bytes)?;
        tell.flush()?;
    }
}

/// The unknowns as plain numbers, the turn counted from that of `from`.
struct Chart<'a> {
    settling: &'a Settling,
    from: &'a At,
}

impl Chart<'_> {
    fn at(&self, x: &[f64]) -> At {
        let mut x = x.iter().copied();
        let mut next = || x.next().unwrap_or(0.0);
        let mut vector = || v3(next(), next(), next());
        let mut at = self.from.clone();
        at.state.root = vector();
        at.state.turn = Rotation::exp(vector()) * self.from.state.turn;
        for angle in &mut at.state.angles {
            *angle = next();
        }
        for place in &mut at.rolling {
            *place = v3(next(), next(), next());
        }
        for share in &mut at.shares {
            *share = next();
        }
        at
    }

    fn of(&self, at: &At) -> Vec<f64> {
        let turned = (at.state.turn * self.from.state.turn.inverse()).log();
        let mut x = vec![at.state.root.x, at.state.root.y, at.state.root.z, turned.x, turned.y, turned.z];
        x.extend(at.state.angles);
        x.extend(at.rolling.iter().flat_map(|p| [p.x, p.y, p.z]));
        x.extend(&at.shares);
        x
    }

    fn ends(&self, p: &Posed) -> Vec<f64> {
        let (mut low, mut high) = (vec![f64::NEG_INFINITY; JOINTS], vec![f64::INFINITY; JOINTS]);
        for i in 0..COUNT {
            let b = self.settling.limits.bounds(Dof(i));
            low.push(radians(b.low));
            high.push(radians(b.high));
        }
        low.resize(REST + 3 * self.settling.rolling, f64::NEG_INFINITY);
        high.resize(REST + 3 * self.settling.rolling, f64::INFINITY);
        low.resize(self.settling.unknowns(), LEAST_SHARE);
        high.resize(self.settling.unknowns(), 1.0);
        [low, high, self.of(p.start()), self.of(p.answer())].concat()
    }

    fn values(&self, x: &[f64]) -> Vec<f64> {
        let mut rows = Rows::new(self.settling.unknowns());
        self.settling.rows(&self.at(x), false, &mut rows);
        rows.values.iter().copied().chain(rows.single.iter().map(|(_, value, _)| *value)).collect()
    }

    fn slopes(&self, x: &[f64]) -> Vec<f64> {
        let n = self.settling.unknowns();
        let mut rows = Rows::new(n);
        self.settling.rows(&self.at(x), true, &mut rows);
        let mut slopes = rows.slopes;
        for (i, _, derivative) in &rows.single {
            let start = slopes.len();
            slopes.resize(start + n, 0.0);
            slopes[start + i] = *derivative;
        }
        // The settling turns by small steps from where it is; the rotation vector turns less or otherwise the longer it is.
        let turned = v3(x[TURN], x[TURN + 1], x[TURN + 2]);
        let axes = [Vec3::X, Vec3::Y, Vec3::Z].map(|e| turning_axis(turned, e));
        for row in slopes.chunks_exact_mut(n) {
            let by_step = v3(row[TURN], row[TURN + 1], row[TURN + 2]);
            for (k, axis) in axes.iter().enumerate() {
                row[TURN + k] = by_step.dot(*axis);
            }
        }
        slopes
    }
}

fn again(p: &Posed) -> Vec<f64> {
    let start = std::time::Instant::now();
    let at = std::hint::black_box(p.solve());
    let seconds = start.elapsed().as_secs_f64();
    let mut rows = Rows::new(p.settling().unknowns());
    p.settling().rows(&at, false, &mut rows);
    vec![rows.cost(), seconds]
}
