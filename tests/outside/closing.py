"""When a movement may be closed up: the rule, worked out from the sheet's text and the log's text alone.

One state a line on standard input, {"sheet": TOML, "log": JSON Lines}, one answer a line on standard output:
{"unread", "outside", "out", "in_window", "sound", "done", "lost"}; chances are null where they no longer matter, and "lost" says about how
much of all that may have happened was left out of them. Nothing is shared with the house, and nothing done as it does it: what a tooth does
is counted along the path between two arbors; every history that could have led here is kept apart by what it leaves unexplained of each
reading, and all readings are weighed at once, as one normal vector, where the house goes from look to look; the chance that all is in is
counted out over points spread through the joint distribution.

The rule: something is timed; every witness read since anything last moved in its train; the newest reading of each in its window; no arbor
out; the chance that nothing is bent or slipped at least one half; the chance that all are in at least 0.95.
"""

import functools
import itertools
import json
import math
import os
import sys
import tomllib
from fractions import Fraction

# Tables of a few rows are done sooner by one thread than handed out to several.
os.environ["OPENBLAS_NUM_THREADS"] = "1"

import numpy as np
from scipy.special import ndtr, ndtri

# What is held to be so beforehand, as the house tells it.
WRONG_WAY, SLIP = 0.10, 0.03
BUILD, BENT, UNNOTICED, HOLD, LASH = 1 / 6, 0.02, 1e-4, 0.5, 0.2
EYES = [(2 ** (k / 2), share) for k, share in zip(range(-2, 5), [0.05, 0.15, 0.40, 0.20, 0.12, 0.06, 0.02])]
MOVES = {"shift", "other_way", "slipped", "jumped", "bent", "turned", "arbor_out", "arbor_in"}

# Histories this much less likely than the likeliest are left out, and of the others all but so many of the likeliest.
FORGOTTEN, MOST = 1e-15, 1000

# Points that a joint chance is counted over: multiples of roots of primes lie evenly in a cube (Weyl), and so in a normal cloud.
POINTS = ndtri((0.5 + np.outer(np.arange(2048), np.sqrt([2, 3, 5, 7, 11, 13]))) % 1)


class Sheet:
    def __init__(self, text):
        raw = tomllib.loads(text)
        self.meshes = {}
        beside = {arbor: [] for arbor in raw["arbor"]}
        teeth = lambda part: (lambda t: t["teeth"] if isinstance(t, dict) else t)(
            raw["arbor"][part.split(".")[0]][part.split(".")[1]]
        )
        for mesh in raw.get("mesh", []):
            name = f"{mesh['driver']}>{mesh['driven']}"
            driver, driven = mesh["driver"].split(".")[0], mesh["driven"].split(".")[0]
            self.meshes[name] = (driver, driven, teeth(mesh["driver"]), teeth(mesh["driven"]), mesh.get("lash_teeth", LASH))
            beside[driver].append((driven, name))
            beside[driven].append((driver, name))
        self.beside = beside
        self.read_at = raw["strike"]["read_at"]
        self.hold = float(raw["strike"].get("hold_deg", HOLD))
        moments = {"drop": self.read_at} | {m["id"]: m["arbor"] for m in raw.get("moment", [])}
        decimal = lambda x: Fraction(str(x))
        self.witnesses = [
            {
                "id": w["id"],
                "on": w["on"],
                "at": moments[w.get("at", "drop")],
                "drop": w.get("at", "drop") == "drop",
                "from": decimal(w["window_deg"][0]),
                "to": decimal(w["window_deg"][1]),
                "best": decimal(w["best_deg"]),
                "period": Fraction(360, w["repeats"]),
            }
            for w in raw.get("witness", [])
        ]
        self.index = {w["id"]: i for i, w in enumerate(self.witnesses)}
        number = lambda of: np.array([float(of(w)) for w in self.witnesses])
        self.period, self.best = number(lambda w: w["period"]), number(lambda w: w["best"])
        self.start, self.width = number(lambda w: w["from"]), number(lambda w: w["to"] - w["from"])
        self.sway = number(lambda w: self.turns(w["on"], self.read_at) if w["drop"] else 0)
        self.slack = [self.loose(w) for w in self.witnesses]

    @functools.cache
    def path(self, start, end):
        """Meshes from one arbor to another."""
        ways = {start: []}
        edge = [start]
        while edge:
            here = edge.pop()
            for there, mesh in self.beside[here]:
                if there not in ways:
                    ways[there] = ways[here] + [mesh]
                    edge.append(there)
        return ways.get(end)

    def turns(self, of, per):
        """Turns of one arbor in one of another, without a sign."""
        ratio, here = Fraction(1), per
        for mesh in self.path(per, of):
            driver, driven, big, small, _ = self.meshes[mesh]
            ratio, here = (ratio * Fraction(big, small), driven) if here == driver else (ratio * Fraction(small, big), driver)
        return ratio

    def far_and_near(self, mesh):
        """The far arbor of a mesh and its teeth, the near one and its teeth, as seen from read_at."""
        driver, driven, big, small, _ = self.meshes[mesh]
        nearer = self.path(self.read_at, driver)
        return (driven, small, driver, big) if mesh not in nearer else (driver, big, driven, small)

    def step(self, mesh, w):
        """Degrees a witness comes to stand further ahead by for one tooth."""
        far, t_far, near, t_near = self.far_and_near(mesh)
        beyond = lambda arbor: mesh in self.path(self.read_at, arbor)
        on, at = beyond(w["on"]), beyond(w["at"])
        if on == at:
            return Fraction(0)
        if on:
            return Fraction(360, t_far) * self.turns(w["on"], far)
        return -Fraction(360, t_near) * self.turns(w["on"], near)

    def loose(self, w):
        """How much further ahead a loose train reads on average, and its variance."""
        mean = var = 0.0
        for mesh in self.path(w["at"], w["on"]):
            driver, driven, big, small, lash = self.meshes[mesh]
            # Ahead where the witness hangs on the driven arbor, back where on the driver.
            on_driven = mesh not in self.path(driven, w["on"])
            arbor, count, sign = (driven, small, 1) if on_driven else (driver, big, -1)
            travel = sign * float(lash) * 360 / count * float(self.turns(w["on"], arbor))
            mean, var = mean + travel / 2, var + travel * travel / 12
        return mean, var

    @functools.cache
    def train(self, arbor):
        return {other for other in self.beside if self.path(arbor, other) is not None}


