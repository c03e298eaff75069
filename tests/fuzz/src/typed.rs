//! Lines as a hurried clinician might type them, of pieces in any order: what is said twice is never typed, so that each
//! word has something to say.

use crate::random::Random;

const NAMES: [&str; 22] = [
    "bridge",
    "heel slide",
    "clam",
    "wall squat",
    "side plank",
    "calf stretch",
    "pendulum",
    "SLR",
    "sit to stand",
    "single leg bridge",
    "knee to chest",
    "chin tuck",
    "row",
    "step up",
    "quads set",
    "cold pack",
    "walking",
    "hopscotch",
    "towel twist",
    "cat stretch",
    "thumb circles",
    "bird watch",
];
pub const SIDES: [&str; 14] = [
    "R",
    "L",
    "(R)",
    "(L)",
    "right",
    "left",
    "each side",
    "both",
    "B/L",
    "on the left",
    "R only",
    "each leg",
    "alternating",
    "affected side",
];
const WORK: [&str; 22] = [
    "3x10",
    "3 x 8-12",
    "2 sets of 15",
    "10 reps",
    "x10",
    "3x10x5s",
    "5 min",
    "30 s",
    "3 x 30 s",
    "1x20",
    "3 sets",
    "AMRAP",
    "as many as able",
    "up to 10 reps",
    "up to 10 min",
    "at least 5 min",
    "8 to 10 reps",
    "half a minute",
    "10 breaths",
    "2000 steps",
    "3 rounds of 8",
    "10-15 times",
];
const HOLD: [&str; 6] =
    ["hold 5 s", "10 sec hold", "hold for 5 secs", "5\" hold", "hold up to 10 s", "with a 3 s hold"];
const REST: [&str; 4] = ["rest 60 s", "1 min rest between sets", "30 sec break", "rest for 45 s"];
const LOAD: [&str; 9] = [
    "2 kg",
    "with 1 kg",
    "red band",
    "5 lb each hand",
    "with ankle weight 1 kg",
    "max 3 kg",
    "up to 4 kg",
    "10 kg dumbbell",
    "with a green band",
];
const OFTEN: [&str; 24] = [
    "daily",
    "BD",
    "tds",
    "3/day",
    "2x/day",
    "3/week",
    "x3/wk",
    "every other day",
    "EOD",
    "alternate days",
    "twice a day",
    "5/7",
    "every 2 hours",
    "hourly",
    "PRN",
    "as needed",
    "once a week",
    "Mon Wed Fri",
    "3-4 times a week",
    "most days",
    "little and often",
    "no Sundays",
    "x 4-5/day",
    "q2h",
];
const WHEN: [&str; 12] = [
    "mane",
    "nocte",
    "am",
    "at night",
    "before bed",
    "after lunch",
    "in the morning",
    "evenings",
    "on waking",
    "with meals",
    "before walking",
    "at work",
];
const SPAN: [&str; 14] = [
    "from week 3",
    "until 20 Dec",
    "for 10 days",
    "weeks 2-4",
    "for 6/52",
    "first 2 weeks",
    "until 6 weeks post op",
    "from 14 Dec",
    "until review",
    "start week 2",
    "until pain free",
    "wk 2 onwards",
    "for the first week",
    "from tomorrow",
];
const EFFORT: [&str; 8] =
    ["RPE 6", "pain <= 3", "2 RIR", "tempo 3-1-1-0", "slowly", "to fatigue", "pain free", "no pain"];
