//! What is worked out once every line is read.

use super::MOST_NOTICES;
use super::Reading;
use crate::dose::{End, Event};
use crate::language::restraint::Plain;
use crate::language::token::{Cursor, tokens};
use crate::notice::Notice;
use crate::notice::kinds::prescription::Lacks;
use crate::prescription::day::Day;
use crate::prescription::limit::Purpose;
use crate::prescription::noted;
use crate::prescription::operated;
use crate::prescription::{About, Detail, Happening, Prescription, Said, last_held, say};
use crate::text::Place;
use crate::text::fold::fold;

/// Why an end has no last day.
fn lacks(end: &End, unsure: bool) -> Lacks {
    use crate::dose::find::span::{Day as Found, day_in};
    match end {
        End::For { .. } | End::Months(_) => Lacks::Clock,
        End::Week(_) => Lacks::Start,
        End::After { event: Event::Surgery, .. } if unsure => Lacks::SureSurgery,
        End::After { event: Event::Surgery, .. } => Lacks::Surgery,
        End::After { event: Event::Injury, .. } => Lacks::Injury,
        End::Review => Lacks::Review,
        End::Yearless(_) => Lacks::Year,
        End::Date(_) => Lacks::SureDay,
        End::Words(words) => match day_in(words) {
            Some(Found::Yearless(_)) => Lacks::Year,
            Some(Found::Date(_) | Found::EitherWay) => Lacks::SureDay,
            None => Lacks::From,
        },
    }
}

impl Reading {
    /// The day of an operation that stands within a restriction or a rule: `(op 20/11/26)`.
    fn take_operation(&mut self) {
        use crate::dose::find::span::Day as Found;
        let p = &mut self.p;
        if p.surgery.as_ref().is_some_and(|s| s.date.is_some()) {
            return;
        }
        let said = p.stated.iter().map(|stated| &stated.said);
        let beside = p.exercises.iter().flat_map(|x| x.details.iter().map(|detail| &detail.said));
        let words = p.exercises.iter().flat_map(|x| {
            let place = x.dose_place;
            x.dose.words.iter().map(move |words| Said { text: words.clone(), place })
        });
        let words: Vec<Said> = words.collect();
        for said in said.chain(beside).chain(&words) {
            let folded = fold(&said.text);
            let date = match operated::day_within(&tokens(&folded)) {
                Some(Found::Date(date)) => Some(date),
                Some(Found::Yearless(day)) => Day::yearless(day).last(p.start).ok(),
                Some(Found::EitherWay) | None => None,
            };
            self.unsure_operation |= date.is_none() && operated::day_within(&tokens(&folded)).is_some();
            if date.is_some() {
                let words = p.surgery.as_ref().map_or(String::new(), |s| s.words.clone());
                p.surgery = Some(Happening { date, words, place: said.place });
                self.unsure_operation = false;
                return;
            }
        }
    }

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
        self.take_operation();
        self.take_conditions();
        let p = &mut self.p;
        let told = || p.cautions.iter().chain(&p.measures).chain(&p.findings).chain(p.title.iter());
        // One line's words are parted by commas: `caution: pregnant, 19 weeks`.
        let texts: Vec<&str> = told().map(|said| said.text.as_str()).collect();
        p.pregnancy = noted::pregnancy(&texts.join(", "));
        p.pressure = told().find_map(|said| noted::pressure(&said.text));
        p.scored_pain = p.measures.iter().chain(&p.findings).find_map(noted::pain_score);
        let surgery = p.surgery.as_ref().and_then(|s| s.date);
        let injury = p.injury.as_ref().and_then(|s| s.date);
        let (start, review) = (p.start, p.review);
        let unsure = self.unsure_operation;
        let mut told: Vec<Place> = Vec::new();
        let mut tell = |end: &Option<crate::dose::End>, place: Place, notices: &mut Vec<Notice>| {
            let end = end.as_ref()?;
            let day = last_held(end, start, surgery, injury, review);
            let lasts = matches!(end, End::For { .. } | End::Months(_));
            if let (true, None, Some(day)) = (lasts, start, day)
                && !told.contains(&place)
            {
                notices.push(say::counted_from_surgery(place, &end.to_string(), day));
            }
            // A week of the plan may be meant as a week after the operation.
            if let (true, Some(day)) = (lasts || matches!(end, End::Week(_)), day)
                && start.is_some()
                && let Some(operated) = surgery.filter(|on| Some(*on) != start)
                && let Some(other) = last_held(end, Some(operated), surgery, injury, review)
                && !told.contains(&place)
            {
                notices.push(say::counted_from_start(place, &end.to_string(), day, other));
            }
            if !told.contains(&place) {
                match (day, review) {
                    (None, _) => {
                        told.push(place);
                        notices.push(say::limit_without_clock(place, &end.to_string(), lacks(end, unsure)));
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
        let mut before: Option<crate::measure::Date> = None;
        for bearing in &mut p.bearing {
            bearing.last_day = if bearing.follows {
                bearing.first_day = before.map(|last| last.plus_days(1));
                let days = bearing.end.as_ref().and_then(End::days);
                match (bearing.first_day, days) {
                    (first, Some(days)) => first.map(|first| first.plus_days(days - 1)),
                    (_, None) => tell(&bearing.end, bearing.place, &mut self.notices),
                }
            } else {
                tell(&bearing.end, bearing.place, &mut self.notices)
            };
            before = bearing.last_day;
        }
        for stages in crate::prescription::bearing::groups(&p.bearing) {
            if let ([first, _, ..], Some(last)) = (stages, stages.last()) {
                let place = if first.place.line == last.place.line { first.place } else { last.place };
                self.notices.push(say::weight_stages(place));
            }
        }
        for stated in p.stated.iter_mut().filter(|stated| stated.kind == Plain::Order) {
            // From when a rule holds is told by its day.
            if let Some((at, day)) = crate::prescription::span::begins(&stated.shown, start, surgery, injury)
            {
                stated.shown.insert_str(at, &format!(" ({})", day.words()));
            }
        }
        for stated in &mut p.stated {
            if crate::prescription::plain::has_stages(stated) {
                self.notices.push(say::several_ends(stated.said.place));
            }
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
