//! Many figures corrected at once, without allocation: for logs, and for controllers that correct as they sample.

use core::marker::PhantomData;

use crate::{Corrected, Factor, Observed};

/// Room for one corrected figure. What it holds is read through the [`CorrectedSlice`] that filled it, which knows the
/// standard: a corrected figure cannot be taken for an observed one, nor corrected again.
///
/// ```compile_fail
/// use fairpull_core::{CorrectedSlice, Factor, PowerAtCrank, Room};
/// fn twice(seen: &[Room<PowerAtCrank>], room: &mut [Room<PowerAtCrank>], f: &Factor) {
///     let _ = CorrectedSlice::new(seen.iter().copied(), room, "iso-1585", f);
/// }
/// ```
#[derive(Clone, Copy, Debug)]
#[repr(transparent)]
pub struct Room<P> {
    figure: f64,
    kind: PhantomData<P>,
}

impl<P> Room<P> {
    /// Nothing yet.
    pub const EMPTY: Self = Self { figure: f64::NAN, kind: PhantomData };
}

/// A slice of figures corrected to one standard.
///
/// **Units.** Those of the figures. **Shape.** As many rooms as figures; 8 bytes a figure, nothing allocated.
/// **Result.** To the bit what [`Corrected::new`] gives for each figure alone.
///
/// ```
/// use fairpull_core::{CorrectedSlice, Factor, PowerAtCrank, Room};
/// # fn show(factor: &Factor) -> Result<(), fairpull_core::DifferentLengths> {
/// let watts = [81_000.0, 82_500.0, 83_100.0];
/// let mut room = [Room::EMPTY; 3];
/// let observed = watts.iter().map(|w| PowerAtCrank::from_watts(*w));
/// let corrected = CorrectedSlice::new(observed, &mut room, "iso-1585", factor)?;
/// let peak = corrected.iter().map(|p| p.watts()).fold(0.0, f64::max);
/// # let _ = peak;
/// # Ok(())
/// # }
/// ```
#[derive(Clone, Copy, Debug)]
pub struct CorrectedSlice<'a, P> {
    figures: &'a [Room<P>],
    standard: &'static str,
    factor: f64,
}

impl<'a, P: Observed> CorrectedSlice<'a, P> {
    /// Observed figures times factor, into `room`.
    ///
    /// # Errors
    /// [`DifferentLengths`] when there are not as many rooms as figures; nothing is written then.
    pub fn new<I>(
        observed: I,
        room: &'a mut [Room<P>],
        standard: &'static str,
        factor: &Factor,
    ) -> Result<Self, DifferentLengths>
    where
        I: IntoIterator<Item = P>,
        I::IntoIter: ExactSizeIterator,
    {
        let observed = observed.into_iter();
        if observed.len() != room.len() {
            return Err(DifferentLengths { figures: observed.len(), rooms: room.len() });
        }
        let factor = factor.value();
        for (room, figure) in room.iter_mut().zip(observed) {
            room.figure = figure.times(factor).si();
        }
        Ok(Self { figures: room, standard, factor })
    }

    /// The corrected figures.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = P> + Clone + use<'a, P> {
        self.figures.iter().map(|room| P::from_si(room.figure))
    }

    /// One figure with its standard and factor.
    #[must_use]
    pub fn get(&self, index: usize) -> Option<Corrected<P>> {
        let room = self.figures.get(index)?;
        Some(Corrected::of(P::from_si(room.figure), self.standard, self.factor))
    }

    /// Number of figures.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.figures.len()
    }

    /// True when there is no figure.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.figures.is_empty()
    }

    /// Id of the standard.
    #[must_use]
    pub const fn standard(&self) -> &'static str {
        self.standard
    }

    /// The factor that was applied.
    #[must_use]
    pub const fn factor(&self) -> f64 {
        self.factor
    }
}

/// There are not as many rooms as figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{rooms} room(s) for {figures} figure(s); give one room for each figure")]
pub struct DifferentLengths {
    /// Figures given.
    pub figures: usize,
    /// Rooms given.
    pub rooms: usize,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CrankTorque, PowerAtCrank};

    #[test]
    fn each_figure_as_if_alone() {
        let factor = Factor::plain(1.037);
        let watts = [0.0, -3.5, 81_000.0, 1e308, f64::MIN_POSITIVE];
        let mut room = [Room::EMPTY; 5];
        let observed = watts.iter().map(|w| PowerAtCrank::from_watts(*w));
        let all = CorrectedSlice::new(observed, &mut room, "iso-1585", &factor).unwrap();
        assert_eq!((all.len(), all.standard(), all.factor()), (5, "iso-1585", 1.037));
        for (i, w) in watts.into_iter().enumerate() {
            let alone = Corrected::new(PowerAtCrank::from_watts(w), "iso-1585", &factor);
            assert_eq!(all.get(i), Some(alone));
            assert_eq!(all.iter().nth(i), Some(alone.figure()));
        }
        assert_eq!(all.get(5), None);
    }

    #[test]
    fn lengths_must_agree() {
        let mut room = [Room::<CrankTorque>::EMPTY; 2];
        let one = [CrankTorque::from_newton_metres(1.0)];
        let e = CorrectedSlice::new(one, &mut room, "iso-1585", &Factor::plain(1.0)).unwrap_err();
        assert_eq!(e, DifferentLengths { figures: 1, rooms: 2 });
        assert!(room[0].figure.is_nan());
    }
}
