//! What is said of a programme.

use super::{listed, quoted, weekday};
use crate::body::names::Region;
use crate::notice::kinds::programme::{Against, Bears, Lead, OfProgramme, Offer, Past, Shorter};

pub(super) fn sentence(what: &OfProgramme) -> String {
    use OfProgramme::*;
    let plain = |text: &str| text.to_string();
    match what {
        NearName { typed, near, is_against } => {
            let kept = "Until then it stands on the sheet with its dose, without a figure.";
            let against = if *is_against {
                " Written so, it would be against what stands here, so it is not offered."
            } else {
                ""
            };
            match near.as_slice() {
                [one] => {
                    format!("There is no exercise “{typed}”. The nearest name is “{one}”. {kept}{against}")
                }
                all => format!(
                    "“{typed}” may be {}. Write the one that is meant. {kept}{against}",
                    listed(&quoted(all), "or")
                ),
            }
        }
        UnknownName { typed } => format!(
            "There is no exercise “{typed}” in the catalog. It stands on the sheet with its dose, without a figure. Write “exercise: {typed}” below and its poses to give it one."
        ),
        RampUncounted { ramp, is_either } => {
            let why = if *is_either {
                "may be of the load or of the repetitions. Write the load in steps, like “from week 2: 5 kg”, or say what is added, \
                 like “+ 2 reps every week”"
            } else {
                "has nothing in this dose to add to. Write what is added in the words of the dose"
            };
            format!("“{ramp}” {why}. Until then it prints as written, and no figures are worked out.")
        }
        SideMissing { means } => {
            let what = if means.is_empty() { String::new() } else { format!(" The side is {means}.") };
            format!("Which side? Write right, left or each side.{what} Until then it is each side.")
        }
        OnlyTogether { exercise } => {
            format!(
                "{exercise} works both sides at once, and its figure shows both; the side stands beside its name on the sheet. Take the side away, or write the exercise for one side."
            )
        }
        NeverTogether { exercise } => {
            format!("{exercise} is done one side at a time. Write each side in place of together.")
        }
        NoSides { exercise } => {
            format!("{exercise} has no sides, so a side has no meaning here. Take the side away.")
        }
        OftenUsual { written } => format!("How often isn’t written, so the usual stands: {written}."),
        OftenTyped { words } => format!(
            "“{words}” stands on the sheet as typed, and no days are laid by it. Write a number, such as “2/day” or “3/week”, if the week should lay them."
        ),
        OftenUnsaid => plain("How often isn’t written; until it is, this is once a day."),
        ReadAsSeconds { shown } => format!(
            "This exercise is held, so the second number was read as seconds: {shown}. Write “{shown}”, or “reps” \
             behind the number."
        ),
        UsualDose { added } => format!("Not typed, so the usual stands with it: {added}."),
        AngleNotReached { lead, angle, asked, came } => format!(
            "{}{} of {asked} degrees is asked, and {came} is reached with all else that is asked. Ask for {came}, or take something away.",
            of(lead),
            angle.name()
        ),
        RelationOff { lead, degrees } => format!(
            "{}this is off by about {degrees} degrees with all else that is asked. Take one of the two away.",
            of(lead)
        ),
        Gap { lead, mm } => format!(
            "{}what should touch stays {mm} mm apart. Move it nearer, or take a contact away.",
            of(lead)
        ),
        Falls { lead } => {
            format!("{}the body would fall here. Add a support, or write a smaller movement.", of(lead))
        }
        Unseen { typed, percent } => {
            let which = match typed {
                Some(typed) => format!("“{typed}” must show, and"),
                None => plain("Something that must show"),
            };
            format!(
                "{which} is seen only to {percent} % of its length or way. Write another `view:`, or take it from the list."
            )
        }
        TieNearName { words, near, .. } => {
            format!("“{words}” may mean “{near}”. Write its name in full, so that the week can keep to it.")
        }
        TieElsewhere { name, .. } => format!(
            "“{name}” is not another exercise of this prescription. The words are printed; the week does not know them."
        ),
        TieUnknown { name, .. } => format!(
            "There is no exercise “{name}” in this prescription. The words are printed; the week does not know them."
        ),
        DaysWithWhom { words } => format!(
            "“{words}”: on which days? Write them before it, such as “Sat Sun {words}”. Until then any day is taken."
        ),
        Decided { against: what, reason } => {
            format!("{} Kept, and recorded with your reason: {reason}", against(what))
        }
        LimitExceeded { past: all, offer } => format!("{}{}", past(all), instead(offer)),
        HardlyLeft { drawn, offer } => format!("{}{}", hardly_left(drawn), instead(offer)),
        LimitDrawn { drawn } => shorter(drawn),
        BodyInTheWay { position, part } => format!("{} Choose another position.", way(position, *part)),
        Weight { bears } => weight(*bears),
        Avoided { is_cannot, words } => avoided(*is_cannot, words),
        LyingFlat { weeks } => {
            let when = match weeks {
                Some(weeks) => format!("This is done lying on the back, at {weeks} weeks."),
                None => plain("This is done lying on the back."),
            };
            format!(
                "{when} Keep it short, prop up the head and shoulders or tilt to the left, and change the position at any light-headedness."
            )
        }
        BendsBack { degrees } => osteoporosis("bends the back forwards", degrees),
        TurnsBack { degrees } => osteoporosis("turns the back", degrees),
        PosteriorHip { past } => format!(
            "This goes to {}. After hip replacement from behind, flexion past 90, crossing the midline and turning in are usually avoided for 6 to 12 weeks; the surgeon's orders come first.",
            listed(past, "and")
        ),
        AnteriorHip { extension, turned } => format!(
            "This takes the hip back by {extension} and turns it out by {turned}. After hip replacement from the front, the two together are usually avoided."
        ),
        CuffEarly { weeks } => format!(
            "This strengthens the shoulder {weeks} weeks after the repair. Usually strengthening waits for week 12; the surgeon's orders come first."
        ),
        OpenChain { weeks } => format!(
            "This loads a free leg {weeks} weeks after cruciate reconstruction. Usually it starts at about week 4, between 90 and 45 only; the surgeon's orders come first."
        ),
        LongHold { seconds } => format!(
            "A hold of {seconds} s under load, with raised blood pressure. Shorter or easier holds keep it lower; say to breathe out on effort and never to hold the breath."
        ),
        Unsupported => plain(
            "This is done standing without support. You wrote of falls: add a support within reach, such as a worktop or a chair against a wall.",
        ),
        OnFloor => plain(
            "This needs getting down to the floor and up again. You wrote of falls: a bed does for most floor work.",
        ),
        SlipSets { sets, reps, likely } => {
            format!("This reads as {sets} sets of {reps}. Write {likely} x {reps} if that was meant.")
        }
        SlipReps { reps } => format!("This reads as {reps} repetitions in a set; write the number again."),
        SlipHold { hold, likely } => {
            let meant = likely.map_or(String::new(), |s| format!(" Write hold {s} if seconds were meant."));
            format!("This reads as a hold of {hold}.{meant}")
        }
        SlipRest { rest } => {
            format!("This reads as a rest of {rest} between sets; write rest 60 s if seconds were meant.")
        }
        SlipOften { times } => format!(
            "This reads as {times} times a day. Write hourly for each waking hour, or a smaller number."
        ),
        SlipMinutes { minutes } => format!("This alone takes about {minutes} minutes a day."),
        SlipHours { hours } => format!("This alone takes about {hours} hours a day."),
        UnusualReps { reps } => {
            format!("{reps} repetitions in a set; published doses for strength and endurance are 8 to 25.")
        }
        UnusualSets { sets } => format!("{sets} sets; published doses are 1 to 4."),
        ShortHold { hold } => {
            format!("A stretch of {hold}; published holds are 10 to 30 s, 30 to 60 s for older people.")
        }
        LongStretch { hold } => format!("A stretch of {hold}; 30 s did as well as 60 s in trials."),
        StretchShort { seconds } => {
            format!("{seconds} s of this stretch in all; the published total is 60 s a day for each stretch.")
        }
        NoMostADay => plain("As needed has no most. Write as needed, at most 4/day, or another number."),
        NoMostInASet => plain("This has no most. Write a number of repetitions to stop at."),
        HardEveryDay => plain(
            "Hard effort every day leaves the muscles less than 48 h to recover. Alternate days or 3/week does.",
        ),
        LoadedDays { days } => {
            format!("Loaded work on {days} days a week can't leave 48 h every time; 3/week does.")
        }
        NeighbouringDays { other, muscles, first, second } => {
            let who = match other {
                Some(other) => format!("This and {other} load"),
                None => plain("This loads"),
            };
            format!(
                "{who} the same muscles ({}) on neighbouring days, {} and {}: less than 48 h to recover.",
                listed(muscles, "and"),
                weekday(*first),
                weekday(*second)
            )
        }
        Minutes { day, given, needs } => format!(
            "On {} there are {given} minutes; what is written for every such day takes about {needs}.",
            weekday(*day)
        ),
        Kit { lacks } => format!("This needs: {}. kit: does not name it.", listed(lacks, "and")),
        OtherSide { side } => {
            format!("This is for the {}; all the rest is for the {}.", side.word(), side.other().word())
        }
        ManyExercises { count } => format!(
            "{count} exercises. In small studies people kept up better with two or three; is there one that could go?"
        ),
        ReviewBeforeStart { review, start } => format!(
            "The review on {} is before the start on {}. Write a later review: date.",
            review.words(),
            start.words()
        ),
        ProblemUnknown { is_titled } => {
            let what =
                if *is_titled { "Which problem this is was not understood" } else { "No problem is named" };
            format!(
                "{what}, so the sheet’s advice on when to get help is general. Name it in the title, as in “# Low back pain”, or after “surgery:”, “injury:” or “finding:”."
            )
        }
    }
}

