use super::store::Memory;
use super::*;
use crate::measure::Date;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::sync::{Arc, Condvar, Mutex};

fn now(minute: u32) -> Option<Stamp> {
    Date::iso("2026-11-27").map(|date| Stamp { date, milli: minute * 60_000 + 7 })
}

fn texts(store: &dyn Store) -> Vec<String> {
    found(store).expect("read").items.iter().map(|i| i.leaf.text.clone()).collect()
}

#[test]
fn a_version_is_read_as_it_was_written_or_not_at_all() {
    let leaf = Leaf {
        after: Some(Version { revision: 6, writer: "b".into() }),
        name: Some("T. B.".into()),
        ..fresh("a1".into(), "w", None, "# Knee\nsomething: 3 x 10\n".into(), Some("before".into()), now(65))
    };
    let value = leaf.write();
    let version = leaf.version.clone();
    assert_eq!(named(&leaf.key()), Some(("a1", version.clone())));
    assert_eq!(Leaf::read("a1", &version, &value), Some(leaf));
    // Under another key it is not what was kept there.
    assert_eq!(Leaf::read("a2", &version, &value), None);
    for end in (0..value.len()).filter(|end| value.is_char_boundary(*end)) {
        assert_eq!(Leaf::read("a1", &version, &value[..end]), None);
        assert!(leaf::is_torn(&value[..end]));
    }
    for key in [
        "",
        "layfigure desk",
        "layfigure desk prescription",
        "layfigure desk prescription a 0 w",
        "layfigure desk prescription a 1 w w",
        "layfigure desk prescription a 4294967295 w",
        "layfigure desk prescription a-b 1 w",
    ] {
        assert_eq!(named(key), None, "{key}");
    }
}

#[test]
fn what_is_kept_is_opened_again_and_two_versions_stay() {
    let mut store = Memory::default();
    let mut one = Open::new("one".into(), "blank");
    assert_eq!(keep(&mut store, &mut one, "blank", "w", now(1)), Ok(Kept::Same));
    assert_eq!(keep(&mut store, &mut one, " \n", "w", now(1)), Ok(Kept::Same));
    for n in 0..9 {
        assert_eq!(keep(&mut store, &mut one, &format!("text {n}"), "w", now(n)), Ok(Kept::Kept));
        assert_eq!(keep(&mut store, &mut one, &format!("text {n}"), "w", now(n)), Ok(Kept::Same));
    }
    assert_eq!((store.0.len(), texts(&store)), (2, vec!["text 8".to_string()]));
    let (again, text) = open(&store, "one").expect("read").expect("there");
    assert_eq!((again.is_kept(), text.as_str()), (true, "text 8"));
    assert_eq!(open(&store, "two"), Ok(None));
    // An emptied text is kept as such: it was the clinician's act.
    assert_eq!(keep(&mut store, &mut one, "", "w", now(9)), Ok(Kept::Kept));
}

#[test]
fn a_torn_version_costs_no_more_than_itself() {
    let mut store = Memory::default();
    let mut one = Open::new("one".into(), "");
    for text in ["a", "b", "c"] {
        keep(&mut store, &mut one, text, "w", now(1)).expect("kept");
    }
    let last = store.0.keys().last().cloned().expect("a key");
    let torn = store.0[&last][..20].to_string();
    store.0.insert(last.clone(), torn.clone());
    let seen = found(&store).expect("read");
    assert_eq!((texts(&store), seen.unread), (vec!["b".to_string()], vec![last.clone()]));
    let (mut again, text) = open(&store, "one").expect("read").expect("there");
    assert_eq!(text, "b");
    assert_eq!(keep(&mut store, &mut again, "d", "w", now(2)), Ok(Kept::Kept));
    assert_eq!((texts(&store), store.0.get(&last)), (vec!["d".to_string()], Some(&torn)));
    // Deleted, nothing of it stays.
    assert_eq!(delete(&mut store, "one").map(|leaf| leaf.map(|l| l.text)), Ok(Some("d".into())));
    assert_eq!(store.0.len(), 0);
}

