//! What must be asked, and what is offered.

use super::BUILTIN;
use crate::shorthand::read;

/// Text, the words asked about, a choice that must be offered ("" for none).
const ASKED: &[(&str, &str, &str)] = &[
    ("axanthic", "axanthic", "axanthic (line A)"),
    ("pastel het axanthic", "het axanthic", "het axanthic (line B)"),
    ("66% het axanthic", "66% het axanthic", "66% het axanthic (line A)"),
    ("leucistic", "leucistic", "blue-eyed leucistic"),
    ("snow", "snow", "albino axanthic (line A)"),
    ("bp", "bp", "black pastel"),
    ("?? pastel", "?? pastel", "no pastel"),
    ("possible pastel", "possible pastel", "pastel"),
    ("maybe pastel", "maybe pastel", "80% pastel"),
    ("pastel? enchi", "pastel?", "80% pastel"),
    ("pastel ?clown", "?clown", "possible het clown"),
    ("66% het pastel", "66% het pastel", "pastel"),
    ("66% het red axanthic", "66% het red axanthic", "het red axanthic"),
    ("pastle", "pastle", "pastel"),
    ("super pastle", "super pastle", "super pastel"),
    ("66% het clwon", "66% het clwon", "66% het clown"),
    ("yelow belly", "yelow belly", "yellow belly"),
    ("desrt ghost", "desrt ghost", "desert ghost"),
    ("orang dream enchi", "orang dream", "orange dream"),
    ("zebra", "zebra", ""),
    ("pastel zebra enchi", "zebra", ""),
    ("het", "het", ""),
    ("pastel 66%", "66%", ""),
    ("double het clown", "double het clown", ""),
    ("het clown and pied", "pied", "het clown het piebald"),
    ("het ivory", "het ivory", "yellow belly"),
    ("super ivory", "super ivory", "ivory"),
    ("het snow", "het snow", ""),
    ("pastel pastel", "pastel pastel", ""),
    ("pastel super pastel", "pastel super pastel", ""),
    ("ivory specter", "ivory specter", ""),
    ("lesser mojave phantom", "lesser mojave phantom", ""),
    ("albino het candy", "albino het candy", ""),
    ("het albino het candy", "het albino het candy", ""),
    ("50% het clown 66% het clown", "50% het clown 66% het clown", ""),
    ("pastel no pastel", "pastel no pastel", ""),
    ("normal pastel", "normal", ""),
    ("250% het clown", "250% het clown", "het clown"),
    ("1.0 0.1 pastel", "0.1", ""),
    ("pastel x enchi", "x", ""),
    ("pastel 42", "42", ""),
    ("%", "%", ""),
    ("<b>pastel</b>", "<", ""),
];

/// Until a question is answered, nothing is known of the genes it may mean.
#[test]
fn a_question_leaves_its_loci_open() {
    let open = |text: &str| {
        let loci = read(text, &BUILTIN).open_loci(&BUILTIN);
        loci.iter().map(|id| BUILTIN.locus(*id).unwrap().name().to_owned()).collect::<Vec<_>>()
    };
    let lines =
        ["axanthic (line A)", "axanthic (line B)", "axanthic (line C)", "black axanthic (line D)"];
    assert_eq!(open("pastel axanthic"), lines);
    assert_eq!(open("66% het axanthic"), lines);
    assert_eq!(open("lesser mojave phantom"), ["blue-eyed leucistic group"]);
    assert_eq!(open("pastle clown"), ["pastel"]);
    assert!(open("snow").contains(&"albino".to_owned()));
    assert!(open("pastel zebra").is_empty() && open("het clown").is_empty());
}

#[test]
fn doubtful_words_are_asked_about() {
    for (text, words, choice) in ASKED {
        let questions = read(text, &BUILTIN).questions;
        let question = questions.iter().find(|q| q.words == *words);
        let question = question.unwrap_or_else(|| panic!("{text}: {questions:?}"));
        if !choice.is_empty() {
            assert!(question.choices.iter().any(|c| c == choice), "{text}: {:?}", question.choices);
        }
        assert_eq!(&text[question.at.clone()], *words);
        assert!(!question.why.is_empty());
    }
}

/// A choice put in the place of the words must itself be understood.
#[test]
fn choices_are_answers() {
    for (text, ..) in ASKED {
        for question in read(text, &BUILTIN).questions {
            for choice in &question.choices {
                let answered = read(choice, &BUILTIN);
                let open = answered.questions.iter().filter(|q| q.words == question.words);
                assert_eq!(open.count(), 0, "{text}: {choice}");
            }
        }
    }
}

#[test]
fn what_is_understood_beside_a_question_is_kept() {
    let reading = read("pastel zebra het clown", &BUILTIN);
    assert_eq!(crate::shorthand::write(&reading.label, &BUILTIN), "pastel het clown");
    assert!(reading.settled().is_err());
}

/// A gene that is seen with some doubt is no question, and the label says nothing of it.
#[test]
fn how_sure_somebody_is_of_a_look() {
    let reading = read("80% pastel Enchi 66% het clown", &BUILTIN);
    assert_eq!(reading.questions, []);
    let pastel = BUILTIN.gene("pastel").unwrap();
    let chance = genetics::ClaimedChance::percent(80.0).unwrap();
    assert_eq!(reading.unsure, [(pastel, chance)]);
    assert_eq!(reading.label.statement(pastel.locus), None);
}
