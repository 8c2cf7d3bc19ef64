//! Computing: as many jobs at once as there are permits, a short queue, a deadline for each, and an end
//! soon after the deadline or after the client has gone.

use std::future::Future;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::timeout_at;

/// Why a job gave no result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JobFault {
    /// All permits are taken and the queue is full.
    Busy,
    /// The deadline came first.
    OutOfTime,
    /// The computing thread panicked: a fault of ours.
    Broken,
}

/// The jobs at work.
#[derive(Debug)]
pub struct Jobs {
    permits: Arc<Semaphore>,
    waiting: AtomicUsize,
    queue: usize,
    deadline: Duration,
    running: Arc<AtomicUsize>,
}

/// Counts one up until it is dropped.
struct Counted<C: std::ops::Deref<Target = AtomicUsize>>(C);

impl<C: std::ops::Deref<Target = AtomicUsize>> Drop for Counted<C> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::AcqRel);
    }
}

/// Dropped with the handler: at its end, at the deadline, and when the client has gone.
struct StopOnDrop(Arc<AtomicBool>);

impl Drop for StopOnDrop {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

impl Jobs {
    /// So many at once, so many waiting, so long for each.
    #[must_use]
    pub fn new(at_once: usize, queue: usize, deadline: Duration) -> Self {
        Self {
            permits: Arc::new(Semaphore::new(at_once.max(1))),
            waiting: AtomicUsize::new(0),
            queue,
            deadline,
            running: Arc::new(AtomicUsize::new(0)),
        }
    }

    /// How many are being computed now.
    #[must_use]
    pub fn running(&self) -> usize {
        self.running.load(Ordering::Acquire)
    }

    /// Computes `work` on a thread of its own. `work` is given a `stop` to ask from time to time.
    ///
    /// # Errors
    /// See [`JobFault`].
    pub async fn run<T, W>(&self, work: W) -> Result<T, JobFault>
    where
        T: Send + 'static,
        W: FnOnce(&dyn Fn() -> bool) -> T + Send + 'static,
    {
        let ends = Instant::now() + self.deadline;
        let permit = in_time(ends, self.admit()).await??;
        let gone = Arc::new(AtomicBool::new(false));
        let _guard = StopOnDrop(Arc::clone(&gone));
        self.running.fetch_add(1, Ordering::AcqRel);
        let counted = Counted(Arc::clone(&self.running));
        // the permit goes along: it is free again when computing has ended, not when the client has
        // left, so there are never more threads at work than permits
        let thread = tokio::task::spawn_blocking(move || {
            let _held = (permit, counted);
            work(&|| gone.load(Ordering::Relaxed) || Instant::now() >= ends)
        });
        in_time(ends, thread).await?.map_err(|_| JobFault::Broken)
    }

    async fn admit(&self) -> Result<OwnedSemaphorePermit, JobFault> {
        if let Ok(permit) = Arc::clone(&self.permits).try_acquire_owned() {
            return Ok(permit);
        }
        let before = self.waiting.fetch_add(1, Ordering::AcqRel);
        let _place = Counted(&self.waiting);
        if before >= self.queue {
            return Err(JobFault::Busy);
        }
        Arc::clone(&self.permits).acquire_owned().await.map_err(|_| JobFault::Broken)
    }
}

async fn in_time<F: Future>(ends: Instant, work: F) -> Result<F::Output, JobFault> {
    timeout_at(ends.into(), work).await.map_err(|_| JobFault::OutOfTime)
}

#[cfg(test)]
mod tests {
    use super::{JobFault, Jobs};
    use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
    use std::sync::{Arc, mpsc};
    use std::time::{Duration, Instant};

