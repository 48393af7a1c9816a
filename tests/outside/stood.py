"""Where a window lies in which a witness stood while the strike was right, by adaptive quadrature (scipy.integrate.quad) over how far it
lies off, and Gauss's rule from cut to cut over where the witness stood.

One problem a line on standard input, one answer a line on standard output; nothing is shared with the house. The window [f, t] lies b off,
normal with standard deviation `doubt`; the witness stood at x, normal about what was read; at each of n strikes it stands y beside that,
normal with standard deviation `sway`, and the strike is right if f + b <= x + y <= t + b.

Problem: {"window": [f, t], "doubt", "read": [degrees, standard deviation], "sway", "strikes", "inside"}. Answer: {"chance": that all were
right, "by": [mean, standard deviation] of b given that they were, "at_least": the chance, given that, that x lies as far as `inside` or
farther within both ends}.
"""

import json
import sys

import numpy as np
from scipy.integrate import quad
from scipy.stats import norm


NODES, WEIGHTS = np.polynomial.legendre.leggauss(48)


def solve(problem):
    (low, high), doubt = problem["window"], problem["doubt"]
    read, spread = problem["read"]
    sway, strikes, inside = problem["sway"], problem["strikes"], problem["inside"]

    def over_places(by, within=None):
        """The integral over x, or over those x that lie so far inside."""
        low_end, high_end = low + by, high + by
        a, b = read - 9 * spread, read + 9 * spread
        if within is not None:
            a, b = max(a, low_end + within), min(b, high_end - within)
            if a >= b:
                return 0.0

        def right(x):
            one = norm.cdf((high_end - x) / sway) - norm.cdf((low_end - x) / sway)
            return norm.pdf(x, read, spread) * one**strikes

        ends = [end + side * k * sway for end in (low_end, high_end) for side in (-1, 1) for k in (0, 1, 2, 4, 8)]
        middle = [read + k * spread for k in range(-8, 9, 2)]
        cuts = np.array([a, *sorted(p for p in ends + middle if a < p < b), b])
        half = np.diff(cuts) / 2
        at = (cuts[:-1] + half)[:, None] + half[:, None] * NODES
        return float(np.sum(half[:, None] * WEIGHTS * right(at)))

    if doubt == 0:
        whole = over_places(0.0)
        return {"chance": whole, "by": [0.0, 0.0], "at_least": over_places(0.0, inside) / whole}

    def over(what):
        ends = [read - high, read - low]
        cuts = sorted(p for p in (*ends, 0.0) if abs(p) < 8.5 * doubt)
        return quad(what, -8.5 * doubt, 8.5 * doubt, points=cuts or None, epsabs=1e-9, limit=200)[0]

    whole = over(lambda by: norm.pdf(by, 0, doubt) * over_places(by))
    mean = over(lambda by: by * norm.pdf(by, 0, doubt) * over_places(by)) / whole
    square = over(lambda by: (by - mean) ** 2 * norm.pdf(by, 0, doubt) * over_places(by)) / whole
    at_least = over(lambda by: norm.pdf(by, 0, doubt) * over_places(by, inside)) / whole
    return {"chance": whole, "by": [mean, float(np.sqrt(square))], "at_least": at_least}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