def standing(log):
    """The entries that are not taken back."""
    entries = [json.loads(line) for line in log.splitlines()[1:] if line.strip()]
    gone = set()
    for entry in reversed(entries):
        if entry["kind"] == "undo" and entry["n"] not in gone:
            gone.add(entry["of"])
    return [e for e in entries if e["n"] not in gone and e["kind"] != "undo"]


def facts(sheet, entries):
    """The clauses that are plain to see: not read, last read outside, arbors out."""
    newest, out = {}, set()
    for entry in entries:
        kind = entry["kind"]
        if kind == "look":
            for reading in entry["readings"]:
                newest[reading["witness"]] = Fraction(reading["deg"])
        elif kind in MOVES:
            if "witness" in entry:
                at = sheet.witnesses[sheet.index[entry["witness"]]]["on"]
            elif "arbor" in entry:
                at = entry["arbor"]
            elif kind == "other_way":
                at = sheet.read_at
            else:
                meshes = entry["meshes"] if "meshes" in entry else [entry]
                at = sheet.meshes[meshes[0]["mesh"]][0]
            moved = sheet.train(at)
            newest = {w: at for w, at in newest.items() if sheet.witnesses[sheet.index[w]]["on"] not in moved}
            if kind == "arbor_out":
                out.add(entry["arbor"])
            elif kind == "arbor_in":
                out.discard(entry["arbor"])
    unread = [w["id"] for w in sheet.witnesses if w["id"] not in newest]
    inside = lambda w: (newest[w["id"]] - w["from"]) % w["period"] <= w["to"] - w["from"]
    outside = [w["id"] for w in sheet.witnesses if w["id"] in newest and not inside(w)]
    return unread, outside, sorted(out)


class Ways:
    """All the ways in which the meshes can stand that witnesses can tell apart: each counts the teeth ahead at every mesh."""

    def __init__(self, sheet):
        self.meshes, self.cycles, steps = [], [], []
        for mesh, (driver, *_) in sheet.meshes.items():
            if sheet.path(sheet.read_at, driver) is None:
                continue
            moved = [sheet.step(mesh, w) for w in sheet.witnesses]
            cycle = math.lcm(1, *((step / w["period"]).denominator for step, w in zip(moved, sheet.witnesses)))
            if cycle > 1:
                self.meshes.append(mesh)
                self.cycles.append(cycle)
                steps.append(moved)
        teeth = np.array(list(itertools.product(*map(range, self.cycles))), dtype=float).reshape(-1 if self.cycles else 1, len(self.cycles))
        self.count = len(teeth)
        # For each witness: its places in degrees from best, which of them it has in each way, and the same as a table of noughts and ones.
        self.places, self.place_of, self.has = [], [], []
        for i, w in enumerate(sheet.witnesses):
            period = float(w["period"])
            parts = teeth @ np.array([float(moved[i] / w["period"]) for moved in steps]).reshape(-1)
            # There are few enough ways that places are far more than a thousand-millionth of the period apart.
            alike = np.round(parts % 1 * 1e9).astype(np.int64) % 10**9
            places, place_of = np.unique(alike, return_inverse=True)
            self.places.append(places * period / 1e9)
            self.place_of.append(place_of)
            self.has.append(np.eye(len(places))[place_of])


