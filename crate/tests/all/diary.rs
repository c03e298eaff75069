//! The diary: what is stored comes back, nothing that was stored is lost, and no day to come is filled in.

use layfigure::diary::stored::{Read, VERSION, merge, read, write};
use layfigure::diary::{Asked, Diary, Met, NotYet, Number, Score, Urgency, When, WhyNot, earlier_key, key};
use layfigure::measure::Date;
use proptest::prelude::*;

fn day(iso: &str) -> Date {
    Date::iso(iso).expect("a date")
}

fn number(n: u16) -> Number {
    Number::new(n).expect("a number")
}

fn whole(text: &str) -> Diary {
    match read(text) {
        Read::Whole(diary) => diary,
        Read::Damaged => panic!("{text:?} is said to be damaged"),
    }
}

#[test]
fn a_past_day_is_filled_in_and_a_day_to_come_is_not() {
    let (yesterday, today, tomorrow) = (day("2026-12-01"), day("2026-12-02"), day("2026-12-03"));
    let mut diary = Diary::default();
    assert_eq!(diary.tick(yesterday, When::Morning, number(2), true, today), Ok(()));
    assert_eq!(diary.tick(today, When::AllDay, number(9), true, today), Ok(()));
    assert_eq!(diary.tick(tomorrow, When::Morning, number(1), true, today), Err(NotYet));
    assert_eq!(diary.score(tomorrow, When::Morning, Score::new(3), today), Err(NotYet));
    assert!(diary.is_done(yesterday, When::Morning, number(2)));
    assert!(!diary.is_done(yesterday, When::Evening, number(2)));
    assert!(!diary.is_done(tomorrow, When::Morning, number(1)));
    assert_eq!(write(&diary), "layfigure diary 1\n2026-12-01 morning done 2\n2026-12-02 day done 9\n");
    // A tick taken back leaves no trace.
    assert_eq!(diary.tick(yesterday, When::Morning, number(2), false, today), Ok(()));
    assert_eq!(diary.session(yesterday, When::Morning), None);
}

#[test]
fn what_is_done_needs_no_excuse() {
    let today = day("2026-12-02");
    let mut diary = Diary::default();
    diary.excuse(today, When::Evening, Some(WhyNot::Forgot), today).expect("today");
    assert_eq!(diary.session(today, When::Evening).and_then(|s| s.why_not), Some(WhyNot::Forgot));
    diary.tick(today, When::Evening, number(1), true, today).expect("today");
    assert_eq!(diary.session(today, When::Evening).and_then(|s| s.why_not), None);
}

/// What is stored, and what is written back.
#[test]
fn stored_texts() {
    let head = "layfigure diary 1\n";
    for (stored, back) in [
        ("", ""),
        (
            "2026-12-01 morning done 1 2; pain 4; settled no; why ill\n",
            "2026-12-01 morning done 1 2; pain 4; settled no; why ill\n",
        ),
        // Pieces and parts of pieces that a later version may know.
        ("2026-12-01 morning mood fair; done 2 1 x\n", "2026-12-01 morning done 1 2; mood fair; done x\n"),
        ("2026-12-01 night done 1\n", "2026-12-01 night done 1\n"),
        (
            "2026-12-01 morning pain 11; settled maybe; why dog\n",
            "2026-12-01 morning pain 11; settled maybe; why dog\n",
        ),
        // The same session twice: what agrees is joined, what doesn't is kept.
        (
            "2026-12-01 evening done 1; pain 2\n2026-12-01 evening done 3; pain 5\n",
            "2026-12-01 evening done 1 3; pain 2; pain 5\n",
        ),
        // Signs to stop, one of them cleared by a call; and what a later version may make of them.
        (
            "2026-12-01 day met help You have chest pain.\n2026-12-02 morning left 3 1; cleared call A joint locks.\n",
            "2026-12-01 day met help You have chest pain.\n2026-12-02 morning left 1 3; cleared call A joint locks.\n",
        ),
        (
            "2026-12-01 day met maybe; met call one; met help two\n2026-12-02 day met exercise; left 0\n",
            "2026-12-01 day met call one; met maybe; met help two\n2026-12-02 day met exercise; left 0\n",
        ),
        ("# a remark\r\n2026-02-30 morning done 1\n", "# a remark\r\n2026-02-30 morning done 1\n"),
        ("  2026-12-01   day   done 4\n\n", "2026-12-01 day done 4\n"),
        ("2026-12-01 day done 0 65536 01\n", "2026-12-01 day done 0 65536 01\n"),
    ] {
        let diary = whole(&format!("{head}{stored}"));
        assert_eq!(write(&diary), format!("{head}{back}"), "{stored:?}");
        assert_eq!(whole(&write(&diary)), diary, "{stored:?} read again");
    }
    // A newer version stays the newer version.
    let newer = format!("layfigure diary {}\n2026-12-01 morning done 1; steps 4000\n", VERSION + 1);
    assert_eq!(write(&whole(&newer)), newer);
    for damaged in
        ["{\"a\":1}", "layfigure diary", "layfigure diary one\n", "2026-12-01 morning done 1\n", "\u{0}"]
    {
        assert_eq!(read(damaged), Read::Damaged, "{damaged:?}");
    }
    assert_eq!(read(" \n"), Read::Whole(Diary::default()));
}

