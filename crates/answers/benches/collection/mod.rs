//! A made-up collection of any size whose labels and looks are those of true genotypes.

use genetics::catalogue::Mode;
use genetics::{AlleleId, Catalogue, Gene, Genotype};
use records::facts::{Added, Looked};
use records::{AnimalId, AsOf, Code, Colony, Draft, Fact, Live, RecordId, Sex};
use units::{Day, Instant, When, Zone};

/// Numbers that look drawn, the same in every run (xorshift; Marsaglia 2003, from memory).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() >> 16).unwrap() % n
    }

    fn chance(&mut self, p: f64) -> bool {
        (self.below(1_000_000) as f64) < p * 1e6
    }
}

struct Snake {
    id: AnimalId,
    genes: Vec<[AlleleId; 2]>,
    sex: Sex,
    born: i16,
}

/// The records of a collection, oldest first, and what was used to make it.
pub struct Collection {
    pub lives: Vec<Live>,
    catalogue: &'static Catalogue,
    genes: Vec<Gene>,
    snakes: Vec<Snake>,
    dice: Dice,
}

/// Loci in play: the first so many alleles that share no locus.
fn chosen(catalogue: &Catalogue, loci: usize) -> Vec<Gene> {
    let genes = catalogue.numbered_loci().map(|(id, locus)| {
        let name = &locus.alleles()[1].name;
        (catalogue.gene(name).unwrap(), id)
    });
    let is_plain = |gene: &Gene| catalogue.gene_name(*gene) != "coral glow";
    genes.map(|(gene, _)| gene).filter(is_plain).take(loci).collect()
}

impl Collection {
    /// Seasons of breeding, one male to six females, until there are `animals`.
    pub fn new(catalogue: &'static Catalogue, animals: usize, loci: usize, seed: u64) -> Self {
        let genes = chosen(catalogue, loci);
        let mut made =
            Self { lives: Vec::new(), catalogue, genes, snakes: Vec::new(), dice: Dice(seed) };
        let founders = (animals / 35).max(14);
        for n in 0..founders {
            made.founder(if n % 7 == 0 { Sex::Male } else { Sex::Female }, 2015);
        }
        let mut year = 2018;
        while made.snakes.len() < animals {
            made.season(year, animals);
            year += 1;
        }
        made
    }

    fn write(&mut self, when: When, fact: Fact) -> RecordId {
        let n = self.lives.len() as u64 + 1;
        let id = RecordId::from_bytes(u128::from(n).to_be_bytes());
        let written = Instant::from_seconds(0);
        let draft =
            Draft { id, when, written, who: String::new(), batch: None, source: None, fact };
        self.lives.push(Live::of(&draft, n));
        id
    }

    fn mode(&self, gene: Gene) -> Mode {
        self.catalogue.allele(gene).unwrap().mode
    }

    fn founder(&mut self, sex: Sex, born: i16) {
        let mut genes = vec![[AlleleId::WILD; 2]; self.genes.len()];
        for (at, gene) in self.genes.clone().into_iter().enumerate() {
            let is_hidden = self.mode(gene) == Mode::Recessive;
            if self.dice.chance(if is_hidden { 0.03 } else { 0.05 }) {
                genes[at][1] = gene.allele;
                if is_hidden && self.dice.chance(0.4) {
                    genes[at][0] = gene.allele;
                }
            }
        }
        let mut label = self.looks(&genes);
        for (at, gene) in self.genes.clone().into_iter().enumerate() {
            let name = self.catalogue.gene_name(gene);
            let is_open = self.mode(gene) == Mode::Recessive && genes[at][0] != gene.allele;
            if is_open && genes[at][1] == gene.allele {
                label.push_str(&format!(" het {name}"));
            } else if is_open && self.dice.chance(0.04) {
                // A claim that is true as often as it says.
                let (percent, truth) =
                    if self.dice.chance(0.5) { (66, 2.0 / 3.0) } else { (50, 0.5) };
                genes[at][1] = if self.dice.chance(truth) { gene.allele } else { AlleleId::WILD };
                label.push_str(&format!(" {percent}% het {name}"));
            }
        }
        self.add(genes, sex, born, None, &label);
    }

    fn looks(&self, genes: &[[AlleleId; 2]]) -> String {
        let look = |(gene, both): (&Gene, &[AlleleId; 2])| {
            let genotype = Genotype::new(both[0], both[1]);
            let look = self.catalogue.locus(gene.locus)?.entry(genotype).look?;
            Some(self.catalogue.look_name(gene.locus, look).to_owned())
        };
        let words: Vec<String> = self.genes.iter().zip(genes).filter_map(look).collect();
        if words.is_empty() { "normal".to_owned() } else { words.join(" ") }
    }

