//! Power at three places of the driveline that never mix.
//!
//! ```compile_fail
//! let p: fairpull_core::PowerAtCrank = fairpull_core::PowerAtWheels::from_kilowatts(150.0);
//! ```
//! ```compile_fail
//! let same = fairpull_core::PowerAtCrank::from_watts(1.0) == fairpull_core::PowerAtWheels::from_watts(1.0);
//! ```
//! ```
//! use fairpull_core::PowerAtCrank;
//! assert_eq!(PowerAtCrank::from_kilowatts(150.0).watts(), 150_000.0);
//! ```

use crate::quantity::quantity;
use uom::si::power::watt;

quantity! {
    /// Power at the contact of tyre and roller, as observed.
    PowerAtWheels(Power: watt) {
        /// From watts.
        from_watts / watts = 1.0;
        /// From kilowatts.
        from_kilowatts / kilowatts = 1000.0;
    }
}
quantity! {
    /// Power at the wheel hubs (the tyre is not in the path), as observed.
    PowerAtHubs(Power: watt) {
        /// From watts.
        from_watts / watts = 1.0;
        /// From kilowatts.
        from_kilowatts / kilowatts = 1000.0;
    }
}
quantity! {
    /// Power at the crankshaft or flywheel, as observed.
    PowerAtCrank(Power: watt) {
        /// From watts.
        from_watts / watts = 1.0;
        /// From kilowatts.
        from_kilowatts / kilowatts = 1000.0;
    }
}
