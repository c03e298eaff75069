//! The spine, bones and joints, and the rest of the body.

use super::{FRACTURE, PAIN, Row};
use crate::language::condition::sorts::Condition::*;
use crate::language::condition::sorts::Diabetes as Sort;
use Row::{Is, Nothing, Of};

pub(super) const ROWS: &[Row] = &[
    // Spine.
    Is(
        DiscProlapse,
        "disc prolapse, prolapsed disc, pivd, ivdp, disc herniation, herniated disc, slipped disc, disc bulge, bulging disc, disc protrusion, disc extrusion, herniated disk, disk herniation, disk bulge, bulging disk, hnp, lumbar disc, prolapsed intervertebral disc, disc lesion, slipped disk, sequestrated disc, disc prolapsed",
    ),
    Is(
        SpinalStenosis,
        "spinal stenosis, lumbar stenosis, canal stenosis, lumbar canal stenosis, lss, narrow spinal canal, neurogenic claudication, stenosis, foraminal stenosis, central stenosis, lateral recess stenosis, narrow canal, lcs, spinal canal stenosis",
    ),
    Nothing("aortic root, carotid stenosis, renal stenosis, pyloric stenosis, subglottic stenosis"),
    Is(
        Radiculopathy,
        "radiculopathy, radic, sciatica, lumbar radiculopathy, nerve root pain, nerve root irritation, nerve root compression, low back pain with leg pain, back pain with leg pain, lbp with leg pain, lumbar radic, sciatic pain, radicular pain, radicular leg pain, trapped nerve, pinched nerve, lbp + leg pain, back and leg pain, sciatic nerve pain, sciatic",
    ),
    Nothing("sciatic nerve glide, sciatic nerve slider, sciatic glide, sciatic slider, sciatic nerve floss"),
    Is(
        NeckRadiculopathy,
        "cervical radiculopathy, brachialgia, neck radiculopathy, cervical radic, brachial neuralgia, cervical radicular, neck radic, neck and arm pain",
    ),
    Is(
        Spondylolysis,
        "spondylolysis, pars defect, pars fracture, pars #, pars stress fracture, pars injury, pars stress, pars fx, bilateral pars",
    ),
    Is(
        Spondylolisthesis,
        "spondylolisthesis, listhesis, anterolisthesis, spondy, retrolisthesis, slipped vertebra",
    ),
    Is(Whiplash, "whiplash, wad, whiplash associated disorder, whip lash"),
    Is(Scoliosis, "scoliosis, ais, scheuermann's, scheuermanns, kyphoscoliosis"),
    Is(
        SacroiliacPain,
        "sij pain, sij dysfunction, sacroiliac pain, si joint pain, sij, sijd, si joint dysfunction, sacroiliitis, sacroiliac joint pain",
    ),
    Is(NeckCord, "myelopathy, cervical myelopathy, dcm, csm, cord compression, mscc, cord signs"),
    Is(
        NeckInstability,
        "aas, atlantoaxial instability, atlanto axial instability, atlantoaxial subluxation, c 1 / 2 instability, c 1 / c 2 instability, cervical instability, upper cervical instability, craniocervical instability, cci, ccj instability",
    ),
    Is(
        NeckArtery,
        "vbi, cead, cervical artery dissection, carotid dissection, vertebral artery dissection, artery dissection, vad, neck artery dissection",
    ),
    Of(LowBackPain, PAIN, "low back, back, lower back, lumbar, l spine"),
    Is(LowBackPain, "lbp, clbp, nslbp, lba, backache, back ache, lumbago, mechanical back pain, nsclbp"),
    Of(NeckPain, PAIN, "neck, cervical"),
    Is(NeckPain, "neck ache, wry neck, torticollis, acute wry neck, nsnp"),
    // Bone and joint.
    Is(
        Osteoporosis,
        "osteoporosis, osteoporotic, osteoperosis, osteoporsis, thin bones, fragility fracture, fragility #, fragility fx, brittle bones, low bone density, osteop, low bmd, insufficiency fracture, reduced bone density, low trauma fracture",
    ),
    Of(Osteoporosis, FRACTURE, "fragility, low trauma, insufficiency, osteoporotic"),
    Is(Osteopenia, "osteopenia, osteopenic, osteopaenia, bone thinning"),
    Is(
        Osteoarthritis,
        "oa, osteoarthritis, osteo arthritis, osteoarthrosis, wear and tear, djd, tricompartmental oa, arthritis, degenerative joint disease, coxarthrosis, gonarthrosis, degenerative changes, pfj oa, arthritic, arthrosis, hip oa, knee oa, spondylosis, cervical spondylosis, lumbar spondylosis",
    ),
    Is(
        RheumatoidArthritis,
        "RA, rheumatoid, rheumatoid arthritis, seropositive, rheumatoid arthropathy, seropositive ra",
    ),
    Nothing("spo 2 RA, on RA, RA sats"),
    Is(
        InflammatoryArthritis,
        "psa, psoriatic, psoriatic arthritis, inflammatory arthritis, jia, juvenile idiopathic arthritis, reactive arthritis, sle, lupus, enteropathic arthritis, connective tissue disease, ctd disease, seronegative arthritis",
    ),
    Nothing("psa test, psa level, psa raised, raised psa, psa 4, psa bloods"),
    Is(
        AnkylosingSpondylitis,
        "ank spond, ankylosing spondylitis, axspa, axial spondyloarthritis, axial spa, bamboo spine, spondyloarthritis, nr axspa, spondyloarthropathy, bechterew",
    ),
    Is(Gout, "gout, gouty, pseudogout, gouty arthritis, cppd"),
    Is(Polymyalgia, "pmr, polymyalgia, polymyalgia rheumatica"),
    Is(GiantCellArteritis, "gca, giant cell arteritis, temporal arteritis"),
    Is(
        Hypermobility,
        "hypermobile, hypermobility, hsd, heds, eds, jhs, gjh, bjhs, ehlers danlos, marfan, marfan's, marfans, beighton 5, beighton 6, beighton 7, beighton 8, beighton 9, double jointed, hypermobility spectrum disorder, beighton, hypermobility syndrome",
    ),
    Nothing("beighton 0, beighton 1, beighton 2, beighton 3"),
    Is(
        GrowthPlatePain,
        "osgood schlatter, osgood schlatter's, osgood schlatters, osgood, osgoods, osgood's, osd, sever, severs, sever's, sever's disease, severs disease, slj, sinding larsen johansson, iselin, iselin's, apophysitis, calcaneal apophysitis, tibial apophysitis, gymnast wrist, gymnast's wrist, little league elbow, little league shoulder, growth plate, growth plate pain, sinding larsen",
    ),
    Is(
        ChildHip,
        "perthes, sufe, scfe, slipped upper femoral epiphysis, slipped capital femoral epiphysis, legg calve perthes",
    ),
    // Pregnancy, birth, pelvis.
    Is(
        Pregnancy,
        "pregnant, pregnancy, preg, antenatal, weeks gestation, iup, expecting, twin pregnancy, expecting a baby, gestation, pregnent, 2 nd trimester, 3 rd trimester, second trimester, third trimester, first trimester, trimester",
    ),
    Nothing(
        "expecting to, before pregnancy, since pregnancy, pregnancy test, antenatal class hx, wants pregnancy, planning pregnancy, ttc, after pregnancy, previous pregnancies",
    ),
    Is(
        AfterBirth,
        "postnatal, post natal, postpartum, post partum, after birth, gave birth, nvd, svd, oasi, after delivery, since birth, new mum, new mom, forceps delivery, vbac, 3 b tear, 3 a tear, perineal tear, ventouse, puerperium, ftnd, post delivery, after the birth, breastfeeding, breast feeding",
    ),
    Is(
        PelvicGirdlePain,
        "pgp, ppgp, pelvic girdle pain, spd, symphysis pubis dysfunction, pubic symphysis pain, symphysis pain, pelvic girdle",
    ),
    Is(
        PelvicProlapse,
        "pelvic organ prolapse, cystocele, rectocele, uterine prolapse, vaginal prolapse, pessary, cystocoele, rectocoele, pelvic prolapse, bladder prolapse, uterovaginal prolapse, prolapsed womb, prolapsed bladder, uv prolapse",
    ),
    Is(
        AbdominalSeparation,
        "diastasis, dra, dram, drad, diastasis recti, rectus diastasis, divarication, divarication of recti, drm, tummy gap, abdominal separation",
    ),
    Is(
        BladderLeak,
        "sui, stress incontinence, urinary leak, urinary leakage, leaks urine, stress urinary incontinence, urge incontinence, mixed incontinence",
    ),
    Is(
        PreEclampsia,
        "pre eclampsia, preeclampsia, pih, pregnancy induced hypertension, gestational hypertension",
    ),
    // Heart, vessels, blood.
    Is(
        RaisedBloodPressure,
        "raised blood pressure, high blood pressure, htn, hypertension, hypertensive, high bp, raised bp, hbp, blood pressure, bp high, bp raised, elevated bp, hypertention, b p high, uncontrolled bp, ↑ bp",
    ),
    Nothing(
        "blood pressure cuff, blood pressure normal, blood pressure ok, check blood pressure, normal blood pressure, pulmonary hypertension",
    ),
    Is(
        LowBloodPressure,
        "low blood pressure, low bp, postural drop, hypotension, postural hypotension, orthostatic hypotension, hypotensive, orthostatic, pots, bp drops, postural bp drop",
    ),
    Is(
        HeartDisease,
        "ihd, chd, MI, stemi, nstemi, heart attack, angina, pci, stent, stents, stented, gtn, coronary artery disease, coronary heart disease, heart disease, ischaemic heart disease, ischemic heart disease, cardiac history, cardiac disease, cardiac hx, myocardial infarction, infarct, unstable angina, coronary disease, heart problems, heart trouble, heart condition, cardiac condition, ptca, angioplasty, cardiomyopathy, heart",
    ),
    Nothing(
        "heart rate, heart sounds, heart sounds normal, by heart, at heart, heart healthy, heart rate monitor, ureteric stent, jj stent, iliac stent",
    ),
    Is(
        HeartFailure,
        "ccf, chf, hfref, hfpef, heart failure, lvsd, lvf, congestive heart failure, cardiac failure, hfmref, nyha",
    ),
    Is(
        HeartValve,
        "aortic stenosis, mitral stenosis, mitral regurgitation, aortic regurgitation, valve disease, heart valve, mitral valve prolapse, mitral prolapse, mvp, valvular heart disease, heart murmur, mitral valve, aortic valve, rheumatic heart disease, rhd",
    ),
    Is(AtrialFibrillation, "AF, afib, a fib, paf, atrial fibrillation, atrial flutter, arrhythmia, fast af"),
    Is(Pacemaker, "pacemaker, ppm, icd, aicd, crt d, crt p, crt, implantable defibrillator, defibrillator"),
    Is(Aneurysm, "aaa, aneurysm, aortic aneurysm, dissecting aneurysm"),
    Is(
        Stroke,
        "stroke, cva, tia, tias, hemiplegia, hemiparesis, hemiplegic, sah, ich, ministroke, mini stroke, cerebrovascular accident, hemiparetic, subarachnoid haemorrhage, subarachnoid hemorrhage, intracerebral haemorrhage",
    ),
    Nothing(
        "breast stroke, breaststroke, heat stroke, heatstroke, sun stroke, sunstroke, swim stroke, stroke rate, back stroke",
    ),
    Is(
        Anticoagulants,
        "apixaban, rivaroxaban, warfarin, dabigatran, edoxaban, doac, noac, oac, anticoagulant, anticoagulants, anticoagulated, anticoagulation, lmwh, heparin, enoxaparin, clexane, eliquis, xarelto, pradaxa, blood thinner, blood thinners, coumadin, dalteparin, tinzaparin, fragmin, acitrom, acenocoumarol, anti coag, anti coagulant, anticoag, anticoags, blood thinning tablets",
    ),
    Is(
        Bleeding,
        "haemophilia, hemophilia, haemophiliac, von willebrand, von willebrand's, vwd, thrombocytopenia, low platelets, low plts, itp, bleeding disorder, clotting disorder",
    ),
    Is(
        Clot,
        "dvt, vte, dvts, pulmonary embolism, pulmonary embolus, pulmonary emboli, blood clot, clot, deep vein thrombosis, deep venous thrombosis, embolus, embolism, thrombosis, clots, antiphospholipid, thrombophilia, factor v leiden",
    ),
    Nothing(
        "dvt prophylaxis, dvt risk, clot risk, vte prophylaxis, risk of dvt, dvt exercises, dvt advice, risk of clot, vte risk, retinal vein thrombosis, wells dvt score, dvt score, dvt screen, vte assessment",
    ),
    Is(
        PoorCirculation,
        "pvd, pad, peripheral vascular disease, peripheral arterial disease, claudication, intermittent claudication, poor blood flow, poor circulation, vascular claudication, peripheral artery disease, ischaemic leg",
    ),
    Nothing(
        "heel pad, heating pad, ice pad, foam pad, fat pad, with pad, pad under, knee pad, foot pad, balance pad, heat pad",
    ),
    Is(Raynaud, "raynaud's, raynauds, raynaud, cold urticaria, cryoglobulinaemia"),
    // Diabetes and feeling.
    Is(
        Diabetes(None),
        "diabetes, diabetic, DM, dm, diabetes mellitus, niddm diet, sugar disease, on insulin, insulin, diabetics, type diabetes",
    ),
    Is(
        Diabetes(Some(Sort::One)),
        "t 1 dm, iddm, type 1 diabetes, type 1 diabetic, t 1 d, type 1 dm, type i diabetes, dm 1, t 1 diabetes, dm type 1",
    ),
    Is(
        Diabetes(Some(Sort::Two)),
        "t 2 dm, niddm, type 2 diabetes, type 2 diabetic, t 2 d, type 2 dm, type ii diabetes, dm 2, t 2 diabetes, dm type 2, diabetes type 2, diet controlled diabetes",
    ),
    Is(Diabetes(Some(Sort::Gestational)), "gdm, gestational diabetes"),
    Nothing("pre diabetes, prediabetes, pre diabetic, prediabetic, diabetes insipidus"),
    Is(
        Neuropathy,
        "neuropathy, peripheral neuropathy, dpn, lops, diabetic neuropathy, polyneuropathy, cidp, cmt, charcot marie tooth, cipn, monofilament loss, loss of protective sensation, femoral nerve palsy, foot drop, guillain barre, gbs",
    ),
    Nothing("monofilament ok"),
    Is(
        Numbness,
        "numb, numbness, reduced sensation, reduced feeling, poor feeling in skin, poor feeling, loss of feeling, sensory loss, hypoaesthesia, hypoesthesia, altered sensation, loss of sensation, impaired sensation, decreased sensation, numb feet, numb foot, numb hand, numb toes, no feeling, ↓ sensation",
    ),
    Is(
        FootUlcer,
        "dfu, foot ulcer, diabetic foot ulcer, heel ulcer, toe ulcer, ulcerated foot, plantar ulcer, leg ulcer, venous ulcer",
    ),
    Is(CharcotFoot, "charcot, charcot foot, charcot joint"),
    Is(
        Retinopathy,
        "retinopathy, pdr, npdr, vitreous bleed, vitreous haemorrhage, diabetic retinopathy, proliferative retinopathy, detached retina, retinal detachment",
    ),
    Is(Obesity, "obesity, obese, morbidly obese, class 3 obesity, bariatric"),
    Is(
        KidneyDisease,
        "ckd, renal failure, kidney disease, dialysis, haemodialysis, hemodialysis, esrf, esrd, renal transplant, kidney transplant, chronic kidney disease",
    ),
    // Drugs.
    Is(
        Steroids,
        "pred, prednisolone, prednisone, dexamethasone, oral steroids, long term steroids, on steroids, steroids, methylprednisolone, hydrocortisone tablets, corticosteroids, long term steroid use, steroid course, glucocorticoids, deflazacort, wysolone, high dose steroids, oral steroid",
    ),
    Nothing(
        "inhaled steroid, inhaled steroids, steroid inhaler, steroid inhalers, steroid cream, topical steroid, topical steroids, steroid drops, steroid nasal spray, anabolic steroids, nasal steroid, nasal steroids, steroid spray, ics, steroid eye drops, pred forte, prednisolone eye drops",
    ),
    Is(
        SteroidInjection,
        "steroid injection, csi, cortisone injection, cortisone, corticosteroid injection, steroid inj, cort inj, depomedrone, kenalog, injected with steroid, hydrodilatation, steroid injections, cortisone shot, cortisone jab, steroid jab, csi injection, cs injection, us guided injection, epidural injection, nrb, nerve root block, facet injection",
    ),
    Is(
        Fluoroquinolone,
        "ciprofloxacin, cipro, levofloxacin, moxifloxacin, ofloxacin, norfloxacin, fluoroquinolone, fluoroquinolones, levaquin, FQ, quinolone, levoflox, avelox",
    ),
    Nothing(
        "ciprofloxacin eye drops, ciprofloxacin ear drops, cipro eye drops, cipro ear drops, ofloxacin eye drops, ofloxacin ear drops, levofloxacin eye drops, moxifloxacin eye drops, ciprofloxacin drops, cipro drops, ofloxacin drops, moxifloxacin drops",
    ),
    // Cancer.
    Is(
        Cancer,
        "cancer, Ca, CA, ca breast, ca prostate, ca lung, breast ca, prostate ca, lung ca, bowel ca, ca bowel, ca colon, ca ovary, carcinoma, lymphoma, leukaemia, leukemia, melanoma, tumour, tumor, malignancy, sarcoma, malignant, dcis, breast cancer, prostate cancer, cancer of, brain tumour, oncology, neoplasm",
    ),
    Nothing(
        "skin cancer check, cancer charity, cancer research, CA 19, CA 125, benign tumour, benign tumor, Ca supplement, Ca supplements, Ca +, Ca & vit d",
    ),
    Is(
        BoneMetastases,
        "bone mets, bony mets, mets, bone metastases, bony metastases, myeloma, multiple myeloma, metastases, metastatic, spinal mets, bone metastasis, lytic lesion, lytic lesions, skeletal mets, metastasis, mets in spine, secondaries",
    ),
    Is(Chemotherapy, "chemo, chemotherapy, on chemo, immunotherapy, neutropenic, neutropenia"),
    Is(Radiotherapy, "radiotherapy, radiation therapy, dxt, xrt, radiation"),
    Is(
        Lymphoedema,
        "lymphoedema, lymphedema, bcrl, alnd, ANC, slnb, axillary clearance, axillary node clearance, lymphodema, axillary dissection, lipoedema, lipedema, lymph node clearance, lymph node dissection",
    ),
    Is(
        CentralLine,
        "picc, picc line, portacath, port a cath, hickman line, hickman, central line, av fistula, fistula arm, midline",
    ),
    Nothing(
        "past midline, the midline, cross midline, across midline, to midline, past the midline, cross the midline, midline crossing, crossing midline, in midline, about midline, midline tenderness, midline tender",
    ),
    // Lungs, brain, balance, fatigue.
    Is(Asthma, "asthma, asthmatic, eib, exercise induced asthma, exercise induced bronchospasm"),
    Is(
        LungDisease,
        "copd, coad, emphysema, bronchiectasis, ild, pulmonary fibrosis, ltot, interstitial lung disease, ipf, cystic fibrosis, chronic bronchitis, lung disease, home oxygen, pulmonary hypertension, home o 2",
    ),
    Is(
        Epilepsy,
        "epilepsy, epileptic, seizure, seizures, szs, seizure disorder, convulsions, convulsion, fitting, grand mal, last fit",
    ),
    Nothing(
        "form fitting, well fitting, fitting shoes, close fitting, fitting of, good fitting, fitting for, splint fitting, brace fitting, tight fitting",
    ),
    Is(
        Dizziness,
        "dizzy, dizziness, vertigo, bppv, vestibular, labyrinthitis, pppd, vestibular neuritis, lightheaded, light headed, light headedness, lightheadedness, meniere's, menieres, vertiginous, giddy, giddiness, vestibular neuronitis, unilateral vestibular hypofunction, uvh, syncope, faints, blackouts, vertigoes",
    ),
    Is(
        Falls,
        "falls, faller, fallers, falls risk, high falls risk, falls history, falls hx, recurrent falls, falling, fall, a fall, fell, fallen, unsteady, falls x, risk of falls, risk of falling, fall risk, high fall risk, poor balance, recurrent faller, fear of falling, history of falls, unsteady on feet, unsteady gait, at risk of falling, frequent falls",
    ),
    Nothing(
        "falls asleep, fall asleep, falls into, fall season, falls out, arch falls, fall class, falls class, falls prevention, falls group, falls clinic, falls programme, knee falls in, falls in, falls to, knees fall, let it fall, rise and fall, fall out, fall back, falls back, if falls, in fall, this fall, last fall semester, fallen arches, fallen arch, fall open, falls open",
    ),
    Is(
        Dementia,
        "dementia, alzheimer's, alzheimers, lewy body, vascular dementia, alzheimer, cognitive impairment, mci, memory loss, memory impairment, mild cognitive impairment, vad dementia",
    ),
    Is(
        Parkinsons,
        "parkinson's, parkinsons, PD, parkinson, parkinsonism, parkinson's disease, parkinsons disease, ipd",
    ),
    Is(MultipleSclerosis, "multiple sclerosis, rrms, ppms, spms"),
    Is(CerebralPalsy, "cerebral palsy, gmfcs, spastic diplegia, diplegia, hemiplegic cp"),
    Is(
        SpinalCordInjury,
        "sci, spinal cord injury, tetraplegia, paraplegia, quadriplegia, paraplegic, tetraplegic",
    ),
    Is(Concussion, "concussion, mtbi, tbi, head injury, post concussion, concussed, traumatic brain injury"),
    Is(DownSyndrome, "down syndrome, downs syndrome, down's syndrome, trisomy 21"),
    Is(
        FatigueSyndrome,
        "ME / CFS, cfs, ME, pvfs, pem, pese, chronic fatigue, chronic fatigue syndrome, post viral fatigue, long covid, me / cfs, myalgic encephalomyelitis, post exertional malaise, post covid syndrome, pots long covid",
    ),
    Is(
        PersistentPain,
        "fibromyalgia, fibro, FM, chronic pain, persistent pain, chronic widespread pain, cwp, fibromyalgia syndrome, fms, central sensitisation, central sensitization, cpp, chronic pelvic pain",
    ),
    Is(RegionalPain, "crps, complex regional pain syndrome, complex regional pain, rsd, sudeck's, sudecks"),
    // Other.
    Is(
        Hernia,
        "inguinal hernia, hiatus hernia, umbilical hernia, hernia, incisional hernia, femoral hernia, sports hernia",
    ),
    Is(
        Brace,
        "brace, braced, sling, splint, walking boot, moon boot, cam boot, aircast, aircast boot, vacoped, collar and cuff, back brace, tlso, knee brace, hinged brace, hinged knee brace, orthosis, boot, in boot, futura splint, wrist splint, thumb spica, thermoplastic splint, polysling, polysling immobiliser, immobiliser, immobilizer, cricket pad splint, lso, collar, philadelphia collar, kafo, afo",
    ),
    Nothing(
        "boot camp, car boot, boot off, brace your, brace tummy, brace the, brace core, brace abdominals, brace abs, sling back, collar bone, brace position, sling exercises, football boot, football boots, boots, walking boots, hiking boots, brace stomach",
    ),
    Is(
        Cast,
        "in cast, backslab, back slab, plaster cast, below knee cast, below elbow cast, full cast, scotchcast, bkp, long leg cast, short arm cast, cast, in plaster, cast on, plaster of paris",
    ),
];
