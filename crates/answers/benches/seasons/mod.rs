//! The journal of a made-up room of many seasons, whose females follow the forecasts' own equations.

use forecast::Hyper;
use forecast::follicle::hyper::HEAD_STARTS;
use records::facts::{Added, Checked, HatchedOut, Laid, Ovulated, Shed, Weighed};
use records::words::{Certainty, ShedKind};
use records::{AnimalId, AsOf, ClutchId, Code, Colony, Draft, Fact, Found, Live, RecordId, Sex};
use testkit::follicle_grid::{GridSettings, Seen};
use testkit::follicle_rooms::{Season, World, pick, room, source};
use units::{Day, Grams, Instant, Millimetres, When, Zone};

/// Records in the order of writing.
#[derive(Default)]
struct Diary(Vec<Live>);

impl Diary {
    fn write(&mut self, day: Day, fact: Fact) -> RecordId {
        let n = self.0.len() as u64 + 1;
        let id = RecordId::from_bytes(u128::from(n).to_be_bytes());
        let (when, written) = (When::Day(day), Instant::from_seconds(0));
        let draft =
            Draft { id, when, written, who: String::new(), batch: None, source: None, fact };
        self.0.push(Live::of(&draft, n));
        id
    }
}

/// The settings as the made-up world takes them.
fn settings(h: &Hyper) -> GridSettings {
    GridSettings {
        rest_size: h.rest_size,
        rest_spread: h.rest_spread,
        rate: h.rate,
        rate_spread: h.rate_spread,
        wobble: h.wobble,
        never_starts: h.never_starts,
        begun_before: h.begun_before,
        head_starts: HEAD_STARTS.to_vec(),
        start_hazard: h.start_hazard,
        stall_hazard: h.stall_hazard,
        restart_hazard: h.restart_hazard,
        resorb_growing_hazard: h.resorb_growing_hazard,
        resorb_stalled_hazard: h.resorb_stalled_hazard,
        resorb_keeps: h.resorb_keeps,
        resorb_wobble: h.resorb_wobble,
        scan_own: h.scan_own,
        scan_shared: h.scan_shared,
        scan_gross: h.scan_gross,
        scan_gross_times: h.scan_gross_times,
    }
}

/// The journal, to be read as of any day.
pub struct Journal(Vec<Live>);

impl Journal {
    /// What is known on the evening of a day.
    pub fn on_evening_of(&self, day: Day) -> Colony {
        let zone = Zone::named("Europe/Berlin").unwrap();
        Colony::fold(&self.0, &zone, AsOf::evening_of(day, &zone))
    }
}

/// The 31st of October after so many seasons.
pub fn end_of(seasons: i16) -> Day {
    Day::new(2014 + seasons, 10, 31).unwrap()
}

/// What is written of a season: days from one event to the next, and the last day of it that anything
/// is written of: whoever ovulates later is written of no more.
struct Told {
    steps: [i32; 4],
    until: i32,
}

/// Seasons of so many females each, from November 2014 on, followed until that day of each. Durations are drawn about those of [`forecast::Durations`]'s priors, times `slower`.
pub fn journal(seasons: i16, females: usize, until: i32, slower: f64, seed: u64) -> Journal {
    let mut rng = source(seed);
    let mut diary = Diary::default();
    let born = Day::new(2010, 7, 1).unwrap();
    let ids: Vec<AnimalId> = (0..females)
        .map(|n| {
            let mut added = Added::with_code(Code::new(&format!("F{n:03}")).unwrap());
            added.sex = Some(Sex::Female);
            added.hatched = Some(born);
            let animal = AnimalId(diary.write(born, Fact::Added(added)));
            let mass = Grams::new(2000.0).unwrap();
            diary.write(born + 1500, Fact::Weighed(Weighed { animal, mass }));
            animal
        })
        .collect();
    let hyper = Hyper::default();
    let (mean, spread) = (hyper.ovulation_size, hyper.ovulation_spread);
    let world = World::Shared(Box::new(settings(&hyper)), mean, spread);
    for season in 0..seasons {
        let opened = Day::new(2014 + season, 11, 4).unwrap();
        for (female, season) in ids.iter().zip(room(&world, females, &mut rng)) {
            // The sum of four even draws is near enough to a normal one of spread 1.
            let mut about = |mean: f64, spread: f64| {
                let sum: i32 = (0..4).map(|_| pick(&mut rng, 1001)).sum();
                let z = (f64::from(sum) / 1000.0 - 2.0) * 3.0_f64.sqrt();
                (slower * (mean + spread * z)).round() as i32
            };
            let steps = [about(19.0, 4.0), about(30.0, 5.0), about(61.0, 4.0), about(7.0, 1.5)];
            one(&mut diary, *female, opened, &season, &Told { steps, until });
        }
    }
    Journal(diary.0)
}

fn one(diary: &mut Diary, female: AnimalId, opened: Day, season: &Season, told: &Told) {
    for look in season.looks.iter().filter(|look| look.day <= told.until) {
        let found = match look.seen {
            Seen::Scan(size) => {
                let size = Millimetres::new(size.max(0.0)).unwrap();
                Found::Scan(vec![size])
            }
            Seen::Felt(from, ..) if from < 0.0 => Found::NothingFelt,
            Seen::Felt(from, ..) => Found::Felt(
                ["pea", "marble", "hen egg", "python egg"]
                    [[17.0, 27.0, 36.0].iter().filter(|cut| from >= **cut).count()]
                .into(),
            ),
        };
        diary.write(opened + look.day, Fact::Checked(Checked { female, found }));
    }
    let Some(on) = season.ovulated.filter(|day| *day <= told.until) else { return };
    let (ovulated, [to_shed, to_laying, to_hatch, eggs]) = (opened + on, told.steps);
    let seen = Ovulated { female, certainty: Certainty::Seen, sire: None };
    diary.write(ovulated, Fact::Ovulated(seen));
    let shed = ovulated + to_shed;
    diary.write(shed, Fact::Shed(Shed { animal: female, kind: ShedKind::PreLay }));
    let laid = Laid {
        female,
        sire: None,
        clutch: None,
        eggs: u16::try_from(eggs.max(1)).ok(),
        slugs: Some(0),
        mass: None,
        kept: None,
    };
    let clutch = ClutchId(diary.write(shed + to_laying, Fact::Laid(laid)));
    let out = HatchedOut { clutch, hatchlings: None };
    diary.write(shed + to_laying + to_hatch, Fact::HatchedOut(out));
}
