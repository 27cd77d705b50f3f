//! What every page shares: the journal, the model, the clock; and one look at them.

use std::collections::{HashMap, HashSet};
use std::sync::{Arc, Mutex, MutexGuard};

use answers::gene_chances::{Blamed, GeneClash};
use answers::sire::SireAnswer;
use answers::tonight::{Asking, Tonight};
use answers::{GeneChances, RoomForecasts};
use records::facts::{Retracted, Target};
use records::{Animal, AsOf, BatchId, Colony, Draft, Fact, Live, RecordId};
use store::{Appended, Store, StoreError};
use units::{Day, Instant, Night, When, Zone};

use crate::asking::Fields;
use crate::carrying::Carrying;
use crate::failure::Failure;
use crate::genes::{Kept, Standing};
use crate::import::Staging;
use crate::learning::Learning;
use crate::track::Tracking;
use crate::you::You;

/// Tells what time it is.
pub type Clock = Arc<dyn Fn() -> Instant + Send + Sync>;

/// The journal with what is needed to answer from it, and who asks. Cheap to clone. A page takes it
/// as `site: Site`, which reads the person from the request.
#[derive(Clone)]
pub struct Site(Arc<Shared>, You, Arc<Zone>);

struct Shared {
    store: Mutex<Store>,
    learning: Learning,
    tracking: Tracking,
    /// The room's zone, and how many records there were when it was read.
    zone: Mutex<(usize, Arc<Zone>)>,
    clock: Clock,
    staging: Staging,
    genes: Mutex<Kept>,
    learned: crate::learned::Kept,
}

/// What is worked out beside the pages.
pub(crate) struct Working(Learning, Tracking);

impl Working {
    /// Whether dates may be others in a moment.
    pub fn is_under_way(&self) -> bool {
        self.0.is_under_way() || self.1.is_under_way()
    }
}

/// The hour at which a new day begins for whoever still works through the night.
const SMALL_HOURS: i32 = 6;

/// The colony as of one moment, and what the clock says.
pub struct View {
    /// The state.
    pub colony: Arc<Colony>,
    /// The day it stands at.
    pub day: Day,
    /// The day asked for, where one was.
    pub on: Option<Day>,
    /// The day the clock shows; before six in the morning still the evening before.
    pub today: Day,
    /// The day of the newest dated record, whatever day was asked for.
    pub newest: Option<Day>,
    /// The hour of the clock, 0..=23.
    pub hour: u8,
    /// Who looks.
    pub you: You,
    /// Whether the room is made up and stands on a day of its own.
    pub is_made_up: bool,
    /// What may be being worked out beside the pages.
    pub(crate) working: Working,
}

impl Site {
    /// Takes the journal, opened to write, and the clock.
    ///
    /// # Errors
    /// [`StoreError::NoZone`].
    pub fn new(store: Store, clock: Clock) -> Result<Self, StoreError> {
        let zone = Arc::new(store.zone()?);
        let at = store.records().len();
        let store = Mutex::new(store);
        let shared = Shared {
            store,
            learning: Learning::new(),
            tracking: Tracking::new(),
            zone: Mutex::new((at, Arc::clone(&zone))),
            clock,
            staging: Staging::default(),
            genes: Mutex::new(Kept::new()),
            learned: crate::learned::Kept::default(),
        };
        let site = Self(Arc::new(shared), You::default(), zone);
        // By the time somebody has opened a page it is most often done.
        if let Ok(view) = site.look(None) {
            drop(site.forecasts(&view.colony));
        }
        Ok(site)
    }

    /// A page that fell over while it held the journal has not harmed it: appends are whole.
    fn store(&self) -> MutexGuard<'_, Store> {
        self.0.store.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    /// Does several things with the journal at once, so that nobody writes between them.
    pub(crate) fn with_store<T>(&self, act: impl FnOnce(&mut Store) -> T) -> T {
        act(&mut self.store())
    }

    /// Files that were sent but not written.
    pub(crate) fn staging(&self) -> &Staging {
        &self.0.staging
    }

    pub(crate) fn announce(&self, address: &str) -> Result<(), StoreError> {
        self.store().announce(address)
    }

