"""Times a plain sum over counts per sire on what the bench `beside_counts` sends.

Arguments: sires, hatchlings, loci. Standard input: the chance that a young is visual by sire and
locus, then by hatchling and locus whether it is. Prints the name, the median time in microseconds,
the likelihood of each sire alone and that of all of them with uniform shares.
"""

import math
import statistics
import sys
import time
from collections import defaultdict

import numpy as np

sires, hatchlings, loci = (int(x) for x in sys.argv[1:4])
given = np.frombuffer(sys.stdin.buffer.read(), dtype="<f8")
chance = given[: sires * loci].reshape(sires, loci)
visual = given[sires * loci :].reshape(hatchlings, loci)


def shared():
    eggs = np.where(visual[:, None, :] > 0, chance[None], 1 - chance[None]).prod(2)
    table = {(0,) * sires: 1.0}
    for egg in eggs:
        longer = defaultdict(float)
        for counts, value in table.items():
            for sire in range(sires):
                if egg[sire] > 0:
                    more = list(counts)
                    more[sire] += 1
                    longer[tuple(more)] += value * egg[sire]
        table = longer
    whole = sum(v * math.prod(math.factorial(n) for n in c) for c, v in table.items())
    weight = math.factorial(sires - 1) / math.factorial(hatchlings + sires - 1)
    return [*eggs.prod(0), whole * weight]


shared()
micros = []
for _ in range(300):
    start = time.perf_counter()
    result = shared()
    micros.append((time.perf_counter() - start) * 1e6)
print("python", statistics.median(micros), *(repr(float(x)) for x in result))
