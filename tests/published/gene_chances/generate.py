#!/usr/bin/env python3
"""Gene chances of made-up collections, from general-purpose libraries of Bayesian networks.

Run:  python3 generate.py   (needs numpy, pyagrum and, for the small ones, pgmpy; versions in README.md)
Writes, beside itself, per case the pedigree (.csv), its catalogue (.toml) and the chances
(.chances.csv), and likelihoods.csv. Fixed seeds. Every animal is one node whose states are all that it
can carry; its parents are its parents; what is seen of it is soft evidence.
"""
import itertools
import logging
import math
import random
import warnings

import numpy as np
import pyagrum

warnings.filterwarnings("ignore")
logging.disable(logging.CRITICAL)

# Sire and dam of each; -1 unknown. Two pairs of founders, then half sibs, sibs, back to a sire, and a
# young one with one unknown parent.
SMALL = [(-1, -1), (-1, -1), (-1, -1), (-1, -1), (0, 1), (0, 1), (2, 1), (2, 3), (4, 6), (0, 5),
         (7, 6), (8, 9), (8, 10), (11, 12), (-1, 12)]
SMALL_MALES = {0, 2, 4, 7, 8, 11, 14}


def collection(count, seed):
    """Years of one male to four females; young replace breeders, daughters meet their sires."""
    draw = random.Random(seed)
    parents = [(-1, -1)] * (3 + 12)
    male = [i < 3 for i in range(15)]
    males, females = [0, 1, 2], list(range(3, 15))
    while len(parents) < count:
        born = []
        for dam in females:
            if draw.random() < 0.35:
                continue
            sire = draw.choice(males)
            if parents[dam][0] in males and draw.random() < 0.2:
                sire = parents[dam][0]
            for _ in range(draw.randint(3, 7)):
                if len(parents) < count:
                    born.append(len(parents))
                    parents.append((sire if draw.random() > 0.02 else -1, dam))
                    male.append(draw.random() < 0.5)
        for pool, wanted in ((males, True), (females, False)):
            for at in range(len(pool)):
                home = [i for i in born if male[i] == wanted]
                if home and draw.random() < 0.3:
                    pool[at] = draw.choice(home)
                elif draw.random() < 0.05 and len(parents) < count:
                    pool[at] = len(parents)
                    parents.append((-1, -1))
                    male.append(wanted)
    return parents, male


class Chromosome:
    """States, founders' chances and transmission. kind: ordinary, both (X and Y), x."""

    def __init__(self, loci, kind="ordinary", crossing=None):
        self.loci, self.kind, self.crossing = loci, kind, crossing
        strands = list(itertools.product(*[range(len(l["alleles"])) for l in loci]))
        common = lambda s: math.prod(l["frequency"][a] for l, a in zip(loci, s))
        pairs = [(a, b) for a in strands for b in strands if a <= b]
        half = 1.0 if kind == "ordinary" else 0.5
        two = lambda a, b: half * common(a) * common(b) * (1 if a == b else 2)
        sex = None if kind == "ordinary" else "f"
        self.states = [(sex, a, b) for a, b in pairs]
        self.prior = [two(a, b) for a, b in pairs]
        if kind == "both":
            self.states += [("m", x, y) for x in strands for y in strands]
            self.prior += [half * common(x) * common(y) for x in strands for y in strands]
        if kind == "x":
            self.states += [("m", x, None) for x in strands]
            self.prior += [half * common(x) for x in strands]
        self.place = {s: i for i, s in enumerate(self.states)}
        self.table = self.transmission()

    def passed(self, state, as_sire):
        """(strand, makes a son, chance)."""
        sex, a, b = state
        if self.kind == "both" and as_sire:
            r = self.crossing
            return [(b, True, (1 - r) / 2), (a, True, r / 2), (a, False, (1 - r) / 2), (b, False, r / 2)]
        if self.kind == "x" and as_sire:
            return [(None, True, 0.5), (a, False, 0.5)]
        if len(self.loci) == 1:
            return [(a, False, 0.5), (b, False, 0.5)]
        r = self.crossing[0 if as_sire else 1]
        out = []
        for one, other in ((a, b), (b, a)):
            out += [(one, False, (1 - r) / 2), ((one[0], other[1]), False, r / 2)]
        return out

    def transmission(self):
        m = len(self.states)
        table = np.zeros((m, m, m))
        for i, sire in enumerate(self.states):
            for j, dam in enumerate(self.states):
                if sire[0] == "f" or dam[0] == "m":
                    table[i, j, :] = 1 / m  # never reached: the sexes are seen
                    continue
                for x, son, p in self.passed(sire, True):
                    for y, _, q in self.passed(dam, False):
                        if self.kind == "ordinary":
                            young = (None, min(x, y), max(x, y))
                        elif son:
                            young = ("m", y, x)
                        else:
                            young = ("f", min(x, y), max(x, y))
                        table[i, j, self.place[young]] += p * q
        return table

    def written(self, state, locus):
        sex, a, b = state
        names = self.loci[locus]["alleles"]
        first = names[a[locus]]
        if b is None:
            return first
        if sex == "m":
            return f"{first}|{names[b[locus]]}"
        x, y = sorted((a[locus], b[locus]))
        return f"{names[x]}/{names[y]}"


