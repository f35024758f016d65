//! The adapter between a summary of samples and an aggregate function of the engine.

use std::fmt::Debug;
use std::hash::Hash;
use std::marker::PhantomData;
use std::sync::Arc;

use arrow::array::{Array, ArrayRef, BooleanArray, Float64Array, StringViewArray};
use arrow::datatypes::{DataType, Field, FieldRef, Fields};
use datafusion_common::cast::{as_float64_array, as_string_view_array};
use datafusion_common::{DataFusionError, Result, ScalarValue, plan_datafusion_err, plan_err};
use datafusion_expr::expr::AggregateFunction;
use datafusion_expr::function::{AccumulatorArgs, AggregateFunctionSimplification, StateFieldsArgs};
use datafusion_expr::simplify::SimplifyContext;
use datafusion_expr::utils::{AggregateOrderSensitivity, format_state_name};
use datafusion_expr::{
    Accumulator, AggregateUDF, AggregateUDFImpl, EmitTo, Expr, GroupsAccumulator, Signature, Volatility,
};

use crate::arguments::{Kind, Parameter, coerce};
use crate::samples::{Sample, Sorted, leaving, list_type, owed, passes};
use crate::scalar::Outside;

/// A summary that becomes two functions: `name`, and `try_name` that gives NULL for a group with a refused row.
pub(crate) trait Summary: Copy + Debug + Eq + Hash + Send + Sync + 'static {
    const NAME: &'static str;
    /// The value first, then texts.
    const PARAMETERS: &'static [Parameter];
    /// Names of the samples that a group is sorted into.
    const SAMPLES: &'static [&'static str];

    /// Fields of the result.
    fn fields() -> Fields;

    /// Refuses literals that no row could make right; one entry an argument, `None` where it is no literal text.
    fn plan(literals: &[Option<&str>]) -> Result<(), String>;

    /// The sample that a row belongs to, given its value and texts.
    fn place(value: f64, texts: &[&str]) -> Result<usize, String>;

    /// The result of each group; a NaN among the values of a group stands for a refused row.
    fn results(samples: &[Sorted], groups: usize) -> Result<ArrayRef>;
}

/// A summary as a function of the engine.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Aggregate<S> {
    summary: S,
    name: String,
    outside: Outside,
    signature: Signature,
}

/// `name` and `try_name`.
pub(crate) fn pair<S: Summary>(summary: S) -> [AggregateUDF; 2] {
    [Outside::Refuse, Outside::Null].map(|outside| {
        let name = outside.name(S::NAME);
        let signature = Signature::user_defined(Volatility::Immutable);
        AggregateUDF::new_from_impl(Aggregate { summary, name, outside, signature })
    })
}

impl<S: Summary> Aggregate<S> {
    fn state(&self) -> Groups<S> {
        Groups::new(&self.name, self.outside)
    }
}

impl<S: Summary> AggregateUDFImpl for Aggregate<S> {
    fn name(&self) -> &str {
        &self.name
    }

    fn signature(&self) -> &Signature {
        &self.signature
    }

    fn return_type(&self, _: &[DataType]) -> Result<DataType> {
        Ok(DataType::Struct(S::fields()))
    }

    fn coerce_types(&self, given: &[DataType]) -> Result<Vec<DataType>> {
        coerce(&self.name, S::PARAMETERS, &[S::PARAMETERS.len()], given)
    }

    fn state_fields(&self, args: StateFieldsArgs<'_>) -> Result<Vec<FieldRef>> {
        let field =
            |sample: &&str| Field::new(format_state_name(args.name, sample), list_type(), true).into();
        Ok(S::SAMPLES.iter().map(field).collect())
    }

    fn order_sensitivity(&self) -> AggregateOrderSensitivity {
        AggregateOrderSensitivity::Insensitive
    }

    /// Nothing is simplified. It is where the planner shows the whole call, before it rewrites DISTINCT into groups.
    fn simplify(&self) -> Option<AggregateFunctionSimplification> {
        let name = self.name.clone();
        Some(Box::new(move |call: AggregateFunction, _: &SimplifyContext| {
            if call.params.distinct {
                return plan_err!("{name}: equal values are repeats too; leave DISTINCT out");
            }
            let literals: Vec<Option<&str>> = call.params.args.iter().map(literal).collect();
            S::plan(&literals).map_err(|why| plan_datafusion_err!("{name}: {why}"))?;
            Ok(Expr::AggregateFunction(call))
        }))
    }

    fn accumulator(&self, _: AccumulatorArgs<'_>) -> Result<Box<dyn Accumulator>> {
        Ok(Box::new(One(self.state())))
    }

    fn groups_accumulator_supported(&self, _: AccumulatorArgs<'_>) -> bool {
        true
    }

    fn create_groups_accumulator(&self, _: AccumulatorArgs<'_>) -> Result<Box<dyn GroupsAccumulator>> {
        Ok(Box::new(self.state()))
    }
}

fn literal(argument: &Expr) -> Option<&str> {
    match argument {
        Expr::Literal(value, _) => value.try_as_str().flatten(),
        _ => None,
    }
}

/// The samples of many groups.
#[derive(Debug)]
struct Groups<S> {
    name: String,
    outside: Outside,
    samples: Vec<Sample>,
    groups: usize,
    summary: PhantomData<S>,
}

/// The arguments of an aggregate, as columns.
struct Columns<'a> {
    value: &'a Float64Array,
    texts: Vec<&'a StringViewArray>,
}

impl<'a> Columns<'a> {
    fn new(arguments: &'a [ArrayRef]) -> Result<Self> {
        let value = as_float64_array(owed(arguments, 0)?)?;
        let texts = arguments.iter().skip(1).map(|a| as_string_view_array(a)).collect::<Result<_>>()?;
        Ok(Self { value, texts })
    }

