use super::*;
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::catalog::Catalog;
use crate::pose::settle;
use std::collections::BTreeSet;

fn course(keys: &[usize], ways: &[u32]) -> Course {
    let turn = keys.len() - 1;
    Course { keys: keys.to_vec(), ways: ways.to_vec(), turn, is_round: false, lowers_first: true }
}

fn pace(course: &Course, tempo: Option<[u8; 4]>, hold: Option<u32>) -> Pace {
    Pace::new(course, tempo.and_then(Tempo::new), hold.and_then(Span::one)).expect("a pace")
}

/// `instant x milliseconds` in order, over one cycle; `h` where it is the hold.
fn told(pace: &Pace) -> String {
    let mut runs: Vec<(Shown, u32)> = Vec::new();
    for ms in 0..pace.cycle() {
        let shown = pace.at(ms);
        match runs.last_mut() {
            Some((last, n)) if *last == shown => *n += 1,
            _ => runs.push((shown, 1)),
        }
    }
    let one = |(s, n): &(Shown, u32)| format!("{}{} x {n}", s.instant, if s.is_hold { "h" } else { "" });
    runs.iter().map(one).collect::<Vec<_>>().join(", ")
}

#[test]
fn without_a_word_it_goes_calmly_there_and_back() {
    let pace = pace(&course(&[0, 4], &[2000]), None, None);
    // The last instant of a way stands as long as the others, and then stays.
    assert_eq!(
        told(&pace),
        "0 x 1000, 1 x 500, 2 x 500, 3 x 500, 4 x 1500, 3 x 500, 2 x 500, 1 x 500, 0 x 500"
    );
    assert_eq!(pace.at(pace.cycle()), pace.at(0));
}

#[test]
fn a_tempo_gives_each_way_and_each_pause_its_seconds() {
    // Let down first: 4 s down, 1 s low, 2 s up, 3 s at the top.
    let down = course(&[0, 2], &[1500]);
    assert_eq!(
        told(&pace(&down, Some([4, 1, 2, 3]), None)),
        "0 x 3000, 1 x 2000, 2 x 3000, 1 x 1000, 0 x 1000"
    );
    let up = Course { lowers_first: false, ..down };
    assert_eq!(
        told(&pace(&up, Some([4, 1, 2, 3]), None)),
        "0 x 1000, 1 x 1000, 2 x 4000, 1 x 2000, 0 x 2000"
    );
    // No pause, and as quick as can be.
    assert_eq!(told(&pace(&up, Some([2, 0, 0, 0]), None)), "1 x 150, 2 x 150, 1 x 1000, 0 x 1000");
}

#[test]
fn a_hold_is_shown_at_the_end_and_not_for_ever() {
    let way = course(&[0, 2], &[1600]);
    assert_eq!(told(&pace(&way, None, Some(3))), "0 x 1000, 1 x 800, 2 x 800, 2h x 3000, 1 x 800, 0 x 800");
    assert_eq!(told(&pace(&way, None, Some(60))), told(&pace(&way, None, Some(5))));
    // After the pause of the tempo, as it is counted.
    let both = told(&pace(&way, Some([2, 1, 2, 0]), Some(2)));
    assert_eq!(both, "1 x 1000, 2 x 2000, 2h x 2000, 1 x 1000, 0 x 1000");
}

#[test]
fn a_sequence_stops_shortly_at_each_key_pose() {
    let sequence = course(&[0, 1, 2], &[2000, 1000]);
    let slow = told(&pace(&sequence, None, None));
    assert_eq!(slow, "0 x 1000, 1 x 2400, 2 x 2000, 1 x 1400, 0 x 2000");
    // Ways and stops share the seconds of the tempo.
    let quick = pace(&sequence, Some([2, 0, 2, 0]), None);
    assert_eq!((quick.cycle() + 5) / 10, 400);
    assert_eq!(told(&quick), "1 x 1411, 2 x 588, 1 x 823, 0 x 1176");
}

#[test]
fn what_ends_where_it_began_goes_round() {
    let round = Course { turn: 1, is_round: true, ..course(&[0, 2, 3, 4], &[1500, 1600, 1700]) };
    let seen = told(&pace(&round, None, Some(2)));
    assert_eq!(seen, "0 x 1000, 1 x 750, 2 x 750, 2h x 2000, 3 x 2000, 4 x 1700");
}

#[test]
fn step_by_step_shows_key_poses_alone() {
    let pace = pace(&course(&[0, 7, 16], &[2000, 1000]), None, Some(3));
    let seen: BTreeSet<usize> = (0..pace.cycle()).map(|ms| pace.step_at(ms).instant).collect();
    assert_eq!(seen, BTreeSet::from([0, 7, 16]));
    assert!((0..pace.cycle()).any(|ms| pace.step_at(ms).is_hold));
}

#[test]
fn nothing_to_show_is_no_pace() {
    assert_eq!(Pace::new(&course(&[0], &[]), None, None), None);
    let body = Body::usual();
    let poses = &Catalog::embedded().exercises().iter().find(|e| 1 < e.poses.len()).expect("one").poses;
    let movement = settle::exercise(&body, poses, Side::Right, &Limits::none());
    assert!(Course::of(&body, &movement, 16).is_some());
    assert_eq!(Course::of(&body, &movement, 0), None);
    assert_eq!(Course::of(&body, &movement, 1), None);
    assert_eq!(Course::of(&body, &Movement { keys: Vec::new(), ways: Vec::new(), ..movement }, 16), None);
}

/// Over the whole catalog, at any tempo: every instant is shown, one after the other, round and round, and a way
/// takes between a second and a half and four.
#[test]
fn every_movement_of_the_catalog_is_shown_without_a_gap() {
    let body = Body::usual();
    let mut turned = BTreeSet::new();
    for e in Catalog::embedded().exercises().iter().filter(|e| 1 < e.poses.len()) {
        let movement = settle::exercise(&body, &e.poses, Side::Right, &Limits::none());
        let instants = crate::figure::moving(&body, &movement, &crate::figure::Look::default()).len();
        let Some(course) = Course::of(&body, &movement, instants) else { continue };
        assert_eq!(course.keys.len(), e.poses.len(), "{}", e.id);
        assert_eq!(course.keys.last(), Some(&(instants - 1)), "{}", e.id);
        assert!(course.keys.windows(2).all(|k| k[0] < k[1]), "{}: {:?}", e.id, course.keys);
        assert!(course.ways.iter().all(|ms| (1500..=4000).contains(ms)), "{}: {:?}", e.id, course.ways);
        turned.insert(course.lowers_first);
        for (tempo, hold) in
            [(None, None), (None, Some(30)), (Some([3, 1, 1, 0]), None), (Some([0, 0, 9, 0]), Some(4))]
        {
            let pace = pace(&course, tempo, hold);
            let shown: Vec<usize> = (0..=pace.cycle()).step_by(5).map(|ms| pace.at(ms).instant).collect();
            assert_eq!(shown.iter().collect::<BTreeSet<_>>().len(), instants, "{}", e.id);
            let last = instants - 1;
            let near = |a: usize, b: usize| a.abs_diff(b) <= 1 || (course.is_round && a.abs_diff(b) == last);
            assert!(shown.windows(2).all(|s| near(s[0], s[1])), "{} {tempo:?}: {shown:?}", e.id);
        }
    }
    assert_eq!(turned.len(), 2, "some are let down first, some lifted");
}
