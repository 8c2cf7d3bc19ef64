//! What is done in what order, and how much work each effort may cost.

use super::board::{Bench, Board};
use super::build::NoLayout;
use super::dice::Dice;
use super::nofit::PairFineness;
use super::search::{Search, State};
use super::types::{Effort, Rules};

/// One step of the search: its work, the seed of its chance, and how finely pairs are worked out.
struct Stage {
    work: u64,
    seed: u64,
    pairs: PairFineness,
}

/// Work after the first layouts. A unit is about 6 ns on the machine on which this was set (2026), so the
/// stages take about 0.02, 1 and 9 s.
const STAGES: [Stage; 3] = [
    Stage { work: 3_000_000, seed: 1, pairs: PairFineness::Rough },
    Stage { work: 150_000_000, seed: 2, pairs: PairFineness::Fine },
    Stage { work: 1_350_000_000, seed: 2, pairs: PairFineness::Finest },
];

/// Share of a stage that goes to the offcut when no sheet could be dropped.
const OFFCUT_SHARE: f64 = 0.2;

/// Runs the stages of an effort. Each stage starts from what the one before it found, so that more effort
/// is never worse.
pub fn run(bench: &mut Bench, rules: &Rules, effort: Effort, stop: &dyn Fn() -> bool) -> Result<Vec<Board>, NoLayout> {
    let mut best = bench.first_layout(rules, stop)?;
    let mut open: Option<State> = None;
    let stages = match effort {
        Effort::Quick => 1,
        Effort::Normal => 2,
        Effort::Thorough => 3,
    };
    let mut first: Option<State> = None;
    for (number, stage) in STAGES.iter().take(stages).enumerate() {
        if stop() {
            break;
        }
        bench.no_fits.refine(stage.pairs);
        if number == 1 {
            first.clone_from(&open);
        }
        // a long search starts anew where the first left off: it finds more than from where a shorter one stuck
        if let Some(first) = first.take_if(|f| number == 2 && f.boards.len() + 1 == best.len()) {
            open = Some(first);
        }
        let from = bench.sweep.work;
        let before = best.clone();
        let drop_until = from + (stage.work as f64 * (1.0 - OFFCUT_SHARE)) as u64;
        drop_sheets(bench, rules, &mut best, &mut open, (stage.seed, drop_until), stop);
        let until = from.max(bench.sweep.work) + (stage.work as f64 * OFFCUT_SHARE) as u64;
        widen_offcut(bench, rules, &mut best, (stage.seed, until), stop);
        trade_down(bench, rules, &mut best);
        if bench.rank(&before, rules, true) < bench.rank(&best, rules, true) {
            best = before;
        }
    }
    Ok(best)
}

/// Gives up sheets one after the other as long as the work lasts. `open` carries an attempt over to the
/// next stage.
fn drop_sheets(
    bench: &mut Bench,
    rules: &Rules,
    best: &mut Vec<Board>,
    open: &mut Option<State>,
    (seed, until): (u64, u64),
    stop: &dyn Fn() -> bool,
) {
    let floor = bench.least_sheets();
    while best.len() > floor.max(1) && bench.sweep.work < until && !stop() {
        let mut state = open.take().unwrap_or_else(|| give_up_emptiest(bench, best));
        Search::new(bench, seed).shrink_pool(&mut state, until, stop);
        if state.pool.is_empty() {
            *best = state.boards;
            continue;
        }
        // the sheet that could not be dropped holds only what is left over
        if let Some(boards) = with_last(bench, &state, best) {
            keep_better(bench, rules, best, boards);
        }
        *open = Some(state);
        break;
    }
}

fn emptiest(bench: &Bench, boards: &[Board]) -> usize {
    let room = |b: &usize| bench.room_left(&boards[*b]);
    (0..boards.len()).max_by(|a, b| room(a).total_cmp(&room(b))).unwrap_or(0)
}

fn give_up_emptiest(bench: &Bench, boards: &[Board]) -> State {
    let mut boards = boards.to_vec();
    let given_up = boards.remove(emptiest(bench, &boards));
    let burden = vec![1.0; bench.catalogue.kind_of.len()];
    State { boards, pool: given_up.items.iter().map(|i| i.part).collect(), burden }
}

/// The state's boards and one more with the pool on it, of the stock that `best` has one more of.
fn with_last(bench: &mut Bench, state: &State, best: &[Board]) -> Option<Vec<Board>> {
    let count = |boards: &[Board], stock: u32| boards.iter().filter(|b| b.stock == stock).count();
    let stock = best.iter().map(|b| b.stock).find(|&s| count(best, s) > count(&state.boards, s))?;
    let mut boards = state.boards.clone();
    boards.push(bench.pack_one(stock, &state.pool)?);
    Some(boards)
}

fn keep_better(bench: &Bench, rules: &Rules, best: &mut Vec<Board>, other: Vec<Board>) {
    if bench.rank(&other, rules, true) < bench.rank(best, rules, true) {
        *best = other;
    }
}

/// Lays the emptiest board out anew in many ways, first offering its parts to the other boards, and keeps
/// what leaves the larger rectangle.
fn widen_offcut(
    bench: &mut Bench,
    rules: &Rules,
    best: &mut Vec<Board>,
    (seed, until): (u64, u64),
    stop: &dyn Fn() -> bool,
) {
    let mut dice = Dice::new(seed ^ 0x0FFC);
    let mut rank = bench.rank(best, rules, false);
    let mut rounds = 0_u32;
    while bench.sweep.work < until && !(rounds.is_multiple_of(16) && stop()) {
        rounds += 1;
        let last = emptiest(bench, best);
        if let Some(boards) = bench.relay(best, last, &mut dice) {
            let other = bench.rank(&boards, rules, false);
            bench.sweep.work += offcut_work(bench, &boards);
            // an equal one is taken too: from there another way may lead on
            if other <= rank {
                (*best, rank) = (boards, other);
            }
        }
    }
}

/// Work of measuring the emptiest board's offcut: about the square of its boxes.
fn offcut_work(bench: &Bench, boards: &[Board]) -> u64 {
    let items = boards.get(emptiest(bench, boards)).map_or(&[][..], |b| &b.items);
    let boxes: usize = items.iter().map(|i| bench.catalogue.shapes[i.shape as usize].rough.len()).sum();
    (boxes * boxes / 8) as u64 + 50
}

/// Moves what lies on a board to a smaller stock that is left, where it fits.
fn trade_down(bench: &mut Bench, rules: &Rules, best: &mut Vec<Board>) {
    if bench.stocks.len() < 2 {
        return;
    }
    for b in 0..best.len() {
        let now = bench.stocks[best[b].stock as usize].area;
        let mut smaller: Vec<u32> = (0..bench.stocks.len() as u32)
            .filter(|&s| {
                let stock = &bench.stocks[s as usize];
                let taken = best.iter().filter(|o| o.stock == s).count();
                stock.area < now && stock.area > best[b].used && taken < stock.count
            })
            .collect();
        smaller.sort_by(|&a, &z| bench.stocks[a as usize].area.total_cmp(&bench.stocks[z as usize].area));
        let parts: Vec<u32> = best[b].items.iter().map(|i| i.part).collect();
        if let Some(board) = smaller.into_iter().find_map(|s| bench.pack_one(s, &parts)) {
            let mut boards = best.clone();
            boards[b] = board;
            keep_better(bench, rules, best, boards);
        }
    }
}