class Histories:
    """All that may have happened, for one eye: how the meshes may stand now, and what each reading so far may have left over.

    What was left over tells all that readings say of the levers, so histories that left over the same and end in the same way are one.
    A row of `chance` holds the ways for one such leaving; `white` holds what each reading left over beyond what those before it let expect,
    in its own spreads."""

    def __init__(self, sheet, ways, eye, known, spread):
        self.sheet, self.ways, self.eye = sheet, ways, eye
        # How witnesses are off now: what is known of it, and as a sum of independent things, each with its spread.
        self.known, self.parts, self.now = known.copy(), list(spread), list(np.eye(len(known)))
        self.chance = np.full((1, ways.count), 1 / ways.count)
        self.white = np.zeros((1, 0))
        # For each reading: how it hangs on the parts, and the covariance of the rest.
        self.hangs, self.rest, self.root = [], np.zeros((0, 0)), np.zeros((0, 0))
        # The logarithm of how likely it all was; and about how much was left out, beside the chances kept.
        self.fit, self.lost = 0.0, 0.0

    def go_on(self, mesh, kernel):
        """Teeth further ahead at a mesh, each number with its share."""
        shape = (-1, *self.ways.cycles)
        before = self.chance.reshape(shape)
        after = sum(share * np.roll(before, teeth, axis=mesh + 1) for teeth, share in kernel)
        self.chance = after.reshape(self.chance.shape)

    def lose(self, mesh):
        """A mesh may stand anyhow."""
        before = self.chance.reshape((-1, *self.ways.cycles))
        after = np.broadcast_to(before.mean(axis=mesh + 1, keepdims=True), before.shape)
        self.chance = after.reshape(self.chance.shape)

    def bend(self, w, by, spread):
        self.known[w] += by
        self.parts.append(spread)
        self.now.append(np.eye(len(self.known))[w])

    def hung(self):
        """How readings hang on the parts: a row for each reading."""
        table = np.zeros((len(self.hangs), len(self.parts)))
        for row, hangs in zip(table, self.hangs):
            row[: len(hangs)] = hangs
        return table

    def look(self, readings, slack):
        old = len(self.hangs)
        if old:
            anyhow = self.chance.sum(axis=1, keepdims=True) / self.ways.count
            self.chance = (1 - UNNOTICED) * self.chance + UNNOTICED * anyhow
        rest = np.zeros((old + len(readings),) * 2)
        rest[:old, :old] = self.rest
        held = np.array([self.eye * self.sheet.hold * self.sheet.sway[w] for w, _, _ in readings])
        rest[old:, old:] = np.outer(held, held)
        now = np.array(self.now).T
        for i, (w, _, spread) in enumerate(readings, start=old):
            own = min(self.eye * spread, 0.5 * self.sheet.period[w])
            rest[i, i] += own * own + (self.sheet.slack[w][1] if slack else 0.0)
            self.hangs.append(now[w])
        self.rest = rest
        hangs = self.hung()
        self.root = np.linalg.cholesky(hangs * np.array(self.parts) ** 2 @ hangs.T + rest)
        for i, (w, deg, _) in enumerate(readings, start=old):
            loose = self.sheet.slack[w][0] if slack else 0.0
            self.read(i, w, deg - loose - self.known[w] - self.sheet.best[w])

    def read(self, i, w, stands):
        """One reading, from best, against what those before it let expect; places alike as far as they count."""
        sd, period = self.root[i, i], self.sheet.period[w]
        apart = stands - self.ways.places[w] - (self.white @ self.root[i, :i])[:, None]
        nearest = (apart + period / 2) % period - period / 2
        reach = int(np.ceil(6 * sd / period)) if sd > 0.04 * period else 0
        alike = np.arange(-reach, reach + 1) * period
        z = (nearest[:, :, None] + alike) / sd
        with np.errstate(divide="ignore"):
            log = np.log(self.chance @ self.ways.has[w])[:, :, None] - 0.5 * z * z
        most = log.max()
        weight = np.exp(log - most).reshape(-1)
        likely = weight > FORGOTTEN
        if np.count_nonzero(likely) > MOST:
            likely[np.argpartition(weight, -MOST)[:-MOST]] = False
        kept = np.flatnonzero(likely)
        # What was left out before is taken to fit as well as the best that is kept does wherever the meshes stand.
        best = np.exp(-0.5 * z * z).sum(axis=2).max()
        total = weight[kept].sum()
        self.lost = (self.lost * best * np.exp(min(-most, 700.0)) + weight[~likely].sum()) / total
        row, place, _ = np.unravel_index(kept, z.shape)
        density = np.exp(-0.5 * z.reshape(-1)[kept] ** 2 - most) / total
        self.chance = self.chance[row] * self.ways.has[w].T[place] * density[:, None]
        self.white = np.column_stack([self.white[row], z.reshape(-1)[kept]])
        self.fit += most + np.log(total) - np.log(sd * np.sqrt(2 * np.pi))

    def in_window(self):
        """The chance that all witnesses are in their windows, if this is the eye; and how much of it was not gone into."""
        now = np.array(self.now).T
        parts = np.array(self.parts) ** 2
        cover = now * parts @ now.T
        mean = np.zeros((len(self.white), len(self.known)))
        if self.hangs:
            gain = np.linalg.solve(self.root, self.hung() * parts @ now.T)
            mean = self.white @ gain
            cover = cover - gain.T @ gain
        first = np.argsort(-self.chance, axis=None)[:4000]
        first = first[: int(np.searchsorted(np.cumsum(self.chance.reshape(-1)[first]), 1 - 1e-5)) + 1]
        row, way = np.unravel_index(first, self.chance.shape)
        at = np.array([places[place_of[way]] for places, place_of in zip(self.ways.places, self.ways.place_of)]).T
        at = at + self.sheet.best + self.known + mean[row] - self.sheet.start
        chance = self.chance[row, way]
        # Where there are many, each is worth little, and the errors of a few points even out.
        root = np.linalg.cholesky(cover + 1e-12 * np.eye(len(cover)))
        inside = np.concatenate([self.all_inside(at[:30], root, POINTS), self.all_inside(at[30:], root, POINTS[:128])])
        return float((chance * inside).sum() / chance.sum()), 1 - chance.sum()

    def all_inside(self, at, root, points):
        """The chance that witnesses, each so far past the start of its window, are all inside, with such a root of their covariance: counted
        over points spread through the joint distribution of all but the last, and for the last as the normal integral has it."""
        period, width = self.sheet.period, self.sheet.width
        last = len(period) - 1
        points = points[:, :last] if last else np.zeros((1, 0))
        off = points @ root[:, :last].T
        which, point = (each.reshape(-1) for each in np.indices((len(at), len(points))))
        for w in range(last):
            turns = (at[which, w] + off[point, w]) / period[w]
            inside = (turns - np.floor(turns)) * period[w] <= width[w]
            which, point = which[inside], point[inside]
        sd = root[last, last]
        middle = (at[which, last] + off[point, last] - width[last] / 2) / period[last]
        middle = (middle - np.round(middle)) * period[last]
        inside = np.zeros(len(middle))
        reach = int((6 * sd + width[last] / 2) / period[last] + 0.5)
        for k in range(-reach, reach + 1):
            alike = middle + k * period[last]
            inside += ndtr((width[last] / 2 - alike) / sd) - ndtr((-width[last] / 2 - alike) / sd)
        return np.bincount(which, weights=inside, minlength=len(at)) / len(points)