fn of(lead: &Lead) -> String {
    match lead {
        Lead::Pose(name) => format!("Pose “{name}”: "),
        Lead::Typed(typed) => format!("“{typed}”: "),
        Lead::Unsaid => String::new(),
    }
}

fn against(what: &Against) -> String {
    match what {
        Against::Past(all) => past(all),
        Against::Shorter(drawn) => hardly_left(drawn),
        Against::Way { position, part } => way(position, *part),
        Against::Weight(bears) => weight(*bears),
        Against::Avoided { is_cannot, words } => avoided(*is_cannot, words),
    }
}

/// "You wrote right knee flexion to 60. This needs 105."
fn past(all: &[Past]) -> String {
    let one = |p: &Past| format!("You wrote {} to {}. This needs {}.", p.angle.name(), p.limit, p.needs);
    all.iter().map(one).collect::<Vec<String>>().join(" ")
}

fn shorter(drawn: &[Shorter]) -> String {
    let one = |s: &Shorter| {
        format!(
            "You wrote {} to {}. This usually goes to {}; it is drawn to {}.",
            s.angle, s.limit, s.usual, s.now
        )
    };
    drawn.iter().map(one).collect::<Vec<String>>().join(" ")
}

fn hardly_left(drawn: &[Shorter]) -> String {
    format!("{} Less than half of the movement is left.", shorter(drawn))
}

