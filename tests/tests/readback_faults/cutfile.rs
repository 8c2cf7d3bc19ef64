//! A cut file as text, with its corners where they can be moved: what a person does in an editor.

use berth_core::geom::DVec2;

/// One corner: which polyline it belongs to, where it is, and on which lines of the text it stands.
#[derive(Clone, Copy, Debug)]
pub struct Corner {
    /// Which polyline of the file.
    pub contour: usize,
    /// Where, mm.
    pub p: DVec2,
    lines: (usize, usize),
}

/// A file and the corners of what is cut through.
pub struct CutFile {
    lines: Vec<String>,
    /// All corners that are not marks.
    pub corners: Vec<Corner>,
}

impl CutFile {
    /// Reads the text: pairs of lines, LWPOLYLINEs, groups 8, 10 and 20.
    pub fn of(bytes: &[u8]) -> Self {
        let text = std::str::from_utf8(bytes).unwrap();
        let lines: Vec<String> = text.split("\r\n").map(str::to_owned).collect();
        let (mut corners, mut contour, mut within, mut cut) = (vec![], 0, false, false);
        let mut x: Option<(usize, f64)> = None;
        for i in (0..lines.len() - 1).step_by(2) {
            let (code, value) = (lines[i].trim(), lines[i + 1].as_str());
            match code {
                "0" => {
                    within = value == "LWPOLYLINE";
                    contour += usize::from(within);
                }
                "8" if within => cut = value != "mark",
                "10" if within && cut => x = Some((i + 1, value.parse().unwrap())),
                "20" if within && cut => {
                    let (at, x) = x.take().unwrap();
                    corners.push(Corner { contour, p: DVec2::new(x, value.parse().unwrap()), lines: (at, i + 1) });
                }
                _ => {}
            }
        }
        Self { lines, corners }
    }

    /// Moves all corners that `which` picks, and says how many they were.
    pub fn shift(&mut self, which: impl Fn(&Corner) -> bool, to: impl Fn(DVec2) -> DVec2) -> usize {
        let mut moved = 0;
        for c in self.corners.iter_mut().filter(|c| which(c)) {
            c.p = to(c.p);
            self.lines[c.lines.0] = format!("{:.4}", c.p.x);
            self.lines[c.lines.1] = format!("{:.4}", c.p.y);
            moved += 1;
        }
        moved
    }

    /// The text again.
    pub fn bytes(&self) -> Vec<u8> {
        self.lines.join("\r\n").into_bytes()
    }
}
