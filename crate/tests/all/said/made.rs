//! All that the program makes of one text, each made when it is first asked for.

use super::page::Page;
use layfigure::catalog::Catalog;
use layfigure::diary::Diary;
use layfigure::door::reading::{self, Reading};
use layfigure::export::record;
use layfigure::handout::plan::Course;
use layfigure::handout::{self, Sheet};
use layfigure::home::view::View;
use layfigure::home::{Around, Home};
use layfigure::link::share::{Named, Wanted, share};
use layfigure::measure::Date;
use layfigure::notice::Notice;
use layfigure::prescription::{self, Prescription};
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, USUAL_MARGIN, assemble};
use layfigure::week;

pub struct Made<'a> {
    pub text: &'a str,
    pub prescription: Prescription,
    /// Told of the reading alone.
    pub told: Vec<Notice>,
    today: Date,
    cache: &'a mut Cache,
    reading: Option<Reading>,
    sheet: Option<Page>,
    phone: Option<Result<Phone, String>>,
}

/// What a link gives.
#[derive(Clone)]
pub struct Phone {
    /// What can be read on the pages.
    pub shown: String,
    /// What travels, shown or not.
    pub travels: String,
}

impl<'a> Made<'a> {
    pub fn of(text: &'a str, cache: &'a mut Cache) -> Made<'a> {
        let (prescription, told) = prescription::read(text);
        let today = prescription.start.unwrap_or(Date::iso("2026-11-30").expect("a date"));
        Made { text, prescription, told, today, cache, reading: None, sheet: None, phone: None }
    }

    pub fn reading(&mut self) -> &Reading {
        let Made { text, today, cache, .. } = self;
        self.reading.get_or_insert_with(|| reading::read(text, None, Some(*today), cache))
    }

    /// The text for the notes.
    pub fn record(&mut self) -> String {
        let ask = Ask::today(Some(self.today));
        record::text(self.text, Catalog::embedded(), &ask, self.cache)
    }

    /// Whether the exercise of this line is done in this week; None: it is not in the programme.
    pub fn is_done(&mut self, line: usize, week: u32) -> Option<bool> {
        let ask = Ask { today: Some(self.today), week: Some(week), margin: USUAL_MARGIN };
        let programme = assemble::at(&self.prescription, Catalog::embedded(), &ask, self.cache);
        programme.exercises.iter().find(|e| e.line == line).map(|e| e.active)
    }

    pub fn sheet(&mut self) -> Page {
        if self.sheet.is_none() {
            self.sheet = Some(self.sheet_at(None));
        }
        self.sheet.clone().unwrap_or_default()
    }

    /// The sheet that is handed over in that week.
    pub fn sheet_in(&mut self, week: u32) -> Page {
        self.sheet_at(Some(week))
    }

    fn sheet_at(&mut self, week: Option<u32>) -> Page {
        let ask = Ask { week, ..Ask::today(Some(self.today)) };
        let limit = week::model::Limit::USUAL;
        match Course::of(&self.prescription, Catalog::embedded(), &ask, limit, self.cache) {
            Ok(course) => Page::read(&handout::html(&course, &Sheet::default())),
            Err(_) => Page::default(),
        }
    }

    /// An error is the sentence that says why there is no link.
    pub fn phone(&mut self) -> Result<Phone, String> {
        if self.phone.is_none() {
            self.phone = Some(self.shared());
        }
        self.phone.clone().unwrap_or_else(|| Err(String::new()))
    }

    fn shared(&mut self) -> Result<Phone, String> {
        let limit = week::model::Limit::USUAL;
        let wanted = Wanted { named: Named::Written, emergency: None, today: Some(self.today), limit };
        let shared = share(&self.prescription, Catalog::embedded(), &wanted, self.cache)?;
        let travels = shared.text.clone();
        let around = Around { served: true, in_app: false, can_buzz: true, still: false };
        let mut home = Home::new(around, Some(self.today));
        home.show(shared, Diary::default());
        let mut shown = String::new();
        let mut views: Vec<String> = ["today", "sheet", "help", "phone", "week 0"].map(String::from).to_vec();
        for at in 0..self.prescription.exercises.len() {
            views.extend(["morning", "midday", "evening", "day"].map(|when| format!("do {when} {at}")));
        }
        for view in views {
            home.go(View::named(&view).unwrap_or_else(|| panic!("no view {view}")));
            for slot in home.answer().into_iter().flat_map(|(_, slots)| slots) {
                shown.push_str(&Page::read(&slot.html).words);
                shown.push('\n');
            }
        }
        Ok(Phone { shown, travels })
    }
}