    /// The same, asked by that person.
    pub(crate) fn asked_by(&self, you: You) -> Self {
        Self(Arc::clone(&self.0), you, self.zone_now())
    }

    /// The zone as the records have it by now; for the length of one request it stays.
    fn zone_now(&self) -> Arc<Zone> {
        let store = self.store();
        let mut known = self.0.zone.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let at = store.records().len();
        if known.0 != at {
            let zone = store.zone().map_or_else(|_| Arc::clone(&known.1), Arc::new);
            *known = (at, zone);
        }
        Arc::clone(&known.1)
    }

    /// Who asks.
    pub(crate) const fn you(&self) -> &You {
        &self.1
    }

    /// What forecasts go by: what is known by now of the room's own history.
    pub(crate) fn forecasts(&self, colony: &Arc<Colony>) -> Arc<RoomForecasts> {
        let widening = self.0.tracking.widening(colony);
        Arc::new(RoomForecasts { widening, ..self.0.learning.forecasts(colony) })
    }

    /// How well earlier forecasts held.
    pub(crate) fn tracking(&self) -> &Tracking {
        &self.0.tracking
    }

    /// Who carries what a plan asks for, by all records.
    pub(crate) fn carrying<'a>(&'a self, colony: &'a Arc<Colony>) -> Carrying<'a> {
        Carrying::by(colony, move || self.genes(colony))
    }

    pub(crate) fn zone(&self) -> &Zone {
        &self.2
    }

    /// The clock's time; in a made-up room the evening it stands on.
    pub(crate) fn now(&self) -> Instant {
        let store = self.store();
        if store.made_up_day().is_some() { store.now(self.zone()) } else { (self.0.clock)() }
    }

    /// Moves a made-up room from one day to another; does nothing where it stands elsewhere by
    /// now, so that a press twice is one step.
    pub(crate) fn step(&self, from: Day, to: Day) -> Result<(), Failure> {
        let mut store = self.store();
        match store.made_up_day() {
            None => Err(Failure::typed(
                "This room is a real one and goes by the clock; nothing was changed.",
                "To look at another evening, add ?on=2026-02-10 to the address of a page.",
            )),
            Some(day) if day == from => Ok(store.stand_on(to)?),
            Some(_) => Ok(()),
        }
    }

    /// The colony on the evening of the day asked for, or now.
    pub(crate) fn look(&self, on: Option<Day>) -> Result<View, Failure> {
        let zone = self.zone();
        let now = self.now();
        let hour: u8 = zone.clock(now).get(..2).and_then(|h| h.parse().ok()).unwrap_or(12);
        let calendar = zone.day_of(now);
        let today = if i32::from(hour) < SMALL_HOURS { calendar - 1 } else { calendar };
        let day = on.unwrap_or(today);
        let evening = zone.at_hour(day, 18);
        let until = if on.is_some_and(|on| on != today) { evening } else { evening.max(now) };
        let store = self.store();
        let is_made_up = store.made_up_day().is_some();
        let standing = store.standing();
        let newest = standing.iter().filter_map(|live| live.when.day(zone)).max();
        let colony = store.colony(AsOf { day, until, known_on: None })?;
        let you = self.1.clone();
        let working = Working(self.0.learning.clone(), self.0.tracking.clone());
        Ok(View { colony, day, on, today, newest, hour, you, is_made_up, working })
    }

    /// What every animal of a colony carries, by all records.
    #[must_use]
    pub fn genes(&self, colony: &Arc<Colony>) -> Arc<GeneChances> {
        self.kept_genes().of(colony)
    }

    /// What the records say.
    pub(crate) fn learned(&self, colony: &Colony) -> Arc<answers::Learned> {
        self.0.learned.of(self.standing(colony), colony)
    }

    pub(crate) fn gene_clashes(&self, colony: &Colony) -> Arc<Vec<GeneClash>> {
        let standing = self.standing(colony);
        self.kept_genes().clashes_of(colony, standing)
    }

