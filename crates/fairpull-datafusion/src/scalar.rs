//! The adapter between a calculation on a row and a scalar function of the engine.

use std::fmt::Debug;
use std::hash::Hash;

use arrow::array::ArrayRef;
use arrow::datatypes::DataType;
use arrow::datatypes::{Field, FieldRef};
use datafusion_common::{DataFusionError, Result, ScalarValue, plan_datafusion_err};
use datafusion_expr::{
    ColumnarValue, ReturnFieldArgs, ScalarFunctionArgs, ScalarUDF, ScalarUDFImpl, Signature, Volatility,
};

use crate::arguments::{Kind, Literals, Numbers, Parameter, Texts, coerce};
use crate::parsed::{Parsed, Read};

/// What happens to a row whose value lies outside the limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Outside {
    /// The query fails and says why.
    Refuse,
    /// The row gives NULL.
    Null,
}

impl Outside {
    /// Name of the function that does so.
    pub(crate) fn name(self, plain: &str) -> String {
        match self {
            Self::Refuse => plain.to_owned(),
            Self::Null => format!("try_{plain}"),
        }
    }
}

/// A calculation that becomes two functions: `name`, and `try_name` that gives NULL where the first refuses.
pub(crate) trait Calculation: Copy + Debug + Eq + Hash + Send + Sync + 'static {
    const NAME: &'static str;
    const PARAMETERS: &'static [Parameter];
    /// Permitted numbers of arguments.
    const COUNTS: &'static [usize];

    /// Type of the result.
    fn returns() -> DataType;

    /// Refuses literals that no row could make right.
    fn plan(literals: &Literals<'_>) -> Result<(), String>;

    /// The result for every row of a batch.
    fn run(batch: &Batch<'_>) -> Result<ArrayRef>;
}

/// One batch of rows with the arguments of the call.
pub(crate) struct Batch<'a> {
    function: &'a str,
    parameters: &'static [Parameter],
    arguments: &'a [ColumnarValue],
    rows: usize,
    outside: Outside,
}

impl<'a> Batch<'a> {
    pub(crate) fn len(&self) -> usize {
        self.rows
    }

    /// True when the call has an argument at this position.
    pub(crate) fn has(&self, position: usize) -> bool {
        position < self.arguments.len()
    }

    fn argument(&self, position: usize) -> Result<&'a ColumnarValue> {
        self.arguments
            .get(position)
            .ok_or_else(|| DataFusionError::Internal(format!("{}: no argument {position}", self.function)))
    }

    pub(crate) fn numbers(&self, position: usize) -> Result<Numbers<'a>> {
        Numbers::new(self.argument(position)?)
    }

    pub(crate) fn texts(&self, position: usize) -> Result<Texts<'a>> {
        Texts::new(self.argument(position)?)
    }

    pub(crate) fn parsed<T: Clone>(&self, position: usize, read: Read<T>) -> Result<Parsed<'a, T>> {
        Ok(Parsed::new(self.texts(position)?, read))
    }

    /// True when these arguments are the same for all rows, or not given.
    pub(crate) fn constant(&self, positions: std::ops::Range<usize>) -> bool {
        let given = self.arguments.iter().skip(positions.start).take(positions.len());
        given.into_iter().all(|a| matches!(a, ColumnarValue::Scalar(_)))
    }

    /// Calculates each row and hands the result on; a refusal ends the query or becomes NULL.
    pub(crate) fn each<T>(
        &self,
        mut row: impl FnMut(usize) -> Result<Option<T>, String>,
        mut keep: impl FnMut(Option<T>),
    ) -> Result<()> {
        for i in 0..self.rows {
            match (row(i), self.outside) {
                (Ok(x), _) => keep(x),
                (Err(_), Outside::Null) => keep(None),
                (Err(why), Outside::Refuse) => return Err(self.refused(i, &why)),
            }
        }
        Ok(())
    }

    fn refused(&self, row: usize, why: &str) -> DataFusionError {
        let shown: Vec<String> =
            self.parameters.iter().enumerate().filter_map(|(i, p)| self.shown(i, p, row)).collect();
        DataFusionError::Execution(format!(
            "{}: {why} (in the row with {}); mend the row, leave it out with WHERE, or ask try_{} for NULL",
            self.function,
            shown.join(", "),
            self.function
        ))
    }

    fn shown(&self, position: usize, parameter: &Parameter, row: usize) -> Option<String> {
        let name = parameter.name;
        match parameter.kind {
            Kind::Number(unit) => {
                let value = self.numbers(position).ok()?.at(row)?;
                let space = if unit.is_empty() { "" } else { " " };
                Some(format!("{name} {value}{space}{unit}"))
            }
            Kind::Text => self.texts(position).ok()?.at(row).map(|t| format!("{name} {t:?}")),
        }
    }
}

/// A calculation as a function of the engine.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Scalar<C> {
    calculation: C,
    name: String,
    outside: Outside,
    signature: Signature,
}

/// `name` and `try_name`.
pub(crate) fn pair<C: Calculation>(calculation: C) -> [ScalarUDF; 2] {
    [Outside::Refuse, Outside::Null].map(|outside| {
        let name = outside.name(C::NAME);
        let plain = Signature::user_defined(Volatility::Immutable);
        let names: Vec<&str> = C::PARAMETERS.iter().map(|p| p.name).collect();
        let signature = plain.clone().with_parameter_names(names).unwrap_or(plain);
        ScalarUDF::new_from_impl(Scalar { calculation, name, outside, signature })
    })
}

impl<C: Calculation> ScalarUDFImpl for Scalar<C> {
    fn name(&self) -> &str {
        &self.name
    }

    fn signature(&self) -> &Signature {
        &self.signature
    }

    fn return_type(&self, _: &[DataType]) -> Result<DataType> {
        Ok(C::returns())
    }

    fn return_field_from_args(&self, args: ReturnFieldArgs<'_>) -> Result<FieldRef> {
        C::plan(&Literals(args.scalar_arguments))
            .map_err(|why| plan_datafusion_err!("{}: {why}", self.name))?;
        Ok(Field::new(&self.name, C::returns(), true).into())
    }

    fn is_strict(&self) -> bool {
        true
    }

    fn coerce_types(&self, given: &[DataType]) -> Result<Vec<DataType>> {
        coerce(&self.name, C::PARAMETERS, C::COUNTS, given)
    }

    fn invoke_with_args(&self, args: ScalarFunctionArgs) -> Result<ColumnarValue> {
        let constant = args.args.iter().all(|a| matches!(a, ColumnarValue::Scalar(_)));
        let batch = Batch {
            function: &self.name,
            parameters: C::PARAMETERS,
            arguments: &args.args,
            rows: if constant { 1 } else { args.number_rows },
            outside: self.outside,
        };
        let result = C::run(&batch)?;
        if constant {
            return ScalarValue::try_from_array(&result, 0).map(ColumnarValue::Scalar);
        }
        Ok(ColumnarValue::Array(result))
    }
}
