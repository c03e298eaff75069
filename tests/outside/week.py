"""The week against OR-tools CP-SAT: the same problems, the same best week, level by level.

The problems are made here from a seed, so that they owe nothing to the crate. CP-SAT is given the model as
`crate/src/week/model.md` states it, written a second time. Our week must have the levels that we state; then, level by
level and with the earlier ones held, CP-SAT must prove that nothing less can be reached, and after the last level that
nothing which ranks before our week has the same levels. Small problems are compared at all levels, with every packing of
every list of the day tried out here; larger ones at the first three, with every item's parts left to CP-SAT.

    week.py                 60 small problems at all levels, 12 larger ones at the first three, and some once solved wrongly
    week.py --full          300 problems, and more effort for each; then the prescriptions made by hand
    week.py --effort N      CP-SAT's effort for each level of a problem
    week.py --hand          the prescriptions made by hand alone, at the first three levels
    week.py --seed N        other problems
    week.py --write FILE    the problems as JSON, for `layfigure week FILE`
    week.py --growth FILE   times of both from 6 to 48 items, and their growth as SVG

CP-SAT's effort is limited by its own count of work (`max_deterministic_time`), not by a clock, with one worker and one
seed: what it proves is the same on any machine, however busy. A unit is about a second of an idle core.

The 20 prescriptions of `weeks/*.txt` are read by us, and their problems posed to CP-SAT as well; where the minutes don't
suffice, the set that we say is in conflict must have no week, and without any one of its items must have one.
"""

import argparse
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from itertools import combinations
from pathlib import Path

import numpy as np
from ortools.sat.python import cp_model

SEED = 20261130
DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
PARTS = ["morning", "midday", "evening"]
LEVELS = ["broken", "overtime", "recovery", "lists", "sessions", "away", "longest", "positions", "kit"]


# ---------------------------------------------------------------- problems