#[test]
fn what_another_page_wrote_is_let_be() {
    let mut store = Memory::default();
    let key = "layfigure desk prescription one 3 w";
    store.set(key, "layfigure 2 of a later page").expect("set");
    store.set("layfigure home now", "x").expect("set");
    let mut one = Open::new("one".into(), "");
    assert_eq!(keep(&mut store, &mut one, "a", "w", now(1)), Ok(Kept::Kept));
    assert_eq!(delete(&mut store, "one").map(|l| l.is_some()), Ok(true));
    assert_eq!(store.0.len(), 2);
    assert_eq!(found(&store).expect("read").unread, [key]);
}

#[test]
fn a_second_window_goes_on_with_a_copy_of_its_own() {
    let mut store = Memory::default();
    let mut one = Open::new("one".into(), "");
    keep(&mut store, &mut one, "# Knee", "w", now(1)).expect("kept");
    let (mut other, _) = open(&store, "one").expect("read").expect("there");
    assert_eq!(keep(&mut store, &mut one, "# Knee 1", "w", now(2)), Ok(Kept::Kept));
    assert!(is_changed_elsewhere(&store, &other) && !is_changed_elsewhere(&store, &one));
    assert_eq!(
        keep(&mut store, &mut other, "# Knee 2", "v", now(3)),
        Ok(Kept::Copied("Knee 2 (this window, 0:03)".into()))
    );
    assert_eq!(texts(&store), ["# Knee 2", "# Knee 1"]);
    // Both go on without a further copy.
    assert_eq!(keep(&mut store, &mut other, "# Knee 4", "v", now(4)), Ok(Kept::Kept));
    assert_eq!(keep(&mut store, &mut one, "# Knee 5", "w", now(5)), Ok(Kept::Kept));
    assert_eq!(texts(&store), ["# Knee 5", "# Knee 4"]);
    // Deleted by one, typed in by the other.
    assert!(delete(&mut store, "one").expect("deleted").is_some());
    assert_eq!(keep(&mut store, &mut one, "# Knee 6", "w", now(6)), Ok(Kept::Again));
    assert_eq!(texts(&store), ["# Knee 6", "# Knee 4"]);
}

#[test]
fn of_two_that_raced_both_are_listed_and_each_is_deleted_alone() {
    let mut store = Memory::default();
    let mut one = Open::new("one".into(), "");
    keep(&mut store, &mut one, "a", "w", now(1)).expect("kept");
    let mut copy = store.clone();
    let (mut other, _) = open(&store, "one").expect("read").expect("there");
    keep(&mut store, &mut one, "b", "w", now(2)).expect("kept");
    // The other window looked before that.
    keep(&mut copy, &mut other, "c", "v", now(3)).expect("kept");
    store.0.extend(copy.0);
    let items = found(&store).expect("read").items;
    let told: Vec<_> = items.iter().map(|i| (i.token.as_str(), i.leaf.text.as_str(), i.is_second)).collect();
    assert_eq!(told, [("one 2 v", "c", true), ("one", "b", false)]);
    assert!(one.is(&items[1]) && !one.is(&items[0]) && other.is(&items[0]));
    let mut deleted = store.clone();
    delete(&mut deleted, "one").expect("deleted");
    assert_eq!(texts(&deleted), ["c"]);
    let mut deleted = store.clone();
    delete(&mut deleted, "one 2 v").expect("deleted");
    assert_eq!(texts(&deleted), ["b"]);
    // The one that lost goes on as a copy, and leaves nothing behind.
    assert!(matches!(keep(&mut store, &mut other, "d", "v", now(4)), Ok(Kept::Copied(_))));
    assert_eq!(texts(&store), ["d", "b"]);
}

