"""The belief by brute force: every eye, every way the meshes can stand, every hold on a fine grid, sums by numpy.

One problem a line on standard input, one answer a line on standard output. Nothing is shared with the house: places are
worked out from steps and cycles, each look is integrated over a grid of holds (and, where a witness's own place is uncertain,
over a grid of that too), alike places are summed from far out on one side to far out on the other. All that once for each eye that
may be, which sees so many times as roughly as was said, and holds so; what it sees is spread by no more than half the way to the next
place alike.

Problem: {"period": [deg per witness], "best": [deg], "steps": [[deg per witness] per mesh], "cycles": [per mesh],
"sway": [degrees of the witness for one of the hold], "hold": deg, "build": deg or 0 (one witness only where above 0),
"hands": [wrong way, slip], "eyes": [[times as rough, chance], ...], "events": [{"look": [[witness, deg, spread], ...]} | {"shift": [mesh, teeth]} |
{"lost": [mesh, ...]}]}. Answer: {"chances": [...]} over offsets of the meshes, the last counting fastest.
"""

import itertools
import json
import sys

import numpy as np

# Steps of two fifths of the sharpest look, and no more than two fifths of what is spread: the rule of equal steps sums a normal density so
# narrow to the last figure, and what six such looks leave of it, which is two fifths as narrow, to a part in ten million.
STEP = 0.4


def grid(spread, sharpest):
    """How many places are enough for something of such a spread to be seen with such a look, from eight spreads below to eight above."""
    return 1 + int(np.ceil(16 / STEP * max(1.0, spread / sharpest)))


def alike_density(apart, spread, period):
    """Normal density summed over alike places; apart may be any array."""
    reach = int(np.ceil(10 * spread / period)) + 1
    apart = (apart + period / 2) % period - period / 2
    return sum(np.exp(-0.5 * ((apart + k * period) / spread) ** 2) for k in range(-reach, reach + 1)) / spread


def solve(problem):
    cycles = problem["cycles"]
    ways = list(itertools.product(*[range(c) for c in cycles]))
    steps = np.array(problem["steps"], dtype=float).reshape(len(cycles), -1)
    best = np.array(problem["best"], dtype=float)
    places = np.array([best + np.array(way, dtype=float) @ steps for way in ways])
    seen = [reading for event in problem["events"] if "look" in event for reading in event["look"]]
    sharpest = lambda w: min((spread for witness, _, spread in seen if witness == w), default=np.inf)
    sways = [grid(abs(sway) * problem["hold"], sharpest(w)) for w, sway in enumerate(problem["sway"])]
    holds = np.linspace(-8, 8, max(sways))
    weights = np.exp(-0.5 * holds**2)
    weights /= weights.sum()
    build = problem["build"]
    finest = min(times for times, _ in problem["eyes"])
    offs = np.linspace(-8, 8, grid(build, finest * sharpest(0))) * build if build > 0 else np.array([0.0])
    prior = np.exp(-0.5 * (offs / build) ** 2) if build > 0 else np.array([1.0])
    prior /= prior.sum()
    # A chance for each eye, each way and each place of the grid of what is off.
    eyes = np.array([times for times, _ in problem["eyes"]])
    chances = np.array([share for _, share in problem["eyes"]])[:, None, None] * np.full((1, len(ways), 1), 1 / len(ways)) * prior
    index = {way: i for i, way in enumerate(ways)}
    wrong, slip = problem["hands"]

    def moved(chances, mesh, kernel):
        after = np.zeros_like(chances)
        for i, way in enumerate(ways):
            for teeth, share in kernel:
                to = list(way)
                to[mesh] = (to[mesh] + teeth) % cycles[mesh]
                after[:, index[tuple(to)]] += share * chances[:, i]
        return after

    for event in problem["events"]:
        if "look" in event:
            for eye, times in enumerate(eyes):
                fit = np.ones((len(ways), len(offs), len(holds)))
                for witness, degrees, spread in event["look"]:
                    period = problem["period"][witness]
                    expected = (
                        places[:, witness, None, None]
                        + offs[None, :, None]
                        + problem["sway"][witness] * times * problem["hold"] * holds[None, None, :]
                    )
                    fit *= alike_density(degrees - expected, min(times * spread, 0.5 * period), period)
                chances[eye] *= fit @ weights
            chances /= chances.sum()
        elif "shift" in event:
            mesh, teeth = event["shift"]
            kernel = [
                (teeth, (1 - wrong) * (1 - slip)),
                (-teeth, wrong * (1 - slip)),
                (teeth + 1, slip / 2),
                (teeth - 1, slip / 2),
            ]
            chances = moved(chances, mesh, kernel)
        else:
            for mesh in event["lost"]:
                kernel = [(teeth, 1 / cycles[mesh]) for teeth in range(cycles[mesh])]
                chances = moved(chances, mesh, kernel)
    return {"chances": [float(x) for x in chances.sum(axis=(0, 2))]}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
