"""When a movement may be closed up: the rule, worked out from the sheet's text and the log's text alone.

One state a line on standard input, {"sheet": TOML, "log": JSON Lines}, one answer a line on standard output:
{"unread", "outside", "out", "in_window", "sound", "done"}; figures are null where they no longer matter. Nothing is shared with the house, and nothing done as it does
it: what a tooth does is counted along the path between two arbors; every history that could have led here is written down with what
it leaves unexplained of each reading, and all readings are weighed at once, as one normal vector, where the house goes from look to
look; the chance that all is in is counted out over points spread through the joint distribution.

The rule: every witness read since anything last moved in its train; the newest reading of each in its window; no arbor out; the chance
that nothing is bent or slipped at least one half; the chance that all are in at least 0.95.
"""

import itertools
import json
import os
import sys
import tomllib
from fractions import Fraction

# Tables of a few rows are done sooner by one thread than handed out to several.
os.environ["OPENBLAS_NUM_THREADS"] = "1"

import numpy as np
from scipy.stats import norm, qmc

# What is held to be so beforehand, as the house tells it.
WRONG_WAY, SLIP = 0.10, 0.03
BUILD, BENT, UNNOTICED, HOLD, LASH = 1 / 6, 0.02, 1e-4, 0.5, 0.2
EYES = [(2 ** (k / 2), share) for k, share in zip(range(-2, 5), [0.05, 0.15, 0.40, 0.20, 0.12, 0.06, 0.02])]
MOVES = {"shift", "other_way", "slipped", "jumped", "bent", "turned", "arbor_out", "arbor_in"}

# Histories this much less likely, in powers of e, than the likeliest are left out; points that a joint chance is counted over.
FORGOTTEN = 17.0
POINTS = norm.ppf(qmc.Sobol(d=8, scramble=True, seed=7).random(2048))


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
            for w in raw["witness"]
        ]
        self.index = {w["id"]: i for i, w in enumerate(self.witnesses)}

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

    def slack(self, w):
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