def looks(locus, written):
    """{word: chance} of a genotype; a male looks like a female of the same copies."""
    if locus["looks"] is None:
        return {written: 1.0}
    plain = written.replace("|", "/")
    plain = plain if "/" in plain else f"{plain}/{plain}"
    plain = "/".join(sorted(plain.split("/"), key=locus["alleles"].index))
    return {word: t[plain] for word, t in locus["looks"].items() if plain in t}


def locus(name, alleles, frequency, looks):
    return {"name": name, "alleles": alleles, "frequency": frequency, "looks": looks}


def two(kind, q):
    table = {
        "recessive": {"normal": {"+/+": 1, "+/r": 1}, "visual": {"r/r": 1}},
        "dominant": {"normal": {"+/+": 1}, "shown": {"+/r": 1, "r/r": 1}},
        "incomplete": {"normal": {"+/+": 1}, "one": {"+/r": 1}, "super": {"r/r": 1}},
        "doubtful": {"normal": {"+/+": 0.97, "+/r": 0.6, "r/r": 0.01}, "marked": {"+/+": 0.03, "+/r": 0.4},
                     "visual": {"r/r": 0.99}},
    }[kind]
    return [locus("look", ["+", "r"], [1 - q, q], table)]


def four():
    """a and b show with one copy, r with two."""
    names = ["+", "a", "b", "r"]
    table = {}
    for x, y in itertools.combinations_with_replacement(names, 2):
        seen = [z for z in (x, y) if z in "ab"] or (["r"] if x == y == "r" else ["normal"])
        table.setdefault(" ".join(seen), {})[f"{x}/{y}"] = 1
    return [locus("look", names, [0.7, 0.1, 0.1, 0.1], table)]


def drawn(chromosome, parents, male, seed, seen=0.85):
    """Genes dropped down the pedigree, then what is seen: one word per locus, or nothing."""
    draw = random.Random(seed)
    true, rows = [], []
    for (sire, dam), is_male in zip(parents, male):
        if chromosome.kind == "ordinary":
            fits = lambda s: True
        else:
            fits = lambda s: (s[0] == "m") == is_male
        def founder(fit):
            pool = [i for i, s in enumerate(chromosome.states) if fit(s)]
            return draw.choices(pool, [chromosome.prior[i] for i in pool])[0]
        somebody = lambda sex: founder(lambda s: s[0] in (None, sex))
        if sire < 0 and dam < 0:
            state = founder(fits)
        else:
            s = true[sire] if sire >= 0 else somebody("m")
            d = true[dam] if dam >= 0 else somebody("f")
            chances = [p if fits(t) else 0 for p, t in zip(chromosome.table[s, d], chromosome.states)]
            state = draw.choices(range(len(chances)), chances)[0]
        true.append(state)
        words = []
        for at, l in enumerate(chromosome.loci):
            said = looks(l, chromosome.written(chromosome.states[state], at))
            word = draw.choices(list(said), list(said.values()))[0]
            words.append(word if draw.random() < seen else "")
        rows.append(words)
    return rows


