//! Many pieces of work on several threads, their answers in order.

use std::collections::BTreeMap;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::sync::{Condvar, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

/// Answers that may wait for an earlier one; so many pieces at most are ahead of the slowest.
pub const WINDOW: usize = 1024;
/// Deep enough for any job; the default of a thread is a quarter of the main thread's.
const STACK: usize = 8 << 20;
/// Time between two looks at the clock.
const TICK: Duration = Duration::from_millis(200);

/// What the threads agree on.
struct Desk {
    next: usize,
    handed_on: usize,
    stop: bool,
}

/// What somebody does with the answers, on the calling thread.
pub trait Watch<T> {
    /// An answer has arrived, in whatever order; false: begin no more work.
    fn arrived(&mut self, answer: &T) -> bool;
    /// The next answer in the order of the work; false: begin no more work.
    fn next(&mut self, index: usize, answer: T) -> bool;
    /// Some time has passed.
    fn tick(&mut self);
}

/// Runs `work(0)` to `work(count - 1)` on so many threads; the answers come back in that order.
///
/// # Errors
/// What the system says when it starts no thread.
pub fn run<T: Send>(
    count: usize,
    threads: usize,
    work: &(dyn Fn(usize) -> T + Sync),
    watch: &mut dyn Watch<T>,
) -> std::io::Result<()> {
    let desk = Mutex::new(Desk { next: 0, handed_on: 0, stop: false });
    let moved = Condvar::new();
    let (send, receive) = mpsc::channel();
    let take = || {
        let mut d = desk.lock().unwrap_or_else(PoisonError::into_inner);
        while !d.stop && d.next < count && d.next >= d.handed_on + WINDOW {
            d = moved.wait(d).unwrap_or_else(PoisonError::into_inner);
        }
        (!d.stop && d.next < count).then(|| {
            d.next += 1;
            d.next - 1
        })
    };
    let change = |f: &dyn Fn(&mut Desk)| {
        f(&mut desk.lock().unwrap_or_else(PoisonError::into_inner));
        moved.notify_all();
    };
    thread::scope(|scope| {
        let take = &take;
        let mut begun = Ok(());
        for _ in 0..threads.min(count).max(1) {
            let send = send.clone();
            let body = move || {
                while let Some(i) = take() {
                    if send.send((i, work(i))).is_err() {
                        return;
                    }
                }
            };
            if let Err(e) = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, body) {
                change(&|d| d.stop = true);
                begun = Err(e);
                break;
            }
        }
        drop(send);
        let mut early = BTreeMap::new();
        let mut due = 0;
        loop {
            match receive.recv_timeout(TICK) {
                Ok((i, answer)) => {
                    if !watch.arrived(&answer) {
                        change(&|d| d.stop = true);
                    }
                    early.insert(i, answer);
                    while let Some(answer) = early.remove(&due) {
                        if !watch.next(due, answer) {
                            change(&|d| d.stop = true);
                        }
                        due += 1;
                    }
                    change(&|d| d.handed_on = due);
                }
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => break,
            }
            watch.tick();
        }
        // after a stop, what was finished beyond a gap is still told
        for (i, answer) in early {
            watch.next(i, answer);
        }
        begun
    })
}
