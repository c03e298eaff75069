//! What is said of the poses of an exercise.

use crate::notice::kinds::pose::OfPose;

pub(super) fn sentence(what: &OfPose) -> String {
    use OfPose::*;
    match what {
        OneNumber => {
            "A pose has one angle for each joint, not a range; the last number was taken.".to_string()
        }
        WhichMotion { word, can: Some(can) } => format!("Say which motion of the {word} is meant: {can}."),
        WhichMotion { word, can: None } | NoJoint { word } => {
            format!("The {word} is not a joint, so it has no angle.")
        }
        NoDirection { word } => format!("Say to which side the {word} moves: right or left."),
        UnclearMotion { word, can } => format!("For the {word} write {can}."),
        ImpossibleMotion { joint, motion, can } => {
            format!("The {} can't make {}; it can make {can}.", joint.word(), motion.words())
        }
        NoDegrees { joint, motion } => format!("Say how far in degrees, such as `{joint} {motion} 30`."),
        BeyondRange { joint, motion, most, asked } => format!(
            "{} {} goes to {most} degrees at most, not to {asked}; {most} were taken.",
            joint.word(),
            motion.words()
        ),
        NothingSaid { word } => {
            format!("Nothing is said of the {word}: give an angle, a contact or a relation.")
        }
        SideNotClear { word } => format!(
            "Which side is the {word} one? `top` and `bottom` are for lying on the side, `front` and `back` \
             for one foot ahead of the other."
        ),
        UnclearWord { typed, one, two } => {
            format!("`{typed}` could be `{one}` or `{two}`; write the one that you mean.")
        }
        UnknownWord { typed } => format!(
            "`{typed}` is not known in a pose. A clause says a joint's angle (`right knee flexion 90`), what \
             touches what (`soles on floor`), a thing (`chair 43 cm`) or a relation (`shins upright`)."
        ),
        UnreadClause => "This clause was not understood. A clause says a joint's angle \
             (`right knee flexion 90`), what touches what (`soles on floor`), a thing (`chair 43 cm`) or a \
             relation (`shins upright`)."
            .to_string(),
        UnreadEnd => "The end of this clause was not understood; the part before it counts.".to_string(),
        SideNotSaid { word } => format!(
            "This does not say which {word}; the right one, as the working side, was assumed. \
             Write the side, or the plural for both."
        ),
        TouchesNothing => {
            "This contact does not say what is touched: the floor, a thing such as `chair`, or a part of the body."
                .to_string()
        }
        TouchesUnknown { typed, things } => format!(
            "`{typed}` is nothing that can be touched in a pose: write the floor, a thing ({}…) or a part of the body.",
            things.join(", ")
        ),
        ThingNotNamed { thing, assumed } => format!("This pose has no {thing}; `{assumed}` was assumed."),
        NoSkin { word } => {
            format!("`{word}` has no place on the skin that could touch; name one, such as `back of the thigh`.")
        }
        TouchesItself => "A part can't touch itself; say which other part or thing it touches.".to_string(),
        EdgeOfWhat => {
            "This does not say the edge of what: write a thing, such as `over edge of table`.".to_string()
        }
        UnknownKey { key } => format!(
            "`{key}:` is not a key of a pose. Its keys are `works:`, `planted:`, `view:` and `support:`."
        ),
        NoPart => "A part of the body should follow the colon, such as `right buttock`.".to_string(),
        FromNowhere => {
            "A direction should follow `from`, such as `from above` or `from the right`.".to_string()
        }
        UnknownView => "A view is side, front, back, above, three-quarter, foot end or auto, such as \
             `view: three-quarter from the right`, with `close-up PART` or `inset PART from above` if need be."
            .to_string(),
        AskedTwice => {
            "This pose says two different things of the same angle or relation; the later one counts.".to_string()
        }
        TouchesTwice => "This pose puts the same part in two places; the later one counts.".to_string(),
        TooManyPoses { most } => {
            format!("An exercise has at most {most} poses; this one and those after it were not read.")
        }
        WithoutHeader => "A pose opens with its name and where it starts from, such as `pose: start, from standing`; \
             standing was assumed."
            .to_string(),
        WithoutName => "A pose has a name, such as `pose: start, from standing`.".to_string(),
        SameName { name } => {
            format!("Two poses of this exercise are called `{name}`; each needs a name of its own.")
        }
        UnknownPosture { typed, assumed, postures } => format!(
            "`{typed}` is not a posture or an earlier pose of this exercise; {assumed} was assumed. \
             Postures are {}.",
            postures.join(", ")
        ),
        WithoutPosture { assumed } => {
            format!("A pose says where it starts from, such as `from {assumed}`, which was assumed.")
        }
        CannotStraighten { word } => format!("The {word} is not a joint or limb that can be straight."),
        UnknownShow => "Say an angle, a contact, a relation or a part that the figure must show, such as \
             `right knee flexion` or `heels on floor`."
            .to_string(),
        OddSize { thing, usual } => {
            format!("A {thing} of this size can't be drawn; the usual {usual} cm were taken.")
        }
        UnknownPlacing { thing, places } => {
            format!("It is not clear where the {thing} goes: write {places}.")
        }
        OddSeconds => "A movement takes between 0.2 and 60 seconds, such as `over 3 s`.".to_string(),
    }
}
