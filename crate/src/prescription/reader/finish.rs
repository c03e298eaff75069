//! What is worked out once every line is read.

use super::MOST_NOTICES;
use super::Reading;
use crate::language::restraint::Plain;
use crate::language::token::{Cursor, tokens};
use crate::notice::Notice;
use crate::prescription::limit::Purpose;
use crate::prescription::noted;
use crate::prescription::{About, Detail, Prescription, last_day, say};
use crate::text::Place;
use crate::text::fold::fold;

impl Reading {
    /// Sides of limbs that are named by the problem: the one side that the head of the text speaks of, else asked.
    fn take_affected(&mut self) {
        let p = &mut self.p;
        let said = [&p.surgery, &p.injury].into_iter().flatten().flat_map(|happening| {
            let folded = fold(&happening.words);
            let all = tokens(&folded);
            (0..all.len())
                .filter_map(|at| crate::language::anatomy::side(&mut Cursor { all: &all, at }))
                .collect::<Vec<_>>()
        });
        let limits = p.limits.iter().filter(|l| l.purpose == Purpose::Limit).filter_map(|l| l.angle.side);
        let bearing = p.bearing.iter().filter_map(|b| b.side);
        let sides: Vec<crate::body::names::Side> = said.chain(limits).chain(bearing).collect();
        let one = sides.first().copied().filter(|first| sides.iter().all(|s| s == first));
        for (at, line, said) in std::mem::take(&mut self.affected) {
            let Some(exercise) = p.exercises.get_mut(at) else { continue };
            self.notices.push(say::affected(said.place, &said.text, one));
            let detail = Detail { about: About::Cue, said };
            exercise.details.insert(0, detail);
            let before = exercise.written();
            let Some(side) = one else { continue };
            exercise.details.remove(0);
            exercise.side = Some(match side {
                crate::body::names::Side::Left => crate::dose::Sided::Left,
                crate::body::names::Side::Right => crate::dose::Sided::Right,
            });
            if let Some(line) = p.lines.get_mut(line)
                && line.tidy == before
            {
                line.tidy = exercise.written();
            }
        }
    }

    pub(super) fn finish(mut self) -> (Prescription, Vec<Notice>) {
        self.count_days();
        self.take_affected();
        let p = &mut self.p;
        let told = || p.cautions.iter().chain(&p.measures).chain(&p.findings).chain(p.title.iter());
        // One line's words are parted by commas: `caution: pregnant, 19 weeks`.
        let texts: Vec<&str> = told().map(|said| said.text.as_str()).collect();
        p.pregnancy = noted::pregnancy(&texts.join(", "));
        p.pressure = told().find_map(|said| noted::pressure(&said.text));
        let surgery = p.surgery.as_ref().and_then(|s| s.date);
        let injury = p.injury.as_ref().and_then(|s| s.date);
        let (start, review) = (p.start, p.review);
        let mut told: Vec<Place> = Vec::new();
        let mut tell = |end: &Option<crate::dose::End>, place: Place, notices: &mut Vec<Notice>| {
            let end = end.as_ref()?;
            let day = last_day(end, start, surgery, injury, review);
            // A week of the plan may be meant as a week after the operation.
            if let (crate::dose::End::Week(_) | crate::dose::End::For { .. }, Some(day)) = (end, day)
                && let Some(operated) = surgery.filter(|on| Some(*on) != start)
                && let Some(other) = last_day(end, Some(operated), surgery, injury, review)
                && !told.contains(&place)
            {
                notices.push(say::counted_from_start(place, &end.to_string(), day, other));
            }
            if !told.contains(&place) {
                match (day, review) {
                    (None, _) => {
                        told.push(place);
                        notices.push(say::limit_without_clock(place, &end.to_string()));
                    }
                    (Some(day), Some(review)) if day.plus_days(1) < review => {
                        told.push(place);
                        notices.push(say::ends_before_review(place, day));
                    }
                    (Some(_), _) => {}
                }
            }
            day
        };
        for limit in &mut p.limits {
            limit.last_day = tell(&limit.end, limit.place, &mut self.notices);
        }
        for bearing in &mut p.bearing {
            bearing.last_day = tell(&bearing.end, bearing.place, &mut self.notices);
        }
        for stated in p.stated.iter_mut().filter(|stated| stated.kind == Plain::Order) {
            // From when a rule holds is told by its day.
            if let Some((at, day)) = crate::prescription::span::begins(&stated.shown, start, surgery, injury)
            {
                stated.shown.insert_str(at, &format!(" ({})", day.words()));
            }
        }
        for stated in &mut p.stated {
            stated.last_day = tell(&stated.end, stated.said.place, &mut self.notices);
        }
        let told = crate::prescription::span::notices(&self.p, &self.spans);
        self.notices.extend(told);
        crate::sorting::sort_by_key(&mut self.notices, |n| (n.place.line, n.place.start));
        if MOST_NOTICES < self.notices.len() {
            let left_out = self.notices.len() - (MOST_NOTICES - 1);
            // Errors of safety must not fall behind a crowd of advice: the gravest stay.
            let mut order: Vec<usize> = (0..self.notices.len()).collect();
            crate::sorting::sort_by_key(&mut order, |i| self.notices.get(*i).map(Notice::severity));
            order.truncate(MOST_NOTICES - 1);
            crate::sorting::sort(&mut order);
            let kept: Vec<Notice> = order.iter().filter_map(|i| self.notices.get(*i).cloned()).collect();
            self.notices = kept;
            let place = self.notices.last().map_or(Place { line: 1, start: 0, end: 0 }, |n| n.place);
            self.notices.push(say::too_many_notices(place, left_out));
        }
        (self.p, self.notices)
    }
}