#[test]
fn the_last_visit_and_a_name_travel_with_it() {
    let mut store = Memory::default();
    let mut one = Open::new("one".into(), "");
    keep(&mut store, &mut one, "# Knee", "w", now(1)).expect("kept");
    one.before = Some("# Knee".into());
    assert_eq!(keep(&mut store, &mut one, "# Knee", "w", now(2)), Ok(Kept::Kept));
    assert_eq!(rename(&mut store, "one", " T. B. ", "w", now(3)), Ok(Some(Kept::Kept)));
    let (again, text) = open(&store, "one").expect("read").expect("there");
    assert_eq!((again.before.as_deref(), again.called(&text, None)), (Some("# Knee"), "T. B.".into()));
    let gone = delete(&mut store, "one").expect("deleted").expect("there");
    put_back(&mut store, &gone, "w").expect("back");
    let (back, _) = open(&store, "one").expect("read").expect("there");
    assert_eq!((back.name.as_deref(), back.before.as_deref()), (Some("T. B."), Some("# Knee")));
    // All of it by a file into an empty store, and no text twice.
    let file = file::write(&found(&store).expect("read"), vec!["torn".into()]);
    let mut words = 0;
    let mut read = |text: &str, known: &Found| {
        file::read(text, known, "w", now(9), || {
            words += 1;
            format!("new{words}")
        })
    };
    let empty = Found::default();
    let brought = read(&file, &empty).expect("a file");
    assert_eq!((brought.leaves.len(), brought.known), (1, 0));
    let mut clean = Memory::default();
    brought.leaves.iter().for_each(|leaf| add(&mut clean, leaf).expect("added"));
    let bare = |store: &Memory| {
        let leaf = found(store).expect("read").items.remove(0).leaf;
        (leaf.name, leaf.text, leaf.before, leaf.changed)
    };
    assert_eq!(bare(&clean), bare(&store));
    let known = found(&clean).expect("read");
    assert_eq!(read(&file, &known).map(|b| (b.leaves.len(), b.known)), Some((0, 1)));
    let plain = read("# Hip\r\nsomething: 3 x 10\r\n", &known).expect("a text");
    assert_eq!(plain.leaves[0].text, "# Hip\nsomething: 3 x 10\n");
    for nothing in [
        "",
        " \n",
        "{}",
        "{\"file\":\"x\"}",
        "{\"file\":\"layfigure prescriptions\",\"version\":2,\"prescriptions\":[]}",
    ] {
        assert_eq!(read(nothing, &known), None, "{nothing}");
    }
}

/// A store that has room for so many bytes, or lets nothing be written.
struct Small {
    inside: Memory,
    room: usize,
    denied: Denied,
}

impl Store for Small {
    fn get(&self, key: &str) -> Result<Option<String>, Denied> {
        self.inside.get(key)
    }
    fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
        let other: usize =
            self.inside.0.iter().filter(|(k, _)| *k != key).map(|(k, v)| k.len() + v.len()).sum();
        if self.room < other + key.len() + value.len() {
            return Err(self.denied);
        }
        self.inside.set(key, value)
    }
    fn remove(&mut self, key: &str) -> Result<(), Denied> {
        self.inside.remove(key)
    }
    fn keys(&self) -> Result<Vec<String>, Denied> {
        self.inside.keys()
    }
}

#[test]
fn where_there_is_no_room_the_last_that_was_kept_stays() {
    let mut store = Small { inside: Memory::default(), room: 700, denied: Denied::Full };
    let mut one = Open::new("one".into(), "");
    let mut text = String::new();
    let failed = loop {
        let before = text.clone();
        text.push_str("something: 3 x 10\n");
        match keep(&mut store, &mut one, &text, "w", now(1)) {
            Ok(_) => assert_eq!(texts(&store), [text.as_str()]),
            Err(denied) => break (denied, before),
        }
    };
    assert_eq!((failed.0, texts(&store)), (Denied::Full, vec![failed.1]));
    // With room again it goes on.
    store.room = 9000;
    assert_eq!(keep(&mut store, &mut one, &text, "w", now(2)), Ok(Kept::Kept));
    assert_eq!(texts(&store), [text.as_str()]);
    store.room = 0;
    store.denied = Denied::Forbidden;
    assert_eq!(keep(&mut store, &mut one, "more", "w", now(2)), Err(Denied::Forbidden));
    assert_eq!(texts(&store), [text.as_str()]);
}

