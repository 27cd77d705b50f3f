//! Who is drawn.

use std::collections::{BTreeMap, HashMap, HashSet};

use records::{Colony, Sex};
use units::Day;

use super::{
    Brood, Couple, Family, FamilyAsked, MOST_BROODS, MOST_GENERATIONS, Member, Parents, Who,
};

struct Gathering<'c> {
    colony: &'c Colony,
    young: Vec<Vec<usize>>,
    clutch_of: HashMap<usize, usize>,
    members: Vec<Member>,
    at: HashMap<usize, usize>,
    couples: Vec<Couple>,
    up: usize,
    most_young: usize,
}

pub fn gather(colony: &Colony, place: usize, asked: &FamilyAsked) -> Family {
    let mut young: Vec<Vec<usize>> = vec![Vec::new(); colony.animals.len()];
    for (at, animal) in colony.animals.iter().enumerate() {
        let parents: HashSet<usize> = [animal.sire, animal.dam].into_iter().flatten().collect();
        parents.into_iter().for_each(|parent| young[parent].push(at));
    }
    let clutches = colony.clutches.iter().enumerate();
    let clutch_of = clutches.flat_map(|(at, c)| c.young.iter().map(move |y| (*y, at))).collect();
    let mut gathering = Gathering {
        colony,
        young,
        clutch_of,
        members: Vec::new(),
        at: HashMap::new(),
        couples: Vec::new(),
        up: asked.up.min(MOST_GENERATIONS),
        most_young: asked.most_young,
    };
    gathering.climb(place, gathering.up, "", &mut Vec::new());
    gathering.descend(place, asked.down.min(MOST_GENERATIONS));
    gathering.say_parents();
    let n_young = gathering.young[place].len();
    let Gathering { members, couples, .. } = gathering;
    Family { members, couples, n_young, circle: Vec::new() }
}

