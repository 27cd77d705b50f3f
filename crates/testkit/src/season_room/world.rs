//! The state of the made-up room on one day: animals, clutches, who is with whom.

use units::Day;

use super::SeasonRoom;
use super::diary::{Diary, Key, Moment};
use super::dice::Dice;
use super::genes::{Claims, Genotype};
use super::growth::Cycle;

/// What nobody in the room knows.
#[derive(Clone, Debug, Default)]
pub struct Truth {
    /// True size of the largest follicles, one entry for each female and season.
    pub follicles: Vec<FollicleTruth>,
    /// True days of ovulation.
    pub ovulations: Vec<(Key, Day)>,
    /// True copulations: night, male, female.
    pub matings: Vec<(Day, Key, Key)>,
    /// The true sire of each clutch, by the code of the clutch; none where no egg was fertile.
    pub sires: Vec<(String, Option<Key>)>,
    /// Every animal's true genotype, unseen copies included, by its key.
    pub genotypes: Vec<String>,
    /// Every animal's last code, by its key.
    pub codes: Vec<String>,
}

/// True sizes of one female in one season.
#[derive(Clone, Debug)]
pub struct FollicleTruth {
    /// The female.
    pub female: Key,
    /// The day of the first size.
    pub from: Day,
    /// Size on each evening from then on, tenths of a millimetre; ends with ovulation.
    pub tenths: Vec<u16>,
}

/// One night of a male.
#[derive(Clone, Copy, Debug)]
pub(super) struct NightOut {
    pub night: Day,
    pub locked: bool,
}

#[derive(Debug)]
pub(super) struct Animal {
    pub code: String,
    pub male: bool,
    pub hatched: Day,
    pub gone: bool,
    pub genes: Genotype,
    pub claims: Claims,
    pub sire: Option<Key>,
    pub dam: Option<Key>,
    pub tub: String,
    /// True mass, g.
    pub mass: f64,
    /// The mass it returns to when it eats, g.
    pub target: f64,
    /// Still on the growth curve of a young animal.
    pub growing: bool,
    pub refusals: u8,
    pub last_meal: Option<Day>,
    /// Last mass written, g, and when.
    pub written_mass: u32,
    pub weighed_on: Option<Day>,
    pub quarantine: bool,
    pub treatment: bool,
    /// Seen in blue; sheds on this day.
    pub sheds_on: Option<Day>,
    /// How readily a male locks, 0 to 1.
    pub zeal: f64,
    pub nights: Vec<NightOut>,
    pub planned: Vec<Key>,
    pub cycle: Option<Cycle>,
    /// A hatchling that was not kept leaves on this day.
    pub leaves_on: Option<Day>,
    /// Meals and weights are written: adults, and young that stay.
    pub followed: bool,
}

impl Animal {
    pub fn age(&self, today: Day) -> i32 {
        today.days_since(self.hatched)
    }

    /// Ready for breeding as the keeper sees it: masses of common practice, no source.
    pub fn is_breeding_size(&self) -> bool {
        !self.gone && self.written_mass >= if self.male { 500 } else { 1500 }
    }
}

/// Eggs in an incubator.
#[derive(Debug)]
pub(super) struct Eggs {
    pub number: usize,
    pub code: String,
    pub dam: Key,
    pub credited: Option<Key>,
    pub sire: Option<Key>,
    pub good: u16,
    pub lost: u16,
    pub lost_on: Day,
    pub hatches_on: Day,
}

#[derive(Debug)]
pub(super) struct Pair {
    pub male: Key,
    pub female: Key,
    pub night: Day,
    /// Left together in the morning: taken out one day later.
    pub stays_on: bool,
    pub truly: bool,
}

#[derive(Debug)]
pub(super) struct World {
    pub today: Day,
    pub animals: Vec<Animal>,
    pub eggs: Vec<Eggs>,
    pub clutches: usize,
    /// Clutches laid in this calendar year: their codes count up.
    pub laid_this_year: u32,
    pub pairs: Vec<Pair>,
    /// A meal was written twice.
    pub slipped: bool,
    pub diary: Diary,
    pub truth: Truth,
    pub dice: Streams,
}

/// One stream of draws for each idea.
#[derive(Debug)]
pub(super) struct Streams {
    pub genes: Dice,
    pub cast: Dice,
    pub growth: Dice,
    pub body: Dice,
    pub meals: Dice,
    pub checks: Dice,
    pub nights: Dice,
    pub plans: Dice,
    pub clutches: Dice,
    pub young: Dice,
}

/// A date that exists; used with constants only.
pub(super) fn date(year: i16, month: i8, day: i8) -> Day {
    Day::new(year, month, day).unwrap_or(Day::from_number(0))
}

/// 0 is Monday; 1970-01-01 was a Thursday.
pub(super) fn weekday(day: Day) -> i32 {
    (day.number() + 3).rem_euclid(7)
}

impl World {
    pub fn new(seed: u64) -> Self {
        let mut stream = 0;
        let mut next = || {
            stream += 1;
            Dice::new(seed, stream)
        };
        Self {
            today: super::first_day(),
            animals: Vec::new(),
            eggs: Vec::new(),
            clutches: 0,
            laid_this_year: 0,
            pairs: Vec::new(),
            slipped: false,
            diary: Diary::default(),
            truth: Truth::default(),
            dice: Streams {
                genes: next(),
                cast: next(),
                growth: next(),
                body: next(),
                meals: next(),
                checks: next(),
                nights: next(),
                plans: next(),
                clutches: next(),
                young: next(),
            },
        }
    }

    /// Keys of those in the house, in order of coming.
    pub fn present(&self) -> Vec<Key> {
        (0..self.animals.len()).filter(|key| !self.animals[*key].gone).collect()
    }

    pub fn is(&self, month: i8, day: i8) -> bool {
        (self.today.month(), self.today.day_of_month()) == (month, day)
    }

    pub fn by_code(&self, code: &str) -> Option<Key> {
        self.animals.iter().position(|a| a.code == code)
    }

    pub fn finished(mut self) -> SeasonRoom {
        for key in 0..self.animals.len() {
            super::growth::close(&mut self, key);
        }
        self.truth.genotypes = self.animals.iter().map(|a| a.genes.told()).collect();
        self.truth.codes = self.animals.iter().map(|a| a.code.clone()).collect();
        // What a keeper does later on the last day has not happened yet.
        let last = Moment { day: super::evening(), minute: 18 * 60 };
        let mut events = self.diary.in_order();
        events.retain(|event| event.written <= last);
        SeasonRoom { events, truth: self.truth }
    }
}
