//! What is on today, and the end of a session.

use super::answer::{self, Standing, UNSEEN};
use super::piece::{button, choice, heading, long, name, slot, tick};
use super::plan::{Plan, minutes};
use super::view::View;
use super::{Home, Keeping, wrong};
use crate::diary::{Asked, Number, Score, Session, When, WhyNot};
use crate::markup::{Slot, Writer};
use crate::measure::Date;

/// How a part of the day is called on the page.
pub fn called(when: When) -> &'static str {
    match when {
        When::Morning => "Morning",
        When::Midday => "Midday",
        When::Evening => "Evening",
        When::AllDay => "All day",
    }
}

/// What must be known before anything else.
pub fn top(home: &Home, plan: &mut Plan) -> Vec<Slot> {
    let mut all = Vec::new();
    if let Some(today) = home.today
        && !matches!(home.view, View::Wrong { .. } | View::Stop)
    {
        let standing = answer::standing(plan, today);
        all.extend(answer::note(plan, today, &standing));
    }
    let mut note = |key: &str, words: &str| {
        all.push(slot(&format!("note {key}"), |w| {
            w.element("p", words);
        }));
    };
    if let Some(today) = home.today {
        if let Some(review) = plan.review.filter(|review| *review < today) {
            note(
                "review",
                &format!(
                    "This plan is past its review date, {}. Ask your clinician before you go on. The plan is \
                     still here to read.",
                    review.words()
                ),
            );
        } else if let Some(end) = plan.ends().filter(|end| *end < today && plan.review.is_none()) {
            note(
                "over",
                &format!(
                    "The weeks of this plan are over. The last day was {}. Ask your clinician before you go on.",
                    end.words()
                ),
            );
        }
        if plan.shared.issued.is_some_and(|issued| today < issued) {
            note(
                "clock",
                &format!(
                    "The clock of this phone says {}. The plan was made later. Please check the date of the phone.",
                    today.words()
                ),
            );
        }
    }
    let issued = |other: &super::Other| other.issued;
    if plan.shared.issued.is_some_and(|mine| home.others.iter().filter_map(issued).any(|o| mine < o)) {
        note(
            "newer",
            "There is a newer plan on this phone. Bin older sheets. The newer plan is in the list below, under “what is kept here”.",
        );
    }
    match home.keeping {
        Keeping::Kept => {}
        Keeping::Full => note(
            "keeping",
            "This phone has no room left. Your last tick is on this page, but it is not kept. Tick your paper sheet too. Keep the link.",
        ),
        Keeping::Forbidden => note(
            "keeping",
            "This browser does not let the page keep anything. Your ticks are gone when you close it. Tick your paper sheet too. Keep the link.",
        ),
        Keeping::NotChosen => {
            all.push(slot("note keeping", |w| {
                w.element(
                    "p",
                    "This page was opened from a file. So far nothing is kept when you close it. Other files on \
                     this phone could read what is kept.",
                );
                button(w, "small", "keep", "Keep my plan and ticks here");
            }));
        }
    }
    if home.set_aside {
        all.push(slot("note aside", |w| {
            w.element(
                "p",
                "The ticks that were kept here could not be read. They are put aside on this phone, not lost. \
                 New ticks are kept from now on.",
            );
        }));
    }
    if home.around.in_app && home.view == View::Today {
        all.push(slot("note app", |w| {
            w.element(
                "p",
                "You opened this page inside another app. Ticks may get lost there. Open the menu of that app \
                 and choose to open the page in your browser.",
            );
        }));
    }
    all
}

