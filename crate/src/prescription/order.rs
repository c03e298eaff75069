//! In which order the dates of a text are written: where one of them can be read one way only (`18/11/26`), the others of
//! the text are read the same way. A date that is settled so is marked in the text as `9Dec26`, in as many bytes as were
//! typed, so that every place stays where it was and the tidy form needs no other date to be read by.

use crate::measure::Date;
use crate::text::lines;

/// What stands first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    DayFirst,
    MonthFirst,
}

/// A date by numbers with its year, as bytes of a line.
struct Found {
    start: usize,
    /// Bytes of the first number, of the second, of the year.
    long: (usize, usize, usize),
    first: u8,
    second: u8,
}

/// The number at a byte and how many digits it has, at most four.
fn number(bytes: &[u8], at: usize) -> Option<(u16, usize)> {
    let digits = || bytes.get(at..).unwrap_or(&[]).iter().take_while(|b| b.is_ascii_digit()).take(5);
    let long = digits().count();
    if !(1..=4).contains(&long) {
        return None;
    }
    let n = digits().fold(0u16, |n, d| n.saturating_mul(10).saturating_add(u16::from(d - b'0')));
    Some((n, long))
}

/// The dates by numbers of a line: two numbers below 32 and a year, with one sign twice.
fn dates(line: &str) -> Vec<Found> {
    let bytes = line.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    // A date begins with a digit.
    while let Some(on) = bytes.get(at..).and_then(|rest| rest.iter().position(u8::is_ascii_digit)) {
        at += on;
        let joined = |b: &u8| b.is_ascii_alphanumeric() || matches!(b, b'/' | b'.' | b'-');
        let begins = !at.checked_sub(1).and_then(|i| bytes.get(i)).is_some_and(joined);
        match begins.then(|| date_at(bytes, at)).flatten() {
            Some(date) => {
                at += date.long.0 + date.long.1 + date.long.2 + 2;
                found.push(date);
            }
            None => at += 1,
        }
    }
    found
}

fn date_at(bytes: &[u8], start: usize) -> Option<Found> {
    let (first, a) = number(bytes, start)?;
    let sign = *bytes.get(start + a).filter(|b| matches!(b, b'/' | b'.' | b'-'))?;
    let (second, b) = number(bytes, start + a + 1)?;
    let again = start + a + 1 + b;
    if bytes.get(again) != Some(&sign) {
        return None;
    }
    let (year, y) = number(bytes, again + 1)?;
    let next = bytes.get(again + 1 + y);
    let ends = !next.is_some_and(|b| b.is_ascii_alphanumeric() || matches!(b, b'/' | b'-'));
    let dated = (2 == y && 10 <= year || 4 == y && (1900..2200).contains(&year)) && a <= 2 && b <= 2;
    let (first, second) = (u8::try_from(first).ok()?, u8::try_from(second).ok()?);
    let days = (1..=31).contains(&first) && (1..=31).contains(&second);
    (ends && dated && days).then_some(Found { start, long: (a, b, y), first, second })
}

/// The order that the certain dates of a text show; None: there is none, or they show both.
pub fn shown(text: &str) -> Option<Order> {
    let mut order = None;
    // No date goes over the end of a line.
    for line in text.split(['\n', '\r']) {
        for date in dates(line) {
            let this = match (date.first <= 12, date.second <= 12) {
                (false, true) => Order::DayFirst,
                (true, false) => Order::MonthFirst,
                _ => continue,
            };
            if order.is_some_and(|order| order != this) {
                return None;
            }
            order = Some(this);
        }
    }
    order
}

/// The text with its dates that may be read either way marked as they are meant, and the order; None: nothing shows it.
pub fn settled(text: &str) -> Option<(String, Order)> {
    let order = shown(text)?;
    let mut out = text.to_string();
    let base = text.as_ptr() as usize;
    for line in lines(text) {
        let from = (line.raw.as_ptr() as usize).checked_sub(base)?;
        for date in dates(line.raw) {
            let (a, b, y) = date.long;
            let unsure = date.first <= 12 && date.second <= 12 && date.first != date.second;
            if !unsure {
                continue;
            }
            let begins = from + date.start;
            let year_from = begins + a + b + 2;
            let (day, month, digits) = match order {
                Order::DayFirst => (out.get(begins..begins + a)?.to_string(), date.second, b),
                Order::MonthFirst => {
                    (out.get(begins + a + 1..begins + a + 1 + b)?.to_string(), date.first, a)
                }
            };
            let name = Date::new(2000, month, 1)?.words();
            let name = name.split(' ').nth(1)?.to_string();
            let year = out.get(year_from..year_from + y)?.to_string();
            let gap = if digits == 2 { " " } else { "" };
            out.replace_range(begins..year_from + y, &format!("{day}{gap}{name}{year}"));
        }
    }
    Some((out, order))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_certain_date_settles_the_others_byte_for_byte() {
        for (typed, meant) in [
            ("TKR 18/11/26\nuntil 9/12/26", "TKR 18/11/26\nuntil 9 Dec26"),
            ("TKR 11/18/26\r\n  until 9/12/26", "TKR 11/18/26\r\n  until 12Sep26"),
            ("until 4/1/27, x 21.12.2026", "until 4Jan27, x 21.12.2026"),
            ("from 04/01/2027; 31/1/27", "from 04 Jan2027; 31/1/27"),
            ("5/5/26 13/5/26", "5/5/26 13/5/26"),
        ] {
            let (settled, _) = settled(typed).expect(typed);
            assert_eq!((settled.as_str(), settled.len()), (meant, typed.len()));
        }
        for typed in
            ["until 9/12/26", "13/1/26 then 1/13/26, 4/1/26", "BP 120/80", "3/4/5", "v1/2/30x", "2026-11-30"]
        {
            assert_eq!(settled(typed), None, "{typed}");
        }
    }
}
