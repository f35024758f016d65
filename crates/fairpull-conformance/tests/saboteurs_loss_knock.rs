//! One deliberately broken plug-in per check of loss and knock models: exactly that check must fail.

use fairpull_conformance::{knock, loss};
use fairpull_core::*;
use std::sync::atomic::{AtomicU32, Ordering};

const TEXT: Cite = Cite::new("Toy model", "", Reading::Derived);

fn missing(what: &'static str) -> Refusal {
    Refusal::Missing { what, mend: "measure it", cite: TEXT }
}

const LINE: Driveline<'static> = {
    let mut line = Driveline::unknown();
    line.load_share = Some((0.03, 0.01));
    line.constant_drag = Some((4000.0, 400.0));
    line
};
const LOSS: LossCard = LossCard {
    id: "toy-loss",
    title: "Toy",
    contains: "everything",
    leaves_out: "nothing",
    needs: &["load_share", "constant_drag"],
    formula: "(P + drag)/(1 - share)",
    habit: false,
    sources: &[Source { what: "all of it", cite: TEXT }],
    example: (DrivePoint::unknown(), LINE),
};
static LOSS_CARD: LossCard = LOSS;

type Answer = Result<AtCrank, Refusal>;

fn honest(wheel: f64, line: &Driveline<'_>) -> Answer {
    let (share, us) = line.load_share.ok_or(missing("load share"))?;
    let (drag, ud) = line.constant_drag.ok_or(missing("constant drag"))?;
    for (x, what) in [(wheel, "wheel power"), (us, "share uncertainty"), (ud, "drag uncertainty")] {
        if !x.is_finite() {
            return Err(Refusal::NotFinite { what, unit: "W" });
        }
    }
    let limit = |what, low, high| Limit { what, unit: "1", low, high, cite: TEXT };
    limit("wheel power", -1e7, 1e7).check(wheel)?;
    limit("load share", 0.0, 0.5).check(share)?;
    limit("constant drag", 0.0, 1e6).check(drag)?;
    limit("share uncertainty", 0.0, 1.0).check(us)?;
    limit("drag uncertainty", 0.0, 1e6).check(ud)?;
    let crank = (wheel + drag) / (1.0 - share);
    Ok(AtCrank {
        power: PowerAtCrank::from_watts(crank),
        uncertainty: libm::hypot(ud, us * crank),
        notices: Notices::NONE,
    })
}

fn with(wheel: f64, line: &Driveline<'_>, change: impl Fn(f64) -> f64) -> Answer {
    honest(wheel, line).map(|a| AtCrank { power: PowerAtCrank::from_watts(change(a.power.watts())), ..a })
}

struct ToyLoss {
    card: &'static LossCard,
    crank: fn(f64, &Driveline<'_>) -> Answer,
    lies_backwards: bool,
}

impl LossModel for ToyLoss {
    fn card(&self) -> &'static LossCard {
        self.card
    }

    fn to_crank(&self, wheel: PowerAtWheels, _: &DrivePoint, line: &Driveline<'_>) -> Answer {
        (self.crank)(wheel.watts(), line)
    }

    fn to_wheels(
        &self,
        crank: PowerAtCrank,
        at: &DrivePoint,
        line: &Driveline<'_>,
    ) -> Result<(PowerAtWheels, AtCrank), Refusal> {
        if self.lies_backwards {
            let wheel = PowerAtWheels::from_watts(0.85 * crank.watts());
            return Ok((wheel, self.to_crank(wheel, at, line)?));
        }
        ToyLoss { lies_backwards: false, ..*self }.backwards(crank, at, line)
    }
}

impl ToyLoss {
    /// The trait's own bisection, through a wrapper that does not override it.
    fn backwards(
        &self,
        crank: PowerAtCrank,
        at: &DrivePoint,
        line: &Driveline<'_>,
    ) -> Result<(PowerAtWheels, AtCrank), Refusal> {
        struct Plain<'a>(&'a ToyLoss);
        impl LossModel for Plain<'_> {
            fn card(&self) -> &'static LossCard {
                self.0.card
            }
            fn to_crank(&self, w: PowerAtWheels, at: &DrivePoint, line: &Driveline<'_>) -> Answer {
                self.0.to_crank(w, at, line)
            }
        }
        Plain(self).to_wheels(crank, at, line)
    }
}