/// One store for two windows that run beside each other, one call at a time in the order of a plan. A window that has
/// crashed gets no further call through; what it was writing may be there in part.
#[derive(Default)]
struct Shared {
    at: Mutex<(Memory, Vec<bool>, [bool; 2])>,
    turn: Condvar,
}

struct Window {
    shared: Arc<Shared>,
    second: bool,
    /// Calls until it crashes, and how much of a value then is written, of 8.
    left: std::cell::Cell<usize>,
    torn: usize,
}

impl Window {
    fn call<T>(&self, act: impl FnOnce(&mut Memory, bool) -> T) -> Result<T, Denied> {
        let mut at = self.shared.at.lock().expect("whole");
        // The plan's next turn is ours, or the other is done, or the plan is at its end.
        while at.1.last().is_some_and(|next| *next != self.second) && !at.2[usize::from(!self.second)] {
            at = self.shared.turn.wait(at).expect("whole");
        }
        if at.1.last() == Some(&self.second) {
            at.1.pop();
        }
        let left = self.left.get();
        let answer = (0 < left).then(|| act(&mut at.0, left == 1));
        self.left.set(left.saturating_sub(1));
        self.shared.turn.notify_all();
        // The call that it crashes in is done, and never answered.
        answer.filter(|_| 1 < left).ok_or(Denied::Forbidden)
    }

    fn done(&self) {
        self.shared.at.lock().expect("whole").2[usize::from(self.second)] = true;
        self.shared.turn.notify_all();
    }
}

impl Store for Window {
    fn get(&self, key: &str) -> Result<Option<String>, Denied> {
        self.call(|memory, _| memory.0.get(key).cloned())
    }
    fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
        let part = &value[..value.len() * self.torn / 8];
        self.call(|memory, crash| {
            assert!(!memory.0.contains_key(key), "no key is written twice: {key}");
            memory.0.insert(key.into(), if crash { part } else { value }.to_string());
        })
    }
    fn remove(&mut self, key: &str) -> Result<(), Denied> {
        self.call(|memory, _| {
            memory.0.remove(key);
        })
    }
    fn keys(&self) -> Result<Vec<String>, Denied> {
        self.call(|memory, _| memory.0.keys().cloned().collect())
    }
}

/// What a window does.
#[derive(Clone, Copy, Debug)]
enum Deed {
    Type,
    /// Opens the item of that place in the list.
    Open(usize),
    New,
    Delete(usize),
    Duplicate(usize),
}

fn deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        5 => Just(Deed::Type),
        3 => (0usize..3).prop_map(Deed::Open),
        1 => Just(Deed::New),
        1 => (0usize..3).prop_map(Deed::Delete),
        1 => (0usize..3).prop_map(Deed::Duplicate),
    ]
}

/// What one window did: texts that it kept, and texts that it gave up for another or deleted. Where it crashed, it
/// may or may not have given up the one at hand, and the one that was to come need not be there.
#[derive(Default)]
struct Told {
    kept: Vec<String>,
    given_up: Vec<String>,
    in_hand: Vec<String>,
}

