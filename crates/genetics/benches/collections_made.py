"""Made-up collections of animals with looks, by fixed seeds, for the benches that stand beside a peer.

Overlapping years; about one male to six females; clutches of 3 to 9; 60 % of the females lay; a
fifth of the breeders is replaced a year, two thirds of them home-bred; daughters put to their own
living sire and half siblings mated with small chances. Nine in ten animals have been looked at.
"""

import random


def simulate(n, seed, years=6, ratio=6):
    """Sire, dam (-1 unknown) and sex (1 male) of n animals, parents first."""
    r = random.Random(seed)
    n_females = max(4, round(n / (6 * 0.60 * years)))
    n_males = max(2, round(n_females / ratio))
    sire, dam, sex, year, breeder = [], [], [], [], []

    def add(s, d, x, y, b):
        sire.append(s), dam.append(d), sex.append(x), year.append(y), breeder.append(b)
        return len(sire) - 1

    males = [add(-1, -1, 1, 0, 1) for _ in range(n_males)]
    females = [add(-1, -1, 0, 0, 1) for _ in range(n_females)]
    mate, y = {}, 0
    while len(sire) < n:
        y += 1
        if y > 2:
            for pool, sx, age in ((males, 1, 2), (females, 0, 3)):
                for i in range(len(pool)):
                    if r.random() >= 0.20:
                        continue
                    drawn = r.sample(range(len(sire)), min(400, len(sire)))
                    grown = [a for a in drawn if sire[a] >= 0 and sex[a] == sx
                             and not breeder[a] and year[a] <= y - min(age, y - 1)]
                    if grown and r.random() < 0.65:
                        pool[i] = r.choice(grown)
                        breeder[pool[i]] = 1
                    else:
                        pool[i] = add(-1, -1, sx, y, 1)
        alive, load, order = set(males), {m: 0 for m in males}, females[:]
        r.shuffle(order)
        for f in order:
            m = mate.get(f)
            if not (m in alive and r.random() < 0.5 and load[m] < 2 * ratio):
                m = None
                if sire[f] in alive and r.random() < 0.18:
                    m = sire[f]
                elif sire[f] >= 0 and r.random() < 0.08:
                    half = [x for x in males
                            if sire[x] == sire[f] or (dam[x] == dam[f] and dam[f] >= 0)]
                    m = r.choice(half) if half else None
                if m is None:
                    m = min(r.sample(males, min(3, len(males))), key=lambda x: load[x])
            load[m] += 1
            mate[f] = m
            if r.random() < 0.60 and len(sire) < n:
                clutch = max(3, min(9, round(r.gauss(6, 1.5))))
                for _ in range(min(n - len(sire), clutch)):
                    add(m, f, r.randint(0, 1), y, 0)
        if y > 60:
            break
    return sire, dam, sex, breeder


def genotypes(k):
    """Unordered pairs of k alleles, allele 0 the wild type, in the order of their higher allele."""
    return [(a, b) for b in range(k) for a in range(b + 1)]


def looks(k, mode):
    """The look of each genotype as a number; 0 looks normal."""
    if mode == "recessive":
        return [0 if a == 0 else 1 for a, b in genotypes(k)]
    if mode == "dominant":
        return [0 if b == 0 else 1 for a, b in genotypes(k)]
    # The first half of the named alleles is incomplete dominant, the second half recessive.
    half, seen, out = max(1, k // 2), {}, []
    for a, b in genotypes(k):
        if a > half and b > half:
            shown = ("recessive", a, b)
        else:
            shown = tuple(x for x in (a, b) if 0 < x <= half)
        out.append(seen.setdefault(shown, len(seen)))
    return out


def drop(sire, dam, seed, k, q, carriers):
    """True genotypes; with `carriers` only so many founders carry, each one copy."""
    r = random.Random(seed + 77)
    founders = [i for i, s in enumerate(sire) if s < 0]
    named = None
    if carriers is not None:
        pool = founders[: max(8, len(founders) // 2)]
        named = set(r.sample(pool, min(carriers, len(pool))))
    frequency = [1 - q] + [q / (k - 1)] * (k - 1)
    true = []
    for i, s in enumerate(sire):
        if s < 0 and named is None:
            a, b = r.choices(range(k), frequency, k=2)
        elif s < 0:
            a, b = (0, r.randint(1, k - 1)) if i in named else (0, 0)
        else:
            a, b = r.choice(true[s]), r.choice(true[dam[i]])
        true.append((min(a, b), max(a, b)))
    return true, frequency, named


def made(n, seed, k, mode, q, carriers):
    """Pedigree, look of each animal (-1 not looked at) and prior of each founder."""
    sire, dam, _sex, _breeder = simulate(n, seed)
    true, frequency, named = drop(sire, dam, seed, k, q, carriers)
    r = random.Random(seed + 991)
    of = {g: i for i, g in enumerate(genotypes(k))}
    table = looks(k, mode)
    seen = [table[of[g]] if r.random() < 0.9 else -1 for g in true]
    random_mating = [frequency[a] * frequency[b] * (1 if a == b else 2) for a, b in genotypes(k)]
    wild = [1.0 if b == 0 else 0.0 for a, b in genotypes(k)]
    # A named carrier is said to carry with chance 1/2, everybody else not to.
    single = [1.0 / (k - 1) if a == 0 < b else 0.0 for a, b in genotypes(k)]
    may = [0.5 * w + 0.5 * s for w, s in zip(wild, single)]
    prior = [None if s >= 0 else random_mating if named is None else may if i in named else wild
             for i, s in enumerate(sire)]
    return sire, dam, seen, prior, table