fn losses(card: &'static LossCard, crank: fn(f64, &Driveline<'_>) -> Answer) -> Vec<&'static str> {
    loss::run(&ToyLoss { card, crank, lies_backwards: false }).iter().map(|f| f.check).collect()
}

#[test]
fn honest_loss_passes() {
    assert_eq!(losses(&LOSS_CARD, honest), [""; 0]);
    assert_eq!(loss::CHECKS.len(), 9);
}

#[test]
fn each_loss_saboteur_breaks_exactly_its_promise() {
    static SHABBY: LossCard = LossCard { needs: &["load_share", "luck"], ..LOSS };
    static COUNT: AtomicU32 = AtomicU32::new(0);
    assert_eq!(losses(&SHABBY, honest), ["card_is_well_formed"]);
    assert_eq!(losses(&LOSS_CARD, |w, l| with(w, l, |_| w * (1.0 - 1e-10))), ["crank_is_never_below_wheel"]);
    let flat = |w: f64, l: &Driveline<'_>| honest(if (30e3..40e3).contains(&w) { 40e3 } else { w }, l);
    assert_eq!(losses(&LOSS_CARD, flat), ["crank_rises_with_wheel"]);
    let below_nothing = |w: f64, l: &Driveline<'_>| with(w, l, |c| if w == 0.0 { -1.0 } else { c });
    assert_eq!(losses(&LOSS_CARD, below_nothing), ["zero_power_is_finite"]);
    let guess = |w: f64, l: &Driveline<'_>| {
        let mut l = *l;
        l.load_share = l.load_share.or(Some((0.15, 0.05)));
        honest(w, &l)
    };
    assert_eq!(losses(&LOSS_CARD, guess), ["missing_evidence_is_refused_by_name"]);
    let backwards = loss::run(&ToyLoss { card: &LOSS_CARD, crank: honest, lies_backwards: true });
    assert_eq!(backwards.iter().map(|f| f.check).collect::<Vec<_>>(), ["inverse_round_trip"]);
    let sure = |w: f64, l: &Driveline<'_>| honest(w, l).map(|a| AtCrank { uncertainty: -1.0, ..a });
    assert_eq!(losses(&LOSS_CARD, sure), ["uncertainty_is_never_negative"]);
    let nan = |w: f64, l: &Driveline<'_>| {
        if w.is_nan() { with(0.0, l, |_| f64::NAN) } else { honest(w, l) }
    };
    assert_eq!(losses(&LOSS_CARD, nan), ["hostile_inputs_are_refused_or_finite"]);
    let forgetful = |w: f64, l: &Driveline<'_>| {
        let n = COUNT.fetch_add(1, Ordering::Relaxed);
        with(w, l, |c| c * (1.0 + 1e-14 * f64::from(n)))
    };
    assert_eq!(losses(&LOSS_CARD, forgetful), ["same_input_gives_same_bits"]);
}

const FUEL: Fuel = Fuel::new(Some(Span::new(98.0, 0.4)), Some(Span::new(87.0, 0.5)));
const POINT: KnockPoint = {
    let mut point = KnockPoint::unknown();
    point.requirement = Some(Span::new(95.0, 1.0));
    point.k = Some(Span::new(-0.2, 0.1));
    point
};
const KNOCK: KnockCard = KnockCard {
    id: "toy-knock",
    title: "Toy",
    formula: "RON - K (RON - MON) - requirement",
    leaves_out: "everything else",
    needs: &["ron", "mon", "requirement"],
    sources: &[Source { what: "all of it", cite: TEXT }],
    example: (FUEL, POINT),
};
static KNOCK_CARD: KnockCard = KNOCK;