def make_problem(dice, size):
    """A programme such as a clinician might write, or an odd one."""
    groups = ["knee", "hip", "shoulder", "trunk"]
    positions = [("lying", True), ("side-lying", True), ("kneeling", True), ("sitting", False), ("standing", False)]
    items = []
    for number in range(size):
        purpose = dice.choice([0, 0, 1, 2, 2, 2, 3, 3, 4])
        days = dice.choice(
            {
                0: ["daily", "daily", {"per_week": 5}],
                1: ["daily", {"per_week": 4}],
                2: [{"per_week": 3}, {"per_week": 3}, {"per_week": 2}, {"per_week": 4}, "daily",
                    {"chosen": ["Mon", "Thu"]}, "alternate" if dice.random() < 0.3 else {"per_week": 3}],
                3: ["daily", {"per_week": 3}, {"per_week": 5}],
                4: [{"per_week": 2}, {"per_week": 3}, {"per_week": 6}, {"per_week": 1}],
            }[purpose]
        )
        parts = PARTS
        if dice.random() < 0.25:
            parts = sorted(dice.sample(PARTS, dice.choice([1, 2])), key=PARTS.index)
        per_day = dice.choice([1, 1, 2, 3]) if purpose in (0, 3) else 1
        if dice.random() < 0.95:
            per_day = min(per_day, len(parts))  # otherwise it may be unplaced
        items.append(
            {
                "name": f"exercise {number + 1}",
                "seconds": dice.choice([60, 90, 100, 120, 150, 180, 200, 240, 300, 317, 400]),
                "per_day": per_day,
                "days": days,
                "never": [dice.choice(DAYS)] if isinstance(days, dict) and "per_week" in days and dice.random() < 0.15 else [],
                "parts": parts,
                "apart_minutes": dice.choice([0, 0, 0, 0, 330]),
                "loads": sorted(dice.sample(range(4), dice.choice([1, 1, 2]))) if purpose == 2 else [],
                "purpose": purpose,
                "position": dice.randrange(5),
                "kit": dice.choice([0, 0, 1, 2]),
            }
        )
    rules = []
    for _ in range(dice.choice([0, 0, 1, 2])):
        if 1 < size:
            rules.append({dice.choice(["not_in_session", "not_on_day", "after"]): dice.sample(range(size), 2)})
    available = [[None] * 3 for _ in range(7)]
    style = dice.randrange(5)
    if style:
        need = sum(i["seconds"] * i["per_day"] * 4 for i in items) // 7
        for day in range(7):
            share = {1: (0.5, 0, 0.6), 2: (0.4, 0.3, 0.4), 3: (0.9, 0, 0) if 4 < day else (0.5, 0.0, 0.9),
                     4: (1.2, None, 0.2 * (day % 3))}[style]
            available[day] = [None if s is None else int(need * s) // 60 * 60 for s in share]
    by_day = [None] * 7
    if dice.random() < 0.3:
        by_day = [dice.choice([None, 0, 600, 900, 1200]) for _ in range(7)]
    appointments = []
    if dice.random() < 0.3:
        appointments.append({"name": "swimming", "day": dice.choice(DAYS), "part": dice.choice(PARTS),
                             "seconds": dice.choice([0, 300, 900]), "loads": [dice.randrange(4)]})
    return {
        "items": items,
        "rules": rules,
        "available": available,
        "by_day": by_day,
        "appointments": appointments,
        "clock": dice.choice([[480, 780, 1140], [480, 780, 1140], [420, 900, 1200]]),
        "groups": groups,
        "positions": [{"name": n, "floor": f} for n, f in positions],
        "change_seconds": 20,
        "floor_once": dice.random() < 0.4,
    }


# ---------------------------------------------------------------- ranks, written from model.md


def day_sets(item, weeks):
    """All sets of days of an item, best first; empty if it has none."""
    allowed = [d for d in range(7) if DAYS[d] not in item["never"]]
    days = item["days"]
    double = lambda s: sorted(s) + ([d + 7 for d in sorted(s)] if weeks == 2 else [])
    if days == "daily":
        return [double(allowed)] if allowed else []
    if days == "alternate":
        if item["never"]:
            return []
        return [[0, 2, 4, 6, 8, 10, 12], [1, 3, 5, 7, 9, 11, 13]]
    if "chosen" in days:
        chosen = [DAYS.index(d) for d in days["chosen"]]
        return [double(chosen)] if chosen and set(chosen) <= set(allowed) else []
    n = days["per_week"]
    if n == 0:
        return []

    def rank(s):
        gaps = [((s[(i + 1) % n] - s[i] - 1) % 7) + 1 for i in range(n)]
        squares = sum(g * g for g in gaps)
        if n <= 3:
            return (-min(gaps), squares, s)
        ring = "".join("1" if d % 7 in s else "0" for d in range(14))
        run = 7 if n == 7 else max(len(r) for r in ring.split("0"))
        return (sum(5 <= d for d in s), run, squares, s)

    return [double(s) for s in sorted(combinations(allowed, n), key=rank)]


def part_sets(item, clock):
    """All sets of parts of an item, best first; empty if it has none."""
    own = [PARTS.index(p) for p in item["parts"]]
    n = item["per_day"]
    if n == 0:
        return []
    found = []
    for s in combinations(own, n):
        gap = min((clock[b] - clock[a] for a, b in zip(s, s[1:])), default=10**6)
        if item["apart_minutes"] <= gap:
            found.append((s, gap))
    single = {0: 0, 2: 1, 1: 2}  # morning, evening, midday
    found.sort(key=lambda f: (single[f[0][0]],) if n == 1 else (-f[1], f[0]))
    return [f[0] for f in found]


# ---------------------------------------------------------------- one session's order, by trying


def changes(problem, items, afters):
    """Fewest (position, kit) changes of a session by a search over orders, forgetting nothing that matters."""
    rank = {i: problem["items"][i]["purpose"] for i in items}
    for _ in items:
        for later, earlier in afters:
            if later in rank and earlier in rank:
                rank[later] = max(rank[later], rank[earlier])
    floor = {i: problem["positions"][problem["items"][i]["position"]]["floor"] for i in items}
    inside = [(a, b) for a, b in afters if a in rank and b in rank]

    def best(key):
        need = {i: {b for a, b in inside if a == i and key[b] == key[i]} for i in items}
        # Rules that go round in a circle within one purpose say nothing there.
        for k in set(key.values()):
            group = [i for i in items if key[i] == k]
            done = set()
            while any(i not in done and need[i] <= done for i in group):
                done |= {i for i in group if need[i] <= done}
            if len(done) < len(group):
                for i in group:
                    need[i] = set()
        order = sorted(items, key=lambda i: key[i])
        states = {(frozenset(), None): (0, 0)}
        for step in range(len(items)):
            level, following = key[order[step]], {}
            for (done, last), cost in states.items():
                for i in items:
                    if i in done or key[i] != level or not need[i] <= done:
                        continue
                    a, b = problem["items"][i], problem["items"][last] if last is not None else None
                    total = cost if b is None else (cost[0] + (a["position"] != b["position"]), cost[1] + (a["kit"] != b["kit"]))
                    state = (done | {i}, i)
                    if state not in following or total < following[state]:
                        following[state] = total
            states = following
        return min(states.values())

    if not problem["floor_once"] or len(set(floor.values())) < 2:
        return best({i: (0, rank[i]) for i in items})
    tried = []
    for cut in sorted(set(rank.values())) + [255]:
        key = {i: (1 if floor[i] else 0 if rank[i] < cut else 2, rank[i]) for i in items}
        wrong = sum(key[a][0] < key[b][0] and key[b][1] < key[a][1] for a in items for b in items)
        wrong += 10_000 * sum(key[a][0] < key[b][0] for a, b in inside)
        tried.append((wrong, best(key), cut))
    return min(tried)[1]


# ---------------------------------------------------------------- the model for CP-SAT


class Model:
    """The first three levels, with a choice of parts for every item and day."""

    def __init__(self, problem):
        self.m = m = cp_model.CpModel()
        items = problem["items"]
        self.weeks = 2 if any(i["days"] == "alternate" for i in items) else 1
        H = self.H = 7 * self.weeks
        self.sets = {i: day_sets(item, self.weeks) for i, item in enumerate(items)}
        self.opts = {i: part_sets(item, problem["clock"]) for i, item in enumerate(items)}
        self.placed = P = [i for i in range(len(items)) if self.sets[i] and self.opts[i]]
        self.set_of = {(i, s): m.new_bool_var(f"set{i},{s}") for i in P for s in range(len(self.sets[i]))}
        self.opt_of = {(i, d, o): m.new_bool_var(f"opt{i},{d},{o}") for i in P for d in range(H) for o in range(len(self.opts[i]))}
        on, at = {}, {}
        self.on, self.at = on, at
        for i in P:
            m.add_exactly_one(self.set_of[i, s] for s in range(len(self.sets[i])))
            for d in range(H):
                on[i, d] = m.new_bool_var(f"on{i},{d}")
                m.add(on[i, d] == sum(self.set_of[i, s] for s, days in enumerate(self.sets[i]) if d in days))
                m.add(sum(self.opt_of[i, d, o] for o in range(len(self.opts[i]))) == on[i, d])
                for p in range(3):
                    at[i, d, p] = m.new_bool_var(f"at{i},{d},{p}")
                    m.add(at[i, d, p] == sum(self.opt_of[i, d, o] for o, parts in enumerate(self.opts[i]) if p in parts))
        value = self.value = {}

        broken = []
        for rule in problem["rules"]:
            (kind, (a, b)), = rule.items()
            if a == b or a not in P or b not in P:
                continue
            for d in range(H):
                both = m.new_bool_var("")
                m.add(both >= on[a, d] + on[b, d] - 1)
                m.add(both <= on[a, d])
                m.add(both <= on[b, d])
                if kind == "not_on_day":
                    broken.append(both)
                elif kind == "not_in_session":
                    for p in range(3):
                        shared = m.new_bool_var("")
                        m.add(shared >= at[a, d, p] + at[b, d, p] - 1)
                        m.add(shared <= at[a, d, p])
                        m.add(shared <= at[b, d, p])
                        broken.append(shared)
                else:
                    early = m.new_bool_var("")
                    pairs = [(self.opt_of[a, d, x], self.opt_of[b, d, y]) for x, s in enumerate(self.opts[a])
                             for y, t in enumerate(self.opts[b]) if min(s) < min(t)]
                    hits = []
                    for x, y in pairs:
                        hit = m.new_bool_var("")
                        m.add(hit >= x + y - 1)
                        m.add(hit <= x)
                        m.add(hit <= y)
                        hits.append(hit)
                    m.add(early == sum(hits))
                    broken.append(early)
        value["broken"] = sum(broken) if broken else 0

        given = minutes(problem, H)
        over = []
        for d in range(H):
            for p in range(4):
                if given[d][p] is not None:
                    x = m.new_int_var(0, sum(3 * items[i]["seconds"] for i in P), "")
                    own = range(3) if p == 3 else [p]
                    m.add(x >= sum(items[i]["seconds"] * at[i, d, q] for i in P for q in own) - given[d][p])
                    over.append(x)
        value["overtime"] = sum(over) if over else 0

        value["recovery"] = tired(m, problem, P, on, H)

    def ours(self, week):
        """Our week in this model's variables: (variable, value)."""
        pairs = []
        for i in self.placed:
            days = [d for d in range(self.H) if week["laid"][i][d]]
            pairs += [(self.set_of[i, s], own == days) for s, own in enumerate(self.sets[i])]
            for d in range(self.H):
                parts = tuple(PARTS.index(p) for p in week["laid"][i][d])
                pairs += [(self.opt_of[i, d, o], own == parts) for o, own in enumerate(self.opts[i])]
        return pairs


class Packings:
    """Every way to pack every list of the day, by trying all of them.

    Once the days of all items are chosen, days have nothing to do with each other, and the levels that a day decides are
    added up; so a best week has on each day a packing that is best for its list and minutes, in the order of aims.
    """

    ORDER = ["broken", "overtime", "sessions", "away", "positions", "kit"]

    def __init__(self, problem, placed, opts, afters):
        self.n = len(placed)
        self.problem, self.placed, self.opts = problem, placed, opts
        table = [(0, 0)] + [
            changes(problem, [i for n, i in enumerate(placed) if bits >> n & 1], afters) for bits in range(1, 1 << self.n)
        ]
        self.moves = np.array([a for a, _ in table], dtype=np.int64)
        self.takes = np.array([b for _, b in table], dtype=np.int64)
        # By list: for every packing the list of each part, and the rank of each item's parts.
        start = (np.zeros((3, 1), dtype=np.int64), np.zeros((self.n, 1), dtype=np.int64))
        self.ways = {0: start}
        for bits in range(1, 1 << self.n):
            top = bits.bit_length() - 1
            lists, ranks = self.ways[bits ^ 1 << top]
            new_lists, new_ranks = [], []
            for rank, parts in enumerate(opts[placed[top]]):
                more = lists.copy()
                for p in parts:
                    more[p] |= 1 << top
                own = ranks.copy()
                own[top] = rank
                new_lists.append(more)
                new_ranks.append(own)
            self.ways[bits] = (np.concatenate(new_lists, axis=1), np.concatenate(new_ranks, axis=1))
        bits = np.arange(1 << self.n)
        self.seconds = sum((bits >> n & 1) * problem["items"][i]["seconds"] for n, i in enumerate(placed)) + 0 * bits

    def costs(self, bits, given):
        """The six levels of every packing of a list, as one number each."""
        lists, ranks = self.ways[bits]
        loads = [self.seconds[lists[p]] for p in range(3)]
        over = sum(np.maximum(0, load - most) for load, most in zip(loads + [sum(loads)], given) if most is not None)
        sessions = sum((lists[p] != 0).astype(np.int64) for p in range(3))
        moves = sum(self.moves[lists[p]] for p in range(3))
        takes = sum(self.takes[lists[p]] for p in range(3))
        away = 0 * sessions
        for n, i in enumerate(self.placed):
            if bits >> n & 1:
                out = np.array([len(set(parts) - set(self.opts[i][0])) for parts in self.opts[i]])
                away = away + out[ranks[n]]
        broken = 0 * sessions
        for rule in self.problem["rules"]:
            (kind, (a, b)), = rule.items()
            if a == b or a not in self.placed or b not in self.placed:
                continue
            x, y = self.placed.index(a), self.placed.index(b)
            if not (bits >> x & 1 and bits >> y & 1):
                continue
            if kind == "not_on_day":
                broken = broken + 1
            elif kind == "not_in_session":
                broken = broken + sum((lists[p] >> x & lists[p] >> y & 1) for p in range(3))
            else:
                first = lambda n: np.select([lists[p] >> n & 1 == 1 for p in range(3)], [0, 1, 2])
                broken = broken + (first(x) < first(y))
        return broken, over + 0 * sessions, sessions, away, moves, takes

    def best(self, bits, given):
        """The least levels of a list, and the first ranks that have them."""
        costs = self.costs(bits, given)
        ranks = self.ways[bits][1]
        order = np.lexsort(tuple(ranks[::-1]) + tuple(costs[::-1]))
        first = order[0]
        return tuple(int(c[first]) for c in costs), ranks[:, first].tolist()


class Whole:
    """All nine levels: CP-SAT chooses the days, tables say what each list of the day costs."""

    def __init__(self, problem, packings, sets, placed, H):
        self.m = m = cp_model.CpModel()
        items = problem["items"]
        self.placed, self.sets, self.H = placed, sets, H
        self.set_of = {(i, s): m.new_bool_var("") for i in placed for s in range(len(sets[i]))}
        on = {}
        for i in placed:
            m.add_exactly_one(self.set_of[i, s] for s in range(len(sets[i])))
            for d in range(H):
                on[i, d] = m.new_bool_var("")
                m.add(on[i, d] == sum(self.set_of[i, s] for s, days in enumerate(sets[i]) if d in days))
        given = [tuple(g) for g in minutes(problem, H)]
        tables = {}
        for g in set(given):
            tables[g] = [packings.best(bits, g)[0] for bits in range(1 << packings.n)]
        self.given, self.tables = given, tables
        value = self.value = {}
        columns = {name: [] for name in Packings.ORDER}
        index = []
        for d in range(H):
            rows = tables[given[d]]
            x = m.new_int_var(0, len(rows) - 1, "")
            m.add(x == sum((1 << n) * on[i, d] for n, i in enumerate(placed)))
            index.append(x)
            day = [m.new_int_var(0, max(row[c] for row in rows), "") for c in range(6)]
            m.add_allowed_assignments([x] + day, [(bits, *row) for bits, row in enumerate(rows)])
            for name, variable in zip(Packings.ORDER, day):
                columns[name].append(variable)
        for name in Packings.ORDER:
            value[name] = sum(columns[name])
        value["recovery"] = tired(m, problem, placed, on, H)
        first = []
        for d in range(H):
            same = []
            for e in range(d):
                equal = m.new_bool_var("")
                m.add(index[d] == index[e]).only_enforce_if(equal)
                m.add(index[d] != index[e]).only_enforce_if(equal.negated())
                same.append(equal)
            none = m.new_bool_var("")
            m.add(index[d] == 0).only_enforce_if(none)
            m.add(index[d] != 0).only_enforce_if(none.negated())
            new = m.new_bool_var("")  # the first day with its list
            m.add_bool_or(same + [none, new])
            first.append(new)
        value["lists"] = sum(first)
        longest = m.new_int_var(0, sum(i["seconds"] * 3 for i in items), "")
        for d in range(H):
            m.add(longest >= sum(items[i]["seconds"] * items[i]["per_day"] * on[i, d] for i in placed))
        value["longest"] = longest

    def ours(self, week):
        return [
            (self.set_of[i, s], own == [d for d in range(self.H) if week["laid"][i][d]])
            for i in self.placed for s, own in enumerate(self.sets[i])
        ]

    def ranks(self):
        """The order of ranks of days, as expressions below 2^50, first one first."""
        out, chunk, size = [], 0, 1
        for i in self.placed:
            n = len(self.sets[i])
            if 2**50 < size * n:
                out.append(chunk)
                chunk, size = 0, 1
            chunk, size = chunk * n + sum(s * self.set_of[i, s] for s in range(n)), size * n
        return out + [chunk]


def minutes(problem, H):
    """Seconds by day: of the three parts and of the day as a whole, with the appointments taken off."""
    given = [list(problem["available"][d % 7]) + [problem["by_day"][d % 7]] for d in range(H)]
    for visit in problem["appointments"]:
        for d in range(DAYS.index(visit["day"]), H, 7):
            for p in (PARTS.index(visit["part"]), 3):
                if given[d][p] is not None:
                    given[d][p] = max(0, given[d][p] - visit["seconds"])
    return given


def tired(m, problem, placed, on, H):
    """Neighbouring days that load the same group."""
    items, pairs = problem["items"], []
    busy = {(g, d) for visit in problem["appointments"] for g in visit["loads"] for d in range(DAYS.index(visit["day"]), H, 7)}
    for g in range(len(problem["groups"])):
        works = []
        for d in range(H):
            doing = [on[i, d] for i in placed if g in items[i]["loads"] and items[i]["days"] != "daily"]
            x = m.new_bool_var("")
            if (g, d) in busy or not doing:
                m.add(x == ((g, d) in busy))
            else:
                m.add_max_equality(x, doing)
            works.append(x)
        for d in range(H):
            x = m.new_bool_var("")
            m.add(x >= works[d] + works[(d + 1) % H] - 1)
            pairs.append(x)
    return sum(pairs) if pairs else 0


def solver(effort):
    s = cp_model.CpSolver()
    s.parameters.max_deterministic_time = effort
    s.parameters.num_workers = 1
    s.parameters.random_seed = 1
    return s


def compare(problem, week, levels, effort):
    """Gives (verdict, words): ok, unproved or wrong."""
    items = problem["items"]
    afters = [tuple(pair) for rule in problem["rules"] for kind, pair in rule.items() if kind == "after" and pair[0] != pair[1]]
    placed = [i for i, item in enumerate(items)
              if day_sets(item, 1 if item["days"] != "alternate" else 2) and part_sets(item, problem["clock"])]
    ours_out = {u["item"] for u in week["unplaced"]}
    if ours_out != set(range(len(items))) - set(placed):
        return "wrong", f"unplaced {sorted(ours_out)}, expected all but {placed}"
    bound = week["levels"] if week["proved"] else week["gap"]["bound"]
    if levels == len(LEVELS) and not week["proved"] or any(bound[n] != week["levels"][n] for n in LEVELS[:levels]):
        return "unproved", "our own search was cut off"
    if levels == len(LEVELS):
        weeks = week["weeks"]
        opts = {i: part_sets(items[i], problem["clock"]) for i in placed}
        sets = {i: day_sets(items[i], weeks) for i in placed}
        packings = Packings(problem, placed, opts, [(a, b) for a, b in afters if a in placed and b in placed])
        model = Whole(problem, packings, sets, placed, 7 * weeks)
    else:
        model = Model(problem)
    pairs = model.ours(week)
    # First: our week is a week of this model, and its levels are the ones that we state.
    fixed = model.m.clone()
    for variable, value in pairs:
        fixed.add(fixed.get_bool_var_from_proto_index(variable.index) == int(value))
    for name in LEVELS[:levels]:
        value, stated = model.value[name], week["levels"][name]
        if not isinstance(value, int):
            fixed.add(value == stated)
        elif value != stated:
            return "wrong", f"{name}: {stated} stated, {value} always"
    if solver(effort).solve(fixed) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return "wrong", f"our week does not have the levels that we state: {week['levels']}"
    # Then, level by level: with the earlier ones held, nothing less can be reached.
    aims = [(name, model.value[name], week["levels"][name]) for name in LEVELS[:levels]]
    if levels == len(LEVELS):
        known = {variable.index: int(value) for variable, value in pairs}
        aims += [(f"ranks, part {at + 1}", e, evaluate(e, known)) for at, e in enumerate(model.ranks()) if not isinstance(e, int)]
    open_ = None
    for name, value, stated in aims:
        if isinstance(value, int) or stated == 0:
            if not isinstance(value, int):
                model.m.add(value == 0)
            continue
        less = model.m.clone()
        less.add(value <= stated - 1)
        # Once a level is open the problem can no longer be proved, only shown wrong: that gets half.
        status = solver(effort / 2 if open_ else effort).solve(less)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return "wrong", f"{name}: {stated} is ours, CP-SAT has less"
        if status != cp_model.INFEASIBLE:
            # The levels below can still be shown wrong with this one held where we say it is.
            open_ = open_ or f"{name}: CP-SAT neither found nor ruled out less than {stated} with {effort} units"
        model.m.add(value == stated)
    if levels == len(LEVELS):
        # Last: each day's parts are the first by rank among all packings of its list that are best.
        for d in range(model.H):
            done = [i for i in placed if week["laid"][i][d]]
            bits = sum(1 << n for n, i in enumerate(placed) if i in done)
            ranks = packings.best(bits, model.given[d])[1]
            for n, i in enumerate(placed):
                parts = tuple(PARTS.index(p) for p in week["laid"][i][d])
                if i in done and parts != opts[i][ranks[n]]:
                    return "wrong", f"day {d}, item {i}: {parts} is ours, {opts[i][ranks[n]]} ranks before it"
    return ("unproved", open_) if open_ else ("ok", "")


def evaluate(expression, known):
    """The value of a linear expression at our week."""
    flat = cp_model.FlatIntExpr(expression)
    return sum(c * known[v.index] for v, c in zip(flat.vars, flat.coeffs)) + int(flat.offset)


# ---------------------------------------------------------------- the run


def program():
    return os.environ.get("LAYFIGURE", "target/release/layfigure")


def layfigure(problems, *more):
    with tempfile.NamedTemporaryFile("w", suffix=".json") as file:
        json.dump(problems, file)
        file.flush()
        out = subprocess.run([program(), "week", file.name, *more], capture_output=True, text=True)
    if out.returncode:
        sys.exit(f"layfigure week failed: {out.stderr}")
    return json.loads(out.stdout)


def least_recovery(problem, effort):
    """Fewest neighbouring loaded days with all the time in the world; None if not proven."""
    free = {**problem, "available": [[None] * 3 for _ in range(7)], "by_day": [None] * 7}
    model = Model(free)
    if isinstance(model.value["broken"], int):
        aims = []
    else:
        aims = [model.value["broken"]]
    for aim in aims + [model.value["recovery"]]:
        if isinstance(aim, int):
            best = aim
            continue
        model.m.minimize(aim)
        s = solver(effort)
        if s.solve(model.m) != cp_model.OPTIMAL:
            return None
        best = round(s.objective_value)
        model.m.clear_objective()
        model.m.add(aim == best)
    return best


def fits(problem, effort):
    """Whether a week keeps the minutes and, as far as any week can, recovery; None if CP-SAT can't say."""
    least = least_recovery(problem, effort)
    if least is None:
        return None
    model = Model(problem)
    if not isinstance(model.value["broken"], int):
        model.m.minimize(model.value["broken"])
        s = solver(effort)
        if s.solve(model.m) != cp_model.OPTIMAL:
            return None
        model.m.add(model.value["broken"] == round(s.objective_value))
        model.m.clear_objective()
    for name, most in (("overtime", 0), ("recovery", least)):
        if isinstance(model.value[name], int):
            if most < model.value[name]:
                return False
        else:
            model.m.add(model.value[name] <= most)
    status = solver(effort).solve(model.m)
    return None if status == cp_model.UNKNOWN else status in (cp_model.OPTIMAL, cp_model.FEASIBLE)


def only(problem, kept):
    rules = [{k: [kept.index(x) for x in pair]} for r in problem["rules"] for k, pair in r.items() if set(pair) <= set(kept)]
    return {**problem, "items": [problem["items"][i] for i in kept], "rules": rules}


def irreducible(problem, conflict, effort):
    """Gives (verdict, words) on a conflict set: no week with all of it, one without any item of it."""
    whole = fits(only(problem, conflict), effort)
    if whole is not False:
        return ("unproved", "CP-SAT can't say") if whole is None else ("wrong", "the whole set has a week")
    for item in conflict:
        rest = fits(only(problem, [other for other in conflict if other != item]), effort)
        if rest is not True:
            return ("unproved", "CP-SAT can't say") if rest is None else ("wrong", f"without {item} there is no week either")
    return "ok", ""


def by_hand(effort, levels_upto):
    """The prescriptions made by hand; gives (passed, failed)."""
    passed = failed = unproved = conflicts = 0
    for file in sorted((Path(__file__).parent / "weeks").glob("*.txt")):
        out = subprocess.run([program(), "week", str(file), "--why", "--limit", "1500000", "--today", "2026-11-30"],
                             capture_output=True, text=True)
        if out.returncode:
            sys.exit(f"layfigure week {file} failed: {out.stderr}")
        week = json.loads(out.stdout)
        problem = week.pop("problem")
        levels = len(LEVELS) if len(problem["items"]) <= levels_upto else 3
        verdict, said = compare(problem, week, levels, effort)
        if verdict == "ok" and week.get("shortage"):
            conflicts += 1
            verdict, said = irreducible(problem, week["shortage"]["conflict"], effort)
            said = said and f"conflict {week['shortage']['conflict']}: {said}"
        passed, failed, unproved = passed + (verdict == "ok"), failed + (verdict == "wrong"), unproved + (verdict == "unproved")
        if verdict != "ok":
            print(f"{verdict}: {file.name} of {len(problem['items'])} items: {said}")
    print(f"by hand: {passed} equal to CP-SAT, {conflicts} conflict sets looked at, {unproved} unproved, {failed} wrong")
    if not conflicts or passed < 15:
        print("too few proven: by hand")
        failed += 1
    return passed, failed


# ---------------------------------------------------------------- growth


def growth(path, seed, count, seconds):
    """Times by size, ours and CP-SAT's over the first three levels, in one run; written as SVG."""
    rows = []
    for size in (6, 9, 12, 16, 24, 32, 48):
        dice = random.Random(seed + size)
        problems = [make_problem(dice, size) for _ in range(count)]
        weeks = layfigure(problems, "--time")
        theirs = []
        for problem in problems:
            start = time.monotonic()
            model = Model(problem)
            open_ = False
            for name in LEVELS[:3]:
                if isinstance(model.value[name], int):
                    continue
                model.m.minimize(model.value[name])
                s = cp_model.CpSolver()  # here it is the time that counts
                s.parameters.max_time_in_seconds = seconds
                s.parameters.num_workers = os.cpu_count()
                open_ = open_ or s.solve(model.m) != cp_model.OPTIMAL
                if open_:
                    break
                model.m.add(model.value[name] == round(s.objective_value))
                model.m.clear_objective()
            theirs.append(((time.monotonic() - start) * 1e3, open_))
        ours = sorted(w["ms"] for w in weeks)
        middle = lambda all: sorted(all)[len(all) // 2]
        rows.append((size, middle(ours), ours[len(ours) * 9 // 10], sum(not w["proved"] for w in weeks),
                     middle([t for t, _ in theirs]), sum(o for _, o in theirs)))
        r = rows[-1]
        print(f"{size:3} items: ours {r[1]:8.2f} ms median, {r[2]:8.2f} ms p90, {r[3]} of {count} unproved; CP-SAT "
              f"{r[4]:8.0f} ms median for three levels, {r[5]} unproved; {r[4] / r[1]:.0f} times ours")
    Path(path).write_text(drawn(rows))


def drawn(rows):
    """The growth as SVG: by items our median, our nine in ten, and CP-SAT's median, logarithmic upward from 0.1 ms."""
    x = lambda size: 70 + (size - 6) * 8
    y = lambda ms: round(230 - 35 * (np.log10(max(ms, 0.1)) + 1), 1)
    line = lambda k: " ".join(f"{x(r[0])},{y(r[k])}" for r in rows)
    out = ['<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 430 270" font-family="sans-serif" font-size="11" role="img" '
           'aria-label="Milliseconds by items: our median and nine in ten, and the median of CP-SAT">',
           '<path d="M0 0H430V270H0Z" fill="#fff"/>']
    for power, name in zip(range(-1, 5), ("0.1 ms", "1 ms", "10 ms", "100 ms", "1 s", "10 s")):
        at = y(10.0**power)
        out.append(f'<path d="M70 {at}H410" stroke="#999" stroke-width=".5"/><text x="64" y="{at + 4}" text-anchor="end">{name}</text>')
    for r in rows:
        out.append(f'<text x="{x(r[0])}" y="246" text-anchor="middle">{r[0]}</text>')
    out.append(f'<text x="{x(27)}" y="263" text-anchor="middle">exercises in the week</text>')
    last = rows[-1]
    for k, dash, name, below in ((1, "", "ours, median", 15), (2, "5 3", "ours, nine in ten", -6), (4, "1 3", "CP-SAT, three levels", -8)):
        out.append(f'<polyline points="{line(k)}" fill="none" stroke="#000" stroke-width="1.5" stroke-dasharray="{dash}"/>'
                   f'<text x="{x(last[0]) - 2}" y="{y(last[k]) + below}" text-anchor="end">{name}</text>')
    return "\n".join(out) + "\n</svg>\n"


def main():
    words = argparse.ArgumentParser()
    words.add_argument("--seed", type=int, default=SEED)
    words.add_argument("--full", action="store_true")
    words.add_argument("--write")
    words.add_argument("--growth")
    words.add_argument("--hand", action="store_true")
    words.add_argument("--effort", type=float)
    words.add_argument("--count", type=int, default=11)
    words.add_argument("--small", type=int)
    words.add_argument("--large", type=int)
    asked = words.parse_args()
    if asked.hand:
        sys.exit(1 if by_hand(asked.effort or 40, 0)[1] else 0)
    if asked.growth:
        return growth(asked.growth, asked.seed, asked.count, 5)
    dice = random.Random(asked.seed)
    small_count = asked.small if asked.small is not None else 240 if asked.full else 60
    large_count = asked.large if asked.large is not None else 60 if asked.full else 12
    small = [make_problem(dice, 1 + n % 10) for n in range(small_count)]
    large = [make_problem(dice, 12 + 2 * (n % 7)) for n in range(large_count)]
    if asked.write:
        with open(asked.write, "w") as file:
            json.dump(small + large, file)
        return
    # Problems for which a week was once called best that wasn't. CP-SAT can't prove them, but it found better ones.
    again = json.loads((Path(__file__).parent / "weeks" / "once-wrong.json").read_text())
    sets = [("small, all levels and ranks", small, len(LEVELS), asked.effort or (120 if asked.full else 6)),
            ("large, first three levels", large, 3, asked.effort or (60 if asked.full else 6)),
            ("once wrong", again, len(LEVELS), asked.effort or 6)]
    passed = failed = 0
    # The check must be able to fail: weeks of a search that was cut off, claimed to be best, have to be refused.
    tried = refused = 0
    best, hasty = layfigure(small), layfigure(small, "--limit", "1")
    for problem, good, bad in zip(small, best, hasty):
        if tried < 5 and good["proved"] and good["laid"] != bad["laid"]:
            tried += 1
            refused += compare(problem, {**bad, "proved": True}, len(LEVELS), 10)[0] == "wrong"
    print(f"the check itself: {refused} of {tried} hasty weeks refused")
    passed, failed = (1, 0) if 0 < refused == tried else (0, 1)
    # A page must never wait for long: two purses of steps, and the first way down from where the first is spent.
    many = random.Random(asked.seed + 1)
    long = [make_problem(many, size) for size in (24, 32, 40, 48) for _ in range(10)]
    late = [week["nodes"] for problem, week in zip(long, layfigure(long, "--limit", "20000"))
            if 3 * 20_000 + 40_000 * len(problem["items"]) < week["nodes"]]
    print(f"the limit of steps: {len(late)} of {len(long)} long weeks went on after it {late}")
    passed, failed = passed + (not late), failed + bool(late)
    for name, problems, levels, effort in sets:
        if not problems:
            continue
        # More steps than a page would spend: here the answer counts, not the wait.
        weeks = layfigure(problems, "--limit", "1500000")
        start, counts = time.monotonic(), {"ok": 0, "unproved": 0, "wrong": 0}
        for n, (problem, week) in enumerate(zip(problems, weeks)):
            verdict, said = compare(problem, week, levels, effort)
            counts[verdict] += 1
            if verdict != "ok":
                print(f"{verdict}: {name}, problem {n} of {len(problem['items'])} items: {said}")
        print(f"{name}: {counts['ok']} equal to CP-SAT, {counts['unproved']} unproved, {counts['wrong']} wrong, "
              f"in {time.monotonic() - start:.0f} s")
        passed += counts["ok"]
        failed += counts["wrong"]
        # A check that proves too little is no check. How many of the large ones are proven within the cap depends on
        # the machine, so of them only a run that proves nothing fails; the unproved are counted above, not passed.
        least = 0 if problems is again else 0.75 * len(problems) if levels == len(LEVELS) else 1
        if counts["ok"] < least:
            print(f"too few proven: {name}")
            failed += 1
    if asked.full:
        good, bad = by_hand(asked.effort or 120, 9)
        passed, failed = passed + good, failed + bad
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
