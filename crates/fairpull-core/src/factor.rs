//! What a standard answers: the factor, and what must be known about it.

use crate::{
    Air, Charging, Cite, Compensation, Engine, Ignition, Notice, Notices, Outside, Reading, Source,
    StandardCard, family,
};

/// How often a plug-in can add remarks of its own; more are counted, not kept. Room that is not used is not written,
/// but for its tags.
const ROOM: usize = 8;

/// A correction factor with what must be known about it.
///
/// It carries what its remarks follow from, and words them when asked: a factor costs what its arithmetic costs.
#[derive(Clone, Copy, Debug)]
pub struct Factor {
    value: f64,
    blind: f64,
    judged: Option<Judged>,
    own: [Option<Own>; ROOM],
    dropped: u8,
}

/// What the ranges and the compensation rule of a card were held against.
#[derive(Clone, Copy, Debug)]
struct Judged {
    card: &'static StandardCard,
    kelvin: f64,
    pressure: f64,
    ignition: Ignition,
    compensated: bool,
    outside: bool,
}

/// What a plug-in adds.
#[derive(Clone, Copy, Debug)]
enum Own {
    Rests(&'static [Source]),
    Noted(Notice),
}

impl StandardCard {
    /// Turns the formula's value into a [`Factor`]: applies the compensation rule and adds a notice for every range
    /// that the air or the factor leaves.
    #[must_use]
    // in the browser's module one copy for all texts is worth more than the call
    #[cfg_attr(not(target_family = "wasm"), inline)]
    pub fn judge(&'static self, value: f64, air: &Air, engine: &Engine) -> Factor {
        let (ignition, blind) = (engine.ignition, value);
        let kelvin = family::kelvin(&self.reference, air);
        let pressure = family::pressure_kpa(&self.reference, air);
        let outside = !self.window(ignition).holds(kelvin, pressure, blind);
        let compensated = engine.ambient_compensated
            && engine.charging != Charging::None
            && !(self.compensates_spark_only && ignition == Ignition::Compression);
        let one = compensated && !matches!(self.compensation, Compensation::None);
        let judged = Judged { card: self, kelvin, pressure, ignition, compensated, outside };
        Factor { value: if one { 1.0 } else { blind }, judged: Some(judged), ..Factor::plain(blind) }
    }
}

impl Factor {
    /// A factor without remarks.
    #[must_use]
    #[inline]
    pub const fn plain(value: f64) -> Self {
        Self { value, blind: value, judged: None, own: [None; ROOM], dropped: 0 }
    }

    /// The multiplier from measured to reference.
    #[must_use]
    #[inline]
    pub const fn value(&self) -> f64 {
        self.value
    }

    /// What the formula alone gives, whatever the compensation rule says.
    #[must_use]
    #[inline]
    pub const fn blind(&self) -> f64 {
        self.blind
    }

    /// Remarks that travel with the factor: ranges left, compensation, then those of the plug-in in its order.
    #[must_use]
    pub fn notices(&self) -> Notices {
        let mut all = Notices::NONE;
        if let Some(judged) = &self.judged {
            judged.tell(self.blind, &mut all);
        }
        for own in self.own.iter().flatten() {
            match own {
                Own::Rests(sources) => {
                    for s in sources.iter().filter(|s| s.cite.reading >= Reading::Remembered) {
                        all.push(Notice::RestsOn { what: s.what, cite: &s.cite });
                    }
                }
                Own::Noted(notice) => all.push(*notice),
            }
        }
        all.drop_more(self.dropped);
        all
    }

    /// True when the factor or its air lies outside the standard's range.
    #[must_use]
    #[inline]
    pub fn outside_range(&self) -> bool {
        let noted = |own: &Own| matches!(own, Own::Noted(Notice::OutsideRange(_)));
        self.judged.is_some_and(|j| j.outside) || self.own.iter().flatten().any(noted)
    }

    /// With one more remark. Eight calls at most add one; more are counted, see [`Notices::dropped`].
    #[must_use]
    #[cfg_attr(not(target_family = "wasm"), inline)]
    pub fn noting(self, notice: Notice) -> Self {
        self.with(Own::Noted(notice))
    }

    /// With a remark for each of the given sources that was only remembered, however many there are.
    #[must_use]
    #[cfg_attr(not(target_family = "wasm"), inline)]
    pub fn resting_on(self, sources: &'static [Source]) -> Self {
        self.with(Own::Rests(sources))
    }

    #[cfg_attr(target_family = "wasm", inline(never))]
    #[cfg_attr(not(target_family = "wasm"), inline)]
    fn with(mut self, own: Own) -> Self {
        match self.own.iter_mut().find(|slot| slot.is_none()) {
            Some(free) => *free = Some(own),
            None => self.dropped = self.dropped.saturating_add(1),
        }
        self
    }
}

/// Equal values that say the same.
impl PartialEq for Factor {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value && self.blind == other.blind && self.notices() == other.notices()
    }
}

impl Judged {
    fn tell(&self, blind: f64, all: &mut Notices) {
        let window = self.card.window(self.ignition);
        for (limit, got) in
            [(&window.temperature, self.kelvin), (&window.pressure, self.pressure), (&window.factor, blind)]
        {
            if let Some(out) = limit.as_ref().and_then(|limit| Outside::of(limit, got)) {
                all.push(Notice::OutsideRange(out));
            }
        }
        if self.compensated {
            all.push(match &self.card.compensation {
                Compensation::FactorOne(cite) | Compensation::FactorOneByLaterText(cite) => {
                    Notice::Compensated { blind, cite }
                }
                Compensation::None => {
                    let Cite { document: text, reading, .. } = self.card.scope();
                    Notice::NoRuleForCompensated { text, reading }
                }
            });
        }
    }
}