def happened(sheet, ways, entries):
    """What the log tells, entry by entry, as what is to be done to histories."""
    reversed_shifts = {e["of"] for e in entries if e["kind"] == "other_way"}
    steps = []
    for entry in entries:
        kind = entry["kind"]
        if kind == "look":
            steps.append((entry["n"], "look", read_off(sheet, entry), entry["tension"] == "slack"))
        elif kind in ("shift", "slipped"):
            for at in entry["meshes"] if "meshes" in entry else [entry]:
                if at["mesh"] not in ways.meshes:
                    continue
                t = at["teeth"]
                right, sure = 1 - WRONG_WAY, 1 - SLIP
                kernel = [(t, right * sure), (-t, WRONG_WAY * sure), (t + 1, SLIP / 2), (t - 1, SLIP / 2)]
                if kind == "slipped":
                    kernel = [(t, 1.0)]
                elif entry["n"] in reversed_shifts:
                    kernel = [(-t, 1.0)]
                steps.append((entry["n"], "go_on", ways.meshes.index(at["mesh"]), kernel))
        elif kind in ("jumped", "arbor_out", "arbor_in"):
            for i, mesh in enumerate(ways.meshes):
                if entry["arbor"] in sheet.meshes[mesh][:2]:
                    steps.append((entry["n"], "lose", i))
        elif kind in ("bent", "turned"):
            steps.append((entry["n"], "bend", *bending(sheet, entry)))
    return steps


