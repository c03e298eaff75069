//! Path data in whole units, as short as it can be written: relative commands, no needless spaces.

/// A pen that writes path data. Coordinates are page units, x to the right, y down; they are rounded
/// to whole units, and rounding errors don't add up along the path.
///
/// ```
/// use layfigure::markup::path::Path;
/// let mut p = Path::new();
/// p.start(10.2, 20.0).line(15.0, 18.4).arc(4.0, false, true, 15.0, 26.0).close();
/// assert_eq!(p.data(), "M10 20l5-2a4 4 0 010 8z");
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    data: String,
    x: i32,
    y: i32,
    /// Where the open part began: closing goes back to it.
    from: (i32, i32),
    last: char,
    /// Lowest and highest coordinates that were written, curves' handles included.
    low: (i32, i32),
    high: (i32, i32),
}

impl Default for Path {
    fn default() -> Path {
        Path::new()
    }
}

/// Beyond this a page unit is nonsense; it keeps every number finite and short.
const FAR: f64 = 99_999.0;

fn whole(v: f64) -> i32 {
    if v.is_finite() { v.clamp(-FAR, FAR).round() as i32 } else { 0 }
}

impl Path {
    pub fn new() -> Path {
        Path {
            data: String::new(),
            x: 0,
            y: 0,
            from: (0, 0),
            last: ' ',
            low: (i32::MAX, i32::MAX),
            high: (i32::MIN, i32::MIN),
        }
    }

    pub fn is_empty(&self) -> bool {
        self.data.is_empty()
    }

    pub fn data(&self) -> &str {
        &self.data
    }

    /// The lowest and highest x and y written, `None` where nothing was.
    pub fn bounds(&self) -> Option<((i32, i32), (i32, i32))> {
        (self.low.0 <= self.high.0).then_some((self.low, self.high))
    }

    fn command(&mut self, letter: char) {
        // A repeated command's letter may be left out; after M comes an implicit l only in lower case.
        if self.last != letter || letter == 'M' {
            self.data.push(letter);
            self.last = letter;
        }
    }

    fn number(&mut self, n: i32) {
        if 0 <= n && self.data.ends_with(|c: char| c.is_ascii_digit()) {
            self.data.push(' ');
        }
        self.data.push_str(&n.to_string());
    }

    fn seen(&mut self, x: i32, y: i32) {
        self.low = (self.low.0.min(x), self.low.1.min(y));
        self.high = (self.high.0.max(x), self.high.1.max(y));
    }

    fn go(&mut self, x: i32, y: i32) {
        (self.x, self.y) = (x, y);
        self.seen(x, y);
    }

    pub fn start(&mut self, x: f64, y: f64) -> &mut Path {
        let (x, y) = (whole(x), whole(y));
        if self.data.is_empty() {
            self.command('M');
            self.number(x);
            self.number(y);
        } else {
            self.command('m');
            self.number(x - self.x);
            self.number(y - self.y);
        }
        self.last = 'm';
        self.go(x, y);
        self.from = (x, y);
        self
    }

    pub fn line(&mut self, x: f64, y: f64) -> &mut Path {
        let (x, y) = (whole(x), whole(y));
        let (dx, dy) = (x - self.x, y - self.y);
        if dx == 0 && dy == 0 {
            return self;
        }
        if dy == 0 {
            self.command('h');
            self.number(dx);
        } else if dx == 0 {
            self.command('v');
            self.number(dy);
        } else {
            self.command('l');
            self.number(dx);
            self.number(dy);
        }
        self.go(x, y);
        self
    }

    /// A circular arc to (x, y); `clockwise` as it looks on the page.
    pub fn arc(&mut self, radius: f64, large: bool, clockwise: bool, x: f64, y: f64) -> &mut Path {
        let (x, y, r) = (whole(x), whole(y), whole(radius).max(1));
        if x == self.x && y == self.y {
            return self;
        }
        self.command('a');
        self.number(r);
        self.number(r);
        self.number(0);
        self.number(i32::from(large));
        // A flag is one digit, so what follows needs no space.
        self.data.push(if clockwise { '1' } else { '0' });
        self.data.push_str(&(x - self.x).to_string());
        self.number(y - self.y);
        self.go(x, y);
        self
    }

    /// A quadratic curve to (x, y) by way of a handle.
    pub fn curve(&mut self, handle: (f64, f64), x: f64, y: f64) -> &mut Path {
        let (hx, hy, x, y) = (whole(handle.0), whole(handle.1), whole(x), whole(y));
        self.command('q');
        for n in [hx - self.x, hy - self.y, x - self.x, y - self.y] {
            self.number(n);
        }
        self.seen(hx, hy);
        self.go(x, y);
        self
    }

    pub fn close(&mut self) -> &mut Path {
        self.data.push('z');
        self.last = 'z';
        (self.x, self.y) = self.from;
        self
    }

    /// A whole circle.
    pub fn circle(&mut self, x: f64, y: f64, radius: f64) -> &mut Path {
        let r = f64::from(whole(radius).max(1));
        self.start(x - r, y).arc(r, false, true, x + r, y).arc(r, false, true, x - r, y).close();
        self.seen(whole(x), whole(y - r));
        self.seen(whole(x), whole(y + r));
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_part_starts_from_where_the_last_one_closed() {
        let mut p = Path::new();
        p.start(5.0, 5.0).line(9.0, 5.0).line(9.0, 9.0).close().start(0.0, 0.0).line(-3.0, 4.0);
        assert_eq!(p.data(), "M5 5h4v4zm-5-5l-3 4");
        assert_eq!(p.bounds(), Some(((-3, 0), (9, 9))));
    }

    #[test]
    fn no_number_is_ever_anything_but_a_number() {
        let mut p = Path::new();
        p.start(f64::NAN, f64::INFINITY).line(1e300, 2.0);
        assert_eq!(p.data(), "M0 0l99999 2");
    }

    #[test]
    fn rounding_does_not_add_up() {
        let mut p = Path::new();
        p.start(0.0, 0.0);
        for i in 1..=100 {
            p.line(f64::from(i) * 1.4, 0.0);
        }
        assert_eq!(p.bounds(), Some(((0, 0), (140, 0))));
    }
}
