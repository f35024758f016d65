//! Large jobs one after the other, so that memory does not grow with the number of cores.

use std::sync::{Condvar, Mutex, PoisonError};

/// Lets so many bytes of logs be in work at the same time; a job beyond that is in work alone.
#[derive(Debug)]
pub struct Gate {
    limit: u64,
    inside: Mutex<u64>,
    moved: Condvar,
}

/// Leave to work; given back when it is dropped.
#[derive(Debug)]
pub struct Pass<'a> {
    gate: &'a Gate,
    bytes: u64,
}

impl Gate {
    /// A gate for so many bytes.
    #[must_use]
    pub const fn new(limit: u64) -> Self {
        Self { limit, inside: Mutex::new(0), moved: Condvar::new() }
    }

    /// Waits until a job of so many bytes may begin.
    #[must_use]
    pub fn pass(&self, bytes: u64) -> Pass<'_> {
        let mut inside = self.inside.lock().unwrap_or_else(PoisonError::into_inner);
        while *inside > 0 && inside.saturating_add(bytes) > self.limit {
            inside = self.moved.wait(inside).unwrap_or_else(PoisonError::into_inner);
        }
        // in work alone, a job counts as a full gate: the sum stays exact and cannot overflow
        let bytes = bytes.clamp(1, self.limit.max(1));
        *inside += bytes;
        Pass { gate: self, bytes }
    }
}

impl Drop for Pass<'_> {
    fn drop(&mut self) {
        *self.gate.inside.lock().unwrap_or_else(PoisonError::into_inner) -= self.bytes;
        self.gate.moved.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicU64, Ordering};
    use std::thread;
    use std::time::Duration;

    #[test]
    fn what_is_inside_stays_below_the_limit_and_a_giant_is_alone() {
        let gate = Gate::new(100);
        let (inside, most, alone) = (AtomicU64::new(0), AtomicU64::new(0), AtomicU64::new(0));
        thread::scope(|s| {
            for k in 0..8_u64 {
                let (gate, inside, most, alone) = (&gate, &inside, &most, &alone);
                s.spawn(move || {
                    for i in 0..20 {
                        let bytes = if (i + k) % 7 == 0 { 100_000 } else { 15 + 3 * k };
                        let pass = gate.pass(bytes);
                        let now = inside.fetch_add(bytes, Ordering::SeqCst) + bytes;
                        if bytes > 100 {
                            assert_eq!(now, bytes, "not alone");
                            alone.fetch_add(1, Ordering::SeqCst);
                        } else {
                            most.fetch_max(now, Ordering::SeqCst);
                        }
                        thread::sleep(Duration::from_micros(200));
                        inside.fetch_sub(bytes, Ordering::SeqCst);
                        drop(pass);
                    }
                });
            }
        });
        let most = most.into_inner();
        assert!((40..=100).contains(&most), "{most}");
        assert!(alone.into_inner() > 10);
    }

    #[test]
    fn nothing_and_everything_pass() {
        let gate = Gate::new(10);
        drop(gate.pass(0));
        drop(gate.pass(u64::MAX));
        let (_a, _b) = (gate.pass(0), gate.pass(5));
    }
}
