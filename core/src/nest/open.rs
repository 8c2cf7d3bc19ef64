//! Which of many sheets are still looked at for a part.

/// Sheets that may be looked at at all. Fuller ones are closed, so that the time grows with the number of
/// parts and not with its square.
pub const OPEN_SHEETS: usize = 16;
/// Up to so many open sheets each is looked at for each part.
const ALL_LOOKED_AT: usize = 6;
/// Newest sheets that are looked at for each part: they have the most room.
const NEWEST: usize = 2;
/// Parts that a sheet which refused is passed over for, at most: small ones at the end must still find it.
const LONGEST_PAUSE: u32 = 32;

/// The sheets of a first layout that still take parts.
#[derive(Debug, Default)]
pub struct OpenSheets(Vec<Open>);

#[derive(Debug)]
struct Open {
    board: usize,
    /// Parts to be passed over before the next look.
    pause: u32,
    /// Pause after the next refusal: each one doubles it.
    next_pause: u32,
}

impl OpenSheets {
    /// The sheet to look at next for a part, from place `from` on: its place here and its board.
    pub fn next(&mut self, from: usize) -> Option<(usize, usize)> {
        let all = self.0.len();
        for at in from..all {
            let open = &mut self.0[at];
            if all <= ALL_LOOKED_AT || at + NEWEST >= all || open.pause == 0 {
                return Some((at, open.board));
            }
            open.pause -= 1;
        }
        None
    }

    /// Takes note of what the sheet at a place did with a part.
    pub fn note(&mut self, at: usize, took_it: bool) {
        let Some(open) = self.0.get_mut(at) else { return };
        (open.pause, open.next_pause) =
            if took_it { (0, 1) } else { (open.next_pause, (open.next_pause * 2).min(LONGEST_PAUSE)) };
    }

    /// Opens one more sheet, and closes the one with the least room when there are too many.
    pub fn open(&mut self, board: usize, room_left: impl Fn(usize) -> f64) {
        self.0.push(Open { board, pause: 0, next_pause: 1 });
        if self.0.len() > OPEN_SHEETS {
            let room = |i: &usize| room_left(self.0[*i].board);
            // never the newest: it is the one with the most to come
            if let Some(i) = (0..self.0.len() - 1).min_by(|a, b| room(a).total_cmp(&room(b))) {
                self.0.remove(i);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn looked_at(sheets: &mut OpenSheets) -> Vec<usize> {
        let mut from = 0;
        let mut out = vec![];
        while let Some((at, board)) = sheets.next(from) {
            sheets.note(at, false);
            out.push(board);
            from = at + 1;
        }
        out
    }

    #[test]
    fn few_sheets_are_all_looked_at_and_of_many_those_that_refuse_ever_more_seldom() {
        let mut sheets = OpenSheets::default();
        (0..6).for_each(|b| sheets.open(b, |_| 0.0));
        for _ in 0..3 {
            assert_eq!(looked_at(&mut sheets), [0, 1, 2, 3, 4, 5]);
        }
        (6..30).for_each(|b| sheets.open(b, |b| b as f64));
        let looks: Vec<usize> = (0..1000).map(|_| looked_at(&mut sheets).len()).collect();
        assert_eq!(looks[0], OPEN_SHEETS, "the fullest are closed: those that refused before are among them");
        assert!(looks.iter().sum::<usize>() < 1000 * (NEWEST + 1));
        sheets.note(0, true);
        assert_eq!(sheets.next(0).map(|s| s.0), Some(0));
    }
}
