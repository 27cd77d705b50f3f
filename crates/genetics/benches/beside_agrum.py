"""Makes a collection, or times pyAgrum's exact inference on it.

`make N CASE`: prints one line per animal: sire dam look, and for a founder its prior.
`time N CASE`: prints the seconds of Shafer-Shenoy inference (network built outside the clock), the
natural log of the likelihood, then one line of chances per animal.
"""

import math
import sys
import time

import collections_made as made

CASES = {
    "carriers named": (2, "recessive", 0.0, 4),
    "recessive .25": (2, "recessive", 0.25, None),
    "recessive .05": (2, "recessive", 0.05, None),
    "dominant .05": (2, "dominant", 0.05, None),
    "4 alleles": (4, "mixed", 0.3, None),
    "8 alleles": (8, "mixed", 0.3, None),
}


def transmission(k):
    pairs = made.genotypes(k)
    of = {g: i for i, g in enumerate(pairs)}
    table = [[[0.0] * len(pairs) for _ in pairs] for _ in pairs]
    for i, (a, b) in enumerate(pairs):
        for j, (c, d) in enumerate(pairs):
            for x in (a, b):
                for y in (c, d):
                    table[i][j][of[(min(x, y), max(x, y))]] += 0.25
    return table


def main():
    verb, n, case = sys.argv[1], int(sys.argv[2]), sys.argv[3]
    k, mode, q, carriers = CASES[case]
    sire, dam, seen, prior, table = made.made(n, 1, k, mode, q, carriers)
    if verb == "make":
        print(k, *table)
        for s, d, look, own in zip(sire, dam, seen, prior):
            print(s, d, look, *(own or []))
        return
    import numpy as np
    import pyagrum as gum

    m = len(table)
    young = np.array(transmission(k))
    net = gum.BayesNet()
    for i in range(n):
        net.add(gum.RangeVariable(f"g{i}", "", 0, m - 1))
    for i in range(n):
        if sire[i] >= 0:
            net.addArc(f"g{sire[i]}", f"g{i}")
            net.addArc(f"g{dam[i]}", f"g{i}")
    for i in range(n):
        cpt = net.cpt(f"g{i}")
        if sire[i] < 0:
            cpt.fillWith([float(x) for x in prior[i]])
        else:
            first = cpt.names[1] == f"g{sire[i]}"
            cpt.fillWith((np.transpose(young, (1, 0, 2)) if first else young).reshape(-1).tolist())
    evidence = {f"g{i}": [1.0 if t == look else 0.0 for t in table]
                for i, look in enumerate(seen) if look >= 0}
    start = time.perf_counter()
    engine = gum.ShaferShenoyInference(net)
    engine.setEvidence(evidence)
    engine.makeInference()
    chances = [engine.posterior(f"g{i}").toarray() for i in range(n)]
    took = time.perf_counter() - start
    print(took, math.log(engine.evidenceProbability()))
    for row in chances:
        print(*(repr(float(x)) for x in row))


main()
