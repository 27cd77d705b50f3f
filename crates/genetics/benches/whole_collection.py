"""A collection of n animals looked at over so many recessive loci; a quarter of the founders of
unknown status at each, the others said not to carry.

Prints per animal: sire dam, then per locus one letter: n normal, v visual, ? not looked at; and for
a founder the same letter in upper case where its status is unknown.
"""

import random
import sys

import collections_made as made


def main():
    n, n_loci, frequency = int(sys.argv[1]), int(sys.argv[2]), float(sys.argv[3])
    sire, dam, _sex, _breeder = made.simulate(n, 1)
    letters = [[] for _ in range(n)]
    for locus in range(n_loci):
        r = random.Random(1000 + locus)
        carried = []
        for i in range(n):
            unknown = sire[i] < 0 and r.random() < 0.25
            if sire[i] >= 0:
                carried.append((r.choice(carried[sire[i]]), r.choice(carried[dam[i]])))
            elif unknown:
                carried.append((r.random() < frequency, r.random() < frequency))
            else:
                carried.append((False, False))
            letter = "?" if r.random() >= 0.9 else "v" if all(carried[i]) else "n"
            letters[i].append({"?": "!"}.get(letter, letter.upper()) if unknown else letter)
    for i in range(n):
        print(sire[i], dam[i], "".join(letters[i]))


main()
