//! What pages kept once is found for ever: the entries below are what they wrote, word for word, and none is taken out.

use super::*;
use crate::desk::shelf::store::Memory;

/// A link that names no exercise of the catalog, whose text is for ever [`HILL`].
const HILL_LINK: &str = "LFKTkBxwNYrCcAAIQQTAIAOo-7C8mrwE1WVcxhw";
const HILL: &str = "hill of ours: 10 min, 2/week\n";
/// SHA-256 of that text, by another program.
const HILL_KEY: &str = "f6d234541440d3ce566aeaf52ab43ec8563101955ead33221727a1ff4ed0e63c";

/// A link that names exercises of the catalog.
const KNEE_LINK: &str = "LZsbcIpFJmYgS9SQRZBIjrQYMN7SQbNWXL43wgmGTDGwgkhIMhINBwNBg6j7BHAfCxReVL0EfM29e26_TTPYZl-TvMlIlamvK7D0G-ZabodmFo--ARbJDPYlJAdTuDWAmgPimROT_v0x-T5JJw9C_8VnO8dBxQvK66f0FVE6hCY5fRG0XzboXIv3vhmYmpJPiyg";

/// Two plans as pages kept them under 64 bits of FNV-1a.
const EARLIER: [(&str, &str); 6] = [
    ("layfigure home now", "2c25c377619eefb0"),
    ("layfigure home plan 2c25c377619eefb0", HILL_LINK),
    (
        "layfigure home diary 2c25c377619eefb0",
        "layfigure diary 1\n2026-12-01 morning done 1; pain 4; settled yes\n2026-12-02 evening why forgot\n",
    ),
    ("layfigure home plan e201ed2cb6afa875", KNEE_LINK),
    ("layfigure home diary e201ed2cb6afa875", "layfigure diary 1\n2026-11-30 day done 5\n"),
    ("layfigure home switches", "sound buzz"),
];

fn store(entries: &[(&str, &str)]) -> Memory {
    Memory(entries.iter().map(|(key, value)| (key.to_string(), value.to_string())).collect())
}

fn keys(store: &Memory) -> Vec<&str> {
    store.0.keys().map(String::as_str).collect()
}

fn text_of(link: &str) -> String {
    written::open(link, Catalog::embedded()).expect("it opens").text
}

fn told(store: &mut Memory, key: &str) -> String {
    match diary(store, key) {
        Found::Diary(diary) => stored::write(&diary),
        Found::SetAside => "set aside".into(),
    }
}

#[test]
fn what_earlier_pages_kept_is_found_and_moved() {
    assert_eq!(text_of(HILL_LINK), HILL);
    let mut store = store(&EARLIER);
    assert_eq!(claim(&mut store, HILL), Ok(()));
    assert_eq!(now(&store).as_deref(), Some(HILL_KEY));
    assert_eq!(fragment(&store, HILL_KEY).as_deref(), Some(HILL_LINK));
    assert_eq!(told(&mut store, HILL_KEY), EARLIER[2].1);
    assert!(switches(&store) == Switches { sound: true, buzz: true });
    // The other plan waits until it is shown, under its own name.
    let knee = text_of(KNEE_LINK);
    assert!(plans(&store).contains(&("e201ed2cb6afa875".into(), KNEE_LINK.into())));
    assert_eq!(claim(&mut store, &knee), Ok(()));
    assert_eq!(now(&store).as_deref(), Some(HILL_KEY));
    assert_eq!(told(&mut store, &diary::key(&knee)), EARLIER[4].1);
    let left = keys(&store);
    assert_eq!(left.len(), EARLIER.len(), "nothing stands twice: {left:?}");
    assert!(
        !left.iter().any(|k| k.contains("2c25c377619eefb0") || k.contains("e201ed2cb6afa875")),
        "{left:?}"
    );
    // Once more changes nothing.
    let before = store.clone();
    assert_eq!((claim(&mut store, HILL), claim(&mut store, &knee)), (Ok(()), Ok(())));
    assert_eq!(store, before);
}

/// A page of before may still be open in another window, and keep ticks after all was moved.
#[test]
fn where_both_exist_nothing_of_either_is_lost_and_the_newer_counts() {
    let mut store = store(&EARLIER);
    let new = format!("layfigure home diary {HILL_KEY}");
    store.0.insert(format!("layfigure home plan {HILL_KEY}"), format!("{HILL_LINK} newer"));
    store
        .0
        .insert(new.clone(), "layfigure diary 1\n2026-12-01 morning pain 2\n2026-12-03 day done 1\n".into());
    assert_eq!(claim(&mut store, HILL), Ok(()));
    assert_eq!(fragment(&store, HILL_KEY), Some(format!("{HILL_LINK} newer")));
    assert_eq!(
        store.0[&new],
        "layfigure diary 1\n2026-12-01 morning done 1; pain 2; settled yes; pain 4\n\
         2026-12-02 evening why forgot\n2026-12-03 day done 1\n"
    );
}

