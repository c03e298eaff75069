//! What the advice on when to get help is about: each topic has its sentences on the sheet. A topic says no more of the
//! patient than its sentences do, so it may be handed over where the problem itself may not.

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
}
