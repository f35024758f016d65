//! The macros, and with them the list of checks of each family: written once, used by macro and runner.

/// A module with one named test per promise of a correction standard: `standard_tests!(name, plugin)`.
#[macro_export]
macro_rules! standard_tests {
    ($module:ident, $plugin:expr) => {
        $crate::__family!($module, $plugin, standard: [
            card_is_well_formed, is_one_at_its_own_reference, examples_reproduce, limits_are_named,
            hostile_inputs_are_refused_or_finite, thinner_air_never_lowers_the_factor,
            same_input_gives_same_bits, does_not_jump, refusals_name_what_and_where,
            engines_out_of_scope_are_refused, compensation_is_told
        ]);
    };
}

/// A module with one named test per promise of a loss model: `loss_tests!(name, plugin)`.
#[macro_export]
macro_rules! loss_tests {
    ($module:ident, $plugin:expr) => {
        $crate::__family!($module, $plugin, loss: [
            card_is_well_formed, crank_is_never_below_wheel, crank_rises_with_wheel, zero_power_is_finite,
            missing_evidence_is_refused_by_name, inverse_round_trip, uncertainty_is_never_negative,
            hostile_inputs_are_refused_or_finite, same_input_gives_same_bits
        ]);
    };
}

/// A module with one named test per promise of a knock model: `knock_tests!(name, plugin)`.
#[macro_export]
macro_rules! knock_tests {
    ($module:ident, $plugin:expr) => {
        $crate::__family!($module, $plugin, knock: [
            card_is_well_formed, more_octane_never_lowers_the_margin, missing_inputs_are_refused_by_name,
            unanchored_says_so, uncertainty_is_never_negative, hostile_inputs_are_refused_or_finite,
            same_input_gives_same_bits
        ]);
    };
}

/// The module behind the three macros.
#[doc(hidden)]
#[macro_export]
macro_rules! __family {
    ($module:ident, $plugin:expr, $family:ident: [$($check:ident),+]) => {
        mod $module {
            #[allow(unused_imports)]
            use super::*;
            $(
                #[test]
                fn $check() -> Result<(), $crate::Failure> {
                    $crate::$family::$check(&$plugin)
                }
            )+
        }
    };
}