    /// Value and texts of a row, the texts into a buffer; `None` when one is NULL.
    fn at(&self, row: usize, texts: &mut Vec<&'a str>) -> Option<f64> {
        texts.clear();
        for column in &self.texts {
            if column.is_null(row) {
                return None;
            }
            texts.push(column.value(row));
        }
        (!self.value.is_null(row)).then(|| self.value.value(row))
    }
}

impl<S: Summary> Groups<S> {
    fn new(name: &str, outside: Outside) -> Self {
        let samples = S::SAMPLES.iter().map(|_| Sample::default()).collect();
        Self { name: name.to_owned(), outside, samples, groups: 0, summary: PhantomData }
    }

    fn add(&mut self, sample: usize, group: usize, value: f64) {
        if let Some(s) = self.samples.get_mut(sample) {
            s.push(group, value);
        }
    }

    fn update(
        &mut self,
        arguments: &[ArrayRef],
        group: impl Fn(usize) -> usize,
        filter: Option<&BooleanArray>,
    ) -> Result<()> {
        let columns = Columns::new(arguments)?;
        let mut texts = Vec::new();
        for row in (0..columns.value.len()).filter(|row| passes(filter, *row)) {
            let Some(value) = columns.at(row, &mut texts) else { continue };
            match (S::place(value, &texts), self.outside) {
                (Ok(sample), _) => self.add(sample, group(row), value),
                (Err(_), Outside::Null) => self.add(0, group(row), f64::NAN),
                (Err(why), Outside::Refuse) => return Err(self.refused(value, &texts, &why)),
            }
        }
        Ok(())
    }

    fn refused(&self, value: f64, texts: &[&str], why: &str) -> DataFusionError {
        let mut words = texts.iter();
        let shown = S::PARAMETERS.iter().map(|p| match p.kind {
            Kind::Number(_) => format!("{} {value}", p.name),
            Kind::Text => format!("{} {:?}", p.name, words.next().unwrap_or(&"")),
        });
        DataFusionError::Execution(format!(
            "{}: {why} (in the row with {}); mend the row, leave it out with WHERE, or ask try_{} for NULL",
            self.name,
            shown.collect::<Vec<_>>().join(", "),
            self.name
        ))
    }

    fn take(&mut self, emit: EmitTo) -> (Vec<Sorted>, usize) {
        let leaving = leaving(emit, self.groups);
        self.groups -= leaving;
        (self.samples.iter_mut().map(|s| s.take(leaving, emit)).collect(), leaving)
    }
}

impl<S: Summary> GroupsAccumulator for Groups<S> {
    fn update_batch(
        &mut self,
        values: &[ArrayRef],
        groups: &[usize],
        filter: Option<&BooleanArray>,
        total: usize,
    ) -> Result<()> {
        self.groups = total;
        self.update(values, |row| groups.get(row).copied().unwrap_or(0), filter)
    }

    fn evaluate(&mut self, emit: EmitTo) -> Result<ArrayRef> {
        let (samples, groups) = self.take(emit);
        S::results(&samples, groups)
    }

    fn state(&mut self, emit: EmitTo) -> Result<Vec<ArrayRef>> {
        self.take(emit).0.into_iter().map(Sorted::lists).collect()
    }

    fn merge_batch(&mut self, states: &[ArrayRef], groups: &[usize], total: usize) -> Result<()> {
        self.groups = total;
        for (i, sample) in self.samples.iter_mut().enumerate() {
            sample.merge(owed(states, i)?, groups)?;
        }
        Ok(())
    }

    fn convert_to_state(&self, values: &[ArrayRef], filter: Option<&BooleanArray>) -> Result<Vec<ArrayRef>> {
        // each row a group of its own
        let mut single = Self::new(&self.name, self.outside);
        single.update(values, |row| row, filter)?;
        single.groups = owed(values, 0)?.len();
        GroupsAccumulator::state(&mut single, EmitTo::All)
    }

    fn size(&self) -> usize {
        size_of::<Self>() + self.samples.iter().map(Sample::size).sum::<usize>()
    }
}

/// The samples of a query without groups.
#[derive(Debug)]
struct One<S>(Groups<S>);

impl<S: Summary> Accumulator for One<S> {
    fn update_batch(&mut self, values: &[ArrayRef]) -> Result<()> {
        self.0.groups = 1;
        self.0.update(values, |_| 0, None)
    }

    fn evaluate(&mut self) -> Result<ScalarValue> {
        self.0.groups = 1;
        let (sorted, groups) = self.0.take(EmitTo::All);
        let result = S::results(&sorted, groups)?;
        // a window that grows adds to them and asks again
        self.0.samples = sorted.into_iter().map(Sample::from).collect();
        ScalarValue::try_from_array(&result, 0)
    }

    fn size(&self) -> usize {
        GroupsAccumulator::size(&self.0)
    }

    fn state(&mut self) -> Result<Vec<ScalarValue>> {
        self.0.groups = 1;
        let states = GroupsAccumulator::state(&mut self.0, EmitTo::All)?;
        states.iter().map(|s| ScalarValue::try_from_array(s, 0)).collect()
    }

    fn merge_batch(&mut self, states: &[ArrayRef]) -> Result<()> {
        let rows = states.first().map_or(0, |s| s.len());
        GroupsAccumulator::merge_batch(&mut self.0, states, &vec![0; rows], 1)
    }
}

/// The further column of a count; NULL where the whole result is.
pub(crate) fn counts(counts: Vec<Option<i64>>) -> ArrayRef {
    Arc::new(arrow::array::Int64Array::from(counts))
}
