use super::*;

fn told(text: &str) -> Told {
    Told::of([text], Some(2026))
}

#[test]
fn every_line_of_the_table_has_a_fact() {
    for line in WORDS.lines().filter(|l| !l.starts_with('#') && !l.is_empty()) {
        let word = line.split_once(": ").map_or(line, |(word, _)| word);
        assert!(word == "nothing" || Fact::ALL.iter().any(|f| f.word() == word), "{line}");
    }
    for fact in Fact::ALL {
        assert!(WORDS.lines().any(|l| l.starts_with(&format!("{}: ", fact.word()))), "{fact:?}");
    }
}

#[test]
fn what_is_denied_past_or_anothers_is_kept_apart() {
    use Fact::*;
    for (text, now, not) in [
        ("LBP, no CES signs", vec![LowBack], vec![RedFlag]),
        ("no saddle anaesthesia, b/b NAD", vec![], vec![RedFlag]),
        ("denies saddle numbness, incontinence", vec![], vec![RedFlag]),
        ("Saddle numbness since Tuesday", vec![RedFlag], vec![]),
        ("no neck pain, back pain 6/10", vec![LowBack], vec![Neck]),
        ("no numbness but foot drop", vec![RedFlag, WeakLeg], vec![]),
        ("cannot pass urine", vec![RedFlag], vec![]),
        ("ruled out DVT, USS neg", vec![], vec![Clot]),
        ("DVT ruled out", vec![], vec![Clot]),
        ("?DVT L calf", vec![Clot, Calf], vec![]),
        ("mother had DVT", vec![], vec![Clot]),
        ("FH osteoporosis", vec![], vec![Osteoporosis]),
        ("carer for wife with dementia", vec![], vec![Persistent]),
        ("grade 2 sprain, better after rest", vec![Torn], vec![Joint, Heart]),
        ("RA, hands", vec![Joint, Wrist], vec![]),
        ("tells me it aches", vec![], vec![Exertion]),
        ("off PE lessons", vec![], vec![Clot]),
        ("post-op day 40, doing well", vec![Operation], vec![Osteoporosis]),
        ("THR 2010", vec![], vec![Operation]),
        ("30/40", vec![Pregnancy], vec![]),
        ("quads 4/5, pain 3/10", vec![Thigh], vec![Pregnancy, Pressure]),
        ("neck of femur fracture", vec![Hip, Broken], vec![Neck]),
        ("meniscectomy", vec![Knee, Operation], vec![]),
        ("aortic stenosis", vec![Heart], vec![Spine]),
        ("back to hill walking", vec![], vec![LowBack]),
        ("Back", vec![LowBack], vec![]),
        ("a miracle", vec![], vec![Knee]),
    ] {
        let got = told(text);
        for fact in now {
            assert!(got.has(fact), "{text}: {fact:?} not in {got:?}");
        }
        for fact in not {
            assert!(!got.has(fact), "{text}: {fact:?} in {got:?}");
        }
    }
}

#[test]
fn what_no_sheet_may_show_is_cut_out_of_safety_text() {
    for (text, left) in [
        ("saddle numbness since Tuesday", None),
        ("no bending past 90, urinary retention", Some("no bending past 90")),
        ("do not exercise with a fever", Some("do not exercise with a fever")),
        ("keep the wound dry", Some("keep the wound dry")),
        ("no saddle numbness", None),
    ] {
        assert_eq!(without_red_flags(text).as_deref(), left, "{text}");
    }
}

#[test]
fn any_text_is_read() {
    for text in ["", "#", "///,,,..;", "ß’ﬁ-ve", "1.2.3", "no no no", "ruled", "30/", "/40", "👍 back"]
    {
        let _ = told(text);
    }
}
