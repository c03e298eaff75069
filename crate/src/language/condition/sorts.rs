//! What conditions there are, and of which sort each is.

/// What kind of thing a condition is, as far as reading needs it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Operation,
    Injury,
    /// Once there it stays, so that a year or `PMH` tells only since when.
    Lasting,
    Passing,
}

macro_rules! conditions {
    ($($(#[$meta:meta])* $name:ident $(($of:ty $(, $more:ty)?))?, $kind:ident, $sided:literal, $word:literal;)*) => {
        /// A condition, an operation, an injury or a state. What tells one of them more closely is None where it isn't typed.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Condition { $($(#[$meta])* $name $(($of $(, $more)?))?),* }

        impl Condition {
            /// Its plain name.
            pub fn word(self) -> &'static str {
                if let Condition::Fracture(bone, _) = self {
                    return bone.broken();
                }
                match self {
                    $(Condition::$name { .. } => $word),*
                }
            }

            fn kind(self) -> Kind {
                match self { $(Condition::$name { .. } => Kind::$kind),* }
            }

            /// Whether it has a left and a right.
            pub fn is_sided(self) -> bool {
                match self {
                    Condition::Fracture(Bone::Vertebra | Bone::Rib, _) => false,
                    $(Condition::$name { .. } => $sided),*
                }
            }
        }
    };
}

conditions! {
    // Hip.
    HipReplacement(Option<Approach>), Operation, true, "hip replacement";
    HipHemiarthroplasty(Option<Approach>), Operation, true, "hip hemiarthroplasty";
    /// Precautions that are ordered by their name; without an approach those after an approach from behind are meant.
    HipPrecautions(Option<Approach>), Passing, true, "hip precautions";
    HipArthroscopy, Operation, true, "hip arthroscopy";
    HipOsteotomy, Operation, true, "hip osteotomy";
    GlutealRepair, Operation, true, "gluteal tendon repair";
    GlutealTendinopathy, Passing, true, "gluteal tendinopathy";
    HipImpingement, Lasting, true, "hip impingement";
    HipLabrumTear, Injury, true, "hip labrum tear";
    HipDysplasia, Lasting, true, "hip dysplasia";
    BoneDeath, Lasting, true, "avascular necrosis";
    // Knee.
    KneeReplacement, Operation, true, "knee replacement";
    PartialKneeReplacement, Operation, true, "partial knee replacement";
    CruciateReconstruction(Option<Graft>), Operation, true, "cruciate reconstruction";
    CruciateInjury, Injury, true, "cruciate injury";
    PosteriorCruciateReconstruction, Operation, true, "posterior cruciate reconstruction";
    PosteriorCruciateInjury, Injury, true, "posterior cruciate injury";
    CollateralRepair, Operation, true, "collateral ligament repair";
    CollateralInjury, Injury, true, "collateral ligament injury";
    MeniscusRepair(Option<Meniscus>), Operation, true, "meniscus repair";
    MeniscusTrim, Operation, true, "meniscus trim";
    MeniscusTear(Option<Meniscus>), Injury, true, "meniscus tear";
    CartilageRepair, Operation, true, "cartilage repair";
    KneeOsteotomy, Operation, true, "knee osteotomy";
    KneeArthroscopy, Operation, true, "knee arthroscopy";
    KneecapStabilisation, Operation, true, "kneecap stabilisation";
    KneecapDislocation, Injury, true, "kneecap dislocation";
    KneecapPain, Passing, true, "kneecap pain";
    KneecapTendinopathy, Passing, true, "patellar tendinopathy";
    ExtensorMechanismRepair, Operation, true, "quadriceps or patellar tendon repair";
    ExtensorMechanismRupture, Injury, true, "quadriceps or patellar tendon rupture";
    // Shoulder and elbow.
    CuffRepair(Option<Size>), Operation, true, "cuff repair";
    CuffTear(Option<Size>), Injury, true, "cuff tear";
    CuffTendinopathy, Passing, true, "cuff-related shoulder pain";
    ShoulderDecompression, Operation, true, "shoulder decompression";
    ShoulderStabilisation(Option<Stabilised>), Operation, true, "shoulder stabilisation";
    ShoulderDislocation, Injury, true, "shoulder dislocation";
    ShoulderInstability, Lasting, true, "shoulder instability";
    ShoulderReplacement(Option<Implant>), Operation, true, "shoulder replacement";
    ShoulderLabrumTear, Injury, true, "shoulder labrum tear";
    FrozenShoulder, Passing, true, "frozen shoulder";
    CollarboneJointInjury, Injury, true, "acromioclavicular joint injury";
    BicepsTenodesis, Operation, true, "biceps tenodesis";
    DistalBicepsRepair, Operation, true, "distal biceps repair";
    DistalBicepsRupture, Injury, true, "distal biceps rupture";
    ElbowReplacement, Operation, true, "elbow replacement";
    ElbowDislocation, Injury, true, "elbow dislocation";
    TennisElbow, Passing, true, "tennis elbow";
    GolfersElbow, Passing, true, "golfer's elbow";
    // Wrist and hand.
    FlexorTendonRepair, Operation, true, "flexor tendon repair";
    ExtensorTendonRepair, Operation, true, "extensor tendon repair";
    MalletFinger, Injury, true, "mallet finger";
    CarpalTunnel, Passing, true, "carpal tunnel syndrome";
    CarpalTunnelRelease, Operation, true, "carpal tunnel release";
    TriggerFinger, Passing, true, "trigger finger";
    ThumbTendon, Passing, true, "De Quervain's";
    Dupuytren, Lasting, true, "Dupuytren's";
    // Ankle and foot.
    AchillesRupture, Injury, true, "Achilles rupture";
    AchillesRepair, Operation, true, "Achilles repair";
    AchillesTendinopathy, Passing, true, "Achilles tendinopathy";
    AnkleSprain, Injury, true, "ankle sprain";
    SyndesmosisInjury, Injury, true, "syndesmosis injury";
    AnkleLigamentRepair, Operation, true, "ankle ligament repair";
    AnkleReplacement, Operation, true, "ankle replacement";
    AnkleFusion, Operation, true, "ankle fusion";
    Bunion, Lasting, true, "bunion";
    BunionSurgery, Operation, true, "bunion surgery";
    PlantarHeelPain, Passing, true, "plantar heel pain";
    TibialisPosterior, Passing, true, "tibialis posterior dysfunction";
    ShinPain, Passing, true, "shin pain";
    // Muscles.
    HamstringTear, Injury, true, "hamstring tear";
    HamstringTendinopathy, Passing, true, "hamstring tendinopathy";
    CalfTear, Injury, true, "calf tear";
    ThighTear, Injury, true, "quadriceps tear";
    GroinTear, Injury, true, "groin tear";
    ChestMuscleTear, Injury, true, "pectoral tear";
    // Bones.
    Fracture(Bone, Option<Fixation>), Injury, true, "fracture";
    StressFracture, Injury, true, "stress fracture";
    // Spine.
    SpinalFusion, Operation, false, "spinal fusion";
    NeckFusion, Operation, false, "neck fusion";
    SpinalDecompression, Operation, false, "spinal decompression";
    Discectomy, Operation, false, "discectomy";
    DiscProlapse, Passing, false, "disc prolapse";
    SpinalStenosis, Lasting, false, "spinal stenosis";
    Radiculopathy, Passing, true, "radiculopathy";
    NeckRadiculopathy, Passing, true, "neck radiculopathy";
    Spondylolysis, Passing, false, "spondylolysis";
    Spondylolisthesis, Lasting, false, "spondylolisthesis";
    Whiplash, Injury, false, "whiplash";
    Scoliosis, Lasting, false, "scoliosis";
    SacroiliacPain, Passing, true, "sacroiliac pain";
    NeckCord, Lasting, false, "cervical myelopathy";
    NeckInstability, Lasting, false, "upper neck instability";
    NeckArtery, Passing, false, "neck artery dissection";
    LowBackPain, Passing, false, "low back pain";
    NeckPain, Passing, false, "neck pain";
    // Bone and joint.
    Osteoporosis, Lasting, false, "osteoporosis";
    Osteopenia, Lasting, false, "osteopenia";
    Osteoarthritis, Lasting, true, "osteoarthritis";
    RheumatoidArthritis, Lasting, false, "rheumatoid arthritis";
    InflammatoryArthritis, Lasting, false, "inflammatory arthritis";
    AnkylosingSpondylitis, Lasting, false, "ankylosing spondylitis";
    Gout, Passing, true, "gout";
    Polymyalgia, Passing, false, "polymyalgia rheumatica";
    GiantCellArteritis, Passing, false, "giant cell arteritis";
    Hypermobility, Lasting, false, "hypermobility";
    GrowthPlatePain, Passing, true, "growth plate pain";
    ChildHip, Lasting, true, "Perthes or slipped epiphysis";
    KneePain, Passing, true, "knee pain";
    ShoulderPain, Passing, true, "shoulder pain";
    WristPain, Passing, true, "wrist pain";
    HipPain, Passing, true, "hip pain";
    AnklePain, Passing, true, "ankle or foot pain";
    // Pregnancy, birth, pelvis.
    Pregnancy, Passing, false, "pregnancy";
    AfterBirth, Passing, false, "after birth";
    Caesarean, Operation, false, "caesarean";
    PelvicGirdlePain, Passing, true, "pelvic girdle pain";
    PelvicProlapse, Lasting, false, "pelvic organ prolapse";
    AbdominalSeparation, Lasting, false, "abdominal separation";
    BladderLeak, Passing, false, "urinary leak";
    PreEclampsia, Passing, false, "pre-eclampsia";
    // Heart, vessels, blood.
    RaisedBloodPressure, Lasting, false, "raised blood pressure";
    LowBloodPressure, Lasting, false, "low blood pressure";
    HeartDisease, Lasting, false, "heart disease";
    HeartFailure, Lasting, false, "heart failure";
    HeartOperation, Operation, false, "heart operation";
    HeartValve, Lasting, false, "heart valve disease";
    AtrialFibrillation, Lasting, false, "atrial fibrillation";
    Pacemaker, Lasting, true, "pacemaker";
    Aneurysm, Lasting, false, "aneurysm";
    Stroke, Passing, false, "stroke";
    Anticoagulants, Lasting, false, "anticoagulants";
    Bleeding, Lasting, false, "bleeding disorder";
    Clot, Passing, true, "blood clot";
    PoorCirculation, Lasting, true, "poor circulation";
    Raynaud, Lasting, false, "Raynaud's";
    // Diabetes and feeling.
    Diabetes(Option<Diabetes>), Lasting, false, "diabetes";
    Neuropathy, Lasting, false, "neuropathy";
    Numbness, Passing, true, "numbness";
    FootUlcer, Passing, true, "foot ulcer";
    CharcotFoot, Lasting, true, "Charcot foot";
    Retinopathy, Lasting, false, "retinopathy";
    Obesity, Lasting, false, "obesity";
    KidneyDisease, Lasting, false, "kidney disease";
    // Drugs.
    Steroids, Passing, false, "steroids";
    SteroidInjection, Passing, true, "steroid injection";
    Fluoroquinolone, Passing, false, "fluoroquinolone";
    // Cancer.
    Cancer, Passing, false, "cancer";
    BoneMetastases, Lasting, false, "bone metastases";
    Chemotherapy, Passing, false, "chemotherapy";
    Radiotherapy, Passing, false, "radiotherapy";
    Lymphoedema, Lasting, true, "lymphoedema";
    CentralLine, Passing, true, "central line";
    BreastOperation, Operation, true, "breast operation";
    // Lungs, brain, balance, fatigue.
    Asthma, Lasting, false, "asthma";
    LungDisease, Lasting, false, "lung disease";
    Epilepsy, Lasting, false, "epilepsy";
    Dizziness, Passing, false, "dizziness";
    Falls, Lasting, false, "falls";
    Dementia, Lasting, false, "dementia";
    Parkinsons, Lasting, false, "Parkinson's";
    MultipleSclerosis, Lasting, false, "multiple sclerosis";
    CerebralPalsy, Lasting, false, "cerebral palsy";
    SpinalCordInjury, Lasting, false, "spinal cord injury";
    Concussion, Injury, false, "concussion";
    DownSyndrome, Lasting, false, "Down syndrome";
    FatigueSyndrome, Lasting, false, "fatigue syndrome";
    PersistentPain, Lasting, false, "persistent pain";
    RegionalPain, Lasting, true, "complex regional pain syndrome";
    // Other.
    CompartmentSyndrome, Passing, true, "compartment syndrome";
    Amputation, Lasting, true, "amputation";
    BellyOperation, Operation, false, "abdominal operation";
    Hernia, Passing, true, "hernia";
    Brace, Passing, true, "brace";
    Cast, Passing, true, "cast";
    /// One that is not told more closely.
    Operation, Operation, true, "operation";
}

impl Condition {
    pub fn is_operation(self) -> bool {
        let fixed = matches!(self, Condition::Fracture(_, Some(fixed)) if fixed != Fixation::NotOperated);
        self.kind() == Kind::Operation || fixed
    }

    /// Whether it is an operation or an injury: something that was done or happened on a day.
    pub fn has_day(self) -> bool {
        matches!(self.kind(), Kind::Operation | Kind::Injury)
    }

    /// Whether it stays once it is there.
    pub fn lasts(self) -> bool {
        self.kind() == Kind::Lasting
    }

    /// Which of its kind it is, in plain words, where that is typed.
    pub fn detail(self) -> Option<&'static str> {
        match self {
            Condition::HipReplacement(a)
            | Condition::HipHemiarthroplasty(a)
            | Condition::HipPrecautions(a) => a.map(Approach::word),
            Condition::CruciateReconstruction(g) => g.map(Graft::word),
            Condition::MeniscusRepair(m) | Condition::MeniscusTear(m) => m.map(Meniscus::word),
            Condition::CuffRepair(s) | Condition::CuffTear(s) => s.map(Size::word),
            Condition::ShoulderStabilisation(s) => s.map(Stabilised::word),
            Condition::ShoulderReplacement(i) => i.map(Implant::word),
            Condition::Fracture(_, f) => f.map(Fixation::word),
            Condition::Diabetes(d) => d.map(Diabetes::word),
            _ => None,
        }
    }

    /// The same told more closely; None: it isn't of that kind.
    pub(super) fn with(self, detail: Detail) -> Option<Condition> {
        use Condition::*;
        Some(match (self, detail) {
            (HipReplacement(_), Detail::Approach(a)) => HipReplacement(Some(a)),
            (HipHemiarthroplasty(_), Detail::Approach(a)) => HipHemiarthroplasty(Some(a)),
            (HipPrecautions(_), Detail::Approach(a)) => HipPrecautions(Some(a)),
            (CruciateReconstruction(_), Detail::Graft(g)) => CruciateReconstruction(Some(g)),
            (MeniscusRepair(_), Detail::Meniscus(m)) => MeniscusRepair(Some(m)),
            (MeniscusTear(_), Detail::Meniscus(m)) => MeniscusTear(Some(m)),
            (CuffRepair(_), Detail::Size(s)) => CuffRepair(Some(s)),
            (CuffTear(_), Detail::Size(s)) => CuffTear(Some(s)),
            (ShoulderReplacement(_), Detail::Implant(i)) => ShoulderReplacement(Some(i)),
            (Fracture(bone, _), Detail::Fixation(f)) => Fracture(bone, Some(f)),
            (Diabetes(_), Detail::Diabetes(d)) => Diabetes(Some(d)),
            _ => return None,
        })
    }
}

