//! What is said of the lines of a prescription.

use crate::notice::kinds::prescription::{Expected, Held, Lacks, OfPrescription};

pub(super) fn sentence(what: &OfPrescription) -> String {
    use OfPrescription::*;
    let plain = |text: &str| text.to_string();
    match what {
        LineTooLong { most } => format!(
            "This line has more than {most} characters and is kept as typed, unread. Part it into shorter lines."
        ),
        TooManyExercises { most } => format!(
            "From here on exercises are kept as typed, unread: at most {most} are read. They are not on the sheet, which says so, and no link is made. Take some out, or write a second prescription."
        ),
        TooManyLines { most } => format!(
            "From here on lines are kept as typed, unread: at most {most} are read. They are not on the sheet, which says so, and no link is made. Take some out, or write a second prescription."
        ),
        TooManyNotices { more } => format!("There are {more} more notices. Mend the ones above first."),
        MistypedKey { typed, near } => {
            // Which week is not guessed.
            let shown = |n: &&str| {
                if *n == "from week" { plain("“from week 3:”") } else { format!("“{n}:”") }
            };
            let near: Vec<String> = near.iter().map(shown).collect();
            format!("“{typed}” is not a word that starts a line here. Did you mean {}?", near.join(" or "))
        }
        MissingColon { key } => {
            format!("This was not taken for an exercise. If it is your {key}, write a colon after “{key}”.")
        }
        MissingStepColon => plain(
            "This was not taken for an exercise. If it says what to do instead, write a colon before the dose, \
             as in “when easy: 3 x 12”.",
        ),
        WeightWithoutKey => plain(
            "This was not taken for an exercise. Write how much weight the limb may take as “weight: right leg, …” or “weight: left arm, …”.",
        ),
        ReadAsDetail { key } => format!(
            "This was read as “{key}:” for the exercise above. Write the colon, or start the line otherwise."
        ),
        KeyOfPatient { typed } => format!(
            "“{typed}:” is no key here. Name or initials, and age, stand after “patient:”, as in “patient: T. B., 58”."
        ),
        KeyNamed { typed, key } => format!("“{typed}:” is no key here. Write “{key}:” for that."),
        KeyOfRecord { typed } => format!(
            "“{typed}:” is not needed here and was not taken for an exercise. Keep it in your own record, or as a private remark after “//”."
        ),
        KeyOfDate { typed } => format!(
            "“{typed}:” does not say which date it is. Write “start:” for the first day, “review:” or “screened:”."
        ),
        KeyOfDanger { typed } => format!(
            "“{typed}:” was not read and is not checked. Write movements to leave out after “avoid:”, conditions after “caution:”."
        ),
        Noted { key } => format!(
            "This is read as “{key}:”: a note of the patient, no exercise. It is kept for you and not printed."
        ),
        ReadAsGuard => plain(
            "This prints below the exercise above, word for word, and is not checked. What holds for all exercises goes \
             on a line of its own without an indent.",
        ),
        RedFlagKept => plain(
            "What names a red flag is neither printed nor handed over: it would read as something that the patient can \
             avoid. Begin a line of its own with “finding:”.",
        ),
        KeptPrivate => plain(
            "This line is kept for you and not printed, as are findings, histories, results and red flags. For the \
             patient write “advice:”, “rule:”, “may:” or “do not:” before what they should read.",
        ),
        RestrictionKept => plain(
            "This forbids something within a line that is kept for you and not printed. If the patient is to keep to it, \
             write it on a line of its own behind “do not:”.",
        ),
        NotUnderstood => plain(
            "This line was not understood: it is kept for you and not printed. Write an exercise as “name, side: 3 x 10”, \
             or start a private remark with “//”.",
        ),
        DoseAlone => plain(
            "This dose stands below no exercise: it is kept for you and not printed. Write the exercise's name before it.",
        ),
        DetailAlone { key } => {
            format!(
                "“{key}” stands below no exercise: the line is kept for you and not printed. Move it under the exercise it \
                 belongs to."
            )
        }
        ReadAsCue => plain("This was read as a cue for the exercise above."),
        ReadAsLater { text } => format!("This was read as “{text}” for this exercise."),
        KeyEmpty { key } => format!("Nothing is said after “{key}:”."),
        KeyTwice { key } => {
            format!("“{key}:” was said above already; the first one stands. Keep one of the two.")
        }
        DateUnread { key } => {
            format!("The date after “{key}:” was not understood. Write it as 2026-12-31.")
        }
        ValueUnread { key, expected, example, is_printed } => {
            let expected = value(*expected);
            let safety =
                if *is_printed { " It will be printed word for word and is not checked." } else { "" };
            format!(
                "What stands after “{key}:” was not understood: expected {expected}, as in “{example}”.{safety}"
            )
        }
        LimitNoJoint { key } => limit(key, &format!("This {key} names no joint that is known.")),
        LimitNoMotion { key, joint } => {
            limit(key, &format!("This {key} does not say which motion of the {} is meant.", joint.word()))
        }
        LimitCannotMove { key, joint, motion } => {
            limit(key, &format!("The {} has no {}.", joint.word(), motion.words()))
        }
        LimitNoBound { key, joint } => {
            limit(key, &format!("This {key} gives no number of degrees for the {}.", joint.word()))
        }
        LimitNumbers { key } => limit(
            key,
            &format!("The degrees in this {key} were not understood: give the lower one first, within 180."),
        ),
        LimitEnd { key } => limit(
            key,
            &format!(
                "The end of this {key} was not understood: give a week, a date, or weeks after surgery."
            ),
        ),
        LimitArc { key } => limit(
            key,
            &format!(
                "This {key} forbids an arc between two numbers, which is not checked: write what is allowed, such as “0-60”."
            ),
        ),
        LimitTurnedRound { key } => {
            limit(key, &format!("Words in this {key} may change its meaning and were not understood."))
        }
        LimitEitherWay { key, n } => format!(
            "This {key} may mean no further than {n}, or at least {n}. Write “at most {n}” or “at least {n}”."
        ),
        LimitPastStraight { key, n } => format!(
            "This {key} may mean {n} degrees past straight, or {n} short of it. Write “extension at most -{n}” if the \
             joint must stay bent by {n}."
        ),
        LimitNoSide { joint } => format!(
            "No side is said for the {0}: it holds for both. Write right, left or both {0}s.",
            joint.word()
        ),
        LimitBareNumber { n } => format!("{n} alone was read as “at most {n}”."),
        LimitForbidden { motion } => format!("No {0} was read as “{0} at most 0”.", motion.words()),
        LimitPrecautions => plain(
            "This was read as hip flexion at most 90, adduction at most 0, internal rotation at most 0. \
             What the team that operated wrote decides.",
        ),
        LimitEndForAll => plain(
            "The end was read for every limit on this line. If it is only for the last, write them on two lines.",
        ),
        LimitWords { words } => {
            format!("The angle is checked; “{words}” is not, and the whole line is printed word for word.")
        }
        LimitWithoutClock { end, lacks } => without_clock(end, *lacks),
        EndWithoutClock { end, event } => format!(
            "“{end}” has no date to count from, so this goes on without end. Write “{event}:” with a date."
        ),
        CountedFromStart { end, day, from_surgery } => format!(
            "“{end}” counts from the start, so the last day is {}. Counted from surgery it would be {}: write “until … weeks after surgery” if that is meant.",
            day.words(),
            from_surgery.words()
        ),
        CountedFromSurgery { end, day } => format!(
            "“{end}” counts from surgery, since no start is given, so the last day is {}. Write “start:” with a date if it counts from there.",
            day.words()
        ),
        WeightStages => plain(
            "Read as stages, one after the other: each begins where the one before it ends. Those that are still to come stand on the sheet too.",
        ),
        SeveralEnds => plain(
            "Several times stand on this line. All are printed as typed, none is counted, and the whole line holds until you take it out. Write one line for each, with “until” and a date.",
        ),
        EndsBeforeReview { day } => {
            format!("This holds up to and including {}, which is before the review.", day.words())
        }
        StepWithEnd => plain(
            "A change holds until the next one. Write it as “from week 3: 3 x 12”, and what follows as a step of its own.",
        ),
        StepSaysNothing => {
            plain("This step says nothing that can be done. Write a dose, or an exercise and its dose.")
        }
        RoundsOnOneLine => {
            plain("Rounds are written as a heading, “## 3 rounds”, with each exercise on a line below it.")
        }
        PlainLimit { written } => format!("Read as a limit: {written}."),
        PlainWeight { written } => format!("Read as weight-bearing: {written}."),
        HeldBefore => plain("This held before; only what stands behind “now” is kept to."),
        PlainRestriction => {
            plain("This line is printed word for word under “Do not”. Is that what you mean?")
        }
        PlainPermission => plain("This line is printed word for word under “What you may do”."),
        PlainAdvice => plain("This line is printed word for word under “As your clinician wrote”."),
        PlainOrder => plain("This line is printed word for word as something to do."),
        AffectedSide { typed, side } => format!(
            "“{typed}” was read as {}, the side of the operation, injury or limit above.",
            side.word()
        ),
        WhichAffectedSide { typed } => format!("Which side is “{typed}”? Write right or left."),
        DeniedExercise { name } => format!(
            "“{name}” begins like a restriction and has a dose. Until you say which it is, the line is printed under \
             “Do not”. For an exercise write the name without “no”; for a restriction leave the dose out."
        ),
        SeveralMeanings { typed, means } => format!(
            "“{typed}” may mean {}. It is taken for none of them, and no rule looks at it. Write it out.",
            means.join(" or ")
        ),
        MeasuredOrOrdered => plain(
            "Was this range measured, or may the patient not leave it? Until you say so it is kept for you alone and \
             limits nothing. Begin the line with “measure:” or with “limit:”.",
        ),
        NoExercise { is_printed } => {
            let fate = if *is_printed {
                "prints word for word, not as an exercise"
            } else {
                "is kept for you and not printed"
            };
            format!(
                "This line has no dose and is no exercise of the catalog, so it {fate}. For an exercise add how much, such \
                 as “3 x 10”; for something the patient should know write “advice:”, “rule:”, “may:” or “do not:” before it."
            )
        }
        WeightWithoutSide => plain(
            "No side is said for this weight: until you say it, it holds for both. Write right, left or both.",
        ),
        StartWithoutDates { from } => format!(
            "“{from}” counts from the start, which isn't given, so no dates are printed. Write “start:” with a date."
        ),
        StartWithoutClock { from, event } => format!(
            "“{from}” has no date to count from, so this is done from the first day. Write “{event}:” with a date, \
             or the start as “from 2026-12-31”."
        ),
        StepWithoutStart => plain("A step by date needs the start of the plan. Write “start:” with a date."),
        EndsBeforeItBegins => {
            plain("This ends before it begins, so it is never done. Write the start and the end anew.")
        }
        EndsBeforeThePlan => plain("This ends before the start of the plan, so it is never done."),
        BeginsBehindThePlan { weeks } => {
            let many = if *weeks == 1 { plain("1 week") } else { format!("{weeks} weeks") };
            format!(
                "The plan has {many}, and this begins after them, so it is never done. Write more weeks, or an earlier start."
            )
        }
        StepByWeek { taken } => format!(
            "Weeks of this plan begin on another day, and a dose changes with a week: this one on {}.",
            taken.words()
        ),
        SideTwice { first, said } => format!(
            "This line says “{first}” and “{said}”. Keep one side, or write each side on a line of its own."
        ),
        SideAgainst { first, said } => format!("“{said}” contradicts “{first}” above. Keep one side."),
        OwnWords => {
            plain("These words print below the exercise as your own cue; they are neither drawn nor checked.")
        }
        OwnWordsHold { typed, held } => {
            let what = match held {
                Held::Denial => "a denial",
                Held::Bound => "a bound",
                Held::Time => "a time",
                Held::Number => "a number",
                Held::Side => "a side",
                Held::Motion => "a motion",
                Held::Joint => "a joint",
            };
            format!("“{typed}” is {what}. It prints as you typed it, and nothing is checked by it.")
        }
    }
}