pub fn view(home: &Home, plan: &mut Plan, today: Date) -> Vec<Slot> {
    let programme = plan.programme(today);
    let mut all = vec![slot("title", |w| {
        heading(w, "Today");
        w.element("p", &long(today));
        if let Some(patient) = programme.who.patient.as_ref().filter(|p| !p.is_empty()) {
            w.open("p").attr("class", "for").text("For ").open("bdi").text(patient).close().close();
        }
    })];
    if let Some(first) = plan.begins().filter(|first| today < *first) {
        all.push(slot("starts", |w| {
            w.element("p", &format!("Your plan starts on {}. You can read it now.", long(first)));
            button(w, "main", "go sheet", "Read all exercises");
        }));
        return all;
    }
    all.push(slot("wrong", |w| wrong::way(w, None)));
    let due = plan.due(today);
    let asked = Asked::of(programme.ask.as_deref());
    let standing = answer::standing(plan, today);
    all.extend(standing_slot(plan, today, &standing));
    if asked.settled
        && let Some((day, when)) = unsettled(plan, today)
    {
        all.push(slot("settled", |w| {
            w.element("h2", "How was it after?");
            w.element(
                "p",
                &format!(
                    "{}, {}. Had the pain settled by the next morning?",
                    long(day),
                    called(when).to_lowercase()
                ),
            );
            settled(w, plan.diary.session(day, when), day, when);
        }));
    }
    for (when, list) in &due {
        let done = list.iter().filter(|i| is_done(plan, today, *when, **i)).count();
        let reply = answer::of_pain(plan, today, today, *when);
        all.push(slot(&format!("part {}", when.name()), |w| {
            w.element("h2", called(*when));
            w.open("p");
            let many = list.len();
            w.text(&count(many, "exercise"));
            let minutes = minutes(&programme, list);
            if 0 < minutes {
                w.text(&format!(", about {}", count(minutes as usize, "minute")));
            }
            w.text(".");
            match done {
                0 => {}
                n if n == many && standing.is_fine() => {
                    w.text(" ").open("b").attr("class", "ready").text("All done.").close();
                }
                n => {
                    w.text(&format!(" {n} done."));
                }
            }
            w.close();
            if standing.halts() {
                w.element("p", "Not now. First call, as it says above.");
                return;
            }
            let next = list.iter().position(|i| !is_done(plan, today, *when, *i));
            let words = match (done, next) {
                (_, None) => "View again",
                _ if !standing.is_fine() => "Open the list",
                (0, _) => "Start",
                (_, Some(_)) => "Go on",
            };
            let class = if next.is_some() && standing.is_fine() { "main" } else { "plain" };
            w.open("button").attr("type", "button").attr("class", class);
            w.attr("data-do", &format!("go do {} {}", when.name(), next.unwrap_or(0)));
            w.attr("data-focus", &format!("start {}", when.name()));
            w.text(words).open("span").attr("class", "unseen").text(&format!(": {}", called(*when)));
            w.close().close();
            if next.is_some() {
                let act = format!("all {today} {} yes", when.name());
                button(w, "plain", &act, "Tick all as done");
            }
            let session = plan.diary.session(today, *when);
            if asked.pain && (next.is_none() || reply.is_some()) {
                w.element("h3", WORST);
                pain(w, session, today, *when);
            }
            if let Some(reply) = &reply {
                reply.write(w, &programme.who);
            }
            if asked.settled && next.is_none() {
                w.element("p", LATER);
            }
            if done == 0 {
                why(w, session, today, *when, standing.is_fine());
            }
        }));
    }
    if due.is_empty() {
        let next = (1..15).map(|n| today.plus_days(n)).find(|day| !plan.due(*day).is_empty());
        all.push(slot("rest", |w| {
            w.element("p", "There is no session today. Rest is part of the plan.");
            if let Some(next) = next {
                w.element("p", &format!("Next: {}.", long(next)));
            }
        }));
    }
    let beside = plan.all_day(today);
    if !beside.is_empty() {
        all.push(slot("beside", |w| {
            w.element("h2", "Any time of day");
            w.open("ul");
            for (at, index) in beside.iter().enumerate() {
                let Some(e) = programme.exercises.get(*index) else { continue };
                w.open("li");
                ticked(w, plan, today, When::AllDay, *index, |w| {
                    name(w, e);
                    let parts: Vec<String> = crate::handout::dose::work(e)
                        .iter()
                        .map(|l| crate::handout::dose::plain(l))
                        .chain([crate::handout::dose::plain(&crate::handout::dose::often(&e.amount))])
                        .filter(|p| !p.is_empty())
                        .collect();
                    w.open("span").attr("class", "much").text(&parts.join(". ")).close();
                });
                w.open("button").attr("type", "button").attr("class", "small");
                let act = format!("go do day {at}");
                w.attr("data-do", &act).attr("data-focus", &act).text("Show");
                w.open("span").attr("class", "unseen").text(" ").text(&e.name).close();
                w.close().close();
            }
            w.close();
        }));
    }
    all.push(slot("foot", |w| {
        if standing.is_fine() {
            w.element("p", "Missed one? Carry on. Do not double up.");
        }
        if let Some(review) = programme.review {
            w.element("p", &format!("Next visit: {}.", long(review)));
        }
        if home.keeping == Keeping::Kept {
            w.element("p", "Your ticks stay on this phone. Nobody else gets them.");
        }
    }));
    all
}

/// A box to tick for an exercise.
pub fn ticked(
    w: &mut Writer,
    plan: &Plan,
    day: Date,
    when: When,
    index: usize,
    words: impl FnOnce(&mut Writer),
) {
    let Some(number) = Number::at(index) else { return };
    let act = format!("tick {day} {} {}", when.name(), number.get());
    tick(w, &act, plan.diary.is_done(day, when, number), words);
}

pub fn is_done(plan: &Plan, day: Date, when: When, index: usize) -> bool {
    Number::at(index).is_some_and(|n| plan.diary.is_done(day, when, n))
}