class Histories:
    """All that may have happened, for one eye and one thing that may be bent: how the meshes stand, what each reading then leaves over,
    and how likely."""

    def __init__(self, sheet, steps, cycles, eye, bent):
        self.sheet, self.eye = sheet, eye
        self.cycles = np.array(cycles, dtype=int)
        n = len(sheet.witnesses)
        self.period = np.array([float(w["period"]) for w in sheet.witnesses])
        self.best = np.array([float(w["best"]) for w in sheet.witnesses])
        self.steps = steps
        self.sway = np.array([float(sheet.turns(w["on"], sheet.read_at)) if w["drop"] else 0.0 for w in sheet.witnesses])
        half = np.array([float(w["to"] - w["from"]) / 2 for w in sheet.witnesses])
        spread = BUILD * half
        if bent is not None:
            spread[bent] = self.period[bent] / 4
        # How witnesses are off now, as a vector of independent things: build first, then each bend's own spread.
        self.parts = list(spread)
        self.now = [np.eye(n)[:, i] for i in range(n)]
        self.known = np.zeros(n)
        grid = np.array(list(itertools.product(*[range(c) for c in cycles])), dtype=int).reshape(-1, len(cycles))
        self.ways, self.all = grid, grid
        self.log = np.full(len(grid), -np.log(len(grid)))
        self.left = np.zeros((len(grid), 0))
        # For each reading: how it hangs on the parts, and the covariance of the rest.
        self.hangs = []
        self.rest = np.zeros((0, 0))
        self.fit = 0.0

    def places(self, ways):
        return self.best + ways @ self.steps

    def go_on(self, mesh, kernel):
        if not len(self.left[0]):
            return  # Anyhow stays anyhow.
        ways, logs, lefts = [], [], []
        for teeth, share in kernel:
            if share <= 0:
                continue
            to = self.ways.copy()
            to[:, mesh] = (to[:, mesh] + teeth) % self.cycles[mesh]
            ways.append(to)
            logs.append(self.log + np.log(share))
            lefts.append(self.left)
        self.ways, self.log, self.left = np.concatenate(ways), np.concatenate(logs), np.concatenate(lefts)
        self.forget()

    def forget(self):
        keep = self.log > self.log.max() - FORGOTTEN
        self.ways, self.log, self.left = self.ways[keep], self.log[keep], self.left[keep]

    def bend(self, w, by, spread):
        self.known[w] += by
        self.parts.append(spread)
        self.now.append(np.eye(len(self.known))[:, w])

    def cover(self):
        """The covariance of all readings so far."""
        hangs = np.array([np.pad(h, (0, len(self.parts) - len(h))) for h in self.hangs])
        return hangs * np.array(self.parts) ** 2 @ hangs.T + self.rest, hangs

    def look(self, readings, slack):
        if len(self.hangs):
            likely = self.log > self.log.max() - np.log(1e4)
            many, count = likely.sum(), len(self.all)
            anew = np.repeat(self.log[likely], count) + np.log(UNNOTICED / count)
            self.ways = np.concatenate([self.ways, np.tile(self.all, (many, 1))])
            self.left = np.concatenate([self.left, np.repeat(self.left[likely], count, axis=0)])
            self.log = np.concatenate([self.log + np.log1p(-UNNOTICED), anew])
        old = len(self.hangs)
        fresh = np.zeros((old + len(readings), old + len(readings)))
        fresh[:old, :old] = self.rest
        now = np.array(self.now).T
        held = np.array([self.eye * self.sheet.hold * self.sway[w] for w, _, _ in readings])
        fresh[old:, old:] = np.outer(held, held)
        apart = np.zeros((len(self.log), len(readings)))
        for i, (w, deg, spread) in enumerate(readings):
            mean, var = self.sheet.slack(self.sheet.witnesses[w]) if slack else (0.0, 0.0)
            own = min(self.eye * spread, 0.5 * self.period[w])
            fresh[old + i, old + i] += own * own + var
            self.hangs.append(now[w])
            apart[:, i] = deg - mean - self.known[w] - self.places(self.ways)[:, w]
        self.rest = fresh
        whole, _ = self.cover()
        root = np.linalg.cholesky(whole)
        # One reading after the other, each against what those before it let expect; places alike as far as they count.
        white = self.left @ np.linalg.inv(root[:old, :old]).T
        for i, (w, _, _) in enumerate(readings):
            row = old + i
            expected = white @ root[row, :row]
            sd, period = root[row, row], self.period[w]
            first = expected + (apart[:, i] - expected + period / 2) % period - period / 2
            reach = int(np.ceil(6 * sd / period)) if sd > 0.04 * period else 0
            pieces = []
            for k in range(-reach, reach + 1):
                left = first + k * period
                z = (left - expected) / sd
                pieces.append((self.log - 0.5 * z * z - np.log(sd * np.sqrt(2 * np.pi)), left, z))
            tile = lambda a: np.concatenate([a] * len(pieces))
            log = np.concatenate([p[0] for p in pieces])
            keep = log > log.max() - FORGOTTEN
            self.ways = tile(self.ways)[keep]
            self.left = np.column_stack([tile(self.left), np.concatenate([p[1] for p in pieces])])[keep]
            white = np.column_stack([tile(white), np.concatenate([p[2] for p in pieces])])[keep]
            apart = tile(apart)[keep]
            self.log = log[keep]
        # Kept small: what all share goes into the fit.
        most = self.log.max()
        self.fit += most
        self.log = self.log - most

    def weight(self):
        return self.fit + np.log(np.exp(self.log).sum())

    def in_window(self):
        """The chance that all witnesses are in their windows, if this is the eye."""
        n = len(self.known)
        now = np.array(self.now).T
        parts = np.array(self.parts) ** 2
        cover = now * parts @ now.T
        mean = np.zeros((len(self.log), n))
        if len(self.hangs):
            whole, hangs = self.cover()
            gain = np.linalg.solve(whole, hangs * parts @ now.T).T
            mean = self.left @ gain.T
            cover = cover - gain @ (hangs * parts @ now.T)
        chances = np.exp(self.log - self.log.max())
        chances /= chances.sum()
        first = np.argsort(-chances)[:400]
        first = first[: int(np.searchsorted(np.cumsum(chances[first]), 1 - 1e-4)) + 1]
        root = np.linalg.cholesky(cover + 1e-12 * np.eye(n))
        off = POINTS[:, :n] @ root.T
        start = np.array([float(w["from"]) for w in self.sheet.witnesses])
        width = np.array([float(w["to"] - w["from"]) for w in self.sheet.witnesses])
        at = self.places(self.ways[first]) + self.known + mean[first] - start
        inside = ((at[:, None, :] + off[None, :, :]) % self.period <= width).all(axis=2).mean(axis=1)
        return float((chances[first] * inside).sum() / chances[first].sum())


