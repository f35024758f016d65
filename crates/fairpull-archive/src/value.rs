//! A value of a row as the table takes it.

use crate::columns::Time;

/// One value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Value<'a> {
    Text(&'a str),
    Number(f64),
    Count(i32),
    Flag(bool),
    Time(i64),
    None,
}

/// What a field of a row holds.
pub(crate) trait Valued {
    fn value(&self) -> Value<'_>;
}

impl Valued for String {
    fn value(&self) -> Value<'_> {
        Value::Text(self)
    }
}
impl Valued for f64 {
    fn value(&self) -> Value<'_> {
        Value::Number(*self)
    }
}
impl Valued for i32 {
    fn value(&self) -> Value<'_> {
        Value::Count(*self)
    }
}
impl Valued for bool {
    fn value(&self) -> Value<'_> {
        Value::Flag(*self)
    }
}
impl Valued for Time {
    fn value(&self) -> Value<'_> {
        Value::Time(self.0)
    }
}
impl<T: Valued> Valued for Option<T> {
    fn value(&self) -> Value<'_> {
        self.as_ref().map_or(Value::None, Valued::value)
    }
}