#[test]
fn a_score_that_is_set_replaces_what_was_kept_beside_it() {
    let today = day("2026-12-02");
    let mut diary = whole("layfigure diary 1\n2026-12-01 evening done 1; pain 2; pain 5\n");
    diary.score(day("2026-12-01"), When::Evening, None, today).expect("past");
    assert_eq!(write(&diary), "layfigure diary 1\n2026-12-01 evening done 1\n");
}

#[test]
fn of_signs_the_gravest_stays_until_it_is_taken_back() {
    let today = day("2026-12-02");
    let mut diary = Diary::default();
    let met = |urgency, words| Met::new(urgency, words);
    diary.meet(today, When::AllDay, met(Urgency::Help, "You have\nchest; pain."), today).expect("today");
    diary.meet(today, When::AllDay, met(Urgency::Call, "A joint locks."), today).expect("today");
    let known = diary.session(today, When::AllDay).and_then(|s| s.met.clone()).expect("a sign");
    assert_eq!((known.urgency, known.words()), (Urgency::Help, "You have chest pain."));
    diary.clear(today, When::AllDay, today).expect("today");
    assert_eq!(write(&diary), "layfigure diary 1\n2026-12-02 day cleared help You have chest pain.\n");
    // After the call, a new sign counts again.
    diary.meet(today, When::AllDay, met(Urgency::Call, "A joint locks."), today).expect("today");
    assert_eq!(write(&diary), "layfigure diary 1\n2026-12-02 day met call A joint locks.\n");
    diary.unmeet(today, When::AllDay, today).expect("today");
    assert!(diary.is_empty());
    let tomorrow = day("2026-12-03");
    assert_eq!(diary.meet(tomorrow, When::AllDay, met(Urgency::Call, "x"), today), Err(NotYet));
    assert_eq!(diary.leave(tomorrow, When::AllDay, number(1), true, today), Err(NotYet));
}

#[test]
fn only_what_the_clinician_wants_is_asked() {
    for (words, pain, settled) in [
        (None, false, false),
        (Some("done"), false, false),
        (Some("worst pain"), true, false),
        (Some("Pain, and settled by morning?"), true, true),
        (Some("settled"), false, true),
    ] {
        assert_eq!(Asked::of(words), Asked { pain, settled }, "{words:?}");
    }
}