def believe(sheet, entries, eye, bent, axles, steps, cycles):
    histories = Histories(sheet, steps, cycles, eye, bent)
    reversed_shifts = {e["of"] for e in entries if e["kind"] == "other_way"}
    for entry in entries:
        kind = entry["kind"]
        if kind == "look":
            readings = []
            for r in entry["readings"]:
                w = sheet.index[r["witness"]]
                usual = float(sheet.witnesses[w]["to"] - sheet.witnesses[w]["from"]) / 20
                readings.append((w, float(r["deg"]), float(r["spread"]) if "spread" in r else usual))
            histories.look(readings, entry["tension"] == "slack")
        elif kind == "shift":
            for at in entry["meshes"] if "meshes" in entry else [entry]:
                if at["mesh"] in axles:
                    t = at["teeth"]
                    kernel = [
                        (t, (1 - WRONG_WAY) * (1 - SLIP)),
                        (-t, WRONG_WAY * (1 - SLIP)),
                        (t + 1, SLIP / 2),
                        (t - 1, SLIP / 2),
                    ]
                    if entry["n"] in reversed_shifts:
                        kernel = [(-t, 1.0)]
                    histories.go_on(axles.index(at["mesh"]), kernel)
        elif kind == "slipped":
            if entry["mesh"] in axles:
                histories.go_on(axles.index(entry["mesh"]), [(entry["teeth"], 1.0)])
        elif kind in ("jumped", "arbor_out", "arbor_in"):
            for i, mesh in enumerate(axles):
                if entry["arbor"] in sheet.meshes[mesh][:2]:
                    c = cycles[i]
                    histories.go_on(i, [(t, 1 / c) for t in range(c)])
        elif kind in ("bent", "turned"):
            by = float(entry["deg"])
            spread = float(entry["spread"]) if "spread" in entry else 0.1 * abs(by)
            histories.bend(sheet.index[entry["witness"]], by, spread)
    return histories


def told_since(entries):
    """What was read of a witness before its lever was bent or its part turned told of the lever as it was, and is left out; and the same
    as if that had brought each of them right. The second is nothing where none was."""
    last = {e["witness"]: e["n"] for e in entries if e["kind"] in ("bent", "turned")}
    told, right = [], []
    for entry in entries:
        entry = dict(entry)
        if entry["kind"] == "look":
            entry["readings"] = [r for r in entry["readings"] if last.get(r["witness"], 0) < entry["n"]]
            if not entry["readings"]:
                continue
        if entry["kind"] in ("bent", "turned"):
            entry.setdefault("spread", str(0.1 * abs(float(entry["deg"]))))
        told.append(entry)
        right.append(entry | {"deg": "0"} if entry["kind"] in ("bent", "turned") else entry)
    return told, right if last else None


def solve(problem):
    sheet = Sheet(problem["sheet"])
    entries = standing(problem["log"])
    unread, outside, out = facts(sheet, entries)
    answer = {"unread": unread, "outside": outside, "out": out}
    axles, steps, cycles = [], [], []
    for mesh in sheet.meshes:
        if sheet.path(sheet.read_at, sheet.meshes[mesh][0]) is None:
            continue
        moved = [sheet.step(mesh, w) for w in sheet.witnesses]
        cycle = 1
        for step, w in zip(moved, sheet.witnesses):
            part = (step / w["period"]).denominator
            cycle = cycle * part // np.gcd(cycle, part)
        if cycle > 1:
            axles.append(mesh)
            steps.append([float(s) for s in moved])
            cycles.append(int(cycle))
    steps = np.array(steps, dtype=float).reshape(len(axles), len(sheet.witnesses))
    settled = not unread and not outside and not out
    if not settled and not problem.get("all"):
        return answer | {"done": False, "sound": None, "in_window": None}
    n = len(sheet.witnesses)
    sound = [(believe(sheet, entries, eye, None, axles, steps, cycles), share) for eye, share in EYES]
    weights = np.array([h.weight() + np.log(share) for h, share in sound])
    most = weights.max()
    shares = np.exp(weights - most)
    shares /= shares.sum()
    in_window = sum(s * h.in_window() for (h, _), s in zip(sound, shares) if s > 1e-5)
    answer["in_window"] = float(in_window)
    if in_window < 0.94 and not problem.get("all"):
        return answer | {"done": False, "sound": None}
    told, right = told_since(entries)
    fit = lambda entries, bent: np.logaddexp.reduce(
        [believe(sheet, entries, eye, bent, axles, steps, cycles).weight() + np.log(share) for eye, share in EYES]
    )
    if right is None:
        as_sound = np.logaddexp.reduce(weights)
    else:
        # A lever that was bent may have been right before, or may have been set right by it.
        as_sound = np.logaddexp(fit(told, None), fit(right, None)) + np.log(0.5)
    fits = [as_sound + np.log(1 - BENT)] + [fit(told, w) + np.log(BENT / n) for w in range(n)]
    answer["sound"] = float(np.exp(fits[0] - np.logaddexp.reduce(fits))) if any(e["kind"] == "look" for e in entries) else 1.0
    answer["done"] = bool(settled and answer["sound"] >= 0.5 and in_window >= 0.95)
    return answer


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
