//! Operations, and what tells them more closely.

use super::{FUSED, REBUILT, REPAIRED, REPLACED, Row};
use crate::language::condition::sorts::Condition::*;
use crate::language::condition::sorts::{
    Approach, Bone, Detail, Diabetes as Sort, Fixation, Graft, Implant, Meniscus, Size, Stabilised,
};
use Row::{Beside, Is, Nothing, Of};

pub(super) const ROWS: &[Row] = &[
    // Hip.
    Is(
        HipReplacement(None),
        "thr, tha, total hip, new hip, hip resurfacing, revision hip, bilateral hip replacement, hip prosthesis",
    ),
    Of(HipReplacement(None), REPLACED, "hip, total hip, hip joint"),
    Is(HipReplacement(Some(Approach::Posterior)), "posterior hip, plathr, posterior thr, posterior tha"),
    Is(HipReplacement(Some(Approach::Anterior)), "anterior hip, anterior thr, anterior tha"),
    Of(HipReplacement(Some(Approach::Posterior)), REPLACED, "posterior hip"),
    Of(HipReplacement(Some(Approach::Anterior)), REPLACED, "anterior hip"),
    Is(
        HipHemiarthroplasty(None),
        "hip hemi, hip hemiarthroplasty, hemiarthroplasty, hemi arthroplasty, bipolar hemi, bipolar hemiarthroplasty, bipolar, cemented hemi, uncemented hemi, hemi hip, hemi of hip, hemiarthroplasty hip, amp, austin moore, austin moore prosthesis, thompsons hemi, half hip replacement",
    ),
    Is(
        HipPrecautions(None),
        "hip precautions, hip precaution, thr precautions, tha precautions, hip dislocation precautions, dislocation precautions",
    ),
    // Where no hip replacement stands beside it.
    Is(HipPrecautions(Some(Approach::Posterior)), "posterior approach, post approach"),
    Is(
        HipPrecautions(Some(Approach::Posterior)),
        "posterior hip precautions, post hip precautions, posterior precautions, posterior hip precaution",
    ),
    Is(
        HipPrecautions(Some(Approach::Anterior)),
        "anterior hip precautions, ant hip precautions, anterior precautions, anterior hip precaution",
    ),
    Is(
        HipArthroscopy,
        "hip arthroscopy, hip scope, arthroscopic fai surgery, labral repair of hip, hip labral repair, hip labrum repair",
    ),
    Is(HipOsteotomy, "pao, periacetabular osteotomy, hip osteotomy"),
    Of(
        GlutealRepair,
        REPAIRED,
        "gluteal tendon, gluteus medius, glute med, gluteal, abductor tendon, hip abductor",
    ),
    Row::Detail(
        Detail::Approach(Approach::Posterior),
        "posterior approach, post approach, posterolateral approach, posterior appr, post appr, posterolateral, postero lateral, pla, from behind",
    ),
    Row::Detail(
        Detail::Approach(Approach::Anterior),
        "anterior approach, ant approach, direct anterior approach, direct anterior, anterior appr, ant appr, daa",
    ),
    Row::Detail(
        Detail::Approach(Approach::Lateral),
        "lateral approach, lat approach, direct lateral approach, direct lateral, lateral appr, lat appr, dla, hardinge, anterolateral approach, anterolateral, antero lateral",
    ),
    Beside(Detail::Approach(Approach::Posterior), "post, posterior"),
    Beside(Detail::Approach(Approach::Anterior), "ant, anterior"),
    Beside(Detail::Approach(Approach::Lateral), "lat, lateral"),
    Nothing(
        "post discharge, post injury, post fracture, post #, post fall, post thr, post tha, post hemi, ant tib, lat pain, lateral pain, lateral hip pain, lateral thigh, lat thigh, anterior thigh, posterior thigh, anterior pain, posterior pain, lateral aspect, post exercise, post session",
    ),
    // Knee.
    Is(KneeReplacement, "tkr, tka, total knee, new knee, revision knee, knee prosthesis"),
    Of(KneeReplacement, REPLACED, "knee, total knee, knee joint"),
    Is(
        PartialKneeReplacement,
        "ukr, uka, pkr, pka, partial knee, uni knee, unicompartmental knee, unicondylar knee, oxford knee, half knee replacement, patellofemoral replacement, pfa, pfjr",
    ),
    Of(
        PartialKneeReplacement,
        REPLACED,
        "partial knee, unicompartmental knee, unicondylar knee, uni knee, half knee",
    ),
    Nothing("oxford knee score, new knee pain, new hip pain, partial knee bend, total knee flexion"),
    Is(
        CruciateReconstruction(None),
        "aclr, acl r, acl graft, acl surgery, acl op, acl operation, acl repair, acl repaired, acl reco, revision acl, cruciate repair, cruciate surgery, acl revision",
    ),
    Of(
        CruciateReconstruction(None),
        REBUILT,
        "acl, anterior cruciate, cruciate, cruciate ligament, anterior cruciate ligament",
    ),
    Of(PosteriorCruciateReconstruction, REBUILT, "pcl, posterior cruciate, posterior cruciate ligament"),
    Is(PosteriorCruciateReconstruction, "pclr, pcl repair, pcl surgery, pcl graft"),
    Row::Detail(
        Detail::Graft(Graft::Hamstring),
        "hamstring graft, hamstring autograft, hamstrings graft, hamstring tendon graft, hs graft, ht graft, stg, hs autograft, ht autograft, hs auto, 4 strand, semi t, semitendinosus graft, hammy graft, hamstring tendon autograft, quadrupled hamstring, hs tendon, quadruple hamstring",
    ),
    Row::Detail(
        Detail::Graft(Graft::PatellarTendon),
        "bptb, btb, bone patellar tendon bone, patellar tendon graft, patellar graft, patella tendon graft, patellar tendon autograft, pt graft, pt autograft, patella tendon autograft",
    ),
    Row::Detail(
        Detail::Graft(Graft::QuadricepsTendon),
        "quads tendon graft, quad tendon graft, quads tendon autograft, quad tendon autograft, quadriceps tendon graft, quadriceps tendon autograft, qt graft, qt autograft, quads graft, quad graft, quadriceps graft, quads tendon, quad tendon",
    ),
    Row::Detail(Detail::Graft(Graft::Donor), "allograft, allo, donor graft, lars, synthetic graft"),
    Beside(Detail::Graft(Graft::Hamstring), "hs, ht, hamstring, hamstrings, hammy, st, semi tendinosus"),
    Beside(Detail::Graft(Graft::PatellarTendon), "pt, patellar tendon, patella tendon"),
    Beside(Detail::Graft(Graft::QuadricepsTendon), "qt, quads, quadriceps tendon"),
    Of(
        CollateralRepair,
        "repair repaired reconstruction reconstructed recon",
        "mcl, lcl, plc, posterolateral corner, collateral ligament",
    ),
    Is(MeniscusRepair(None), "mmr, lmr, meniscus suture, meniscal suture, menisc repair"),
    Of(
        MeniscusRepair(None),
        REPAIRED,
        "meniscus, meniscal, medial meniscus, lateral meniscus, medial meniscal, lateral meniscal, med meniscus, lat meniscus, med meniscal, lat meniscal, meniscii",
    ),
    Is(MeniscusRepair(Some(Meniscus::Root)), "mmprt, mmprt repair, lmprt repair"),
    Of(
        MeniscusRepair(Some(Meniscus::Root)),
        REPAIRED,
        "meniscal root, meniscus root, medial root, lateral root, meniscus root tear, meniscal root tear",
    ),
    Of(
        MeniscusRepair(Some(Meniscus::BucketHandle)),
        REPAIRED,
        "bucket handle, bht, bucket handle tear, bucket handle meniscus, bucket handle meniscal tear",
    ),
    Of(
        MeniscusRepair(Some(Meniscus::Radial)),
        REPAIRED,
        "radial meniscal tear, radial meniscus, radial meniscus tear",
    ),
    Row::Detail(Detail::Meniscus(Meniscus::Root), "root tear, root"),
    Row::Detail(Detail::Meniscus(Meniscus::Radial), "radial tear"),
    Row::Detail(Detail::Meniscus(Meniscus::BucketHandle), "bucket handle, bucket handle tear, bht"),
    Row::Detail(Detail::Meniscus(Meniscus::Complex), "complex tear"),
    Is(
        MeniscusTrim,
        "apm, meniscectomy, partial meniscectomy, menx, meniscal trim, meniscus trim, trimmed meniscus, meniscal debridement, meniscus trimmed, partial medial meniscectomy, partial lateral meniscectomy, arthroscopic meniscectomy, pmm, meniscus shaved, knee washout",
    ),
    Is(
        CartilageRepair,
        "microfracture, micro fracture, aci, maci, oats, mosaicplasty, cartilage repair, cartilage transplant, cartilage graft, chondroplasty, osteochondral graft",
    ),
    Is(
        KneeOsteotomy,
        "hto, dfo, high tibial osteotomy, distal femoral osteotomy, tibial osteotomy, femoral osteotomy, knee osteotomy",
    ),
    Is(KneeArthroscopy, "knee arthroscopy, knee scope, arthroscopy knee, arthroscopy of knee, ka scope"),
    Is(
        KneecapStabilisation,
        "mpfl, mpfl recon, mpfl reconstruction, mpfl repair, mpflr, tto, tibial tubercle osteotomy, tibial tubercle transfer, ttt, trochleoplasty, patella stabilisation, patellar stabilisation, patella stabilization, patellar stabilization, lateral release, fulkerson",
    ),
    Of(
        ExtensorMechanismRepair,
        REPAIRED,
        "quads tendon, quad tendon, quadriceps tendon, patellar tendon, patella tendon, extensor mechanism",
    ),
    // Shoulder and elbow.
    Is(CuffRepair(None), "rcr, arcr"),
    Of(
        CuffRepair(None),
        REPAIRED,
        "cuff, rotator cuff, rc, rtc, supraspinatus, ssp, infraspinatus, isp, rotator cuff tendon, supraspinatus tendon, cuff tear, rotator cuff tear",
    ),
    Of(CuffRepair(Some(Size::Subscapularis)), REPAIRED, "subscapularis, subscap, ssc"),
    Row::Detail(Detail::Size(Size::Massive), "massive"),
    Row::Detail(Detail::Size(Size::Large), "large"),
    Row::Detail(Detail::Size(Size::Medium), "medium"),
    Row::Detail(Detail::Size(Size::Small), "small"),
    Nothing(
        "small exercise ball, large ball, small ball, medium band, large band, large towel, small towel, small steps, small range, large range",
    ),
    Is(
        ShoulderDecompression,
        "sad, asad, subacromial decompression, acromioplasty, arthroscopic subacromial decompression, acj excision, shoulder decompression, distal clavicle excision, arthroscopic decompression shoulder",
    ),
    Nothing("SAD lamp, feels sad, feeling sad, is sad, very sad"),
    Is(
        ShoulderStabilisation(Some(Stabilised::SoftTissue)),
        "bankart, bankart repair, arthroscopic bankart, remplissage, capsular shift, capsular plication, anterior labral repair",
    ),
    Is(ShoulderStabilisation(Some(Stabilised::BoneBlock)), "latarjet, bristow, bone block, laterjet"),
    Is(
        ShoulderStabilisation(None),
        "shoulder stabilisation, shoulder stabilization, shoulder stabilised, shoulder stabilized, anterior stabilisation, anterior stabilization, slap repair, labral repair, labrum repair, shoulder labral repair, posterior stabilisation, posterior stabilization",
    ),
    Is(ShoulderReplacement(None), "tsr, tsa, total shoulder, new shoulder"),
    Of(ShoulderReplacement(None), REPLACED, "shoulder, total shoulder"),
    Is(
        ShoulderReplacement(Some(Implant::Anatomic)),
        "atsa, atsr, anatomic tsr, anatomic tsa, anatomical tsr, anatomical tsa, anatomic shoulder replacement",
    ),
    Is(
        ShoulderReplacement(Some(Implant::Reverse)),
        "rtsa, rtsr, rsa, rsr, reverse tsr, reverse tsa, reverse total shoulder, reverse shoulder, reverse shoulder replacement, reverse shoulder arthroplasty, reverse total shoulder replacement, reverse total shoulder arthroplasty, reverse geometry",
    ),
    Is(
        ShoulderReplacement(Some(Implant::Hemi)),
        "shoulder hemi, shoulder hemiarthroplasty, hemi shoulder, hemiarthroplasty shoulder",
    ),
    Row::Detail(Detail::Implant(Implant::Reverse), "reverse"),
    Row::Detail(Detail::Implant(Implant::Anatomic), "anatomic, anatomical"),
    Is(
        BicepsTenodesis,
        "biceps tenodesis, biceps tenotomy, lhb tenodesis, lhb tenotomy, lhbt tenodesis, tenodesis, tenotomy of biceps, biceps tendon repair, long head of biceps tenodesis",
    ),
    Of(DistalBicepsRepair, REPAIRED, "distal biceps, distal biceps tendon, db"),
    Is(DistalBicepsRepair, "dbr"),
    Of(ElbowReplacement, REPLACED, "elbow, total elbow"),
    Is(ElbowReplacement, "TER, TEA"),
    // Wrist and hand.
    Of(
        FlexorTendonRepair,
        REPAIRED,
        "flexor tendon, flexor tendons, fdp, fds, fpl, flexor, fdp fds, fds fdp, fdp + fds, fdp / fds, fds / fdp",
    ),
    Of(ExtensorTendonRepair, REPAIRED, "extensor tendon, extensor tendons, edc, epl, eip, extensor"),
    Is(
        CarpalTunnelRelease,
        "ctr, ctd, carpal tunnel release, carpal tunnel decompression, carpal tunnel op, carpal tunnel surgery, carpal tunnel released, cts release",
    ),
    // Ankle and foot.
    Of(
        AchillesRepair,
        REPAIRED,
        "achilles, achilles tendon, TA, tendo achilles, tendoachilles, tendon achilles, achilles rupture",
    ),
    Of(
        AnkleLigamentRepair,
        "repair repaired reconstruction reconstructed recon",
        "atfl, cfl, lateral ligament, ankle ligament, lateral ankle ligament, ankle lateral ligament, ankle",
    ),
    Is(AnkleLigamentRepair, "brostrom, brostrom gould, brostrum"),
    Of(AnkleReplacement, REPLACED, "ankle, total ankle"),
    Is(AnkleReplacement, "TAR, TAA"),
    Of(AnkleFusion, FUSED, "ankle, subtalar, triple, hindfoot, midfoot, 1 st mtp, mtp, 1 st mtpj, big toe"),
    Is(
        BunionSurgery,
        "scarf, akin, scarf akin, scarf + akin, scarf & akin, scarf / akin, scarf and akin, bunionectomy, bunion surgery, bunion op, bunion correction, bunion repair, lapidus, chevron osteotomy, hallux valgus correction, hv correction, hallux valgus surgery, bunion operation, bunion osteotomy",
    ),
    Nothing("arm scarf, with a scarf, scarf stretch, scarf as, a scarf, scarf test"),
    // Spine.
    Of(
        SpinalFusion,
        FUSED,
        "spinal, spine, lumbar, lumbar spine, back, low back, lower back, vertebral, thoracic, scoliosis",
    ),
    Is(
        SpinalFusion,
        "plif, tlif, alif, xlif, olif, llif, plf, harrington rods, spinal rods, rods in back, rods in spine",
    ),
    Of(NeckFusion, FUSED, "cervical, neck, c spine"),
    Is(
        NeckFusion,
        "acdf, anterior cervical discectomy and fusion, anterior cervical discectomy, cervical disc replacement, disc replacement neck",
    ),
    Is(
        SpinalDecompression,
        "laminectomy, laminotomy, spinal decompression, lumbar decompression, decompression lumbar, decompression spine, foraminotomy, hemilaminectomy, back decompression, decompression, decompressed",
    ),
    Nothing("subacromial space, decompression sickness, decompression table"),
    Is(
        Discectomy,
        "discectomy, diskectomy, microdiscectomy, microdiskectomy, micro discectomy, microdisc, micro disc, mld, lumbar discectomy, disc surgery, disc op, disc removal",
    ),
    // Fixed fractures.
    Is(Fracture(Bone::Hip, Some(Fixation::SlidingScrew)), "dhs, dynamic hip screw, sliding hip screw, shs"),
    Row::Detail(Detail::Fixation(Fixation::SlidingScrew), "dhs, dynamic hip screw, sliding hip screw, shs"),
    Is(
        Fracture(Bone::Hip, Some(Fixation::Nail)),
        "cmn, cephalomedullary nail, pfn, pfna, gamma nail, hip nail, cephalomedullary nailing",
    ),
    Is(Fracture(Bone::Hip, Some(Fixation::Screws)), "hip screws, hip cannulated screws, hip pinning"),
    Row::Detail(
        Detail::Fixation(Fixation::Nail),
        "imn, im nail, intramedullary nail, im nailing, nailing, nailed, im rod, tfn",
    ),
    Row::Detail(
        Detail::Fixation(Fixation::Screws),
        "cannulated screws, cannulated screw, cann screws, screws, percutaneous screws, screw fixation, perc screw",
    ),
    Row::Detail(
        Detail::Fixation(Fixation::Fixed),
        "orif, plated, plate, plating, vlp, volar plate, volar locking plate, internal fixation, open reduction, plate fixation, surgically fixed, fixed with, fixed, fixation, tension band, tbw, tension band wiring, ex fix, exfix, external fixator, frame fixation, crif, fixator",
    ),
    Row::Detail(
        Detail::Fixation(Fixation::Wires),
        "k wires, k wire, k wired, k wiring, crpp, mua k wires, mua + k wires, perc pinning, kwires, kwire",
    ),
    Row::Detail(
        Detail::Fixation(Fixation::NotOperated),
        "non op, nonop, non operative, nonoperative, not operated, conservative, conservatively, conservative management, managed conservatively, conservative rx, conservative mx, no surgery, non surgical, nonsurgical, cons mx",
    ),
    // Others.
    Is(
        HeartOperation,
        "cabg, cabgs, avr, mvr, tavi, tavr, sternotomy, heart surgery, open heart surgery, bypass surgery, valve replacement, heart bypass, valve surgery, cardiac surgery, aortic valve replacement, mitral valve replacement, mitral valve repair, cabg x 3, cabg x 2, cabg x 4, chest opened",
    ),
    Is(
        BellyOperation,
        "laparotomy, laparoscopy, abdominal surgery, bowel resection, colectomy, hysterectomy, cholecystectomy, lap chole, appendectomy, appendicectomy, nephrectomy, bowel surgery, stoma, bariatric surgery, gastric bypass, gastric sleeve",
    ),
    Is(BellyOperation, "hernia repair, inguinal hernia repair, hernia op, hernia surgery, hernia mesh"),
    Is(
        BreastOperation,
        "mastectomy, wle, wide local excision, lumpectomy, breast reconstruction, diep, ld flap, breast surgery",
    ),
    Is(
        Caesarean,
        "lscs, c section, caesarean, cesarean, caesarian, cesarian, caesarean section, cesarean section, emcs, elcs, emlscs, ellscs, c sect, lucs, c / s, c sec, csection",
    ),
    Is(
        Amputation,
        "bka, aka, amputation, amputee, transtibial, transfemoral, below knee amputation, above knee amputation, ttA, stump",
    ),
    Is(
        Operation,
        "surgery, operation, after surgery, arthroplasty, replacement, surgical, mua, manipulation under anaesthetic, manipulation under anesthesia, arthroscopy, keyhole surgery, post op, postop, post operative, post surgery, arthroscopic surgery",
    ),
    Nothing(
        "no plan for surgery, avoid surgery, to avoid surgery, for surgery, await surgery, surgery planned, replacement therapy, hrt, hormone replacement therapy, hormone replacement, surgery team, surgery hours",
    ),
    // Diabetes of a sort.
    Row::Detail(Detail::Diabetes(Sort::One), "type 1, type i, insulin dependent"),
    Row::Detail(Detail::Diabetes(Sort::Two), "type 2, type ii"),
];