#[test]
fn what_can_not_be_read_is_set_aside_and_replaces_nothing() {
    let good = EARLIER[2].1;
    for (earlier, today, counts, aside) in [
        ("{\"torn\":", good, good, "layfigure home unread 2c25c377619eefb0 1"),
        (good, "{\"torn\":", good, &format!("layfigure home unread {HILL_KEY} 1")),
    ] {
        let mut store = store(&EARLIER);
        store.0.insert(EARLIER[2].0.into(), earlier.into());
        store.0.insert(format!("layfigure home diary {HILL_KEY}"), today.into());
        assert_eq!(claim(&mut store, HILL), Ok(()));
        assert_eq!(told(&mut store, HILL_KEY), counts);
        assert_eq!(store.0.get(aside).map(String::as_str), Some("{\"torn\":"), "{:?}", keys(&store));
    }
}

/// Two plans that share a key of before, by chance or because someone made them so: the diary stays with its own plan.
#[test]
fn a_plan_does_not_take_what_is_anothers() {
    let knee = text_of(KNEE_LINK);
    let earlier = diary::earlier_key(&knee);
    let mut store = store(&[
        ("layfigure home now", &earlier),
        (&format!("layfigure home plan {earlier}"), HILL_LINK),
        (&format!("layfigure home diary {earlier}"), "layfigure diary 1\n2026-12-01 day done 1\n"),
    ]);
    let before = store.clone();
    assert_eq!(claim(&mut store, &knee), Ok(()));
    assert_eq!(store, before);
    assert_eq!(told(&mut store, &diary::key(&knee)), "layfigure diary 1\n");
    // Its own plan finds it.
    assert_eq!(claim(&mut store, HILL), Ok(()));
    assert_eq!(told(&mut store, HILL_KEY), "layfigure diary 1\n2026-12-01 day done 1\n");
}

/// An exercise that got a better name gives a link's text another key; its ticks stay with the plan. And ticks that were
/// kept where there was no room for their plan are found when its link comes again.
#[test]
fn a_diary_stays_with_its_plan_whatever_it_was_called() {
    let ticks = "layfigure diary 1\n2026-12-01 day done 1\n";
    let named = "0".repeat(64);
    let other_name = [
        ("layfigure home now", named.as_str()),
        (&format!("layfigure home plan {named}"), HILL_LINK),
        (&format!("layfigure home diary {named}"), ticks),
    ];
    let no_plan = [("layfigure home diary 2c25c377619eefb0", ticks)];
    for entries in [&other_name[..], &no_plan[..]] {
        let mut store = store(entries);
        assert_eq!(claim(&mut store, HILL), Ok(()));
        assert_eq!(told(&mut store, HILL_KEY), ticks);
        assert_eq!(store.0.len(), entries.len());
    }
}

/// A store that has room for so many more writes.
struct Filling(Memory, usize);

impl Store for Filling {
    fn get(&self, key: &str) -> Result<Option<String>, Denied> {
        self.0.get(key)
    }
    fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
        self.1 = self.1.checked_sub(1).ok_or(Denied::Full)?;
        self.0.set(key, value)
    }
    fn remove(&mut self, key: &str) -> Result<(), Denied> {
        self.0.remove(key)
    }
    fn keys(&self) -> Result<Vec<String>, Denied> {
        self.0.keys()
    }
}

#[test]
fn wherever_room_ends_nothing_is_lost() {
    for room in 0..4 {
        let mut filling = Filling(store(&EARLIER), room);
        let done = claim(&mut filling, HILL);
        assert_eq!(done.is_ok(), 3 <= room, "{room}");
        let said: String = filling.0.0.values().map(String::as_str).collect();
        for words in [HILL_LINK, "done 1; pain 4; settled yes", "why forgot"] {
            assert!(said.contains(words), "{room}: {said}");
        }
        // With room again all is where it belongs.
        assert_eq!(claim(&mut filling.0, HILL), Ok(()));
        assert_eq!(told(&mut filling.0, HILL_KEY), EARLIER[2].1);
        assert_eq!(filling.0.0.len(), EARLIER.len());
    }
}

#[test]
fn forgetting_leaves_what_is_of_others_alone() {
    let mut store = store(&EARLIER);
    store.0.insert("layfigure desk choices".into(), "theirs".into());
    store.0.insert(format!("{UNREAD}x 1"), "torn".into());
    assert!(!is_gone(&store, "2c25c377619eefb0"));
    forget(&mut store);
    assert_eq!(keys(&store), ["layfigure desk choices"]);
    assert!(is_gone(&store, "2c25c377619eefb0"));
}
