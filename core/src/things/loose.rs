//! Loose small parts: how many go into a compartment.

/// Share of a compartment that poured pieces fill (common practice, no source).
pub const POURED_SHARE: f64 = 0.55;
/// Share of a wall's height to which a compartment is filled, so that nothing spills (common practice, no source).
pub const FILLED_HEIGHT_SHARE: f64 = 0.85;

/// Loose parts, checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loose {
    piece_mm: [f64; 3],
    piece_volume_mm3: f64,
    pieces: usize,
}

impl Loose {
    /// Parts from the sides of the box round one piece, the volume it takes up, and their number. `None` when a
    /// measure is not a positive number or the volume is more than that of the box.
    #[must_use]
    pub fn new(piece_mm: [f64; 3], piece_volume_mm3: f64, pieces: usize) -> Option<Self> {
        let sound = piece_mm.iter().chain([&piece_volume_mm3]).all(|v| v.is_finite() && *v > 0.0);
        let boxed: f64 = piece_mm.iter().product();
        // a hair over is rounding in the caller's own volume
        (sound && piece_volume_mm3 <= boxed * (1.0 + 1e-9)).then_some(Self { piece_mm, piece_volume_mm3, pieces })
    }
    /// Sides of the box round one piece, mm.
    #[must_use]
    pub fn piece_mm(&self) -> [f64; 3] {
        self.piece_mm
    }
    /// Longest side of that box, mm: what a hand, or a gap, has to do with.
    #[must_use]
    pub fn longest_mm(&self) -> f64 {
        self.piece_mm.iter().copied().fold(0.0, f64::max)
    }
    /// Shortest side of that box, mm: what creeps under a divider.
    #[must_use]
    pub fn shortest_mm(&self) -> f64 {
        self.piece_mm.iter().copied().fold(f64::INFINITY, f64::min)
    }
    /// Volume of one piece, mm³.
    #[must_use]
    pub fn piece_volume_mm3(&self) -> f64 {
        self.piece_volume_mm3
    }
    /// How many there are.
    #[must_use]
    pub fn pieces(&self) -> usize {
        self.pieces
    }
    /// Pieces that a compartment holds, inside `width` × `depth` with walls `height` high, all mm:
    /// 0.55·(a·b·0.85h)/piece volume, rounded down (common practice, no source). 0 when a piece is longer than
    /// the compartment's diagonal in space, or a measure is not a positive number.
    #[must_use]
    pub fn capacity(&self, width_mm: f64, depth_mm: f64, height_mm: f64) -> usize {
        let inside = [width_mm, depth_mm, height_mm];
        let diagonal = inside.iter().map(|v| v * v).sum::<f64>().sqrt();
        if !inside.iter().all(|v| v.is_finite() && *v > 0.0) || self.longest_mm() > diagonal {
            return 0;
        }
        let filled = POURED_SHARE * width_mm * depth_mm * FILLED_HEIGHT_SHARE * height_mm;
        // the share's own rounding must not cost a piece
        (filled / self.piece_volume_mm3 * (1.0 + 1e-12)) as usize
    }
    /// Floor area, mm², that all pieces need between walls `height_mm` high.
    #[must_use]
    pub fn area_needed_mm2(&self, height_mm: f64) -> f64 {
        self.pieces as f64 * self.piece_volume_mm3 / (POURED_SHARE * FILLED_HEIGHT_SHARE * height_mm)
    }
}
