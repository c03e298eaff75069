//! What an item costs even if nothing else is done.

use crate::week::hunt::{Domain, Hunt, ones};
use crate::week::model::PartSet;
use crate::week::ready::{Choice, Given};

/// What an item costs even if nothing else is done.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Alone {
    /// Seconds beyond what is given for the parts of the day.
    pub overtime: u32,
    /// Goes outside the usual parts, if it adds no overtime.
    pub away: u32,
}

impl Alone {
    /// On a day with these minutes.
    pub fn of(choice: &Choice, given: &Given) -> Alone {
        let over = |set: &PartSet| -> u32 {
            let parts = set.parts().filter_map(|part| given.parts.get(part as usize).copied().flatten());
            parts.map(|given| choice.seconds.saturating_sub(given)).sum()
        };
        let fitting = choice.options.iter().filter(|set| over(set) == 0);
        Alone {
            overtime: choice.options.iter().map(over).min().unwrap_or_default(),
            away: fitting.map(|set| set.without(choice.usual()).len()).min().unwrap_or_default(),
        }
    }

    fn plus(self, other: Alone) -> Alone {
        Alone { overtime: self.overtime + other.overtime, away: self.away + other.away }
    }

    /// Each as small as in one of the two.
    fn least(self, other: Alone) -> Alone {
        Alone { overtime: self.overtime.min(other.overtime), away: self.away.min(other.away) }
    }
}

impl Hunt<'_> {
    /// What undecided items cost at least with the days that are left to them, one by one and in one sum.
    pub fn count_coming(&mut self, domains: &[Domain]) -> Vec<Alone> {
        let least = |domain: &Domain| {
            let (Some(choice), Some(alone)) =
                (self.ready.choices.get(domain.item), self.alone.get(domain.item))
            else {
                return Alone::default();
            };
            let on = |day: usize| self.ready.kind_of.get(day).and_then(|&kind| alone.get(kind));
            let open = ones(domain.open).filter_map(|at| choice.sets.get(at));
            open.map(|&set| ones(u64::from(set)).filter_map(on).copied().fold(Alone::default(), Alone::plus))
                .reduce(Alone::least)
                .unwrap_or_default()
        };
        let all: Vec<Alone> = domains.iter().map(least).collect();
        self.coming_alone = all.iter().copied().fold(Alone::default(), Alone::plus);
        all
    }
}
