//! The headings keepers write, by meaning. The trade's own words and their usual short forms
//! (common practice, no source). A phrase stands under one meaning only; what it means in a sheet
//! of a certain kind is decided afterwards.

use crate::meaning::Meaning::{self, *};

/// All known headings.
#[rustfmt::skip]
pub const VARIANTS: &[(Meaning, &[&str])] = &[
    (Animal, &[
        "id", "animal", "animal id", "snake", "snake id", "code", "animal code", "tag", "tag id",
        "tag number", "ID #", "id no", "ident", "identifier", "identity", "label", "animal number",
        "snake number", "specimen", "individual", "id code", "reference", "ref", "stock number",
        "collection number", "tier",
    ]),
    (Name, &["name", "animal name", "snake name", "pet name", "nickname", "called", "call name"]),
    (Sex, &[
        "sex", "gender", "m/f", "f/m", "male/female", "sexed", "sex told", "geschlecht", "1.0/0.1",
    ]),
    (Hatched, &[
        "hatch date", "hatched", "hatch", "hatch day", "date hatched", "dob", "d.o.b.", "born",
        "birth date", "birthday", "date of birth", "birthdate", "hatchdate", "hatch dt", "born on",
        "hatching date", "hd",
    ]),
    (Genes, &[
        "genetics", "genes", "morph", "gene", "genotype", "genetic", "mutation", "mutations",
        "genetic makeup", "morph/genetics", "genetics/morph", "morph name", "geno", "traits",
        "trait", "gen", "hets", "morphs and hets", "variety",
    ]),
    (Sire, &["sire", "father", "sire id", "dad", "sired by", "sire code", "father id", "bull"]),
    (Dam, &["dam", "mother", "dam id", "mum", "mom", "dam code", "mother id"]),
    (Weight, &[
        "weight", "g", "grams", "gram", "weight g", "wt", "wgt", "weight in grams", "mass",
        "body weight", "body mass", "bw", "weighed", "weigh in", "gewicht", "kg", "oz",
        "weight kg", "scale", "weight today", "hatch weight", "birth weight", "hatchling weight",
    ]),
    (Weighed, &[
        "weighed on", "weight date", "date weighed", "weigh date", "weighing date", "last weighed",
    ]),
    (Tub, &[
        "tub", "enclosure", "cage", "bin", "tank", "viv", "vivarium", "location", "home tub",
        "tub number", "rack/tub", "rack tub", "position", "slot", "housing", "terrarium", "place",
        "tub id", "box", "drawer",
    ]),
    (Rack, &["rack", "rack number", "rack id", "shelf"]),
    (Notes, &[
        "notes", "note", "comments", "comment", "remarks", "remark", "memo", "info", "details",
        "observations", "misc", "other notes", "anything else", "description", "bemerkung",
    ]),
    (Left, &["left", "status", "disposition", "gone", "how left", "left how", "state", "fate"]),
    (LeftOn, &[
        "left on", "date left", "sold on", "sale date", "date sold", "died on", "date of death",
        "death date", "date gone",
    ]),
    (LeftTo, &["left to", "sold to", "buyer", "new owner", "went to"]),
    (Retag, &["re-tagged", "re-tagged to", "new code", "new id", "new tag", "retag", "became"]),
    (RetagOn, &["re-tagged on", "re-tag date", "retagged on", "retag date"]),
    (WasCode, &[
        "earlier code", "old code", "old id", "old tag", "previous id", "former id",
        "previous code", "formerly",
    ]),
    (WasUntil, &["earlier code until", "old code until"]),
    (Date, &[
        "date", "day", "when done", "event date", "entry date", "datum", "date recorded",
        "recorded", "dt", "on", "record date", "feed date", "feeding date", "date fed",
        "scan date", "check date", "date checked", "date scanned", "ultrasound date", "paired on",
        "timestamp", "time stamp", "date time", "datetime", "date and time", "date/time",
        "date paired", "pair date", "date introduced", "fed on",
    ]),
    (Night, &["night", "night of", "evening", "night beginning", "nights"]),
    (Prey, &[
        "prey", "food", "feeder", "prey type", "food type", "prey item", "meal", "fed",
        "food item", "feeder type", "offered", "item", "feed", "rodent", "what", "type",
        "food offered", "futter", "prey species", "diet",
    ]),
    (PreySize, &["prey size", "feeder size", "food size", "rat size", "mouse size", "meal size"]),
    (Count, &[
        "qty", "quantity", "count", "how many", "number", "no", "amount", "qty.", "pcs", "pieces",
        "number offered", "quantity fed", "num", "number fed", "anzahl",
    ]),
    (Taken, &[
        "ate", "taken", "eaten", "result", "accepted", "took", "ate?", "took it", "outcome",
        "response", "eat", "eats", "accepted?", "consumed", "feeding response", "ate y/n",
        "eaten y/n", "took food", "did eat",
    ]),
    (Refused, &["refused", "refused?", "rejected", "refusal", "not eaten", "left food"]),
    (How, &[
        "how", "method", "how checked", "scan/felt", "check type", "technique", "palp/scan",
        "scan or palp", "scanned or felt", "check method", "exam", "mode", "via",
        "by hand or scan", "felt/scan",
    ]),
    (Size, &[
        "size", "follicle", "follicle size", "size mm", "mm", "follicles", "foll", "foll size",
        "follicle mm", "diameter", "follicle diameter", "scan", "scan mm", "ultrasound", "us mm",
        "largest follicle", "cm", "biggest follicle", "us", "finding", "findings", "found",
        "measurement", "scan result", "foll mm", "fol", "fol size", "ova", "ova size", "mm size",
    ]),
    (Felt, &[
        "felt", "palpation", "palpated", "palp", "felt size", "by feel", "felt like",
        "palpation result", "feels like",
    ]),
    (Male, &[
        "male", "male id", "m", "boy", "1.0", "male used", "male code", "breeder male", "males",
        "stud",
    ]),
    (Female, &[
        "female", "female id", "f", "girl", "0.1", "female code", "breeder female", "females",
    ]),
    (Pair, &[
        "pair", "pairing", "male x female", "pairings", "couple", "m x f", "breeding pair",
        "breeding", "together",
    ]),
    (Lock, &[
        "lock", "locked", "locks", "locked up", "lock?", "lock seen", "copulation", "locked y/n",
        "cop", "copulated", "mated", "mating", "lock observed", "locked?", "seen locked",
        "mating seen", "coupled",
    ]),
    (Ovulation, &[
        "ovulation", "ovulated", "ov", "ovulation date", "ovul", "ovulated on", "date ovulated",
        "ovi", "ovy",
    ]),
    (PrelayShed, &[
        "pre-lay shed", "prelay shed", "pre lay", "pls", "prelay", "pre lay shed date",
        "pre-ovi shed", "post ovulation shed", "pos", "pre egg shed", "shed before laying",
        "po shed",
    ]),
    (Laid, &[
        "laid", "lay date", "date laid", "laid on", "lay", "oviposition", "egg date",
        "laying date", "laying", "clutch date", "eggs laid on", "dropped", "lay day",
    ]),
    (Eggs, &[
        "eggs", "egg", "egg count", "number of eggs", "eggs laid", "clutch size", "total eggs",
        "good eggs", "no of eggs", "number eggs", "# eggs", "egg total", "eggs total",
    ]),
    (Slugs, &[
        "slugs", "slug", "slug count", "infertile", "infertile eggs", "bad eggs", "duds",
        "number of slugs", "slugs laid", "# slugs",
    ]),
    (HatchedOn, &[
        "hatched on", "clutch hatched", "hatch out", "hatched out", "pipped", "pip date",
        "date of hatching", "hatched date clutch", "first pip",
    ]),
    (Hatchlings, &[
        "number hatched", "hatchlings", "babies", "number of hatchlings", "hatch count",
        "live hatchlings", "live babies", "how many hatched", "# hatched", "young",
        "hatchling count", "offspring",
    ]),
    (Clutch, &[
        "clutch", "clutch id", "clutch number", "clutch code", "clutch no", "clutch name",
        "from clutch",
    ]),
    (ClutchMass, &[
        "clutch weight", "clutch mass", "egg weight", "egg mass", "total egg weight", "clutch wt",
    ]),
    (EggsKept, &["eggs kept", "eggs with", "incubation", "incubated", "where incubated"]),
    (Hatchling, &[
        "hatchling id", "baby id", "hatchling code", "baby", "hatchling number", "neonate id",
        "neonate", "baby number",
    ]),
    (Look, &[
        "looks like", "look", "looks", "phenotype", "visual", "appearance", "visuals",
        "visual morph", "seen as", "visible", "pheno", "visual genes",
    ]),
    (Kept, &[
        "kept", "kept as", "holdback", "held back", "keeper", "keep", "hold back", "hb",
        "retained", "holding back", "kept back",
    ]),
    (Choice, &[
        "choice", "priority", "first or second choice", "option", "preference", "rank",
        "1st/2nd choice",
    ]),
    (PlanWeight, &["plan weight", "importance", "how much wanted", "worth", "wanted"]),
    (Gene, &[
        "gene wanted", "must carry", "carrying", "gene needed", "male must carry", "wanted gene",
    ]),
    (MaleOrGene, &[
        "male or gene", "male/gene", "planned male", "male planned", "plan", "planned",
        "pair with", "pair to", "partner", "to be paired with",
    ]),
    (Time, &["time", "time of day", "clock", "hour", "uhrzeit", "local time"]),
    (Place, &[
        "probe", "sensor", "sensor name", "incubator", "room", "where", "device", "device name",
        "logger", "logger name", "thermometer", "spot", "zone", "where read", "channel",
    ]),
    (Temperature, &[
        "temperature", "temp", "temperatures", "temps", "temperature c", "temperature f", "temp c",
        "temp f", "celsius", "fahrenheit", "degrees", "degrees c", "degrees f", "deg c", "deg f",
        "temperatur", "air temperature", "reading temperature", "temp reading",
    ]),
    (ReadOrSet, &["read or set", "set or read", "measured or set", "kind of reading"]),
    (Humidity, &[
        "humidity", "relative humidity", "rh", "humidity %", "hum", "humid", "rel humidity",
        "luftfeuchte", "humidity rh",
    ]),
    (Fact, &["fact", "kind of fact", "what happened"]),
    (When, &["when"]),
    (Other, &["other", "other animal"]),
    (Value, &["value"]),
    (Record, &["record", "record id", "records", "record ids"]),
    (Ignored, &[
        "row", "row number", "line", "total", "sum", "average", "avg", "mean", "totals", "change",
        "gain", "difference", "diff", "days since", "age",
    ]),
];