macro_rules! words {
    ($($(#[$meta:meta])* $name:ident { $($(#[$of:meta])* $one:ident $word:literal),* $(,)? })*) => {
        $($(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$of])* $one),* }

        impl $name {
            pub fn word(self) -> &'static str {
                match self { $($name::$one => $word),* }
            }
        })*
    };
}

words! {
    /// From where a hip was opened.
    Approach { Posterior "posterior approach", Anterior "anterior approach", Lateral "lateral approach" }
    /// Of what a new ligament is made.
    Graft {
        Hamstring "hamstring graft", PatellarTendon "patellar tendon graft",
        QuadricepsTendon "quadriceps tendon graft",
        /// Someone else's, or artificial.
        Donor "donor graft",
    }
    Meniscus { Root "root tear", Radial "radial tear", BucketHandle "bucket handle tear", Complex "complex tear" }
    Size { Small "small", Medium "medium", Large "large", Massive "massive", Subscapularis "subscapularis" }
    Stabilised { SoftTissue "soft tissue", BoneBlock "bone block" }
    Implant { Anatomic "anatomic", Reverse "reverse", Hemi "hemiarthroplasty" }
    Fixation {
        NotOperated "not operated", Fixed "fixed", SlidingScrew "sliding hip screw", Nail "nail", Screws "screws",
        Wires "wires",
    }
    Diabetes { One "type 1", Two "type 2", Gestational "of pregnancy" }
}