    #[tokio::test(flavor = "multi_thread")]
    async fn beyond_permits_and_queue_the_answer_is_busy_at_once() {
        let jobs = Arc::new(Jobs::new(1, 2, Duration::from_secs(20)));
        let (go, wait) = mpsc::channel::<()>();
        let first = tokio::spawn({
            let jobs = Arc::clone(&jobs);
            async move { jobs.run(move |_| wait.recv().is_ok()).await }
        });
        while jobs.running() == 0 {
            tokio::task::yield_now().await;
        }
        let queued: Vec<_> = (0..2)
            .map(|i| {
                let jobs = Arc::clone(&jobs);
                tokio::spawn(async move { jobs.run(move |_| i).await })
            })
            .collect();
        while jobs.waiting.load(Ordering::Acquire) < 2 {
            tokio::task::yield_now().await;
        }
        let asked = Instant::now();
        assert_eq!(jobs.run(|_| ()).await, Err(JobFault::Busy));
        assert!(asked.elapsed() < Duration::from_millis(200));
        go.send(()).unwrap();
        assert_eq!(first.await.unwrap(), Ok(true));
        for (i, q) in queued.into_iter().enumerate() {
            assert_eq!(q.await.unwrap(), Ok(i));
        }
        assert_eq!(jobs.waiting.load(Ordering::Acquire), 0);
    }

    /// Computes until told to stop, then says so.
    fn until_stopped(ended: Arc<AtomicBool>) -> impl FnOnce(&dyn Fn() -> bool) + Send + 'static {
        move |stop| {
            while !stop() {
                std::thread::sleep(Duration::from_millis(1));
            }
            ended.store(true, Ordering::Release);
        }
    }

    async fn soon(what: impl Fn() -> bool) -> bool {
        for _ in 0..500 {
            if what() {
                return true;
            }
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
        false
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn the_deadline_ends_waiting_and_computing() {
        let jobs = Jobs::new(1, 2, Duration::from_millis(60));
        let (began, ended) = (Instant::now(), Arc::new(AtomicBool::new(false)));
        // work that listens may end by itself just before the answer is given up
        let result = jobs.run(until_stopped(Arc::clone(&ended))).await;
        assert!(matches!(result, Err(JobFault::OutOfTime) | Ok(())));
        assert!(began.elapsed() < Duration::from_secs(5));
        assert!(soon(|| ended.load(Ordering::Acquire)).await, "still computing after the deadline");
        assert!(soon(|| jobs.running() == 0).await);
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn work_that_does_not_listen_keeps_its_permit_to_its_end() {
        let jobs = Jobs::new(1, 0, Duration::from_millis(40));
        let (go, wait) = mpsc::channel::<()>();
        assert_eq!(jobs.run(move |_| wait.recv().is_ok()).await, Err(JobFault::OutOfTime));
        assert_eq!(jobs.run(|_| true).await, Err(JobFault::Busy));
        go.send(()).unwrap();
        assert!(soon(|| jobs.running() == 0).await);
        assert_eq!(jobs.run(|_| true).await, Ok(true));
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn when_the_caller_goes_computing_ends() {
        let jobs = Arc::new(Jobs::new(1, 2, Duration::from_secs(600)));
        let ended = Arc::new(AtomicBool::new(false));
        let caller = tokio::spawn({
            let (jobs, ended) = (Arc::clone(&jobs), Arc::clone(&ended));
            async move { jobs.run(until_stopped(ended)).await }
        });
        assert!(soon(|| jobs.running() == 1).await);
        caller.abort();
        assert!(soon(|| ended.load(Ordering::Acquire)).await, "still computing for nobody");
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn never_more_at_once_than_permits_and_a_panic_gives_its_permit_back() {
        let jobs = Arc::new(Jobs::new(2, 100, Duration::from_secs(20)));
        let (now, most) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicUsize::new(0)));
        let all: Vec<_> = (0..20)
            .map(|i| {
                let (jobs, now, most) = (Arc::clone(&jobs), Arc::clone(&now), Arc::clone(&most));
                tokio::spawn(async move {
                    jobs.run(move |_| {
                        most.fetch_max(now.fetch_add(1, Ordering::AcqRel) + 1, Ordering::AcqRel);
                        std::thread::sleep(Duration::from_millis(3));
                        now.fetch_sub(1, Ordering::AcqRel);
                        assert!(i % 5 != 0, "planned");
                    })
                    .await
                })
            })
            .collect();
        let mut broken = 0;
        for one in all {
            broken += usize::from(one.await.unwrap() == Err(JobFault::Broken));
        }
        assert_eq!(broken, 4);
        assert!(most.load(Ordering::Acquire) <= 2);
    }
}