/// What should stand behind a line word.
fn value(expected: Expected) -> &'static str {
    match expected {
        Expected::Words => "any words",
        Expected::Weeks => "a number of weeks from 1 to 52",
        Expected::Limit => "a joint and the angles that it must stay within",
        Expected::Range => "a joint and the angles that it reaches",
        Expected::Weight => "a side and how much weight it may take",
        Expected::Time => "days, a part of the day, and minutes or what stands there",
        Expected::UsualPain => "a number from 0 to 10",
        Expected::Body => "a height in metres and a mass in kilograms",
        Expected::Net => "topics of the advice on when to get help",
    }
}

/// A limit that was not understood, and why.
fn limit(key: &str, why: &str) -> String {
    let example = "right knee flexion 0-90 until 6 weeks after surgery";
    format!("{why} It will be printed word for word and is not checked. Write it like “{key}: {example}”.")
}

fn without_clock(end: &str, lacks: Lacks) -> String {
    let or = "or write the end as “until 2026-12-31”";
    match lacks {
        Lacks::Clock => format!(
            "“{end}” has no date to count from, so this holds without end. Add “start:” or “surgery:” with a date, {or}."
        ),
        Lacks::Start => format!(
            "“{end}” counts from the start, which isn't given, so this holds without end. Add “start:” with a date, {or}."
        ),
        Lacks::Surgery => format!(
            "“{end}” needs the day of surgery, which isn't given, so this holds without end. Add “surgery:” with a date, {or}."
        ),
        Lacks::SureSurgery => format!(
            "The day of the operation may be meant either way, so “{end}” is not counted and this holds without end. Write “surgery:” with the date as 2026-12-31, {or}."
        ),
        Lacks::Injury => format!(
            "“{end}” needs the day of injury, which isn't given, so this holds without end. Add “injury:” with a date, {or}."
        ),
        Lacks::Review => format!(
            "“{end}” needs the day of the review, which isn't given, so this holds without end. Add “review:” with a date, {or}."
        ),
        Lacks::Year => format!(
            "“{end}” is printed as typed; its year is not known, so it is not counted. Add “start:” with a date, {or}."
        ),
        Lacks::SureDay => format!(
            "“{end}” may be meant either way, so it is printed as typed and not counted. Write the end as “until 2026-12-31”."
        ),
        Lacks::From => format!(
            "“{end}” doesn't say from when the time counts, so it is printed as typed and not counted. Write “for …”, “until … weeks after surgery”, {or}."
        ),
    }
}
