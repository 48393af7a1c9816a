"""The belief by brute force: every way the meshes can stand, every hold on a fine grid, sums by numpy.

One problem a line on standard input, one answer a line on standard output. Nothing is shared with the house: places are
worked out from steps and cycles, each look is integrated over a grid of holds (and, where a witness's own place is uncertain,
over a grid of that too), alike places are summed from far out on one side to far out on the other.

Problem: {"period": [deg per witness], "best": [deg], "steps": [[deg per witness] per mesh], "cycles": [per mesh],
"sway": [degrees of the witness for one of the hold], "hold": deg, "build": deg or 0 (one witness only where above 0),
"hands": [wrong way, slip], "events": [{"look": [[witness, deg, spread], ...]} | {"shift": [mesh, teeth]} |
{"lost": [mesh, ...]}]}. Answer: {"chances": [...]} over offsets of the meshes, the last counting fastest.
"""

import itertools
import json
import sys

import numpy as np
from scipy.stats import norm

# Steps of a tenth of a spread: the rule of equal steps then sums a normal density to the last figure, as long as no look is
# sharper than a step, and none here is.
HOLDS = 161
OFFS = 161


def alike_density(apart, spread, period):
    """Normal density summed over alike places; apart may be any array."""
    reach = int(np.ceil(10 * spread / period)) + 1
    apart = (apart + period / 2) % period - period / 2
    return sum(norm.pdf(apart + k * period, scale=spread) for k in range(-reach, reach + 1))


def solve(problem):
    cycles = problem["cycles"]
    ways = list(itertools.product(*[range(c) for c in cycles]))
    steps = np.array(problem["steps"], dtype=float).reshape(len(cycles), -1)
    best = np.array(problem["best"], dtype=float)
    places = np.array([best + np.array(way, dtype=float) @ steps for way in ways])
    holds = np.linspace(-8, 8, HOLDS)
    weights = norm.pdf(holds)
    weights /= weights.sum()
    build = problem["build"]
    offs = np.linspace(-8, 8, OFFS) * build if build > 0 else np.array([0.0])
    prior = norm.pdf(offs, scale=build) if build > 0 else np.array([1.0])
    prior /= prior.sum()
    # A chance for each way and each place of the grid of what is off.
    chances = np.outer(np.full(len(ways), 1 / len(ways)), prior)
    index = {way: i for i, way in enumerate(ways)}
    wrong, slip = problem["hands"]

    def moved(chances, mesh, kernel):
        after = np.zeros_like(chances)
        for i, way in enumerate(ways):
            for teeth, share in kernel:
                to = list(way)
                to[mesh] = (to[mesh] + teeth) % cycles[mesh]
                after[index[tuple(to)]] += share * chances[i]
        return after

    for event in problem["events"]:
        if "look" in event:
            fit = np.ones((len(ways), len(offs), HOLDS))
            for witness, degrees, spread in event["look"]:
                expected = (
                    places[:, witness, None, None]
                    + offs[None, :, None]
                    + problem["sway"][witness] * problem["hold"] * holds[None, None, :]
                )
                fit *= alike_density(degrees - expected, spread, problem["period"][witness])
            chances *= fit @ weights
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
    return {"chances": [float(x) for x in chances.sum(axis=1)]}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