def weights(chromosome, words, is_male):
    """P(all that is seen | state)."""
    out = []
    for state in chromosome.states:
        w = 1.0 if state[0] is None else float((state[0] == "m") == is_male)
        for at, (l, word) in enumerate(zip(chromosome.loci, words)):
            if word:
                w *= looks(l, chromosome.written(state, at)).get(word, 0.0)
        out.append(w)
    return out


def network(parents):
    """Parents of every node; a founder is added for each parent who is not known. The sexes of those."""
    nodes, added = list(parents), []
    for at, (sire, dam) in enumerate(parents):
        if (sire < 0) != (dam < 0):
            nodes[at] = (sire if sire >= 0 else len(nodes), dam if dam >= 0 else len(nodes))
            nodes.append((-1, -1))
            added.append(sire < 0)
    return nodes, added


def by_agrum(chromosome, nodes, evidence):
    net, m = pyagrum.BayesNet(), len(chromosome.states)
    for i in range(len(nodes)):
        net.add(pyagrum.RangeVariable(f"n{i}", "", 0, m - 1))
    for i, (sire, dam) in enumerate(nodes):
        if sire >= 0:
            net.addArc(f"n{sire}", f"n{i}")
            net.addArc(f"n{dam}", f"n{i}")
    for i, (sire, dam) in enumerate(nodes):
        cpt = net.cpt(f"n{i}")
        if sire < 0:
            cpt.fillWith(list(map(float, chromosome.prior)))
            continue
        # The first variable of a table runs fastest.
        order = list(cpt.names)
        axes = {f"n{sire}": 0, f"n{dam}": 1, f"n{i}": 2}
        table = np.transpose(chromosome.table, [axes[n] for n in reversed(order)])
        cpt.fillWith(table.reshape(-1).tolist())
    engine = pyagrum.LazyPropagation(net)
    # A single number that is not 0 is taken for certain, and its size is lost: rows get the largest 1.
    sizes = [max(w) for w in evidence]
    scaled = [[x / size for x in w] for w, size in zip(evidence, sizes)]
    engine.setEvidence({f"n{i}": w for i, w in enumerate(scaled) if any(x != 1 for x in w)})
    engine.makeInference()
    post = [np.array(engine.posterior(f"n{i}").toarray()) for i in range(len(nodes))]
    return post, math.log10(engine.evidenceProbability()) + sum(map(math.log10, sizes))


def by_pgmpy(chromosome, nodes, evidence):
    from pgmpy.factors.discrete import TabularCPD
    from pgmpy.inference import VariableElimination
    from pgmpy.models import DiscreteBayesianNetwork

    m = len(chromosome.states)
    net = DiscreteBayesianNetwork()
    net.add_nodes_from([f"n{i}" for i in range(len(nodes))])
    net.add_edges_from([(f"n{p}", f"n{i}") for i, of in enumerate(nodes) for p in of if p >= 0])
    flat = chromosome.table.reshape(m * m, m).T
    for i, (sire, dam) in enumerate(nodes):
        if sire < 0:
            net.add_cpds(TabularCPD(f"n{i}", m, np.array(chromosome.prior).reshape(m, 1)))
        else:
            own = TabularCPD(f"n{i}", m, flat, evidence=[f"n{sire}", f"n{dam}"], evidence_card=[m, m])
            net.add_cpds(own)
    soft = [TabularCPD(f"n{i}", m, np.array(w).reshape(m, 1) / sum(w))
            for i, w in enumerate(evidence) if any(x != 1 for x in w)]
    engine = VariableElimination(net)
    ask = lambda i: engine.query([f"n{i}"], virtual_evidence=soft, show_progress=False).values
    return [np.array(ask(i)) for i in range(len(nodes))]


