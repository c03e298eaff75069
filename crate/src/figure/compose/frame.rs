//! One frame: the room, the ghost, the body, marks and labels.

use super::*;
use crate::figure::paint;

impl Maker<'_> {
    pub(in crate::figure) fn key(&self, i: usize) -> Option<(&Key, &Placed)> {
        Some((self.movement.keys.get(i)?, self.placed.get(i)?))
    }

    pub(super) fn discs(&self, key: usize, parts: &[Part], lens: Lens) -> Vec<Disc> {
        let Some(placed) = self.placed.get(key) else { return Vec::new() };
        let shape = Shape { placed, grips: [false; 2] };
        parts.iter().flat_map(|p| lens.discs(&shape.samples(*p))).collect()
    }

    pub(super) fn grips(&self, key: &Key) -> [bool; 2] {
        let mut grips = [false; 2];
        for t in &key.touches {
            if let (true, Some(s)) = (t.holds, t.part.side)
                && let Some(g) = grips.get_mut(usize::from(s == Side::Left))
            {
                *g = true;
            }
        }
        for thing in &key.things {
            let held: Vec<Side> = match &thing.shape {
                Form::In { hands, .. } => hands.clone(),
                Form::Line { to, .. } if hand_region(to.region) => to.side.into_iter().collect(),
                _ => Vec::new(),
            };
            for s in held {
                if let Some(g) = grips.get_mut(usize::from(s == Side::Left)) {
                    *g = true;
                }
            }
        }
        grips
    }

    pub(super) fn frame(&self, ask: &Ask, keys: &[usize], size: f64) -> Frame {
        let mut frame = Frame { crop: ask.crop, ..Frame::default() };
        let Some((key, placed)) = self.key(ask.key) else { return frame };
        let lens = ask.lens;
        frame.ground = ask.crop.is_none().then_some((lens.scale, ask.level()));
        let shape = Shape { placed, grips: self.grips(key) };
        let extras = key.things.iter().flat_map(|t| things::carried(t, placed, lens)).collect();
        let top = self.placed.iter().map(highest).fold(0.0, f64::max) + 0.12;
        let solids = key.things.iter().flat_map(|t| things::standing(t, lens, top)).collect();
        let muscles = self.look.muscles;
        // Seen from elsewhere, far and near are others.
        let far: &[Limb] = if lens.camera.towards.dot(self.seen_from) > 0.99 { &self.far } else { &[] };
        let painted =
            Painted { shape, lens, works: &self.works, extras, solids, muscles, far, shown: &|_| true };
        let mut body = paint::without_hidden(painted.strokes());
        let mut behind = paint::without_hidden(painted.behind());
        let own: Vec<Disc> = self.discs(ask.key, &Part::ALL, lens);
        let (mut ghost, mut ghost_discs) = (None, Vec::new());
        if let Some((k, parts)) = &ask.ghost
            && let Some((key, placed)) = self.key(*k)
        {
            let only = |p: Part| parts.contains(&p);
            let shape = Shape { placed, grips: self.grips(key) };
            let painted = Painted::bare(shape, lens, &only);
            ghost = paint::without_hidden(vec![painted.silhouette()]).pop();
            ghost_discs = self.discs(*k, parts, lens);
        }
        // Standing things and the floor, then the ghost, then the body.
        let mut reach = around(body.iter().chain(&ghost).chain(&behind));
        frame.strokes.extend(self.ground(ask, reach));
        if let Some(crop) = ask.crop {
            reach = crop;
        }
        let mut taken = own.clone();
        let soft: Vec<Disc> = behind.iter().flat_map(|s| &s.geos).flat_map(Geo::along).collect();
        frame.strokes.append(&mut behind);
        frame.strokes.extend(ghost);
        frame.strokes.append(&mut body);
        // An effort belongs to its own pose; an inset repeats none.
        let (mut marked, mut said): (Vec<[f64; 4]>, Vec<Stroke>) = (Vec::new(), Vec::new());
        let head = self.discs(ask.key, &[Part::Head], lens);
        if ask.label || ask.crop.is_none() {
            let also = ask.also.iter().flat_map(|(k, parts)| {
                let efforts = self.movement.keys.get(*k).map_or(&[][..], |k| &k.efforts);
                efforts.iter().filter(|e| effort_part(e, placed).is_none_or(|p| !parts.contains(&p)))
            });
            for e in key.efforts.iter().chain(also) {
                let mut strokes = self.effort(e, placed, lens, ask);
                // Both heels seen from the side push at one place.
                strokes.retain(|s| !said.iter().any(|o| o.tone == s.tone && as_one(o, s)));
                said.extend(strokes.iter().cloned());
                strokes = clear_of(&marked, strokes);
                marked.extend(strokes.iter().map(|s| around(core::iter::once(s))));
                if !matches!(e, Effort::BreatheOut) {
                    frame.on_head = frame
                        .on_head
                        .max(depth(&head, strokes.iter().flat_map(|s| &s.geos).flat_map(Geo::along)));
                }
                let lines = strokes.iter().flat_map(|s| &s.geos).flat_map(Geo::along);
                taken.extend(lines.map(|d| Disc { r: d.r.max(8.0), ..d }));
                frame.strokes.append(&mut strokes);
            }
        }
        // Arcs of angles, so that arrow and labels keep clear of them.
        let mut angles: Vec<(String, Point)> = Vec::new();
        for (angle, degrees) in self.told_angles(ask, keys) {
            let Some((mut strokes, at)) = self.arc(angle, placed, lens) else { continue };
            for g in strokes.iter().flat_map(|s| &s.geos) {
                taken.extend(g.along().into_iter().map(|d| Disc { r: 6.0, ..d }));
            }
            frame.strokes.append(&mut strokes);
            let words = match self.look.reader {
                Reader::Clinician => format!("{}°", shown(degrees, 0)),
                Reader::Patient => "stop".to_string(),
            };
            angles.push((words, at));
        }
        if ask.arrow {
            let before = keys.iter().position(|k| *k == ask.key).and_then(|i| keys.get(i.checked_sub(1)?));
            for arrow in
                before.map(|b| self.arrows(*b, ask, keys, (&taken, &ghost_discs))).into_iter().flatten()
            {
                taken.extend(arrow.points.iter().map(|(x, y)| Disc { x: *x, y: *y, r: 9.0 }));
                frame.arrow_on_body = frame.arrow_on_body.max(arrow.blocked);
                let shaft = arrow.points.iter().map(|(x, y)| Disc { x: *x, y: *y, r: 3.0 });
                frame.on_head = frame.on_head.max(depth(&head, shaft));
                if 1.0 < arrow.blocked {
                    // Over the body it needs a light line round it.
                    frame.strokes.push(marks::halo(&arrow));
                }
                frame.strokes.append(&mut marks::drawn_arrow(&arrow, self.look.back_and_forth));
            }
        }
        if ask.label {
            taken.extend(ghost_discs);
            let mut page = label::Page {
                taken,
                soft,
                reach,
                own: Vec::new(),
                other: Vec::new(),
                inside: ask.crop.is_some(),
                size,
            };
            for (words, at) in angles {
                frame.labels.push(page.put(at, 0.0, &words));
            }
            if let Some((side, part)) = self.one_sided(&ask.shown)
                && ask.shown.contains(&part)
            {
                let s = part.segment();
                let (x, y, _) = lens.point(placed.joint(s).lerp(placed.far_end(s), 0.6));
                let limb = |side: Side| -> Vec<Part> {
                    let same = |p: &Part| p.limb() == part.limb() || p.mirrored().limb() == part.limb();
                    Part::ALL.into_iter().filter(|p| p.side() == Some(side) && same(p)).collect()
                };
                if part.side().is_some() {
                    page.own = self.discs(ask.key, &limb(side), lens);
                    page.other = self.discs(ask.key, &limb(side.other()), lens);
                }
                frame.labels.push(page.put((x, y), 14.0, if side == Side::Right { "RIGHT" } else { "LEFT" }));
            }
            if let Some(seconds) = self.look.hold {
                let (mut strokes, label) = page.hold(seconds);
                frame.strokes.append(&mut strokes);
                frame.labels.push(label);
            }
        }
        for l in &frame.labels {
            frame.on_head = frame.on_head.max(depth(&head, letters(l)));
        }
        if let Some(crop) = ask.crop {
            for s in &mut frame.strokes {
                s.geos.retain(|g| meet(g.bounds(), crop));
            }
            frame.strokes.retain(|s| !s.geos.is_empty());
        }
        frame
    }

    /// The floor: a line in level views, a plane seen from above.
    pub(super) fn ground(&self, ask: &Ask, reach: [f64; 4]) -> Vec<Stroke> {
        let Some(placed) = self.placed.get(ask.key) else { return Vec::new() };
        if ask.level() {
            let y = ask.lens.point(Vec3::ZERO).1 + 1.0;
            let (from, to) = match ask.crop {
                Some(c) => (c[0], c[2]),
                None => (reach[0] - 8.0, reach[2] + 8.0),
            };
            // A body that is nowhere near the floor is on a bed or table; a detail may end above it.
            if ask.crop.map_or(reach[3] + 13.0, |c| c[3]) < y {
                return Vec::new();
            }
            let line = Geo::Line(vec![(from, y), (to, y)]);
            return vec![Stroke { tone: Tone::GroundLine, geos: vec![line] }];
        }
        if ask.crop.is_some() {
            return Vec::new();
        }
        let shape = Shape { placed, grips: [false; 2] };
        // The mat stays where it lies at the start.
        let placed = self.placed.first().unwrap_or(placed);
        // A mat along the body: along the spine of who lies or kneels on all fours, else across where the front looks.
        let flat = |v: Vec3| v3(v.x, 0.0, v.z);
        let spine = placed.joint(Segment::Neck) - placed.joint(Segment::Pelvis);
        let lies = spine.y.abs() < 0.45 * spine.norm();
        let along = flat(if lies { spine } else { placed.turn(Segment::Pelvis).x }).unit_or(Vec3::X);
        let across = along.cross(Vec3::Y);
        let (mut low, mut high) = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
        for (c, r) in Part::ALL.iter().flat_map(|p| shape.samples(*p)) {
            if c.y < 0.35 * self.stature {
                let (a, b) = (c.dot(along), c.dot(across));
                low = (low.0.min(a - r), low.1.min(b - r));
                high = (high.0.max(a + r), high.1.max(b + r));
            }
        }
        if high.0 < low.0 {
            return Vec::new();
        }
        let m = 0.07;
        let corners = [
            (low.0 - m, low.1 - m),
            (low.0 - m, high.1 + m),
            (high.0 + m, low.1 - m),
            (high.0 + m, high.1 + m),
        ];
        let discs = corners
            .map(|(a, b)| {
                let (x, y, _) = ask.lens.point(along * a + across * b);
                Disc { x, y, r: 10.0 }
            })
            .to_vec();
        vec![Stroke { tone: Tone::Ground, geos: vec![Geo::Hull(discs)] }]
    }
}