const DETAIL: [&str; 22] = [
    "with the knee bent",
    "on the sofa",
    "holding the rail",
    "feet turned out",
    "no hands",
    "not past 60",
    "eyes closed",
    "arms crossed",
    "to half way",
    "squeeze at the top",
    "don't let the back sag",
    "with a towel under the heel",
    "other knee bent",
    "slow on the way down",
    "palm down",
    "max 40 deg",
    "keep the hips level",
    "pain free range only",
    "in a doorway",
    "only if no swelling",
    "if sore skip",
    "when easy add 1 kg",
];
/// Words that turn or move what stands beside them, and words that could be anything's.
const STRAY: [&str; 26] = [
    "no", "not", "max", "until", "left", "right", "per", "each", "if", "only", "without", "min", "over",
    "under", "elbow", "shoulder", "flexion", "kg", "90", "unless", "never", "or", "again", "gently",
    "please", "pain",
];
const PLAIN: [&str; 40] = [
    "no R knee flexion > 90",
    "L shoulder ER max 30",
    "NWB left leg 6/52",
    "PWB R 20 kg",
    "no lifting > 2 kg",
    "avoid kneeling",
    "hip precautions 12/52",
    "may shower",
    "sling at night",
    "no driving until review",
    "don't kneel",
    "boot on when walking",
    "was NWB L now FWB",
    "WBAT right",
    "TTWB L until 20 Dec",
    "no overhead reaching L arm",
    "max 5 kg either hand",
    "keep wound dry",
    "ring the clinic if calf swells",
    "BP 150/90",
    "58 y/o F",
    "30/40 pregnant",
    "6/52 post op",
    "fell twice last month",
    "c/o knee pain on stairs",
    "O/E flex 90",
    "no red flags",
    "pain 6/10 at worst",
    "review in 2/52",
    "R wrist extension 0-40 until 6 weeks post op",
    "no L hip adduction past midline",
    "limit R ankle DF to 10",
    "elbow flexion not above 100 R",
    "nil active abduction L shoulder",
    "left knee brace locked 0-30",
    "work: light duties",
    "stairs: one at a time",
    "crutches for 2 weeks",
    "no running, ok to cycle",
    "driving: not until review",
];
const KEYED: [&str; 26] = [
    "limit: right knee flexion 0-90 until 6 weeks after surgery",
    "limit: L hip flexion max 90",
    "weight: left arm NWB",
    "weight: right partial 50 %",
    "avoid: kneeling, twisting",
    "caution: raised blood pressure, falls",
    "time: 15 min morning",
    "time: Mon-Fri 20 min evening",
    "review: 2 weeks",
    "kit: chair, loop band",
    "aim: garden again by spring",
    "finding: extensor lag 10 right",
    "patient: A. B., 58",
    "injury: left calf tear",
    "cannot: lie flat",
    "ask: pain at night",
    "irritability: high",
    "usual pain: 3-4",
    "range: L shoulder flexion 0-120",
    "weeks: 6",
    "do not: lift more than 2 kg",
    "may: swim after 2 weeks",
    "rule: sling at night until review",
    "screened: 2026-11-25",
    "goal: golf",
    "precautions: no hip flexion over 90",
];
const BELOW: [&str; 18] = [
    "from week 3: 3 x 12",
    "when easy: 3 x 15",
    "if pain > 4: 2 sets",
    "cue: keep the heel down",
    "stop if the knee locks",
    "progress to 3x12 when easy",
    "add 2 min every 3 days",
    "feel: back of the thigh",
    "easier: hold the chair",
    "rest 90 s",
    "don't let the knee drop in",
    "from 14 Dec 3x12",
    "until 20 Dec",
    "week 2: 2 kg",
    "only on good days",
    "no shoes",
    "then clam R 2x8 from week 4",
    "if sore next day: 1 set",
];

/// A line of the trade's pieces, and whether it is typed below an exercise.
pub fn line(random: &mut Random) -> (String, bool) {
    let mut deep = false;
    let mut pieces: Vec<&str> = match random.below(10) {
        0..=1 => vec![random.pick(&PLAIN, "")],
        2 => vec![random.pick(&KEYED, "")],
        3 => {
            deep = true;
            vec![random.pick(&BELOW, "")]
        }
        _ => {
            let mut pieces = vec![random.pick(&NAMES, "")];
            let groups: [(&[&str], usize); 9] = [
                (&SIDES, 2),
                (&WORK, 1),
                (&HOLD, 5),
                (&REST, 7),
                (&LOAD, 5),
                (&OFTEN, 2),
                (&WHEN, 6),
                (&SPAN, 5),
                (&EFFORT, 6),
            ];
            for (group, seldom) in groups {
                if random.one_in(seldom) {
                    let at = 1 + random.below(pieces.len());
                    pieces.insert(at, random.pick(group, ""));
                }
            }
            if random.one_in(3) {
                pieces.insert(1 + random.below(pieces.len()), random.pick(&DETAIL, ""));
            }
            if random.one_in(6) {
                // The dose before the name, or the name behind all.
                let name = pieces.remove(0);
                pieces.push(name);
            }
            pieces
        }
    };
    if random.one_in(3) {
        let stray = random.pick(&STRAY, "");
        // A side beside a side may say the same twice.
        let whole = pieces.len() == 1;
        let sided = whole || pieces.iter().any(|p| SIDES.contains(p));
        let again = pieces.iter().any(|p| p.contains(stray)) || whole && stray == "only";
        if !(again || sided && matches!(stray, "left" | "right" | "each" | "per")) {
            pieces.insert(random.below(pieces.len() + 1), stray);
        }
    }
    let mut line = String::new();
    for piece in pieces {
        if !line.is_empty() {
            line.push_str(random.pick(&[" ", " ", ", ", ", ", " - ", ": "], " "));
        }
        line.push_str(piece);
    }
    (line, deep)
}