def catalogue(chromosome):
    quoted = lambda pairs: ", ".join(f'"{k}" = {v:g}' for k, v in pairs)
    text = ""
    for l in chromosome.loci:
        names = ", ".join(f'"{a}"' for a in l["alleles"])
        text += f'[[locus]]\nname = "{l["name"]}"\nalleles = [{names}]\n'
        text += f'frequency = {{ {quoted(zip(l["alleles"], l["frequency"]))} }}\n'
        if l["looks"] is not None:
            text += "[locus.looks]\n"
            for word, table in l["looks"].items():
                text += f'"{word}" = {{ {quoted(table.items())} }}\n'
    if len(chromosome.loci) > 1:
        male, female = chromosome.crossing
        names = ", ".join(f'"{l["name"]}"' for l in chromosome.loci)
        text += f"[[linkage]]\nloci = [{names}]\nrecombination = {{ male = {male}, female = {female} }}\n"
    if chromosome.kind != "ordinary":
        text += f'[[sex_linked]]\nlocus = "look"\ny_copy = {str(chromosome.kind == "both").lower()}\n'
    if chromosome.kind == "both":
        text += f"recombination_male = {chromosome.crossing}\n"
    return text


def case(name, chromosome, parents, male, seed, likelihoods):
    words = drawn(chromosome, parents, male, seed)
    while sum(w[0] not in ("normal", "") for w in words) < 3:  # nothing to learn from
        seed += 100
        words = drawn(chromosome, parents, male, seed)
    nodes, added = network(parents)
    evidence = [weights(chromosome, w, s) for w, s in zip(words, male)]
    evidence += [weights(chromosome, [""] * len(chromosome.loci), is_male) for is_male in added]
    post, log10 = by_agrum(chromosome, nodes, evidence)
    if chromosome.kind != "ordinary":
        log10 += len(nodes) * math.log10(2)  # given the sexes, which are even
    likelihoods.append((name, log10))
    if len(parents) <= 15:
        for ours, theirs in zip(post, by_pgmpy(chromosome, nodes, evidence)):
            assert abs(ours - theirs).max() < 1e-12, name
    with open(f"{name}.csv", "w") as out:
        out.write("id,sire,dam,sex," + ",".join(l["name"] for l in chromosome.loci) + "\n")
        for i, ((sire, dam), is_male) in enumerate(zip(parents, male)):
            up = ["0" if p < 0 else f"a{p}" for p in (sire, dam)]
            out.write(",".join([f"a{i}", *up, "m" if is_male else "f", *words[i]]) + "\n")
    with open(f"{name}.toml", "w") as out:
        out.write(catalogue(chromosome))
    with open(f"{name}.chances.csv", "w") as out:
        out.write("id,locus,genotype,chance\n")
        for i in range(len(parents)):
            for at, l in enumerate(chromosome.loci):
                sums = {}
                for state, p in zip(chromosome.states, post[i]):
                    written = chromosome.written(state, at)
                    sums[written] = sums.get(written, 0.0) + float(p)
                for written, p in sums.items():
                    if p > 1e-13:
                        out.write(f"a{i},{l['name']},{written},{p:.15g}\n")


def main():
    likelihoods = []
    small = (SMALL, [i in SMALL_MALES for i in range(len(SMALL))])
    for at, kind in enumerate(("recessive", "dominant", "incomplete", "doubtful")):
        case(f"15_{kind}", Chromosome(two(kind, 0.2)), *small, 10 + at, likelihoods)
    case("15_four_alleles", Chromosome(four()), *small, 14, likelihoods)
    large = collection(200, 7)
    for at, (kind, q) in enumerate((("recessive", 0.25), ("recessive", 0.05), ("dominant", 0.05),
                                    ("incomplete", 0.1), ("doubtful", 0.2))):
        name = f"200_{kind}_{q:g}".replace("0.", "")
        case(name, Chromosome(two(kind, q)), *large, 20 + at, likelihoods)
    case("200_four_alleles", Chromosome(four()), *large, 25, likelihoods)
    middle = collection(60, 8)
    linked = two("recessive", 0.2) + [locus("marker", ["A", "B"], [0.4, 0.6], None)]
    case("60_linked", Chromosome(linked, crossing=(0.08, 0.2)), *middle, 30, likelihoods)
    glow = two("incomplete", 0.2)
    case("60_on_x_and_y", Chromosome(glow, "both", 0.05), *middle, 31, likelihoods)
    case("60_on_x", Chromosome(two("recessive", 0.2), "x"), *middle, 32, likelihoods)
    with open("likelihoods.csv", "w") as out:
        out.write("case,log10_likelihood\n")
        for name, log10 in likelihoods:
            out.write(f"{name},{log10:.15g}\n")


main()
