//! A sheet in the making: each touch alters its text, and what is usual follows.

use crate::answers::{AS_USUAL, UNKNOWN, questions, set_asked};
use crate::bare::strike_like;
use crate::follows::follows;
use crate::moved::moved;
use crate::pace::{MeasuredPace, set_pace};
use crate::pattern::Beside;
use crate::places::{AS_LIKE, LISTS, LOST, listed, places, set_listed, unlist};
use crate::proportions::{derive, mark_all, usual_keys};
use crate::role::StrikeWork;
use crate::tell::{as_usual, mark, measured, tell, usual_lifters};
use crate::works::works;
use crate::{
    AskedFor, AskedQuestion, CountPlace, CountState, DescribeFault, Follow, Kind, MeasuredWidth,
    PlaceId, QuestionAnswer, WorkRole,
};
use movement::{FlawKind, ToothForm};
use sheet::edit::{CountWritten, SheetText, SheetValue, TableAt};
use sheet::{SheetFaultKind, SheetTable};

const STRIKE: TableAt = TableAt::One(SheetTable::Strike);
/// The key of the sheet that names the like clock that it was begun from.
const LIKE: &str = "like";

/// A sheet's text being made or altered. A touch that is refused changes nothing.
#[derive(Debug, Clone)]
pub struct Described {
    text: SheetText,
    kind: Option<&'static Kind>,
}

impl Described {
    /// Begins a sheet of a kind: every part is there that usually is, none is counted, and all is as usual but for `answers`.
    ///
    /// # Errors
    /// No such kind, or an answer that its question does not take.
    pub fn begin(
        kind: &str,
        name: &str,
        answers: &[(&str, QuestionAnswer)],
    ) -> Result<Described, DescribeFault> {
        let kind = Kind::find(kind)?;
        let mut text = SheetText::new(kind.pattern())?;
        text.set(
            &TableAt::One(SheetTable::Sheet),
            "name",
            &SheetValue::Text(name.to_owned()),
        )?;
        text.set(&STRIKE, "kind", &SheetValue::Text(kind.id.clone()))?;
        mark_all(&mut text, kind)?;
        for question in &kind.questions {
            as_usual(&mut text, kind, question, false)?;
        }
        for arbor in text.arbors() {
            for part in text.parts(&arbor) {
                text.set_count(&arbor, &part, CountWritten::Blank)?;
            }
        }
        let mut begun = Described {
            text,
            kind: Some(kind),
        };
        begun.derive()?;
        for (question, answer) in answers {
            begun.answer(question, answer)?;
        }
        Ok(begun)
    }

    /// Begins a sheet of a train that fits no kind: one arbor with a wheel, and nothing else.
    ///
    /// # Errors
    /// The arbor's name or the wheel's is none.
    pub fn bare(name: &str, first: &PlaceId) -> Result<Described, DescribeFault> {
        let mut text = SheetText::new("sheet = 1\n")?;
        let sheet = TableAt::One(SheetTable::Sheet);
        text.set(&sheet, "name", &SheetValue::Text(name.to_owned()))?;
        text.set(&sheet, "seen_from", &SheetValue::Text("back".to_owned()))?;
        text.add_arbor(&first.arbor)?;
        text.add_part(&first.arbor, &first.part, CountWritten::Blank)?;
        let at = TableAt::Arbor(first.arbor.clone());
        text.set(&at, "runs", &SheetValue::Text("clockwise".to_owned()))?;
        Ok(Described { text, kind: None })
    }

    /// Tells a bare train to strike like a kind: what that kind has is laid upon the arbors that there are, and its questions ask where
    /// each thing really is.
    ///
    /// # Errors
    /// No such kind; it is of a kind already; or it does not go upon these arbors.
    pub fn strike_like(&mut self, kind: &str) -> Result<(), DescribeFault> {
        let like = Kind::find(kind)?;
        if self.kind.is_some() || !like.is_of_one_train() {
            let got = kind.to_owned();
            return Err(DescribeFault::NoKind { got });
        }
        self.kind = Some(like);
        let laid = self.touch(|text| strike_like(text, like));
        if laid.is_err() {
            self.kind = None;
        }
        laid
    }