fn margin(fuel: &Fuel, point: &KnockPoint) -> Result<Margin, Refusal> {
    let k = point.k.unwrap_or(Span::new(0.0, 0.2));
    let ron = fuel.ron.ok_or(missing("research octane number"))?;
    let mon = fuel.mon.ok_or(missing("motor octane number"))?;
    let need = point.requirement.ok_or(missing("octane requirement"))?;
    for span in [k, ron, mon, need] {
        for x in [span.value, span.uncertainty] {
            if !x.is_finite() {
                return Err(Refusal::NotFinite { what: "octane number", unit: "1" });
            }
            Limit { what: "octane number", unit: "1", low: -1.0, high: 200.0, cite: TEXT }.check(x)?;
        }
    }
    let index = ron.value - k.value * (ron.value - mon.value);
    let uncertainty = libm::hypot(ron.uncertainty, need.uncertainty);
    Ok(Margin {
        octane: Span::new(index - need.value, uncertainty),
        requirement: need.value,
        requirement_change: None,
        fuel_index: index,
        spark_degrees: None,
        anchored: true,
        notices: Notices::NONE,
    })
}

struct ToyKnock {
    card: &'static KnockCard,
    margin: fn(&Fuel, &KnockPoint) -> Result<Margin, Refusal>,
}

impl KnockModel for ToyKnock {
    fn card(&self) -> &'static KnockCard {
        self.card
    }

    fn margin(&self, fuel: &Fuel, point: &KnockPoint) -> Result<Margin, Refusal> {
        (self.margin)(fuel, point)
    }
}

fn knocks(
    card: &'static KnockCard,
    margin: fn(&Fuel, &KnockPoint) -> Result<Margin, Refusal>,
) -> Vec<&'static str> {
    knock::run(&ToyKnock { card, margin }).iter().map(|f| f.check).collect()
}

#[test]
fn honest_knock_passes() {
    assert_eq!(knocks(&KNOCK_CARD, margin), [""; 0]);
    assert_eq!(knock::CHECKS.len(), 7);
}

#[test]
fn each_knock_saboteur_breaks_exactly_its_promise() {
    static SHABBY: KnockCard = KnockCard { formula: " ", ..KNOCK };
    static UNANCHORED: KnockCard = KnockCard { needs: &["ron", "mon"], ..KNOCK };
    static COUNT: AtomicU32 = AtomicU32::new(0);
    assert_eq!(knocks(&SHABBY, margin), ["card_is_well_formed"]);
    let upside_down = |f: &Fuel, p: &KnockPoint| {
        margin(f, p).map(|m| Margin { octane: Span::new(-m.octane.value, m.octane.uncertainty), ..m })
    };
    assert_eq!(knocks(&KNOCK_CARD, upside_down), ["more_octane_never_lowers_the_margin"]);
    let guess = |f: &Fuel, p: &KnockPoint| {
        let mut f = *f;
        f.mon = f.mon.or(f.ron.map(|r| Span::new(r.value - 10.0, 2.0)));
        margin(&f, p)
    };
    assert_eq!(knocks(&KNOCK_CARD, guess), ["missing_inputs_are_refused_by_name"]);
    let cocksure = |f: &Fuel, p: &KnockPoint| {
        let mut p = *p;
        p.requirement = p.requirement.or(Some(Span::new(95.0, 0.0)));
        margin(f, &p)
    };
    assert_eq!(knocks(&UNANCHORED, cocksure), ["unanchored_says_so"]);
    let sure = |f: &Fuel, p: &KnockPoint| {
        margin(f, p).map(|m| Margin { octane: Span::new(m.octane.value, -0.1), ..m })
    };
    assert_eq!(knocks(&KNOCK_CARD, sure), ["uncertainty_is_never_negative"]);
    let nan = |f: &Fuel, p: &KnockPoint| {
        let broken = f.ron.is_some_and(|r| r.value.is_nan());
        let m = margin(if broken { &FUEL } else { f }, p)?;
        Ok(if broken { Margin { fuel_index: f64::NAN, ..m } } else { m })
    };
    assert_eq!(knocks(&KNOCK_CARD, nan), ["hostile_inputs_are_refused_or_finite"]);
    let forgetful = |f: &Fuel, p: &KnockPoint| {
        let n = COUNT.fetch_add(1, Ordering::Relaxed);
        margin(f, p).map(|m| Margin { fuel_index: m.fuel_index + 1e-12 * f64::from(n), ..m })
    };
    assert_eq!(knocks(&KNOCK_CARD, forgetful), ["same_input_gives_same_bits"]);
}
