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

# Histories this much less likely than the likeliest are left out, and of the others all but so many of the likeliest; the more where with
# the fewer too much is lost.
FORGOTTEN, MOST, LOST = 1e-18, (2000, 8000), 1e-3

# A witness that a usual hold carries so many periods tells nothing: with the finest eye it is one and a half, and every place alike then is
# as likely as the next to within e^-44.
TOO_FAST = 3

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
    """All that may have happened: what kind of eye and levers it was, how the meshes may stand now, and what each reading so far may have
    left over.

    What was left over tells all that readings say of the levers, so histories of a kind that left over the same and end in the same way
    are one. A row of `chance` holds the ways for one kind and one such leaving; `white` holds what each reading left over beyond what those
    before it let expect, in its own spreads.

    A kind is how likely it is beforehand, how rough its eye is, and for each witness by how much its lever is known to be off and how
    surely, in degrees."""

    def __init__(self, sheet, ways, kinds, most):
        self.sheet, self.ways, self.most = sheet, ways, most
        shares, eyes, known, spread = zip(*kinds)
        self.eye, self.known = np.array(eyes), np.array(known)
        # How witnesses are off now, as a sum of independent things: a row of their variances for each kind, a column of what hangs on it
        # for each thing.
        self.parts, self.now = np.array(spread) ** 2, np.eye(len(sheet.witnesses))
        self.kind = np.arange(len(kinds))
        self.chance = np.outer(shares, np.full(ways.count, 1 / ways.count))
        self.white = np.zeros((len(kinds), 0))
        # How each reading hangs on the parts, and for each kind the covariance of the rest and the root of the whole.
        self.hangs = np.zeros((0, len(sheet.witnesses)))
        self.rest = self.root = np.zeros((len(kinds), 0, 0))
        # About how much of each kind was left out, beside the chances kept.
        self.lost = np.zeros(len(kinds))

    def go_on(self, mesh, kernel):
        """Teeth further ahead at a mesh, each number with its share."""
        before = self.chance.reshape((-1, *self.ways.cycles))
        after = sum(share * np.roll(before, teeth, axis=mesh + 1) for teeth, share in kernel)
        self.chance = after.reshape(self.chance.shape)

    def lose(self, mesh):
        """A mesh may stand anyhow."""
        before = self.chance.reshape((-1, *self.ways.cycles))
        after = np.broadcast_to(before.mean(axis=mesh + 1, keepdims=True), before.shape)
        self.chance = after.reshape(self.chance.shape)

    def bend(self, w, by, spread):
        self.known[:, w] += by
        self.parts = np.column_stack([self.parts, np.full(len(self.parts), spread * spread)])
        self.now = np.column_stack([self.now, np.eye(len(self.now))[w]])
        self.hangs = np.column_stack([self.hangs, np.zeros(len(self.hangs))])

    def look(self, readings, slack):
        old = len(self.hangs)
        if old:
            anyhow = self.chance.sum(axis=1, keepdims=True) / self.ways.count
            self.chance = (1 - UNNOTICED) * self.chance + UNNOTICED * anyhow
        which = [w for w, _, _ in readings]
        held = np.outer(self.eye, self.sheet.hold * self.sheet.sway[which])
        rest = np.zeros((len(self.eye), *(old + len(readings),) * 2))
        rest[:, :old, :old] = self.rest
        rest[:, old:, old:] = held[:, :, None] * held[:, None, :]
        for i, (w, _, spread) in enumerate(readings, start=old):
            own = np.minimum(self.eye * spread, 0.5 * self.sheet.period[w])
            rest[:, i, i] += own * own + (self.sheet.slack[w][1] if slack else 0.0)
        self.rest = rest
        self.hangs = np.concatenate([self.hangs, self.now[which]])
        self.root = np.linalg.cholesky(self.hangs * self.parts[:, None, :] @ self.hangs.T + rest)
        for i, (w, deg, _) in enumerate(readings, start=old):
            loose = self.sheet.slack[w][0] if slack else 0.0
            self.read(i, w, deg - loose - self.sheet.best[w])

    def read(self, i, w, stands):
        """One reading, from best, against what those before it let expect; places alike as far as they count."""
        root, period = self.root[self.kind, i], self.sheet.period[w]
        sd = root[:, i]
        expected = self.known[self.kind, w] + (self.white * root[:, :i]).sum(axis=1)
        apart = (stands - expected)[:, None] - self.ways.places[w]
        apart -= np.round(apart / period) * period
        norm = np.log(sd * np.sqrt(2 * np.pi))
        fits = -0.5 * (apart / sd[:, None]) ** 2 - norm[:, None]
        with np.errstate(divide="ignore"):
            log = np.log(self.chance @ self.ways.has[w]) + fits
        most = log.max()
        weight = np.exp(log - most)
        row, place = self.likely(weight)
        # The same again with those places alike to which a reading so rough reaches.
        widest = sd.max()
        reach = int(np.ceil(6 * widest / period)) if widest > 0.04 * period else 0
        alike = np.arange(-reach, reach + 1) * period
        z = (apart[row, place][:, None] + alike) / sd[row][:, None]
        nearest = z[:, reach][:, None]
        each = weight[row, place][:, None] * np.exp(0.5 * (nearest * nearest - z * z))
        kept, piece = self.likely(each)
        total = each[kept, piece].sum()
        # What was left out of a kind before is taken to fit as well as the best that is kept of it does wherever the meshes stand; of one of
        # which nothing is kept, as well as the best of all. What is left out now counts with all that is alike.
        best = np.full(len(self.eye), fits.max())
        best[self.kind] = -np.inf
        np.maximum.at(best, self.kind, fits.max(axis=1))
        weight[row, place] = 0.0
        left_out = weight.sum(axis=1) * (1 + sd * np.sqrt(2 * np.pi) / period)
        now = np.bincount(self.kind, weights=left_out, minlength=len(best))
        more = each.copy()
        more[kept, piece] = 0.0
        now += np.bincount(self.kind[row], weights=more.sum(axis=1), minlength=len(best))
        self.lost = (self.lost * np.exp(np.minimum(best - most, 700.0)) + now) / total
        z = z[kept, piece]
        row, place = row[kept], place[kept]
        density = np.exp(-0.5 * z * z - norm[row] - most) / total
        self.chance = self.chance[row] * self.ways.has[w].T[place] * density[:, None]
        self.white = np.column_stack([self.white[row], z])
        self.kind = self.kind[row]

    def likely(self, weight):
        """Where in a table those are that are kept."""
        kept = weight > FORGOTTEN
        if np.count_nonzero(kept) > self.most:
            least = np.partition(weight, -self.most, axis=None)[-self.most]
            kept &= weight >= least
        return np.nonzero(kept)

    def shares(self):
        """How likely each kind is."""
        return np.bincount(self.kind, weights=self.chance.sum(axis=1), minlength=len(self.eye))

    def in_window(self, kind):
        """The chance that all witnesses are in their windows, if it is this kind; and how much of that was not gone into."""
        cover = self.now * self.parts[kind] @ self.now.T
        rows = self.kind == kind
        mean = self.known[kind]
        if len(self.hangs):
            gain = np.linalg.solve(self.root[kind], self.hangs * self.parts[kind] @ self.now.T)
            mean = mean + self.white[rows] @ gain
            cover = cover - gain.T @ gain
        mean = np.broadcast_to(mean, (np.count_nonzero(rows), len(cover)))
        chances = self.chance[rows] / self.chance[rows].sum()
        first = np.argsort(-chances, axis=None)[:4000]
        first = first[: int(np.searchsorted(np.cumsum(chances.reshape(-1)[first]), 1 - 1e-5)) + 1]
        row, way = np.unravel_index(first, chances.shape)
        at = np.array([places[place_of[way]] for places, place_of in zip(self.ways.places, self.ways.place_of)]).T
        at = at + self.sheet.best + mean[row] - self.sheet.start
        chance = chances[row, way]
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
            if readings := read_off(sheet, entry):
                steps.append((entry["n"], "look", readings, entry["tension"] == "slack"))
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
    """What was read, without what tells nothing: where the hold carries a witness through so many of its places, even the finest eye finds
    it as likely at one as at any other. How two such keep step with each other is not gone into."""
    readings = []
    for r in entry["readings"]:
        w = sheet.index[r["witness"]]
        if sheet.hold * sheet.sway[w] < TOO_FAST * sheet.period[w]:
            readings.append((w, float(r["deg"]), float(r["spread"]) if "spread" in r else sheet.width[w] / 20))
    return readings


