//! One macro for the plain newtypes: a private `uom` quantity, named constructors, no conversion between kinds.

/// Makes a newtype over a `uom` quantity. Constructors and readers are given as `name / reader: factor to SI`.
macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident($uom:ident: $base:path) {
            $( $(#[$cdoc:meta])* $from:ident / $read:ident = $factor:expr; )+
        }
    ) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(uom::si::f64::$uom);

        impl $name {
            /// Wraps a `uom` quantity: the caller states which kind it is.
            #[must_use]
            pub const fn new(quantity: uom::si::f64::$uom) -> Self {
                Self(quantity)
            }

            /// The bare `uom` quantity.
            #[must_use]
            pub const fn get(self) -> uom::si::f64::$uom {
                self.0
            }

            $(
                $(#[$cdoc])*
                #[must_use]
                pub fn $from(value: f64) -> Self {
                    Self(uom::si::f64::$uom::new::<$base>(value * $factor))
                }

                /// The value in the unit of the constructor of the same name.
                #[must_use]
                pub fn $read(self) -> f64 {
                    self.0.get::<$base>() / $factor
                }
            )+

            /// True for a value that is neither NaN nor infinite.
            #[must_use]
            pub fn is_finite(self) -> bool {
                self.0.get::<$base>().is_finite()
            }
        }
    };
}
pub(crate) use quantity;
