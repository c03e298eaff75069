//! What the advice on when to get help is about: each topic has its sentences on the sheet. A topic says no more of the
//! patient than its sentences do, so it may be handed over where the problem itself may not.

use std::collections::BTreeSet;

macro_rules! topics {
    ($($name:ident $word:literal),* $(,)?) => {
        /// Something to look out for, by what is seen or felt. In the order of the sheet.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Topic { $($name),* }

        impl Topic {
            pub const ALL: &[Topic] = &[$(Topic::$name),*];

            /// As it is written behind `safety net:`.
            pub fn word(self) -> &'static str {
                match self { $(Topic::$name => $word),* }
            }
        }
    };
}

topics! {
    Pregnancy "pregnancy", Birth "birth", Back "back", Neck "neck", Headache "headache", Face "face", Heart "heart",
    Lungs "lungs", Sight "sight", TightLimb "tight-limb", Broken "broken", Bleeding "bleeding", Helpline "helpline",
    WeakLeg "weak-leg", Cord "cord", NewBackPain "new-back-pain", Calf "calf", Wound "wound", Fever "fever",
    HotJoint "hot-joint", Hip "hip", HeelSnap "heel-snap", Feet "feet", SwollenLimb "swollen-limb", Child "child",
    Tendon "tendon", Sugar "sugar", Wheeze "wheeze", Exertion "exertion",
}

impl Topic {
    /// By its word, hyphen or blank.
    pub fn of(word: &str) -> Option<Topic> {
        let plain = crate::text::fold::folded(word).replace(' ', "-");
        Topic::ALL.iter().copied().find(|t| t.word() == plain)
    }

    /// Looked out for after most operations, and written as one word.
    pub const OPERATION: [Topic; 4] = [Topic::Lungs, Topic::Calf, Topic::Wound, Topic::Fever];
}

/// As it is written; `general`, where nothing is looked out for besides what everybody is.
pub fn words(topics: &BTreeSet<Topic>) -> String {
    let operation = Topic::OPERATION.iter().all(|topic| topics.contains(topic));
    let alone = topics.iter().filter(|topic| !(operation && Topic::OPERATION.contains(topic)));
    let words: Vec<&str> =
        operation.then_some("operation").into_iter().chain(alone.map(|t| t.word())).collect();
    if words.is_empty() { "general".to_string() } else { words.join(", ") }
}

/// The topics of a word; none, where it is none.
pub fn of(word: &str) -> Option<Vec<Topic>> {
    match crate::text::fold::folded(word).as_str() {
        "general" => Some(Vec::new()),
        "operation" | "op" | "surgery" => Some(Topic::OPERATION.to_vec()),
        word => Topic::of(word).map(|topic| vec![topic]),
    }
}