    /// Animals named in records about genes that cannot all be true. In a large colony only what
    /// the Desk has worked out: a list must not wait for it.
    pub(crate) fn in_clash(&self, colony: &Colony) -> HashSet<usize> {
        /// Our own choice: up to here it is worked out in passing.
        const MOST_ANIMALS: usize = 1000;
        let standing = self.standing(colony);
        let known = self.kept_genes().clashes_known(standing);
        let is_small = colony.animals.len() <= MOST_ANIMALS;
        let clashes = known.or_else(|| is_small.then(|| self.gene_clashes(colony)));
        let members = clashes.iter().flat_map(|all| all.iter()).flat_map(|c| &c.members);
        members.flat_map(Blamed::animals).collect()
    }

    fn standing(&self, colony: &Colony) -> Standing {
        let head = self.store().records().len();
        Standing(u64::try_from(head).unwrap_or(u64::MAX), colony.as_of.day, colony.records.len())
    }

    fn kept_genes(&self) -> MutexGuard<'_, Kept> {
        self.0.genes.lock().unwrap_or_else(|fallen| {
            // Half of an answer may be written down: begin anew.
            let mut kept = fallen.into_inner();
            *kept = Kept::new();
            self.0.genes.clear_poison();
            kept
        })
    }

    pub(crate) fn sire(&self, colony: &Colony, clutch: usize) -> Option<SireAnswer> {
        self.kept_genes().sire(colony, clutch)
    }

    /// What would be known if something were not written; the answer of the colony stays at hand.
    pub(crate) fn genes_supposing(&self, colony: &Colony) -> GeneChances {
        self.kept_genes().supposing(colony)
    }

    pub(crate) fn tonight(&self, view: &View) -> Tonight {
        let measures = view.you.measures;
        let mass = |mass| measures.mass(mass);
        let carrying = self.carrying(&view.colony);
        let carries = |animal: &Animal, wanted: &str| carrying.chance(animal, wanted);
        let asking = Asking { fresh: false, carries: &carries, mass: &mass };
        answers::tonight(&view.colony, &self.forecasts(&view.colony), &asking)
    }

    /// The records of that id or batch as first written, and whether they still stand.
    pub(crate) fn written(&self, id: RecordId) -> (Vec<Draft>, bool) {
        let store = self.store();
        let is_meant = |d: &Draft| d.id == id || d.batch == Some(BatchId(id));
        let drafts: Vec<Draft> =
            store.records().iter().map(|r| &r.draft).filter(|d| is_meant(d)).cloned().collect();
        let standing = store.standing();
        let corrects = |l: &Live| drafts.iter().any(|d| l.corrected_by == Some(d.id));
        let speaks = |l: &Live| l.id == id || l.batch == Some(BatchId(id)) || corrects(l);
        // A batch that only withdraws stands while what it withdrew does not.
        let withdraws = |d: &Draft| {
            matches!(&d.fact, Fact::Retracted(Retracted { what: Target::Record(gone), .. })
                if d.batch.is_some() && standing.iter().all(|l| l.id != *gone))
        };
        let stands = standing.iter().any(speaks) || drafts.iter().any(withdraws);
        (drafts, stands)
    }

    /// Records withdrawn one by one, with the retraction in force, newest first.
    pub(crate) fn withdrawn(&self) -> Vec<(Draft, RecordId)> {
        let store = self.store();
        let records = store.records();
        let mut undone: HashSet<RecordId> = HashSet::new();
        let mut found = Vec::new();
        for record in records.iter().rev() {
            let Fact::Retracted(retraction) = &record.draft.fact else { continue };
            if undone.contains(&record.id()) {
                continue;
            }
            if let Target::Record(id) = retraction.what {
                undone.insert(id);
                found.push((id, record.id()));
            }
        }
        // One pass for all of them: every page of an animal asks this of the whole journal.
        let meant = records.iter().map(|r| &r.draft).filter(|d| undone.contains(&d.id));
        let meant: HashMap<RecordId, &Draft> = meant.map(|draft| (draft.id, draft)).collect();
        let of = |(id, retraction)| Some(((*meant.get(&id)?).clone(), retraction));
        let is_told = |(draft, _): &(Draft, RecordId)| !matches!(draft.fact, Fact::Retracted(_));
        found.into_iter().filter_map(of).filter(is_told).collect()
    }

    /// Writes drafts; the same id saying the same is one record.
    pub(crate) fn append(&self, drafts: Vec<Draft>) -> Result<Appended, Failure> {
        let done = self.store().append(drafts)?;
        if done.refused.is_empty() { Ok(done) } else { Err(Failure::said_otherwise()) }
    }

    /// The day in the field `day`, on which something happened: none that is still to come.
    pub(crate) fn happened(&self, form: &Fields) -> Result<When, Failure> {
        let day = form.day("day")?;
        let today = self.zone().day_of(self.now());
        if day <= today {
            return Ok(When::Day(day));
        }
        Err(Failure::typed(
            format!("{} is still to come; nothing was written.", day.spoken_with_year()),
            "Choose the day on which it happened.",
        ))
    }

    /// A draft written now by this page.
    pub(crate) fn draft(&self, id: RecordId, when: When, fact: Fact) -> Draft {
        // Written at the moment the form was made, which its id carries: a form sent twice must
        // say the same twice.
        let made = made_at(id).filter(|_| self.store().made_up_day().is_none());
        let written = made.unwrap_or_else(|| self.now());
        let who = self.1.name.clone();
        Draft { id, when, written, who, batch: None, source: None, fact }
    }
}