def bending(sheet, entry):
    by = float(entry["deg"])
    return sheet.index[entry["witness"]], by, float(entry["spread"]) if "spread" in entry else 0.1 * abs(by)


def believe(sheet, ways, steps, kinds, most):
    histories = Histories(sheet, ways, kinds, most)
    for _, what, *how in steps:
        getattr(histories, what)(*how)
    return histories


def each_eye(share, known, spread):
    """A kind for each eye."""
    return [(share * seldom, eye, known, spread) for eye, seldom in EYES]


def one_bent(sheet, known, rough):
    """Kinds in which nothing is known of one witness's lever beforehand, each witness in turn."""
    n, kinds = len(sheet.witnesses), []
    for w in range(n):
        spread = BUILD * sheet.width / 2
        spread[w] = sheet.period[w] / 4
        kinds += each_eye(BENT / n, known, np.hypot(spread, rough))
    return kinds


def nothing_bent(sheet, ways, steps, most):
    """The chance that no lever is bent and no part has slipped, where some were bent or turned; and about how much was left out of it.

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
    build = np.hypot(BUILD * sheet.width / 2, rough)
    half = (1 - BENT) / 2
    sound = each_eye(half, by, build) + each_eye(half, np.zeros(n), build)
    histories = believe(sheet, ways, since, sound + one_bent(sheet, by, rough), most)
    return float(histories.shares()[: len(sound)].sum()), float(histories.lost.sum())


def chances(sheet, ways, steps, most):
    """The chance that all is in, the chance that nothing is bent where it matters, and about how much was left out of them."""
    ever_bent = any(what == "bend" for _, what, *_ in steps)
    none = np.zeros(len(sheet.witnesses))
    kinds = each_eye(1.0 if ever_bent else 1 - BENT, none, BUILD * sheet.width / 2)
    histories = believe(sheet, ways, steps, kinds if ever_bent else kinds + one_bent(sheet, none, none), most)
    shares = histories.shares()[: len(EYES)]
    sound = float(shares.sum())
    shares = shares / sound
    likely = np.flatnonzero(shares > 1e-5)
    inside, passed_over = np.array([histories.in_window(kind) for kind in likely]).T
    in_window = float(shares[likely] @ inside)
    lost = float(histories.lost[: len(EYES)].sum() / sound + shares[likely] @ passed_over)
    if in_window < 0.94:
        return in_window, None, lost
    left_out = float(histories.lost.sum())
    if ever_bent:
        sound, left_out = nothing_bent(sheet, ways, steps, most)
    return in_window, sound, max(lost, left_out)


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
    for most in MOST:
        in_window, sound, lost = chances(sheet, ways, steps, most)
        if lost <= LOST:
            break
    done = sound is not None and sound >= 0.5 and in_window >= 0.95
    return answer | {"in_window": in_window, "sound": sound, "done": done, "lost": lost}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