fn way(position: &str, part: Option<Region>) -> String {
    let part = part.map_or("body", Region::word);
    format!("This body can't take the position “{position}” as drawn: the {part} is in the way.")
}

fn weight(bears: Bears) -> String {
    let how = if bears.is_alone { "stands on the" } else { "puts weight on the" };
    let limb = if bears.is_arm { "arm" } else { "leg" };
    format!("You limited the weight on this {limb}. This {how} {} {limb}.", bears.side.word())
}

fn avoided(is_cannot: bool, words: &str) -> String {
    let how = if is_cannot { "that this patient cannot do:" } else { "to avoid" };
    format!("You wrote {how} {words}. This needs it.")
}

/// What may stand in its place, once all checks have run on it there.
fn instead(offer: &Offer) -> String {
    match offer {
        Offer::Instead(names) => format!(" All checks pass with: {}.", listed(names, "or")),
        Offer::HeldBack(words) => {
            format!(" No other exercise is offered here, since no rule can judge “{words}”.")
        }
        Offer::None => " No other exercise for the same end passed all checks here.".to_string(),
    }
}

fn osteoporosis(how: &str, degrees: &str) -> String {
    format!(
        "This {how} by {degrees}. With osteoporosis, repeated, loaded, quick or far bending and twisting of the back is usually avoided."
    )
}