    /// Reads any sheet's text; of what kind it is stands in it, or it is of none.
    ///
    /// # Errors
    /// It cannot be taken apart, or it is of a kind that there is not.
    pub fn read(text: &str) -> Result<Described, DescribeFault> {
        let text = SheetText::new(text)?;
        let kind = match text.get(&STRIKE, "kind") {
            Some(kind) => Some(Kind::find(kind.text().unwrap_or_default())?),
            None => None,
        };
        Ok(Described { text, kind })
    }

    /// The text as it stands now.
    pub fn text(&self) -> String {
        self.text.text()
    }

    /// The kind it is of.
    pub fn kind(&self) -> Option<&'static Kind> {
        self.kind
    }

    /// What each track, pin and lever is.
    pub fn works(&self) -> Vec<StrikeWork> {
        works(&self.text)
    }

    /// What is to be counted, from the great wheel up.
    pub fn places(&self) -> Vec<CountPlace> {
        let beside = self.kind.and_then(|kind| Beside::of(&self.text, kind));
        places(&self.text, &|part| beside.as_ref()?.usual(part))
    }

    /// The same, without what is usual: sooner told.
    pub fn counts(&self) -> Vec<CountPlace> {
        places(&self.text, &|_| None)
    }

    /// The questions of its kind that make sense as it stands, each with its present answer; none where it has no kind.
    pub fn questions(&self) -> Vec<AskedQuestion> {
        self.kind
            .map_or_else(Vec::new, |kind| questions(&self.text, kind))
    }

    /// What follows from the counts so far.
    pub fn follows(&self) -> Vec<Follow> {
        self.kind
            .map_or_else(Vec::new, |kind| follows(&self.text, kind))
    }

    /// Alters the text, then works out anew what is usual; where either is refused, all stands as it stood.
    fn touch(
        &mut self,
        alter: impl FnOnce(&mut SheetText) -> Result<(), DescribeFault>,
    ) -> Result<(), DescribeFault> {
        let before = self.text.clone();
        let altered = alter(&mut self.text).and_then(|()| self.derive());
        if altered.is_err() {
            self.text = before;
        }
        altered
    }

    fn derive(&mut self) -> Result<(), DescribeFault> {
        match self.kind {
            Some(kind) => {
                usual_lifters(&mut self.text, kind)?;
                Ok(derive(&mut self.text, kind)?)
            }
            None => Ok(()),
        }
    }

    /// Any edit of the text for which there is no function here.
    ///
    /// # Errors
    /// The edit's own.
    pub fn edit(
        &mut self,
        alter: impl FnOnce(&mut SheetText) -> Result<(), sheet::edit::EditFault>,
    ) -> Result<(), DescribeFault> {
        self.touch(|text| Ok(alter(text)?))
    }

    /// Sets a key of a table; of what it says there nothing is usual any more.
    ///
    /// # Errors
    /// No such table, or no such key of it.
    pub fn set(
        &mut self,
        at: &TableAt,
        key: &str,
        value: &SheetValue,
    ) -> Result<(), DescribeFault> {
        self.touch(|text| {
            text.set(at, key, value)?;
            match usual_keys(text, at).iter().any(|usual| usual == key) {
                true => mark(text, at, key, false),
                false => Ok(()),
            }
        })
    }

    /// Puts down how a count stands.
    ///
    /// # Errors
    /// No such part.
    pub fn count(&mut self, place: &PlaceId, state: CountState) -> Result<(), DescribeFault> {
        let PlaceId { arbor, part } = place;
        let count = match state {
            CountState::NotCounted | CountState::Lost => CountWritten::Blank,
            CountState::Counted(teeth) => CountWritten::Known(teeth),
            CountState::NotSure(teeth) => CountWritten::Doubtful(teeth),
        };
        self.touch(|text| {
            text.set_count(arbor, part, count)?;
            set_listed(text, place, AS_LIKE, false)?;
            set_listed(text, place, LOST, state == CountState::Lost)
        })
    }

    /// The like clock that it was begun from, by its name.
    pub fn like(&self) -> Option<String> {
        let like = self.text.get(&TableAt::One(SheetTable::Sheet), LIKE)?;
        like.text().map(str::to_owned)
    }

    /// Every count that is there is that of a like clock of this name, and in doubt until it is counted on this one.
    ///
    /// # Errors
    /// The name is empty.
    pub fn begin_as_on(&mut self, like: &str) -> Result<(), DescribeFault> {
        let counts = self.counts();
        self.touch(|text| {
            let sheet = TableAt::One(SheetTable::Sheet);
            text.set(&sheet, LIKE, &SheetValue::Text(like.to_owned()))?;
            for CountPlace { id, state, .. } in &counts {
                if let CountState::Counted(teeth) | CountState::NotSure(teeth) = state {
                    text.set_count(&id.arbor, &id.part, CountWritten::Doubtful(*teeth))?;
                    set_listed(text, id, AS_LIKE, true)?;
                }
            }
            Ok(())
        })
    }

    /// Takes every count that is in doubt only as it is the like clock's for good, in one touch; that it was not counted here stays.
    ///
    /// # Errors
    /// The sheet that it would make is refused.
    pub fn take_as_on(&mut self) -> Result<(), DescribeFault> {
        let counts = self.counts();
        self.touch(|text| {
            for CountPlace { id, state, .. } in counts.iter().filter(|place| place.as_like) {
                if let CountState::NotSure(teeth) = state {
                    text.set_count(&id.arbor, &id.part, CountWritten::Known(*teeth))?;
                }
            }
            Ok(())
        })
    }

    /// Puts down how the teeth of a part are made.
    ///
    /// # Errors
    /// No such part.
    pub fn form(&mut self, place: &PlaceId, form: ToothForm) -> Result<(), DescribeFault> {
        self.touch(|text| Ok(text.set_form(&place.arbor, &place.part, form)?))
    }

    /// Answers a question.
    ///
    /// # Errors
    /// The kind asks no such question, it does not take such an answer, or that does not go with the others.
    pub fn answer(&mut self, question: &str, answer: &QuestionAnswer) -> Result<(), DescribeFault> {
        let none = || DescribeFault::NoQuestion {
            got: question.to_owned(),
        };
        let kind = self.kind.ok_or_else(none)?;
        let asked = kind.questions.iter().find(|asked| asked.id == question);
        let asked = asked.ok_or_else(none)?;
        let does_not_go = || DescribeFault::DoesNotGo {
            question: question.to_owned(),
        };
        self.touch(|text| {
            let named = !dangles(text);
            let how = match answer {
                QuestionAnswer::DontKnow => UNKNOWN,
                QuestionAnswer::Usual => AS_USUAL,
                QuestionAnswer::Choice(choice) => choice,
                _ => "told",
            };
            match answer {
                QuestionAnswer::DontKnow => as_usual(text, kind, asked, false)?,
                QuestionAnswer::Usual => as_usual(text, kind, asked, true)?,
                told => tell(text, kind, asked, told).map_err(|fault| match fault {
                    DescribeFault::NoWork(_) => does_not_go(),
                    other => other,
                })?,
            }
            // Of what was left out by another answer a choice may name a part.
            if named && dangles(text) {
                return Err(does_not_go());
            }
            Ok(set_asked(text, question, how)?)
        })
    }

    /// Writes how fast it strikes; where its kind asks for that, it is answered.
    ///
    /// # Errors
    /// The pace is none.
    pub fn pace(&mut self, pace: &MeasuredPace) -> Result<(), DescribeFault> {
        let mut questions = self.kind.into_iter().flat_map(|kind| &kind.questions);
        let asked = questions.find(|question| matches!(question.asks, AskedFor::Pace));
        if let Some(asked) = asked {
            return self.answer(&asked.id, &QuestionAnswer::Pace(*pace));
        }
        self.touch(|text| set_pace(text, pace))
    }

    /// Moves what is this onto another arbor, with the witnesses that are read at it.
    ///
    /// # Errors
    /// There is no such thing, or no such arbor.
    pub fn move_to(&mut self, role: WorkRole, arbor: &str) -> Result<(), DescribeFault> {
        self.touch(|text| moved(text, &[role], arbor))
    }

    /// Puts a measured width in the place of a usual one.
    ///
    /// # Errors
    /// There is no such thing, or the width is none.
    pub fn width(
        &mut self,
        of: WorkRole,
        key: &str,
        width: MeasuredWidth,
    ) -> Result<(), DescribeFault> {
        self.touch(|text| measured(text, of, key, &width))
    }

    /// Adds an arbor.
    ///
    /// # Errors
    /// The name is none, or taken.
    pub fn add_arbor(&mut self, name: &str) -> Result<(), DescribeFault> {
        self.touch(|text| Ok(text.add_arbor(name)?))
    }

    /// Takes an arbor away with its parts and their meshes.
    ///
    /// # Errors
    /// No such arbor, or something is on it.
    pub fn remove_arbor(&mut self, name: &str) -> Result<(), DescribeFault> {
        self.touch(|text| Ok(text.remove_arbor(name)?))
    }

    /// Gives an arbor another name.
    ///
    /// # Errors
    /// No such arbor; the other name is none, or taken.
    pub fn rename_arbor(&mut self, from: &str, to: &str) -> Result<(), DescribeFault> {
        self.touch(|text| Ok(text.rename_arbor(from, to)?))
    }

    /// Adds a part, not counted yet.
    ///
    /// # Errors
    /// No such arbor; the name is none, or taken.
    pub fn add_part(&mut self, place: &PlaceId) -> Result<(), DescribeFault> {
        self.touch(|text| Ok(text.add_part(&place.arbor, &place.part, CountWritten::Blank)?))
    }

    /// Takes a part away that meshes with nothing.
    ///
    /// # Errors
    /// No such part, or it meshes still.
    pub fn remove_part(&mut self, place: &PlaceId) -> Result<(), DescribeFault> {
        self.touch(|text| {
            unlist(text, place)?;
            Ok(text.remove_part(&place.arbor, &place.part)?)
        })
    }

    /// Gives a part another name on its arbor.
    ///
    /// # Errors
    /// No such part; the other name is none, or taken.
    pub fn rename_part(&mut self, place: &PlaceId, to: &str) -> Result<(), DescribeFault> {
        self.touch(|text| {
            let was_listed = LISTS.map(|key| listed(text, &place.arbor, key).contains(&place.part));
            unlist(text, place)?;
            text.rename_part(&place.arbor, &place.part, to)?;
            let renamed = PlaceId {
                arbor: place.arbor.clone(),
                part: to.to_owned(),
            };
            (LISTS.iter().zip(was_listed))
                .try_for_each(|(key, was)| set_listed(text, &renamed, key, was))
        })
    }

    /// Adds a mesh of two parts.
    ///
    /// # Errors
    /// No such part, or they mesh already.
    pub fn add_mesh(&mut self, driver: &PlaceId, driven: &PlaceId) -> Result<(), DescribeFault> {
        let side = |place: &'_ PlaceId| [place.arbor.clone(), place.part.clone()];
        let [driver, driven] = [side(driver), side(driven)];
        self.touch(|text| {
            let [driver, driven] =
                [&driver, &driven].map(|[arbor, part]| [arbor.as_str(), part.as_str()]);
            Ok(text.add_mesh(driver, driven)?)
        })
    }

    /// Every mesh, `ARBOR.PART` that drives and that is driven.
    pub fn meshes(&self) -> Vec<[String; 2]> {
        self.text.meshes()
    }

    /// Takes a mesh away; its parts stay.
    ///
    /// # Errors
    /// No such mesh.
    pub fn remove_mesh(&mut self, driver: &PlaceId, driven: &PlaceId) -> Result<(), DescribeFault> {
        let [driver, driven] =
            [driver, driven].map(|place| format!("{}.{}", place.arbor, place.part));
        self.touch(|text| Ok(text.remove_mesh(&driver, &driven)?))
    }
}

/// Whether something is named that is not there.
fn dangles(text: &SheetText) -> bool {
    let faults = sheet::read_open(text.text().as_bytes()).err();
    let told = faults.iter().flat_map(|faults| &faults.told);
    let named = |what: &SheetFaultKind| {
        matches!(what, SheetFaultKind::Movement(FlawKind::UnknownId { .. }))
    };
    told.map(|fault| &fault.what).any(named)
}
