"""Makes a pedigree, and lets sgkit reckon its inbreeding and kinships.

Called by the bench `beside_sgkit` with animals and years as arguments. Writes one line of text and then
the arrays it names, little-endian, to standard output:
animals, males, females, males checked, females checked, microseconds of inbreeding, of all kinships
(0 where they would not fit in memory); sire and dam (i4, -1 unknown), inbreeding (f8), males, females
(i4), positions checked of either (i4), their kinships by female and male (f8).
"""

import random
import sys
import time
import warnings

warnings.filterwarnings("ignore")
import numpy as np
import sgkit
import xarray as xr

MOST_FOR_ALL_PAIRS = 11_000


def pedigree(n, years, seed=1):
    """A collection in overlapping years: about six females to a male, clutches of three to nine, most females
    lay, a fifth of the breeders is replaced a year, mostly by own young; some daughters go to their sire."""
    rng = random.Random(seed)
    n_females = max(4, round(n / (6 * 0.6 * years)))
    n_males = max(2, round(n_females / 6))
    sire, dam, sex, born, breeds = [], [], [], [], []

    def add(s, d, male, year, breeder):
        for column, value in zip((sire, dam, sex, born, breeds), (s, d, male, year, breeder)):
            column.append(value)
        return len(sire) - 1

    males = [add(-1, -1, 1, 0, True) for _ in range(n_males)]
    females = [add(-1, -1, 0, 0, True) for _ in range(n_females)]
    mate = {}
    for year in range(1, 61):
        for pool, male, age in ((males, 1, 2), (females, 0, 3)) if year > 2 else ():
            for place in range(len(pool)):
                if rng.random() >= 0.2:
                    continue
                some = rng.sample(range(len(sire)), min(400, len(sire)))
                old = year - min(age, year - 1)
                own = [a for a in some if sire[a] >= 0 and sex[a] == male and not breeds[a] and born[a] <= old]
                if own and rng.random() < 0.65:
                    pool[place] = rng.choice(own)
                    breeds[pool[place]] = True
                else:
                    pool[place] = add(-1, -1, male, year, True)
        alive, load = set(males), dict.fromkeys(males, 0)
        for female in rng.sample(females, len(females)):
            male = mate.get(female)
            if male not in alive or load[male] >= 12 or rng.random() >= 0.5:
                male = None
                if sire[female] in alive and rng.random() < 0.18:
                    male = sire[female]
                elif sire[female] >= 0 and rng.random() < 0.08:
                    half = [m for m in males if sire[m] == sire[female] or dam[m] == dam[female]]
                    male = rng.choice(half) if half else None
                if male is None:
                    male = min(rng.sample(males, min(3, len(males))), key=load.get)
            load[male] += 1
            mate[female] = male
            if rng.random() < 0.6:
                for _ in range(min(n - len(sire), max(3, min(9, round(rng.gauss(6, 1.5)))))):
                    add(male, female, rng.randint(0, 1), year, False)
        if len(sire) >= n:
            break
    return np.array([sire, dam]).T, np.array(sex), np.array(breeds)


def data_set(parent):
    ds = xr.Dataset()
    ds["sample_id"] = ("samples", np.arange(len(parent)).astype(str))
    ds["parent"] = (("samples", "parents"), parent)
    return ds


def ancestors(parent, wanted):
    """Those wanted and their ancestors, renumbered."""
    keep = np.zeros(len(parent) + 1, bool)
    keep[wanted] = True
    for i in range(len(parent) - 1, -1, -1):
        if keep[i]:
            keep[parent[i]] = True
    keep[-1] = False
    number = np.full(len(parent) + 1, -1)
    number[keep] = np.arange(keep.sum())
    return number[parent[keep[:-1]]], number[wanted]


def timed(ask, repeats):
    best = np.inf
    for _ in range(repeats):
        start = time.perf_counter()
        answer = ask()
        best = min(best, (time.perf_counter() - start) * 1e6)
    return best, answer


def main():
    n, years = int(sys.argv[1]), int(sys.argv[2])
    small = data_set(pedigree(200, 6)[0])
    # The first call compiles.
    sgkit.pedigree_inbreeding(small).stat_pedigree_inbreeding.values
    sgkit.pedigree_kinship(small).stat_pedigree_kinship.values
    parent, sex, breeds = pedigree(n, years)
    n = len(parent)
    males = np.flatnonzero(breeds & (sex == 1))[-max(10, n // 100):]
    females = np.flatnonzero(breeds & (sex == 0))[-max(60, n // 16):]
    ds = data_set(parent)
    inbreeding_us, inbreeding = timed(lambda: sgkit.pedigree_inbreeding(ds).stat_pedigree_inbreeding.values, 5)
    checked_males, checked_females = np.arange(len(males)), np.arange(len(females))
    kinship_us = 0.0
    if n <= MOST_FOR_ALL_PAIRS:
        kinship_us, all_pairs = timed(lambda: sgkit.pedigree_kinship(ds).stat_pedigree_kinship.values, 2)
        block = all_pairs[np.ix_(females, males)]
    else:
        rng = np.random.default_rng(1)
        checked_males = rng.choice(checked_males, min(100, len(males)), replace=False)
        checked_females = rng.choice(checked_females, min(600, len(females)), replace=False)
        few, at = ancestors(parent, np.concatenate((males[checked_males], females[checked_females])))
        all_pairs = sgkit.pedigree_kinship(data_set(few)).stat_pedigree_kinship.values
        block = all_pairs[np.ix_(at[len(checked_males):], at[: len(checked_males)])]
    out = sys.stdout.buffer
    sizes = (n, len(males), len(females), len(checked_males), len(checked_females))
    out.write((" ".join(map(str, sizes)) + f" {inbreeding_us} {kinship_us}\n").encode())
    for column in (parent[:, 0], parent[:, 1]):
        out.write(column.astype("<i4").tobytes())
    out.write(inbreeding.astype("<f8").tobytes())
    for places in (males, females, checked_males, checked_females):
        out.write(places.astype("<i4").tobytes())
    out.write(np.ascontiguousarray(block).astype("<f8").tobytes())


main()
