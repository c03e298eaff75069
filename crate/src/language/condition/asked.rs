//! Short forms with several meanings: what stands elsewhere in the text decides, else it is asked.

use super::sorts::Condition;
use Condition::*;

/// One meaning: its name, the condition where it is one, and words of a text that tell it.
pub(super) struct Sense {
    pub(super) word: &'static str,
    pub(super) condition: Option<Condition>,
    tells: &'static str,
}

pub(super) struct Several {
    /// Between commas; capitals are meant.
    pub(super) typed: &'static str,
    pub(super) senses: &'static [Sense],
}

const fn of(condition: Condition, word: &'static str, tells: &'static str) -> Sense {
    Sense { word, condition: Some(condition), tells }
}

const fn other(word: &'static str, tells: &'static str) -> Sense {
    Sense { word, condition: None, tells }
}

impl Several {
    /// The one meaning that the text's other words tell.
    pub(super) fn told(&self, has: &dyn Fn(&str) -> bool) -> Option<&'static Sense> {
        let mut told = self.senses.iter().filter(|sense| sense.tells.split(' ').any(has));
        let one = told.next()?;
        told.next().is_none().then_some(one)
    }
}

const HEART: &str =
    "stent stents stented pci cabg angina ihd mi stemi nstemi gtn cardiac heart coronary troponin ccf lvsd";
const VALVE: &str = "tavi tavr avr mvr murmur valve mitral aortic echo";
const BONES: &str = "dexa dxa alendronate alendronic zoledronate bisphosphonate bisphosphonates denosumab prolia bone bones vcf fragility vertebral fosamax";

pub(super) const SEVERAL: &[Several] = &[
    Several {
        typed: "AS",
        senses: &[
            of(
                AnkylosingSpondylitis,
                "ankylosing spondylitis",
                "spondylitis bamboo axspa hla uveitis sij biologic biologics adalimumab rheumatology",
            ),
            of(HeartValve, "aortic stenosis", VALVE),
        ],
    },
    Several {
        typed: "CAD",
        senses: &[
            of(HeartDisease, "coronary disease", HEART),
            of(
                NeckArtery,
                "a torn neck artery",
                "neck dissection vertebral cervical carotid horner horner's",
            ),
        ],
    },
    Several {
        typed: "HA",
        senses: &[
            of(HipHemiarthroplasty(None), "hemiarthroplasty", "nof hip femur subcapital cemented bipolar"),
            other("headache", "headache headaches neck migraine photophobia aura"),
        ],
    },
    Several {
        typed: "hemi",
        senses: &[
            of(
                HipHemiarthroplasty(None),
                "hemiarthroplasty",
                "nof hip femur subcapital cemented uncemented bipolar",
            ),
            of(Stroke, "hemiplegia", "cva stroke hemiplegia spastic spasticity tia"),
        ],
    },
    Several {
        typed: "CP",
        senses: &[
            of(CerebralPalsy, "cerebral palsy", "palsy gmfcs spastic diplegia botox"),
            of(PersistentPain, "chronic pain", "chronic fibromyalgia widespread"),
            other("chest pain", "chest sob exertional ecg"),
        ],
    },
    Several {
        typed: "OP",
        senses: &[
            of(Osteoporosis, "osteoporosis", BONES),
            other("outpatient", "outpatient outpatients clinic appt appointment referral dept"),
        ],
    },
    Several {
        typed: "PE",
        senses: &[
            of(
                Clot,
                "pulmonary embolism",
                "dvt vte embolism ctpa lung lungs apixaban rivaroxaban warfarin anticoagulated clot",
            ),
            other("lessons at school", "lesson lessons class school teacher kit"),
        ],
    },
    Several {
        typed: "POP",
        senses: &[
            of(
                PelvicProlapse,
                "prolapse",
                "cystocele rectocele pessary heaviness pelvic vaginal uterine bulge postnatal",
            ),
            of(Cast, "plaster", "plaster cast wrist ankle fracture fractured fx # colles scaphoid backslab"),
        ],
    },
    Several {
        typed: "prolapse, prolapsed",
        senses: &[
            of(
                PelvicProlapse,
                "pelvic organ prolapse",
                "pelvic vaginal pessary cystocele rectocele heaviness uterine bladder uterus womb pfme",
            ),
            of(DiscProlapse, "disc prolapse", "disc disk lumbar sciatica radiculopathy"),
            of(HeartValve, "mitral valve prolapse", "mitral valve murmur"),
        ],
    },
    Several {
        typed: "PN",
        senses: &[
            of(
                Neuropathy,
                "neuropathy",
                "feet foot neuropathy diabetes diabetic dm numb monofilament dpn chemo",
            ),
            of(
                AfterBirth,
                "postnatal",
                "lscs nvd svd birth baby breastfeeding delivery oasi diastasis caesarean cesarean forceps",
            ),
        ],
    },
    Several {
        typed: "HF",
        senses: &[
            of(
                HeartFailure,
                "heart failure",
                "ccf lvsd hfref hfpef furosemide cardiac heart nyha breathless bnp",
            ),
            other("hip flexion", "hip rom flexion mmt strength"),
        ],
    },
    Several {
        typed: "ACS",
        senses: &[
            of(HeartDisease, "a coronary syndrome", HEART),
            of(CompartmentSyndrome, "compartment syndrome", "fasciotomy compartment calf tibia tibial"),
        ],
    },
    Several {
        typed: "MS",
        senses: &[
            of(
                MultipleSclerosis,
                "multiple sclerosis",
                "relapse relapsing rrms neurology edss spasticity sclerosis ocrelizumab",
            ),
            of(HeartValve, "mitral stenosis", VALVE),
        ],
    },
    Several {
        typed: "OH",
        senses: &[
            of(
                LowBloodPressure,
                "a drop of blood pressure on standing",
                "bp dizzy postural systolic lightheaded faint",
            ),
            other("overhead", "press overhead reach shoulder lift"),
        ],
    },
    Several {
        typed: "PID",
        senses: &[
            of(DiscProlapse, "disc prolapse", "lumbar back radiculopathy sciatica disc slr lbp lba"),
            other("pelvic infection", "gynae pelvic antibiotics"),
        ],
    },
    Several {
        typed: "fits",
        senses: &[
            of(
                Epilepsy,
                "seizures",
                "epilepsy epileptic seizure seizures keppra levetiracetam phenytoin valproate convulsion convulsions",
            ),
            other("how it fits", "shoe shoes boot brace splint well insole insoles"),
        ],
    },
    Several {
        typed: "TA",
        senses: &[
            of(AchillesTendinopathy, "Achilles tendon", "achilles heel tendinopathy tendon alfredson"),
            of(GiantCellArteritis, "temporal arteritis", "headache scalp jaw gca pmr vision esr"),
            other("tibialis anterior", "dorsiflexion df tibialis strength shin"),
        ],
    },
    Several {
        typed: "PF",
        senses: &[
            of(PlantarHeelPain, "plantar fascia", "heel plantar fascia fasciitis insole insoles"),
            of(KneecapPain, "kneecap joint", "knee knees patella kneecap stairs squat"),
            other("pelvic floor", "floor pelvic kegel kegels bladder leak"),
        ],
    },
];