/// A bone that breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bone {
    Hip,
    Femur,
    Kneecap,
    Tibia,
    Ankle,
    Heel,
    Foot,
    Pelvis,
    Vertebra,
    Rib,
    Collarbone,
    ShoulderBlade,
    UpperArmTop,
    UpperArm,
    Elbow,
    Forearm,
    Wrist,
    Scaphoid,
    Hand,
    /// It isn't said which.
    Unsaid,
}

impl Bone {
    fn broken(self) -> &'static str {
        match self {
            Bone::Hip => "hip fracture",
            Bone::Femur => "thigh bone fracture",
            Bone::Kneecap => "kneecap fracture",
            Bone::Tibia => "lower leg fracture",
            Bone::Ankle => "ankle fracture",
            Bone::Heel => "heel bone fracture",
            Bone::Foot => "foot fracture",
            Bone::Pelvis => "pelvic fracture",
            Bone::Vertebra => "vertebral fracture",
            Bone::Rib => "rib fracture",
            Bone::Collarbone => "collarbone fracture",
            Bone::ShoulderBlade => "shoulder blade fracture",
            Bone::UpperArmTop => "upper arm fracture near the shoulder",
            Bone::UpperArm => "upper arm fracture",
            Bone::Elbow => "elbow fracture",
            Bone::Forearm => "forearm fracture",
            Bone::Wrist => "wrist fracture",
            Bone::Scaphoid => "scaphoid fracture",
            Bone::Hand => "hand fracture",
            Bone::Unsaid => "fracture",
        }
    }
}

/// What tells a condition more closely, as it is typed beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Detail {
    Approach(Approach),
    Graft(Graft),
    Meniscus(Meniscus),
    Size(Size),
    Implant(Implant),
    Fixation(Fixation),
    Diabetes(Diabetes),
}