pub(in crate::figure) fn highest(placed: &Placed) -> f64 {
    placed
        .far_end(Segment::Head)
        .y
        .max(placed.far_end(Segment::Hand(Side::Right)).y)
        .max(placed.far_end(Segment::Hand(Side::Left)).y)
}

pub(in crate::figure) fn hand_region(r: Region) -> bool {
    matches!(r, Region::Palm | Region::Fist | Region::Fingertips | Region::BackOfHand)
}

/// The box round all strokes.
fn around<'a>(strokes: impl Iterator<Item = &'a Stroke>) -> [f64; 4] {
    strokes.flat_map(|s| &s.geos).fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, g| {
        let o = g.bounds();
        [b[0].min(o[0]), b[1].min(o[1]), b[2].max(o[2]), b[3].max(o[3])]
    })
}

fn meet(a: [f64; 4], b: [f64; 4]) -> bool {
    a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3]
}

/// A mark moved aside where it would stand on others; where there is no room, as it was.
fn clear_of(others: &[[f64; 4]], strokes: Vec<Stroke>) -> Vec<Stroke> {
    let own = around(strokes.iter());
    let steps =
        [(0.0, 0.0), (0.0, -32.0), (0.0, 32.0), (-34.0, 0.0), (34.0, 0.0), (-34.0, -32.0), (34.0, -32.0)];
    let free = |(x, y): (f64, f64)| {
        let at = [own[0] + x, own[1] + y, own[2] + x, own[3] + y];
        !others.iter().any(|o| meet(*o, at))
    };
    match steps.into_iter().find(|s| free(*s)) {
        Some((x, y)) if (x, y) != (0.0, 0.0) => strokes
            .into_iter()
            .map(|s| Stroke { geos: s.geos.iter().map(|g| g.moved(x, y)).collect(), ..s })
            .collect(),
        _ => strokes,
    }
}

/// How deep discs run into the head, page units.
fn depth(head: &[Disc], marks: impl Iterator<Item = Disc>) -> f64 {
    let over = |m: Disc| {
        let deep = |h: &Disc| h.r + m.r - math::hypot(h.x - m.x, h.y - m.y);
        head.iter().map(deep).fold(0.0, f64::max)
    };
    marks.map(over).fold(0.0, f64::max)
}

/// A text as discs.
fn letters(l: &Label) -> impl Iterator<Item = Disc> {
    let (width, r) = (marks::text_width(&l.text, l.size), l.size * 0.36);
    let (x, y) = (l.x, l.y - r);
    let count = (width / (2.0 * r)).ceil().max(1.0);
    (0..count as u32).map(move |i| {
        let along = (f64::from(i) + 0.5) / count - 0.5;
        Disc { x: x + along * (width - 2.0 * r).max(0.0), y, r }
    })
}

/// Whether two marks stand at nearly one place.
fn as_one(a: &Stroke, b: &Stroke) -> bool {
    let (a, b) = (around(core::iter::once(a)), around(core::iter::once(b)));
    a.iter().zip(&b).all(|(x, y)| (x - y).abs() < 16.0)
}
