//! Holds, rests and tempo.

use super::*;

pub(super) fn hold(mut c: Cursor<'_>) -> Option<Hit> {
    let begun = c;
    if c.word(&["hold", "holds", "held", "holding"]).is_some() {
        c.word(&["for", "each", "of"]);
        c.sign(':');
        // `isometric hold 5 x 45 s`: five of them.
        let mut several = c;
        if let Some(bouts) = several.counts()
            && several.times()
            && let Some(span) = several.span()
        {
            return hit(several, portion(None, Work::Bouts { sets: None, bouts, span }));
        }
        let mut bounded = c;
        if let Some(comparator) = crate::language::comparator::comparator(&mut bounded)
            && let Some(span) = bounded.span().and_then(|span| span.bounded(bound_of(comparator)))
        {
            return hit(bounded, Item::Hold(span));
        }
        let span = c.span().or_else(|| {
            // `hold 5` has no unit; a hold is counted in seconds.
            let n = c.counts()?;
            // `held 2/2 dizziness` is why it was left off.
            if matches!(c.peek_word(), Some("breath" | "breaths" | "beats" | "counts")) {
                return None;
            }
            let stroke = matches!(c.peek().map(|t| (t.sort, t.spaced)), Some((Sort::Sign('/'), false)))
                && matches!(c.all.get(c.at + 1).map(|t| t.sort), Some(Sort::Number(_)));
            Span::new(n.low(), n.high()).filter(|s| s.high() <= 300 && !stroke)
        })?;
        let mut more = c;
        if more.times()
            && !is_rate_ahead(more)
            && let Some(n) = more.counts()
        {
            more.word(&REPS);
            return hits(more, vec![portion(None, reps(None, Some(n), Ending::Number)), Item::Hold(span)]);
        }
        return hit(c, Item::Hold(span));
    }
    if c.word(&["rest", "rests", "resting", "pause", "ri"]).is_some() {
        c.word(&["for", "of"]);
        c.sign(':');
        let mut bounded = c;
        if let Some(comparator) = crate::language::comparator::comparator(&mut bounded)
            && let Some(span) = bounded.span().and_then(|span| span.bounded(bound_of(comparator)))
        {
            between(&mut bounded);
            return hit(bounded, Item::Rest(span));
        }
        // `rest 60` has no unit; a number this large is no minutes.
        let span = c.span().or_else(|| {
            let n = c.counts().filter(|n| 15 <= n.low() && n.high() <= 300)?;
            Span::new(n.low(), n.high())
        })?;
        between(&mut c);
        return hit(c, Item::Rest(span));
    }
    c = begun;
    let span = c.span()?;
    let mut paused = c;
    if paused.word(&["pause", "pauses"]).is_some() {
        let before = paused.at;
        between(&mut paused);
        if before < paused.at {
            return hit(paused, Item::Rest(span));
        }
    }
    if c.word(&["hold", "holds", "held", "isometric", "pause", "pauses"]).is_some() {
        // `2 min hold chair`: how long, and what to hold on to.
        if is_thing(c) {
            return None;
        }
        let mut more = c;
        if more.times()
            && !is_rate_ahead(more)
            && let Some(n) = more.counts()
        {
            more.word(&REPS);
            return hits(more, vec![portion(None, reps(None, Some(n), Ending::Number)), Item::Hold(span)]);
        }
        // `5 s hold each side` says how often, not only of what.
        if !is_each_limb(c) {
            c.words(&["each"]);
        }
        return hit(c, Item::Hold(span));
    }
    // `30 s pause between sets` is a rest.
    if c.word(&["rest", "rests", "break", "recovery", "ri"]).is_some() {
        between(&mut c);
        return hit(c, Item::Rest(span));
    }
    if c.word(&["between", "b"]).is_some() {
        c.sign('/');
        c.word(&["w", "t"]);
        c.word(&["sets", "each", "holds", "reps"])?;
        c.word(&["set"]);
        return hit(c, Item::Rest(span));
    }
    None
}

/// Whether something that one holds on to stands at the cursor, an article and `on to` passed over.
fn is_thing(mut c: Cursor<'_>) -> bool {
    const THINGS: [&str; 26] = [
        "chair",
        "rail",
        "rails",
        "table",
        "sink",
        "worktop",
        "counter",
        "banister",
        "bannister",
        "bar",
        "bars",
        "frame",
        "wall",
        "door",
        "handrail",
        "bench",
        "stick",
        "walker",
        "support",
        "desk",
        "post",
        "windowsill",
        "sideboard",
        "furniture",
        "railing",
        "surface",
    ];
    let _ = c.words(&["on", "to"]) || c.word(&["on", "onto"]).is_some();
    c.word(&["the", "a", "your"]);
    c.word(&["kitchen", "back"]);
    c.words(&["of", "a"]);
    c.peek_word().is_some_and(|w| THINGS.contains(&w))
}

/// Whether `each` at the cursor has its limb behind it.
fn is_each_limb(mut c: Cursor<'_>) -> bool {
    c.word(&["each"]).is_some() && c.peek_word().is_some_and(|w| LIMBS.contains(&w))
}

pub(super) fn between(c: &mut Cursor<'_>) {
    let mut more = *c;
    // b/w and b/t
    let short = more.word(&["b"]).is_some() && more.sign('/') && more.word(&["w", "t"]).is_some();
    if short || more.word(&["between", "after"]).is_some() {
        more.word(&["each", "every"]);
        if more.word(&["sets", "set", "holds", "hold", "reps", "rounds"]).is_some() {
            *c = more;
        }
    }
}

pub(super) fn tempo(mut c: Cursor<'_>) -> Option<Hit> {
    let said = c.word(&["tempo"]).is_some();
    if said {
        c.sign(':');
        let mut packed = c;
        if let Some(t) = packed.peek()
            && let (4, Some(n)) = (t.end - t.start, packed.whole())
        {
            let digit = |d: u32| u8::try_from(n / d % 10).unwrap_or(0);
            let tempo = Tempo::new([digit(1000), digit(100), digit(10), digit(1)])?;
            return hit(packed, Item::Tempo(tempo));
        }
        if let Some(found) = trade::tempo_letter(c) {
            return Some(found);
        }
    }
    let mut seconds = [0u8; 4];
    let mut count = 0;
    let mut sign = None;
    for slot in &mut seconds {
        let mut more = c;
        if 0 < count {
            let found = ['-', '/', ':'].into_iter().find(|s| more.sign(*s));
            if found.is_none() || (sign.is_some() && sign != found) {
                break;
            }
            sign = found;
        }
        let Some(n) = more.whole().and_then(|n| u8::try_from(n).ok()) else { break };
        *slot = n;
        count += 1;
        c = more;
    }
    let enough = if said { 3 <= count } else { count == 4 && sign == Some('-') };
    let more = c.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('-' | '/')));
    if !enough || more {
        return None;
    }
    c.word(&["tempo"]);
    hit(c, Item::Tempo(Tempo::new(seconds)?))
}
