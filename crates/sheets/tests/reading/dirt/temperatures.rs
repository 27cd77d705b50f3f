//! Temperatures of places: times, degrees, places of several words, what a logger writes beside.

use super::is;
use crate::told::told;

#[test]
fn temperatures_with_times_and_degrees() {
    is(&[
        (
            "°C by heading",
            "Date,Place,Temp (°C)\n2026-02-09,incubator 1,31.2\n",
            "2 2026-02-09 _ incubator 1 measured 31.2 °C _",
        ),
        (
            "°F by heading, time, humidity, set",
            "Date,Time,Where,Temperature °F,RH %,Read or set\n\
             2026-02-09,08:30,incubator 1,88.16,85.4,read\n\
             2026-02-09,,incubator 1,87.8,,set\n",
            "2 2026-02-09 08:30 incubator 1 measured 31.2 °C 85\n\
             3 2026-02-09 _ incubator 1 set 31 °C _",
        ),
        (
            "degrees by cell",
            "Day,Location,Temp\n2026-02-09,box,\"31,2 °C\"\n2026-02-09,box,88.16F\n",
            "2 2026-02-09 _ box measured 31.2 °C _\n3 2026-02-09 _ box measured 31.2 °C _",
        ),
        (
            "degrees by the whole column",
            "Date,Place,Temp\n2026-02-09,box,88.16\n2026-02-08,box,86\n",
            "2 2026-02-09 _ box measured 31.2 °C _\n3 2026-02-08 _ box measured 30 °C _",
        ),
        (
            "a hot spot by its tub",
            "Date,Rack,Spot,°C\n2026-02-09,R1,hot spot,32\n",
            "2 2026-02-09 _ hot spot R1 measured 32 °C _",
        ),
        (
            "a logger",
            "No.,Timestamp,Device,Temp(°C),Humidity(%),Battery\n\
             1,2026-02-09 08:30:15,box,31.23,84.6,97\n\
             2,2026-02-09T08:40:00Z,box,31.31,84.7,97\n",
            "2 2026-02-09 08:30:15 box measured 31.23 °C 85\n\
             3 2026-02-09 08:40Z box measured 31.31 °C 85",
        ),
        (
            "time alone holds the moment",
            "Time,Sensor,°C\n2026-02-09 08:30,box,31.2\n",
            "2 2026-02-09 08:30 box measured 31.2 °C _",
        ),
    ]);
    assert!(told("Date,Place,°C\n2026-02-09,box,31\n").starts_with("temperatures"));
    // Beside an animal it is a note, as it was.
    let told = told("Date,Animal,g,Temp\n2026-02-09,F03,1731,31\n");
    assert!(told.starts_with("weights") && told.contains("note <Temp: 31>"), "{told}");
}

#[test]
fn bad_temperatures_are_held_with_what_to_write() {
    let says = |body: &str, words: &str| {
        let told = told(&format!("Date,Time,Place,Temp,RH,Read or set\n{body}\n"));
        assert!(told.contains(words), "{body}: {told}");
    };
    let filler = "2026-02-08,,box,31,,\n2026-02-08,,box,30,,\n2026-02-08,,box,32,,\n";
    let filler = filler.repeat(4);
    for (row, words) in [
        ("2026-02-09,,box,88,,", "88 °C is no possible temperature of a room"),
        ("2026-02-09,,box,88,,", "If it is °F, write that behind it"),
        ("2026-02-09,,box,hot,,", "\"hot\" is no temperature"),
        ("2026-02-09,25:00,box,31,,", "\"25:00\" is no time of day: write it like 08:30."),
        ("2026-02-09,,,31,,", "There is no place in this row"),
        ("2026-02-09,,box,,,", "There is no temperature in this row"),
        ("2026-02-09,,box,31,150,", "is no relative humidity"),
        ("2026-02-09,,box,31,,perhaps", "is neither read nor set"),
        ("2026-02-29,,box,31,,", "on no calendar"),
    ] {
        says(&format!("{filler}{row}"), words);
    }
    let either = told("Date,Place,Temp\n2026-02-09,box,31.2\n2026-02-09,box,88.2\n");
    assert!(either.contains("can be °C or °F"), "{either}");
    let nowhere = told("Date,°C\n2026-02-09,31.2\n");
    assert!(nowhere.contains("recognised as place"), "{nowhere}");
}