#[test]
fn plans_that_differ_have_keys_that_differ() {
    // FIPS 180-4's example.
    assert_eq!(key("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    assert_ne!(key("bridge: 3 x 10"), key("bridge: 3 x 12"));
    // FNV-1a of "" and of "a", from its authors' published test vectors (from memory).
    assert_eq!(earlier_key(""), "cbf29ce484222325");
    assert_eq!(earlier_key("a"), "af63dc4c8601ec8c");
}

/// One thing that a patient does.
#[derive(Clone, Debug)]
enum Act {
    Tick(u16, bool),
    Pain(Option<u8>),
    Settled(Option<bool>),
    Why(Option<usize>),
    Met(usize, String),
    Cleared,
    Unmet,
    Left(u16, bool),
}

fn acts() -> impl Strategy<Value = Vec<(i32, usize, Act)>> {
    let act = prop_oneof![
        (1u16..40, any::<bool>()).prop_map(|(n, d)| Act::Tick(n, d)),
        proptest::option::of(0u8..=10).prop_map(Act::Pain),
        proptest::option::of(any::<bool>()).prop_map(Act::Settled),
        proptest::option::of(0usize..5).prop_map(Act::Why),
        (0usize..3, "\\PC{0,20}").prop_map(|(u, words)| Act::Met(u, words)),
        Just(Act::Cleared),
        Just(Act::Unmet),
        (1u16..40, any::<bool>()).prop_map(|(n, l)| Act::Left(n, l)),
    ];
    proptest::collection::vec((-40i32..5, 0usize..4, act), 0..60)
}

proptest! {
    #[test]
    fn what_is_noted_comes_back(acts in acts()) {
        let today = day("2026-12-31");
        let mut diary = Diary::default();
        for (days, when, act) in acts {
            let (at, when) = (today.plus_days(days), When::ALL[when]);
            let result = match act {
                Act::Tick(n, done) => diary.tick(at, when, number(n), done, today),
                Act::Pain(p) => diary.score(at, when, p.and_then(Score::new), today),
                Act::Settled(s) => diary.settle(at, when, s, today),
                Act::Why(w) => diary.excuse(at, when, w.map(|w| WhyNot::ALL[w]), today),
                Act::Met(u, words) => diary.meet(at, when, Met::new(Urgency::ALL[u], &words), today),
                Act::Cleared => diary.clear(at, when, today),
                Act::Unmet => diary.unmeet(at, when, today),
                Act::Left(n, left) => diary.leave(at, when, number(n), left, today),
            };
            prop_assert_eq!(result.is_ok(), days <= 0);
        }
        prop_assert!(diary.sessions().all(|(at, _, s)| at <= today && !s.is_empty()));
        prop_assert_eq!(read(&write(&diary)), Read::Whole(diary));
    }

    /// Two diaries of one plan become one that has every word of both, and what stood first still counts.
    #[test]
    fn merging_loses_nothing(lines in proptest::collection::vec(
        ("2026-12-0[1-3] (morning|day) (done [1-4] [1-4]; )?(pain [0-9]; )?(settled (yes|no); )?(why (pain|ill); )?(mood fair|rain)?", any::<bool>()), 0..12)
    ) {
        let of = |mine: bool| whole(&format!("layfigure diary 1\n{}",
            lines.iter().filter(|l| l.1 == mine).map(|l| format!("{}\n", l.0)).collect::<String>()));
        let (mine, other) = (of(true), of(false));
        let mut both = mine.clone();
        merge(&mut both, &other);
        let words = |d: &Diary| write(d).split(|c: char| c.is_whitespace() || c == ';').filter(|w| !w.is_empty())
            .map(str::to_string).collect::<std::collections::BTreeSet<_>>();
        prop_assert!(words(&mine).is_subset(&words(&both)) && words(&other).is_subset(&words(&both)));
        for (day, when, session) in mine.sessions() {
            let now = both.session(day, when).expect("it is there");
            prop_assert!(session.done.is_subset(&now.done));
            prop_assert!(session.pain.is_none() || session.pain == now.pain);
            prop_assert!(session.settled.is_none() || session.settled == now.settled);
        }
        for (day, when, session) in other.sessions() {
            let now = both.session(day, when).expect("it is there");
            prop_assert!(session.done.is_subset(&now.done));
            prop_assert!(session.pain.is_none() || now.pain.is_some());
        }
        prop_assert_eq!(read(&write(&both)), Read::Whole(both.clone()));
        let once = both.clone();
        merge(&mut both, &other);
        prop_assert_eq!(both, once);
    }

    /// Any text at all: nothing that was stored is lost, and writing it again changes nothing.
    #[test]
    fn nothing_stored_is_lost(
        lines in proptest::collection::vec(
            prop_oneof![
                "\\PC{0,40}",
                "2026-1[0-2]-[0-3][0-9] (morning|midday|evening|day|night)( (done( [0-9]{1,5}){0,4}|pain [0-9]{1,3}|settled (yes|no|so)|why [a-z]{1,6}|left [0-9]|(met|cleared) (call|help|so)( [a-z]{1,3}){0,2}|[a-z]{1,8} [a-z0-9]{1,5});?){0,4}",
                "[ \\t\\r;]{0,5}2026-12-01 (day|evening) ?[a-z0-9; ]{0,20}",
            ],
            0..20,
        ),
    ) {
        let text = format!("layfigure diary 1\n{}", lines.join("\n"));
        let diary = whole(&text);
        let back = write(&diary);
        prop_assert_eq!(whole(&back), diary.clone());
        prop_assert_eq!(write(&whole(&back)), back.clone());
        // Every word of the text is there still.
        let words = |t: &str| t.split(|c: char| c.is_whitespace() || c == ';').filter(|w| !w.is_empty())
            .map(str::to_string).collect::<std::collections::BTreeSet<_>>();
        let lost: Vec<String> = words(&text).difference(&words(&back)).cloned().collect();
        let trivial = lost.iter().all(|w| ["done", "2026-12-01", "day", "evening", "morning", "midday"]
            .contains(&w.as_str()) || w.starts_with("2026-"));
        prop_assert!(trivial, "{:?} of {:?} is not in {:?}", lost, text, back);
    }

    #[test]
    fn no_text_breaks_it(text in "\\PC*|(layfigure diary [0-9]{0,12}\n)?[\\x00-\\x7f]*") {
        if let Read::Whole(diary) = read(&text) {
            prop_assert_eq!(read(&write(&diary)), Read::Whole(diary));
        }
    }
}