/// `1 exercise`, `5 exercises`.
pub fn count(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// What stands of bad answers, where it is not said at its own place.
fn standing_slot(plan: &mut Plan, today: Date, standing: &Standing) -> Option<Slot> {
    if standing.halts() {
        return None;
    }
    let unsettled = standing.unsettled?;
    let reply = answer::of_settled(plan, today, unsettled.day, unsettled.when)?;
    let programme = plan.programme(today);
    Some(slot("answered", |w| {
        w.element("h2", &format!("After {}", long(unsettled.day)));
        reply.write(w, &programme.who);
        button(w, "small", &format!("go day {}", unsettled.day), "Change this answer");
    }))
}

/// The question of a session's pain.
pub const WORST: &str = "What was your worst pain?";
/// The question of the morning after is for the morning after.
pub const LATER: &str = "Tomorrow this page asks if it had settled by then.";

/// The worst pain, by one press; nobody has to say.
pub fn pain(w: &mut Writer, session: Option<&Session>, day: Date, when: When) {
    let chosen = session.and_then(|s| s.pain);
    w.element("p", "0 is no pain. 10 is the worst there is. You may leave it out.");
    w.element("p", UNSEEN);
    w.open("div").attr("class", "scale").attr("role", "group").attr("aria-label", "Worst pain");
    for n in 0..=Score::MOST {
        let act = format!("pain {day} {}", when.name());
        choice(w, "score", &act, &n.to_string(), chosen.is_some_and(|c| c.get() == n), &n.to_string());
    }
    w.close();
}

pub fn settled(w: &mut Writer, session: Option<&Session>, day: Date, when: When) {
    let chosen = session.and_then(|s| s.settled);
    w.open("div").attr("class", "row").attr("role", "group").attr("aria-label", "Settled by next morning?");
    for (value, is, words) in [("yes", true, "Yes, settled"), ("no", false, "No, not yet")] {
        choice(w, "plain", &format!("settled {day} {}", when.name()), value, chosen == Some(is), words);
    }
    w.close();
    w.element("p", UNSEEN);
}

/// Why not, by one press. `is_fine`: there was no bad answer.
pub fn why(w: &mut Writer, session: Option<&Session>, day: Date, when: When, is_fine: bool) {
    let chosen = session.and_then(|s| s.why_not);
    w.open("details").attr("data-open", &format!("why {day} {}", when.name()));
    if chosen.is_some() {
        w.flag("open");
    }
    w.open("summary").text("Could not do it?");
    w.open("span").attr("class", "unseen").text(&format!(" {}", called(when))).close().close();
    w.element("p", if is_fine { "That is fine. If you like, say why." } else { "If you like, say why." });
    w.open("div").attr("class", "row").attr("role", "group").attr("aria-label", "Why not");
    for why in WhyNot::ALL {
        let words = match why {
            WhyNot::Pain => "Pain",
            WhyNot::Time => "No time",
            WhyNot::Forgot => "I forgot",
            WhyNot::Unsure => "Not sure how",
            WhyNot::Ill => "Unwell",
        };
        let act = format!("why {day} {}", when.name());
        choice(w, "plain", &act, why.name(), chosen == Some(why), words);
    }
    w.close();
    match chosen {
        Some(WhyNot::Pain | WhyNot::Ill) => {
            w.element("p", "Leave it for today. Is one of the signs to stop there?");
            wrong::way(w, None);
        }
        Some(WhyNot::Unsure) => {
            w.element("p", "Call and ask. It is better to ask than to guess.");
        }
        _ => {}
    }
    w.close();
}

/// The last session before today in which something was done and of which nobody has said if it settled; not
/// from longer ago than a person remembers (three days; common practice, no source).
pub fn unsettled(plan: &Plan, today: Date) -> Option<(Date, When)> {
    let past = plan.diary.sessions().filter(|(day, when, s)| {
        *day < today && today.days_since(*day) <= 3 && *when != When::AllDay && !s.done.is_empty()
    });
    let (day, when, session) = past.last()?;
    session.settled.is_none().then_some((day, when))
}

/// A day and what is noted in it, as one line.
pub fn summary(plan: &mut Plan, day: Date) -> String {
    let due = plan.due(day);
    let many: usize = due.iter().map(|(_, list)| list.len()).sum();
    let done: usize =
        due.iter().map(|(when, list)| list.iter().filter(|i| is_done(plan, day, *when, **i)).count()).sum();
    match (many, done) {
        (0, _) => "no session".into(),
        (many, done) if many == done => format!("{many} of {many} done"),
        (many, 0) => count(many, "exercise"),
        (many, done) => format!("{done} of {many} done"),
    }
}
