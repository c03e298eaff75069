//! Injuries and states of limbs, and broken bones.

use super::{DISLOCATED, FRACTURE, PAIN, Row, STRAINED, TENDON, TORN};
use crate::language::condition::sorts::Condition::*;
use crate::language::condition::sorts::{Bone, Fixation, Meniscus, Size};
use Row::{Is, Nothing, Of};

pub(super) const ROWS: &[Row] = &[
    // Broken bones.
    Of(
        Fracture(Bone::Hip, None),
        FRACTURE,
        "hip, neck of femur, nof, femoral neck, intertrochanteric, pertrochanteric, it, subtrochanteric, subcapital, neck femur, proximal femur, prox femur",
    ),
    Is(Fracture(Bone::Hip, None), "noff, fnof, # neck of femur, IT #, subcapital"),
    Of(
        Fracture(Bone::Femur, None),
        FRACTURE,
        "femur, femoral shaft, femoral, distal femur, periprosthetic, thigh bone",
    ),
    Of(Fracture(Bone::Kneecap, None), FRACTURE, "patella, patellar, kneecap, knee cap"),
    Of(
        Fracture(Bone::Tibia, None),
        FRACTURE,
        "tibia, tibial, tibial plateau, tib fib, tib / fib, fibula, fibular, tibial shaft, plateau, shin, lower leg, leg, knee",
    ),
    Is(Fracture(Bone::Tibia, Some(Fixation::Nail)), "tibial nail"),
    Of(
        Fracture(Bone::Ankle, None),
        FRACTURE,
        "ankle, malleolus, malleolar, lateral malleolus, medial malleolus, lat malleolus, med malleolus, lat mal, med mal, bimal, trimal, bimalleolar, trimalleolar, weber a, weber b, weber c, weber, maisonneuve, pilon, talus, talar, distal fibula",
    ),
    Is(
        Fracture(Bone::Ankle, None),
        "weber a, weber b, weber c, bimal, trimal, bimalleolar, trimalleolar, maisonneuve",
    ),
    Of(Fracture(Bone::Heel, None), FRACTURE, "calcaneus, calcaneal, calcaneum, heel bone, os calcis"),
    Of(
        Fracture(Bone::Foot, None),
        FRACTURE,
        "foot, metatarsal, metatarsals, mt, 5 th mt, 5 th metatarsal, base of 5 th, base 5 th mt, jones, lisfranc, toe, navicular, midfoot, cuboid, hallux, 2 nd mt, 3 rd mt, 1 st mt",
    ),
    Is(Fracture(Bone::Foot, None), "lisfranc, lisfranc injury"),
    Of(
        Fracture(Bone::Pelvis, None),
        FRACTURE,
        "pelvis, pelvic, pubic rami, pubic ramus, acetabulum, acetabular, sacral, sacrum, rami",
    ),
    Of(
        Fracture(Bone::Vertebra, None),
        FRACTURE,
        "vertebral, vertebra, vertebrae, wedge, crush, compression, spine, spinal, burst, lumbar, thoracic, t 11, t 12, l 1, l 2, l 3, vert, osteoporotic vertebral",
    ),
    Is(
        Fracture(Bone::Vertebra, None),
        "vcf, ovf, vertebral compression fracture, vertebral collapse, wedge collapse, wedge compression fracture, vertebroplasty, kyphoplasty",
    ),
    Of(Fracture(Bone::Rib, None), FRACTURE, "rib, ribs, sternum, sternal"),
    Of(
        Fracture(Bone::Collarbone, None),
        FRACTURE,
        "clavicle, clavicular, collarbone, collar bone, clav, mid shaft clavicle, midshaft clavicle, distal clavicle, lateral clavicle",
    ),
    Of(Fracture(Bone::ShoulderBlade, None), FRACTURE, "scapula, scapular, shoulder blade, glenoid"),
    Of(
        Fracture(Bone::UpperArmTop, None),
        FRACTURE,
        "proximal humerus, prox humerus, proximal humeral, prox humeral, neck of humerus, surgical neck of humerus, surgical neck humerus, noh, humeral neck, neck humerus, greater tuberosity, gt, head of humerus, shoulder, humeral head, surgical neck",
    ),
    Is(Fracture(Bone::UpperArmTop, None), "phf, noh #, snoh"),
    Of(
        Fracture(Bone::UpperArm, None),
        FRACTURE,
        "humerus, humeral, humeral shaft, midshaft humerus, mid shaft humerus, upper arm, arm",
    ),
    Of(
        Fracture(Bone::Elbow, None),
        FRACTURE,
        "elbow, radial head, olecranon, supracondylar, distal humerus, radial neck, capitellum, coronoid, head of radius",
    ),
    Of(
        Fracture(Bone::Forearm, None),
        FRACTURE,
        "forearm, radius and ulna, both bone forearm, ulna, ulnar, monteggia, galeazzi, radial shaft, both bones",
    ),
    Of(
        Fracture(Bone::Wrist, None),
        FRACTURE,
        "wrist, distal radius, distal radial, colles, smiths, smith, barton, bartons, radius, dist radius, smith's, radial styloid, ulnar styloid, distal forearm",
    ),
    Is(Fracture(Bone::Wrist, None), "drf, dr #, colles"),
    Of(Fracture(Bone::Scaphoid, None), FRACTURE, "scaphoid, scaph"),
    Of(
        Fracture(Bone::Hand, None),
        FRACTURE,
        "hand, metacarpal, mc, 5 th mc, 5 th metacarpal, boxer's, boxers, finger, phalanx, phalangeal, thumb, bennett's, bennetts, p 1, p 2, hamate, 4 th mc, proximal phalanx",
    ),
    Is(Fracture(Bone::Unsaid, None), "fracture, fractured, fracture fixation, # fixation"),
    Nothing(
        "fracture clinic, # clinic, break through, no fracture risk, fracture risk, tea break, short break, a break, take a break, rest break, fragility, stress fracture risk",
    ),
    Of(
        StressFracture,
        "fracture # fx reaction injury",
        "stress, bone stress, tibial stress, metatarsal stress, navicular stress, femoral neck stress",
    ),
    Is(StressFracture, "bsi"),
    // Hip and thigh.
    Is(
        GlutealTendinopathy,
        "gtps, greater trochanteric pain syndrome, greater trochanteric pain, lateral hip pain, trochanteric bursitis, gluteal tendinopathy, gluteal tendonitis, glute tendinopathy, glute med tendinopathy, hip bursitis, gluteus medius tendinopathy, gluteal tear, glute med tear",
    ),
    Is(
        HipImpingement,
        "fai, fais, femoroacetabular impingement, hip impingement, cam lesion, cam, pincer lesion",
    ),
    Of(HipLabrumTear, TORN, "hip labral, hip labrum, acetabular labral, acetabular labrum"),
    Is(HipDysplasia, "hip dysplasia, ddh, dysplastic hip, acetabular dysplasia"),
    Is(BoneDeath, "avn, avascular necrosis, osteonecrosis"),
    Of(HamstringTear, STRAINED, "hamstring, hamstrings, hammy, hams, biceps femoris, bf, hs"),
    Is(HamstringTear, "hsi, hamstring injury"),
    Is(
        HamstringTendinopathy,
        "pht, proximal hamstring tendinopathy, hamstring tendinopathy, high hamstring tendinopathy",
    ),
    Of(ThighTear, STRAINED, "quad, quads, quadriceps, rectus femoris, rec fem, rectus fem, thigh"),
    Of(GroinTear, STRAINED, "groin, adductor, adductors, add longus, adductor longus"),
    Of(CalfTear, STRAINED, "calf, gastroc, gastrocnemius, soleus, medial gastroc, calf muscle, plantaris"),
    Is(CalfTear, "calf or achilles tear, tennis leg, calf injury"),
    // Knee.
    Of(
        CruciateInjury,
        "tear torn rupture ruptured deficient injury sprain partial deficiency def laxity",
        "acl, anterior cruciate, cruciate, cruciate ligament, anterior cruciate ligament",
    ),
    Is(CruciateInjury, "acl, acl d, anterior cruciate, cruciate"),
    Nothing("acl protocol, acl tests, acl test, acl intact, acl prevention, acl class, acl brace"),
    Of(
        PosteriorCruciateInjury,
        "tear torn rupture ruptured deficient injury sprain",
        "pcl, posterior cruciate, posterior cruciate ligament",
    ),
    Is(PosteriorCruciateInjury, "pcl"),
    Of(
        CollateralInjury,
        "tear torn rupture ruptured injury sprain sprained strain",
        "mcl, lcl, plc, medial collateral, lateral collateral, medial collateral ligament, lateral collateral ligament, posterolateral corner",
    ),
    Is(CollateralInjury, "mcl, lcl"),
    Of(
        MeniscusTear(None),
        TORN,
        "meniscus, meniscal, medial meniscus, lateral meniscus, medial meniscal, lateral meniscal, med meniscus, lat meniscus, med meniscal, lat meniscal, degenerative meniscal, degen meniscal, mm, lm",
    ),
    Is(MeniscusTear(Some(Meniscus::Root)), "meniscal root tear, meniscus root tear"),
    Is(MeniscusTear(Some(Meniscus::BucketHandle)), "bucket handle tear, bht"),
    Of(KneecapDislocation, DISLOCATED, "patella, patellar, kneecap, knee cap"),
    Is(
        KneecapDislocation,
        "patellar instability, patella instability, kneecap instability, maltracking patella, patellar maltracking",
    ),
    Is(
        KneecapPain,
        "pfp, pfps, pfjp, akp, anterior knee pain, patellofemoral pain, patellofemoral pain syndrome, pfj pain, runner's knee, runners knee, kneecap pain, chondromalacia, chondromalacia patella, patellofemoral, fat pad impingement, hoffa's",
    ),
    Of(KneecapTendinopathy, TENDON, "patellar, patella, quads, quadriceps, patellar tendon, quad"),
    Is(KneecapTendinopathy, "jumper's knee, jumpers knee"),
    Of(
        ExtensorMechanismRupture,
        TORN,
        "quads tendon, quad tendon, quadriceps tendon, patellar tendon, patella tendon, extensor mechanism",
    ),
    // Shoulder and elbow.
    Of(
        CuffTear(None),
        TORN,
        "cuff, rotator cuff, rc, rtc, supraspinatus, ssp, infraspinatus, isp, full thickness cuff, partial thickness cuff, full thickness supraspinatus, partial thickness supraspinatus, full thickness rotator cuff",
    ),
    Of(CuffTear(Some(Size::Subscapularis)), TORN, "subscapularis, subscap, ssc"),
    Is(CuffTear(None), "ftrct, ptrct, rct, ft cuff tear"),
    Is(
        CuffTendinopathy,
        "rcrsp, sais, sis, subacromial impingement, subacromial pain, subacromial pain syndrome, saps, shoulder impingement, rotator cuff tendinopathy, cuff tendinopathy, supraspinatus tendinopathy, ssp tendinopathy, rc tendinopathy, rotator cuff related shoulder pain, impingement syndrome, calcific tendinitis, calcific tendonitis, calcific tendinopathy, subacromial bursitis, rotator cuff syndrome, painful arc",
    ),
    Of(
        ShoulderDislocation,
        DISLOCATED,
        "shoulder, anterior shoulder, ghj, gh, glenohumeral, posterior shoulder, first time shoulder, shoulder joint, shldr",
    ),
    Is(
        ShoulderDislocation,
        "shoulder that has slipped out, shoulder slipped out, shoulder has slipped out, shoulder popped out, hill sachs, bankart lesion, traumatic anterior dislocation, first dislocation",
    ),
    Is(
        ShoulderInstability,
        "shoulder instability, unstable shoulder, mdi, multidirectional instability, ambri, glenohumeral instability, anterior instability, gh instability, shoulder unstable, loose shoulder",
    ),
    Of(ShoulderLabrumTear, TORN, "slap, shoulder labral, labral, labrum, glenoid labrum, shoulder labrum"),
    Is(ShoulderLabrumTear, "slap lesion, slap"),
    Is(
        FrozenShoulder,
        "frozen shoulder, adhesive capsulitis, capsulitis, fs, stiff shoulder, frozen shldr, frozen shoulders, contracted shoulder, periarthritis shoulder, pa shoulder, PA shoulder",
    ),
    Of(
        CollarboneJointInjury,
        "sprain injury separation dislocation disruption dislocated subluxation",
        "acj, ac joint, acromioclavicular, ac, acromioclavicular joint",
    ),
    Of(DistalBicepsRupture, TORN, "distal biceps, distal biceps tendon"),
    Of(ElbowDislocation, DISLOCATED, "elbow"),
    Is(
        TennisElbow,
        "tennis elbow, te, lateral epicondylitis, lateral epicondylalgia, lateral elbow pain, lateral elbow tendinopathy, lateral epicondylopathy, lat epicondylitis, lat epicondylalgia, common extensor tendinopathy",
    ),
    Is(
        GolfersElbow,
        "golfer's elbow, golfers elbow, golfer elbow, medial epicondylitis, medial epicondylalgia, medial elbow tendinopathy",
    ),
    Nothing("te levels, tennis elbow brace, tennis elbow clasp"),
    // Wrist and hand.
    Is(MalletFinger, "mallet finger, mallet, mallet injury"),
    Is(CarpalTunnel, "carpal tunnel, carpal tunnel syndrome, cts"),
    Is(TriggerFinger, "trigger finger, trigger thumb, stenosing tenosynovitis"),
    Is(ThumbTendon, "de quervain's, de quervains, de quervain, dequervain's, dequervains, dq tenosynovitis"),
    Is(Dupuytren, "dupuytren's, dupuytrens, dupuytren, dupuytren's contracture"),
    // Ankle and foot.
    Of(AchillesRupture, TORN, "achilles, achilles tendon, TA, tendo achilles, tendoachilles, AT"),
    Is(AchillesRupture, "atr, tatr"),
    Of(
        AchillesTendinopathy,
        TENDON,
        "achilles, TA, insertional achilles, midportion achilles, mid portion achilles, AT, achilles tendon",
    ),
    Is(AchillesTendinopathy, "achilles pain"),
    Of(
        AnkleSprain,
        "sprain sprained inversion rolled strain",
        "ankle, lateral ankle, atfl, cfl, lateral ligament ankle, inversion ankle, deltoid",
    ),
    Is(
        AnkleSprain,
        "las, inversion injury, rolled ankle, atfl tear, atfl rupture, atfl injury, twisted ankle, lateral ligament sprain",
    ),
    Is(
        SyndesmosisInjury,
        "syndesmosis injury, syndesmosis, syndesmotic injury, syndesmotic sprain, high ankle sprain, syndesmosis sprain, high sprain, tightrope, aitfl, syndesmosis tear",
    ),
    Is(Bunion, "bunion, hallux valgus, hav"),
    Is(
        PlantarHeelPain,
        "plantar fasciitis, plantar fasciopathy, plantar heel pain, php, plantar fasciosis, plantarfasciitis, heel spur, plantar fascitis, plantar faciitis",
    ),
    Is(
        TibialisPosterior,
        "ptti, pttd, tibialis posterior dysfunction, tib post dysfunction, tib post tendinopathy, tibialis posterior tendinopathy, posterior tibial tendon dysfunction",
    ),
    Is(ShinPain, "shin splints, mtss, medial tibial stress syndrome, shin pain"),
    Is(CompartmentSyndrome, "compartment syndrome, cecs, exertional compartment syndrome"),
    // Sore joints.
    Of(KneePain, PAIN, "knee, knees, both knees"),
    Of(ShoulderPain, PAIN, "shoulder, shoulders"),
    Of(WristPain, PAIN, "wrist, wrists, hand"),
    Of(HipPain, PAIN, "hip, hips, groin"),
    Of(AnklePain, PAIN, "ankle, ankles, foot, heel"),
    Is(KneePain, "sore knees or wrists"),
    Nothing("pain free, no pain"),
];
