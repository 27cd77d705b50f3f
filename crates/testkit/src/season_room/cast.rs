//! Who is in the room when the records begin, and how a newcomer is written down.

use units::Day;

use super::diary::{Key, Newcomer, What};
use super::genes::{self, Claims, Genotype};
use super::growth;
use super::world::{Animal, World, date};

/// Names of the animals; plants, stones, tools and weather, nobody's.
const FEMALES: [&str; 38] = [
    "Bramble", "Quill", "Juniper", "Tansy", "Sorrel", "Umber", "Thistle", "Marl", "Saffron",
    "Teasel", "Pebble", "Yarrow", "Drift", "Bracken", "Ochre", "Plover", "Madder", "Sleet",
    "Cinder", "Medlar", "Willet", "Damson", "Flint", "Clover", "Russet", "Lichen", "Hazel",
    "Gorse", "Brine", "Mallow", "Tinder", "Sedge", "Chalk", "Privet", "Larch", "Comfrey", "Slate",
    "Nettle",
];
const MALES: [&str; 9] =
    ["Bodkin", "Garnet", "Thorn", "Mortar", "Anvil", "Rook", "Cobble", "Tamarack", "Burr"];

/// Weekday-free hour at which the list was typed in.
const TYPING_FROM: i32 = 9 * 60;

/// The first animals, their weights, the season that had begun, and the room's settings.
pub(super) fn enter(world: &mut World) {
    let value = super::ZONE.to_owned();
    let first = world.today;
    world.diary.push(
        super::diary::Happened::Undated,
        super::diary::Moment { day: first, minute: TYPING_FROM - 5 },
        What::Set { name: "zone", value },
    );
    let text = "Barn room: five racks for adults, one for young. Records begin; what came before is \
                on paper.";
    world.diary.on(first, TYPING_FROM - 3, What::Noted { animal: None, text: text.to_owned() });
    for (n, name) in FEMALES.iter().enumerate() {
        let tub = format!("R{}-{:02}", n / 10 + 1, n % 10 + 1);
        founder(world, format!("F{:02}", n + 1), Some(name), false, tub);
    }
    for (n, name) in MALES.iter().enumerate() {
        founder(world, format!("M{:02}", n + 1), Some(name), true, format!("R5-{:02}", n + 1));
    }
    growth::before_records(world);
}

fn founder(world: &mut World, code: String, name: Option<&'static str>, male: bool, tub: String) {
    let hatched = date(2015 + i16::try_from(world.dice.cast.whole(0, 4)).unwrap_or(0), 6, 1)
        + world.dice.cast.whole(0, 120);
    let mass = if male {
        world.dice.cast.between(720.0, 1120.0)
    } else {
        world.dice.cast.between(1780.0, 2750.0)
    };
    let (genes, claims) = genes::founder(&mut world.dice.genes);
    let stock = Stock { code, name, male, hatched, mass, genes, claims, tub };
    let minute = TYPING_FROM + i32::try_from(world.animals.len()).unwrap_or(0);
    buy(world, stock, hatched, minute);
}

/// A grown animal as it comes.
pub(super) struct Stock {
    pub code: String,
    pub name: Option<&'static str>,
    pub male: bool,
    pub hatched: Day,
    pub mass: f64,
    pub genes: Genotype,
    pub claims: Claims,
    pub tub: String,
}

/// Writes a grown animal down as of `happened` and weighs it.
pub(super) fn buy(world: &mut World, stock: Stock, happened: Day, minute: i32) -> Key {
    let key = world.animals.len();
    let zeal = world.dice.cast.between(0.25, 0.55);
    let newcomer = Newcomer {
        animal: key,
        code: stock.code.clone(),
        name: stock.name,
        male: Some(stock.male),
        hatched: stock.hatched,
        genes: genes::label(&stock.genes, &stock.claims),
        sire: None,
        dam: None,
        clutch: None,
        tub: stock.tub.clone(),
    };
    let written = super::diary::Moment { day: world.today, minute };
    let added = What::Added(Box::new(newcomer));
    world.diary.push(super::diary::Happened::On(happened), written, added);
    world.animals.push(Animal {
        code: stock.code,
        male: stock.male,
        hatched: stock.hatched,
        gone: false,
        genes: stock.genes,
        claims: stock.claims,
        sire: None,
        dam: None,
        tub: stock.tub,
        mass: stock.mass,
        target: stock.mass,
        growing: false,
        refusals: 0,
        last_meal: None,
        written_mass: 0,
        weighed_on: None,
        quarantine: false,
        treatment: false,
        sheds_on: None,
        zeal,
        nights: Vec::new(),
        planned: Vec::new(),
        cycle: None,
        leaves_on: None,
        followed: true,
    });
    super::weights::weigh(world, key, minute + 90);
    key
}