/// Runs the deeds of one window until they are done or it crashes. Every text is another, and its last visit's text
/// says which it belongs to.
fn run(mut window: Window, deeds: &[Deed]) -> Told {
    let writer = if window.second { "v" } else { "w" };
    let mut told = Told::default();
    let mut ids = 0;
    let mut id = || {
        ids += 1;
        format!("{writer}{ids}")
    };
    let mut at = Open::new(id(), "");
    let mut text = String::new();
    for (n, deed) in deeds.iter().enumerate() {
        let place = |items: &[Item], n: usize| items.get(n % items.len().max(1)).cloned();
        let result: Result<(), Denied> = (|| {
            match *deed {
                Deed::Type => {
                    let new = format!("text {writer}{n}");
                    at.before = Some(format!("before {new}"));
                    told.in_hand = vec![text.clone(), new.clone()];
                    keep(&mut window, &mut at, &new, writer, now(1))?;
                    told.kept.push(new.clone());
                    told.given_up.push(std::mem::replace(&mut text, new));
                }
                Deed::Open(n) => {
                    if let Some(item) = place(&found(&window)?.items, n)
                        && let Some(opened) = open(&window, &item.token)?
                    {
                        (at, text) = opened;
                    }
                }
                Deed::New => (at, text) = (Open::new(id(), ""), String::new()),
                Deed::Delete(n) => {
                    if let Some(item) = place(&found(&window)?.items, n) {
                        // By its token it may by now be another's text: what was deleted is what is told.
                        told.in_hand = vec!["*".into()];
                        if let Some(leaf) = delete(&mut window, &item.token)? {
                            told.given_up.push(leaf.text);
                        }
                    }
                }
                Deed::Duplicate(place_of) => {
                    if let Some(item) = place(&found(&window)?.items, place_of) {
                        let new = format!("twice {writer}{n}");
                        let before = Some(format!("before {new}"));
                        told.in_hand = vec![new.clone()];
                        let _ = item;
                        add(&mut window, &fresh(id(), writer, None, new.clone(), before, now(2)))?;
                        told.kept.push(new);
                    }
                }
            }
            told.in_hand.clear();
            Ok(())
        })();
        if result.is_err() {
            break;
        }
    }
    window.done();
    told
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(if cfg!(debug_assertions) { 600 } else { 3000 }))]

    /// Two windows beside each other, each call of one between any two of the other, each crashing anywhere, also in
    /// the middle of a write: what was kept and not given up is there, whole, and nothing else.
    #[test]
    fn no_text_is_lost_or_mixed(
        first in proptest::collection::vec(deed(), 1..8),
        second in proptest::collection::vec(deed(), 1..8),
        plan in proptest::collection::vec(any::<bool>(), 0..120),
        crash in [1usize..120, 1usize..120],
        torn in 0usize..8,
    ) {
        let shared = Arc::new(Shared::default());
        shared.at.lock().expect("whole").1 = plan;
        let window = |second: bool, left| Window { shared: Arc::clone(&shared), second, left: std::cell::Cell::new(left), torn };
        let (a, b) = std::thread::scope(|scope| {
            let (one, two) = (window(false, crash[0]), window(true, crash[1]));
            let (a, b) = (scope.spawn(|| run(one, &first)), scope.spawn(|| run(two, &second)));
            (a.join().expect("ran"), b.join().expect("ran"))
        });
        let memory = shared.at.lock().expect("whole").0.clone();
        let items = found(&memory).expect("read").items;
        let there: BTreeMap<&str, &Leaf> = items.iter().map(|i| (i.leaf.text.as_str(), &i.leaf)).collect();
        for leaf in items.iter().map(|i| &i.leaf) {
            prop_assert_eq!(leaf.before.clone(), Some(format!("before {}", leaf.text)), "mixed");
        }
        let in_hand: Vec<&String> = a.in_hand.iter().chain(&b.in_hand).collect();
        let is_at_hand = |text: &String| in_hand.contains(&text);
        // A deletion that was cut short may have taken whatever it was about.
        if !in_hand.iter().any(|t| *t == "*") {
            for text in a.kept.iter().chain(&b.kept) {
                let given_up = a.given_up.contains(text) || b.given_up.contains(text);
                prop_assert!(given_up || is_at_hand(text) || there.contains_key(text.as_str()), "{} is lost: {:?}", text, there.keys());
            }
        }
        // Whoever was about to put one text in the place of another has one of the two.
        for told in [&a, &b] {
            if let [old, _] = told.in_hand.as_slice()
                && (a.kept.contains(old) || b.kept.contains(old))
                && !a.given_up.contains(old) && !b.given_up.contains(old)
                && !in_hand.iter().any(|t| *t == "*")
                && a.in_hand != b.in_hand
            {
                let other = if std::ptr::eq(told, &a) { &b } else { &a };
                let both = other.in_hand.first() == Some(old);
                let any = told.in_hand.iter().chain(other.in_hand.iter().filter(|_| both));
                prop_assert!(any.clone().any(|t| there.contains_key(t.as_str())), "{} is lost on the way", old);
            }
        }
    }
}