    fn add(
        &mut self,
        genes: Vec<[AlleleId; 2]>,
        sex: Sex,
        born: i16,
        parents: Option<(AnimalId, AnimalId)>,
        label: &str,
    ) {
        let n = self.snakes.len();
        let mut added = Added::with_code(Code::new(&format!("A{n}")).unwrap());
        added.sex = Some(sex);
        added.hatched = Day::new(born, 7, 1).ok();
        (added.sire, added.dam) = (parents.map(|p| p.0), parents.map(|p| p.1));
        added.genes = parents.is_none().then(|| label.to_owned());
        let id = AnimalId(self.write(When::Undated, Fact::Added(added)));
        if parents.is_some() {
            self.write(When::Undated, Fact::Looked(Looked { animal: id, look: label.to_owned() }));
        }
        self.snakes.push(Snake { id, genes, sex, born });
    }

    fn season(&mut self, year: i16, most: usize) {
        // One in six of the young is kept; breeders work for six years.
        let is_breeder = |(n, s): &(usize, &Snake)| {
            let founder_or_kept = s.born == 2015 || n % 6 == 0;
            founder_or_kept && (2..=8).contains(&(year - s.born))
        };
        let breeders: Vec<usize> =
            self.snakes.iter().enumerate().filter(is_breeder).map(|(n, _)| n).collect();
        let of =
            |sex: Sex| breeders.iter().copied().filter(|n| self.snakes[*n].sex == sex).collect();
        let (males, females): (Vec<usize>, Vec<usize>) = (of(Sex::Male), of(Sex::Female));
        if males.is_empty() {
            return self.founder(Sex::Male, year - 3);
        }
        let n_males = (females.len() / 6).clamp(1, males.len());
        for dam in females {
            let sire = males[self.dice.below(n_males)];
            for _ in 0..3 + self.dice.below(7) {
                if self.snakes.len() < most && self.dice.chance(0.6) {
                    self.hatch(sire, dam, year);
                }
            }
        }
        self.founder(Sex::Male, year - 3);
    }

    /// One more hatchling of a pair.
    pub fn hatch(&mut self, sire: usize, dam: usize, year: i16) {
        loop {
            let mut genes = Vec::with_capacity(self.genes.len());
            for at in 0..self.genes.len() {
                let pick = (self.dice.below(2), self.dice.below(2));
                genes.push([
                    self.snakes[sire].genes[at][pick.0],
                    self.snakes[dam].genes[at][pick.1],
                ]);
            }
            let lives = |(gene, both): (&Gene, &[AlleleId; 2])| {
                let locus = self.catalogue.locus(gene.locus).unwrap();
                locus.entry(Genotype::new(both[0], both[1])).viability.hatches()
            };
            if self.genes.iter().zip(&genes).all(lives) {
                let sex = if self.dice.chance(0.5) { Sex::Male } else { Sex::Female };
                let label = self.looks(&genes);
                let parents = Some((self.snakes[sire].id, self.snakes[dam].id));
                return self.add(genes, sex, year, parents, &label);
            }
        }
    }

    /// A pair that had young, counted back from the last.
    pub fn pair(&self, back: usize) -> (usize, usize) {
        let place = |id: AnimalId| self.snakes.iter().position(|s| s.id == id).unwrap();
        let parents = self.lives.iter().rev().filter_map(|live| match &live.fact {
            Fact::Added(added) => added.sire.zip(added.dam),
            _ => None,
        });
        let mut all: Vec<(AnimalId, AnimalId)> = parents.collect();
        all.dedup();
        let (sire, dam) = all[back];
        (place(sire), place(dam))
    }

    /// Every animal and gene with whether it truly has a copy, by place and gene.
    pub fn truth(&self) -> impl Iterator<Item = (usize, Gene, bool)> + '_ {
        self.snakes.iter().enumerate().flat_map(move |(place, snake)| {
            let genes = self.genes.iter().zip(&snake.genes);
            genes.map(move |(gene, both)| (place, *gene, both.contains(&gene.allele)))
        })
    }

    pub fn colony(&self) -> Colony {
        let zone = Zone::named("Europe/Berlin").unwrap();
        Colony::fold(&self.lives, &zone, AsOf::end_of_time())
    }
}