impl Gathering<'_> {
    fn member(&mut self, place: usize, kin: &str) -> usize {
        let new = self.members.len();
        let at = *self.at.entry(place).or_insert(new);
        if at == new {
            self.add(Who::Animal(place));
        }
        let told = &mut self.members[at].kin;
        // The animal asked about is itself, also where it was mated to young of its own.
        if at > 0 && !kin.is_empty() && !told.iter().any(|k| k == kin) {
            told.push(kin.to_owned());
        }
        at
    }

    fn add(&mut self, who: Who) -> usize {
        self.members.push(Member { who, kin: Vec::new(), parents: Parents::NotWritten });
        self.members.len() - 1
    }

    /// The couple of two parents, at least one of them written.
    fn couple(&mut self, sire: Option<usize>, dam: Option<usize>) -> usize {
        let all = self.couples.iter();
        let found = all.enumerate().find(|(_, c)| {
            let (his, hers) = (self.members[c.sire].who, self.members[c.dam].who);
            // Two young of an unknown father need not have the same: each clutch would be another
            // guess, so that one row stands for all of them.
            his == sire.map_or(Who::NotWritten(Sex::Male), Who::Animal)
                && hers == dam.map_or(Who::NotWritten(Sex::Female), Who::Animal)
        });
        if let Some((at, _)) = found {
            return at;
        }
        let mut parent = |place: Option<usize>, sex| match place {
            Some(place) => self.member(place, ""),
            None => self.add(Who::NotWritten(sex)),
        };
        let (sire, dam) = (parent(sire, Sex::Male), parent(dam, Sex::Female));
        let (young, meeting, in_common) = (Vec::new(), Vec::new(), Vec::new());
        let broods = Vec::new();
        self.couples.push(Couple { sire, dam, young, broods, meeting, in_common });
        self.couples.len() - 1
    }

    fn joins(&mut self, couple: usize, young: usize) {
        if !self.couples[couple].young.contains(&young) {
            self.couples[couple].young.push(young);
        }
    }

    fn parents(&self, place: usize) -> Option<(Option<usize>, Option<usize>)> {
        let animal = &self.colony.animals[place];
        // One animal as both parents is a slip that the doubts name.
        let dam = animal.dam.filter(|dam| Some(*dam) != animal.sire);
        (animal.sire.is_some() || dam.is_some()).then_some((animal.sire, dam))
    }

    /// An animal with its ancestors, by every way that leads to them.
    fn climb(&mut self, place: usize, up: usize, kin: &str, way: &mut Vec<usize>) {
        let at = self.member(place, kin);
        let Some((sire, dam)) = self.parents(place).filter(|_| up > 0) else { return };
        way.push(place);
        for (parent, word) in [(sire, "sire"), (dam, "dam")] {
            let Some(parent) = parent.filter(|parent| !way.contains(parent)) else { continue };
            let kin = if kin.is_empty() { word.to_owned() } else { format!("{kin}'s {word}") };
            self.climb(parent, up - 1, &kin, way);
        }
        way.pop();
        let couple = self.couple(sire, dam);
        self.joins(couple, at);
    }

    /// Young, generation by generation.
    fn descend(&mut self, place: usize, down: usize) {
        let mut generation = vec![place];
        let mut of = None;
        for down in 1..=down {
            let (young, mut next) = (young_word(down), Vec::new());
            let mate = of.map_or_else(|| "mate".to_owned(), |of| format!("mate of a {of}"));
            for parent in generation {
                next.extend(self.broods(parent, &young, &mate));
            }
            generation = next;
            of = Some(young);
        }
    }

    /// The mates of an animal and their young; those drawn, as places.
    fn broods(&mut self, place: usize, young_kin: &str, mate_kin: &str) -> Vec<usize> {
        let all = self.young[place].clone();
        let draws_all = all.len() <= self.most_young;
        let mates: HashSet<usize> = all.iter().filter_map(|y| self.mate(place, *y)).collect();
        let by_clutch = self.by_clutch(place, &all);
        let merges = !draws_all && by_clutch.len() > MOST_BROODS;
        let mut drawn = Vec::new();
        for (mate, mut brood) in by_clutch {
            if let Some(mate) = mate {
                self.connect(mate, self.up);
                self.member(mate, mate_kin);
            }
            let is_sire = self.colony.animals[place].sex() != Some(Sex::Female)
                && self.colony.animals[brood.young[0]].dam != Some(place);
            let pair = if is_sire { (Some(place), mate) } else { (mate, Some(place)) };
            let couple = self.couple(pair.0, pair.1);
            for young in brood.young.clone() {
                // A daughter who is also a mate is part of a loop.
                if draws_all || mates.contains(&young) {
                    let at = self.member(young, young_kin);
                    self.joins(couple, at);
                    brood.drawn.push(at);
                    drawn.push(young);
                }
            }
            self.couples[couple].take_in(brood, merges);
        }
        drawn
    }

    fn mate(&self, place: usize, young: usize) -> Option<usize> {
        let animal = &self.colony.animals[young];
        let (sire, dam) = (animal.sire, animal.dam);
        if sire == Some(place) { dam } else { sire }.filter(|mate| *mate != place)
    }

    /// Young by clutch, in the order in which clutches hatched.
    fn by_clutch(&self, place: usize, young: &[usize]) -> Vec<(Option<usize>, Brood)> {
        type Key = (Option<Day>, Option<usize>, Option<usize>, Option<String>);
        let mut found: BTreeMap<Key, Brood> = BTreeMap::new();
        for at in young {
            let animal = &self.colony.animals[*at];
            let clutch = self.clutch_of.get(at).copied();
            let told = clutch.map(|clutch| &self.colony.clutches[clutch]);
            let day = told.and_then(|c| c.hatched.as_ref().map(|h| h.day)).or(animal.hatched);
            let code = told.and_then(|c| c.code.clone()).or_else(|| animal.clutch.clone());
            let key = (day, self.mate(place, *at), clutch, code.clone());
            let brood = found.entry(key).or_insert_with(|| Brood {
                code,
                hatched: day.map(|day| (day, day)),
                n_clutches: 1,
                young: Vec::new(),
                drawn: Vec::new(),
            });
            brood.young.push(*at);
        }
        found.into_iter().map(|((_, mate, _, _), brood)| (mate, brood)).collect()
    }

    /// Draws the ancestors of a mate by which it is related to somebody drawn already; whether
    /// there are any, or it is drawn itself.
    fn connect(&mut self, place: usize, up: usize) -> bool {
        if self.at.contains_key(&place) {
            return true;
        }
        let Some((sire, dam)) = self.parents(place).filter(|_| up > 0) else { return false };
        let of = [sire, dam].into_iter().flatten();
        // Both sides are walked, also where the first is kin already.
        let is_kin = of.filter(|parent| self.connect(*parent, up - 1)).count() > 0;
        if is_kin {
            let at = self.member(place, "");
            let couple = self.couple(sire, dam);
            self.joins(couple, at);
        }
        is_kin
    }

    fn say_parents(&mut self) {
        for at in 0..self.members.len() {
            let Who::Animal(place) = self.members[at].who else { continue };
            let is_drawn = self.couples.iter().any(|c| c.young.contains(&at));
            self.members[at].kin.sort_by_key(|kin| generations(kin));
            self.members[at].parents = match (is_drawn, self.parents(place)) {
                (true, _) => Parents::Drawn,
                (false, Some(_)) => Parents::NotDrawn,
                (false, None) => Parents::NotWritten,
            };
        }
    }
}

/// "young", "grandyoung", "great-grandyoung".
fn young_word(down: usize) -> String {
    match down {
        0 | 1 => "young".to_owned(),
        more => format!("{}grandyoung", "great-".repeat(more - 2)),
    }
}

/// How far a way leads, to put the shortest first.
fn generations(kin: &str) -> usize {
    ["'s ", "grand", "great-", "mate of"].iter().map(|word| kin.matches(word).count()).sum()
}

impl Couple {
    /// A brood is met from either parent where both are of the family, and told once.
    fn take_in(&mut self, brood: Brood, merges: bool) {
        let is_same = |known: &&mut Brood| brood.young.iter().all(|y| known.young.contains(y));
        if let Some(known) = self.broods.iter_mut().find(is_same) {
            for drawn in brood.drawn {
                if !known.drawn.contains(&drawn) {
                    known.drawn.push(drawn);
                }
            }
            return;
        }
        match self.broods.first_mut().filter(|_| merges) {
            Some(first) => first.take_in(brood),
            None => self.broods.push(brood),
        }
    }
}

impl Brood {
    fn take_in(&mut self, other: Self) {
        self.code = None;
        self.n_clutches += other.n_clutches;
        self.hatched = match (self.hatched, other.hatched) {
            (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.max(b.1))),
            (a, b) => a.or(b),
        };
        self.young.extend(other.young);
        self.drawn.extend(other.drawn);
    }
}
