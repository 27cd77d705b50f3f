"""Times NumPy and SciPy on what the bench `beside_numpy` sends on standard input.

The first argument says what: `products LIMIT` or `clutches K`. Prints, one line per peer, its name,
its median time in microseconds and its results.
"""

import math
import statistics
import sys
import time

import numpy as np
from scipy import stats


def median(work, least=0.3):
    work()
    micros, began = [], time.perf_counter()
    while len(micros) < 5 or time.perf_counter() - began < least:
        start = time.perf_counter()
        result = work()
        micros.append((time.perf_counter() - start) * 1e6)
    return statistics.median(micros), result


def tell(name, work):
    micros, result = median(work)
    print(name, micros, *(repr(float(x)) for x in result))


def truncated(factors, limit):
    """The largest partial products are enough: those of the whole begin with them."""
    best = np.ones(1)
    for factor in factors:
        best = np.multiply.outer(best, factor).ravel()
        if best.size > limit:
            best = best[np.argpartition(-best, limit - 1)[:limit]]
    return -np.sort(-best)


def polynomial(sizes, chances, p, k):
    """1 - sum over j < k of p^j times the j-th derivative of the generating function over j!."""
    q, few = 1 - p, np.zeros_like(p)
    for j in range(k):
        ways = np.array([math.comb(int(n), j) if n >= j else 0 for n in sizes]) * chances
        few += p**j * np.polyval(ways[j:][::-1], q)
    return 1 - few


def numbers():
    return np.frombuffer(sys.stdin.buffer.read(), dtype="<f8")


def products(limit):
    factors = [row[row > 0] for row in numbers().reshape(-1, 4)]
    tell("numpy", lambda: truncated(factors, limit))


def clutches(k):
    given = numbers()
    count = int(given[0])
    chances, p = given[1 : 1 + count], given[1 + count :].copy()
    sizes = np.arange(count)
    tell("scipy", lambda: (stats.binom.sf(k - 1, sizes[None, :], p[:, None]) * chances).sum(1))
    tell("numpy", lambda: polynomial(sizes, chances, p, k))


{"products": products, "clutches": clutches}[sys.argv[1]](int(sys.argv[2]))
