"""A collection in which every founder may carry: `sampled.py N ALLELES MODE FREQUENCY`.

Prints the look of each genotype, then per animal: sire dam look, and for a founder its prior.
"""

import sys

import collections_made as made


def main():
    n, k, mode, frequency = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3], float(sys.argv[4])
    sire, dam, seen, prior, table = made.made(n, 1, k, mode, frequency, None)
    print(*table)
    for s, d, look, own in zip(sire, dam, seen, prior):
        print(s, d, look, *(own or []))


main()