/// The moment a version 7 id was made at; none for another version.
fn made_at(id: RecordId) -> Option<Instant> {
    let bytes = id.bytes();
    let milliseconds = bytes[..6].iter().fold(0i64, |sum, byte| sum << 8 | i64::from(*byte));
    (bytes[6] >> 4 == 7).then(|| Instant::from_seconds(milliseconds / 1000))
}

impl View {
    /// The night that begins on this day's evening.
    pub(crate) fn night(&self) -> Night {
        Night::beginning(self.day)
    }

    /// Code and name.
    pub(crate) fn called(&self, place: usize) -> String {
        answers::tonight::called(&self.colony.animals[place], self.day)
    }

    /// With whom it shares a tub tonight, and since which evening.
    pub(crate) fn company(&self, place: usize) -> Option<(usize, Day)> {
        let stays = &self.colony.stays;
        let own = self.colony.animals[place].stays.iter().rev().map(|at| &stays[*at]);
        let now = own.filter(|s| s.night == self.night()).find(|s| s.placed.is_some())?;
        let same = |s: &&records::Stay| s.placed == now.placed && s.female == now.female;
        let first = stays.iter().filter(same).map(|s| s.night.evening()).min()?;
        Some((if now.male == place { now.female } else { now.male }, first))
    }

    /// Pairs of last night of which nobody has said yet what was seen.
    pub(crate) fn unlooked(&self) -> usize {
        let before = Night::beginning(self.day - 1);
        let night = self.colony.stays.iter().filter(|s| s.night == before && s.placed.is_some());
        night.filter(|s| s.lock.is_none()).count()
    }

    /// Home tub; a dash where none was written.
    pub(crate) fn tub(&self, place: usize) -> String {
        let tub = self.colony.animals[place].tub_on(self.day);
        tub.map_or_else(|| "–".to_owned(), |tub| tub.as_str().to_owned())
    }

    /// Address of a page as of the same day, such as `/season`.
    pub(crate) fn link(&self, path: &str) -> String {
        match self.on {
            Some(on) if path.contains('?') => format!("{path}&on={on}"),
            Some(on) => format!("{path}?on={on}"),
            None => path.to_owned(),
        }
    }

    /// Address of an animal's page.
    pub(crate) fn animal_link(&self, place: usize) -> String {
        self.link(&format!("/animal/{}", self.animal_name(place)))
    }

    /// An animal as a part of an address.
    pub(crate) fn animal_name(&self, place: usize) -> String {
        let code = self.colony.code(place);
        // A code that two bear, or none could type, is reached by its id.
        let is_clear = self.colony.bearer(code, None) == records::colony::Bearer::One(place);
        if is_clear {
            crate::asking::in_address(code)
        } else {
            self.colony.animals[place].id.to_string()
        }
    }
}