def read_off(sheet, entry):
    readings = []
    for r in entry["readings"]:
        w = sheet.index[r["witness"]]
        readings.append((w, float(r["deg"]), float(r["spread"]) if "spread" in r else sheet.width[w] / 20))
    return readings


def bending(sheet, entry):
    by = float(entry["deg"])
    return sheet.index[entry["witness"]], by, float(entry["spread"]) if "spread" in entry else 0.1 * abs(by)


def believe(sheet, ways, steps, known, spread):
    """The histories of each eye."""
    eyes = []
    for eye, _ in EYES:
        histories = Histories(sheet, ways, eye, known, spread)
        for _, what, *how in steps:
            getattr(histories, what)(*how)
        eyes.append(histories)
    return eyes


def weigh(eyes):
    """How well all eyes together explain it, as a logarithm; the share of each; and about how much was left out."""
    logs = np.array([h.fit + np.log(share) for h, (_, share) in zip(eyes, EYES)])
    fit = np.logaddexp.reduce(logs)
    shares = np.exp(logs - fit)
    return fit, shares, float(sum(share * h.lost for share, h in zip(shares, eyes)))


def nothing_bent(sheet, ways, steps, entries, as_told):
    """The chance that no lever is bent and no part has slipped, and about how much was left out of it.

    Asked of the levers as they are now: each is off by all that it was ever bent and by what it was built with, and only what was
    read of it since it was last bent tells of that. One that was bent may have been bent right, too: then it is off by nothing but how
    roughly it was done."""
    n = len(sheet.witnesses)
    last, by, rough = np.zeros(n), np.zeros(n), np.zeros(n)
    for n_th, what, *how in steps:
        if what == "bend":
            w, deg, spread = how
            last[w], by[w], rough[w] = n_th, by[w] + deg, np.hypot(rough[w], spread)
    since = []
    for n_th, what, *how in steps:
        if what == "look":
            how[0] = [reading for reading in how[0] if last[reading[0]] < n_th]
        if what != "bend" and (what != "look" or how[0]):
            since.append((n_th, what, *how))

    def explained(known, suspect=None):
        spread = BUILD * sheet.width / 2
        if suspect is not None:
            spread[suspect] = sheet.period[suspect] / 4
        fit, _, lost = weigh(believe(sheet, ways, since, known, np.hypot(spread, rough)))
        return fit, lost

    if last.any():
        sound = [explained(by), explained(np.zeros(n))]
        sound = [(fit + np.log(0.5 * (1 - BENT)), lost) for fit, lost in sound]
    else:
        sound = [(as_told[0] + np.log(1 - BENT), as_told[2])]
    bent = [explained(by, w) for w in range(n)]
    all_of_it = sound + [(fit + np.log(BENT / n), lost) for fit, lost in bent]
    logs = np.array([fit for fit, _ in all_of_it])
    shares = np.exp(logs - np.logaddexp.reduce(logs))
    return float(shares[: len(sound)].sum()), float(sum(s * lost for s, (_, lost) in zip(shares, all_of_it)))


@functools.lru_cache(maxsize=2)
def sheet_and_ways(text):
    sheet = Sheet(text)
    return sheet, Ways(sheet)


def solve(problem):
    sheet, ways = sheet_and_ways(problem["sheet"])
    entries = standing(problem["log"])
    unread, outside, out = facts(sheet, entries)
    settled = bool(sheet.witnesses) and not unread and not outside and not out
    answer = {"unread": unread, "outside": outside, "out": out, "in_window": None, "sound": None, "done": False, "lost": 0.0}
    if not settled:
        return answer
    steps = happened(sheet, ways, entries)
    eyes = believe(sheet, ways, steps, np.zeros(len(sheet.witnesses)), BUILD * sheet.width / 2)
    weighed = weigh(eyes)
    _, shares, lost = weighed
    likely = shares > 1e-5
    each = [h.in_window() for h, it_is in zip(eyes, likely) if it_is]
    answer["in_window"] = float(sum(s * inside for s, (inside, _) in zip(shares[likely], each)))
    lost += float(sum(s * passed_over for s, (_, passed_over) in zip(shares[likely], each)))
    if answer["in_window"] >= 0.94:
        answer["sound"], left_out = nothing_bent(sheet, ways, steps, entries, weighed)
        lost = max(lost, left_out)
        answer["done"] = answer["sound"] >= 0.5 and answer["in_window"] >= 0.95
    answer["lost"] = lost
    return answer


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
