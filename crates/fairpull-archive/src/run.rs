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

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};

    /// Keeps what it is told; stops after so many arrivals.
    struct Kept {
        told: Vec<(usize, usize)>,
        arrived: usize,
        most: usize,
    }

    impl Watch<usize> for Kept {
        fn arrived(&mut self, _: &usize) -> bool {
            self.arrived += 1;
            self.arrived < self.most
        }
        fn next(&mut self, index: usize, answer: usize) -> bool {
            self.told.push((index, answer));
            true
        }
        fn tick(&mut self) {}
    }

    fn worked(count: usize, threads: usize, most: usize, work: &(dyn Fn(usize) -> usize + Sync)) -> Kept {
        let mut kept = Kept { told: Vec::new(), arrived: 0, most };
        run(count, threads, work, &mut kept).unwrap();
        kept
    }

    #[test]
    fn answers_come_in_order_from_any_number_of_threads() {
        for threads in [1, 2, 7, 64] {
            let uneven = |i: usize| {
                thread::sleep(Duration::from_micros(if i.is_multiple_of(5) { 900 } else { 10 }));
                i * i
            };
            let kept = worked(60, threads, usize::MAX, &uneven);
            assert_eq!(kept.told, (0..60).map(|i| (i, i * i)).collect::<Vec<_>>(), "{threads}");
        }
        assert_eq!(worked(0, 4, usize::MAX, &|i| i).told, []);
    }

    #[test]
    fn a_slow_first_piece_holds_the_others_within_the_window() {
        let highest = AtomicUsize::new(0);
        let first = |i: usize| {
            highest.fetch_max(i, Ordering::SeqCst);
            if i == 0 {
                thread::sleep(Duration::from_millis(300));
                assert!(highest.load(Ordering::SeqCst) < WINDOW);
            }
            i
        };
        let kept = worked(3 * WINDOW, 3, usize::MAX, &first);
        assert_eq!(kept.told.len(), 3 * WINDOW);
    }

    #[test]
    fn after_a_stop_nothing_more_is_begun_and_everything_finished_is_told() {
        let begun = AtomicUsize::new(0);
        let kept = worked(10_000, 2, 5, &|i| {
            begun.fetch_add(1, Ordering::SeqCst);
            thread::sleep(Duration::from_millis(1));
            i
        });
        let begun = begun.load(Ordering::SeqCst);
        assert!((5..100).contains(&begun), "{begun}");
        assert_eq!(kept.told.len(), begun);
        assert!(kept.told.is_sorted());
    }
}
