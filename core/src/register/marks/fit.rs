//! The least squares: how a colour is shifted, turned and stretched, from the offsets of its marks.
//!
//! A mark at `r` is printed at `p + shift + R S (r - p)`, `R` a turn about the pivot `p` and `S` the stretches along the axes. The sums are
//! taken about the middle of the marks, so that the shift parts from the rest and large coordinates cost no digits; what is left is
//! solved in closed form, without taking the turn for small. All sums are of offsets, never of printed places, so that a turn of a
//! hundred-thousandth keeps its digits.

/// Across and along the stroke, m.
pub(super) type Point = [f64; 2];

/// Marks lie on a line where they stand off it by less than this share of its length (both as root mean squares), and a line
/// along an axis where it leaves the axis by less.
const ON_A_LINE: f64 = 0.01;

/// What can be told apart from these places of the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Resolvable {
    /// One mark: the shift.
    Shift,
    /// Two marks along an axis: a turn and one stretch, taken for alike both ways.
    Two,
    /// A line of marks across the stroke: a turn and the stretch across.
    Across,
    /// A line of marks along the stroke: a turn and the stretch along it.
    Along,
    /// Marks on a line aslant, two among them: a turn and one stretch too, and a difference of the stretches looks like a turn.
    Aslant,
    /// A turn and both stretches.
    Both,
}

impl Resolvable {
    /// How many numbers are fitted.
    pub const fn parameters(self) -> usize {
        match self {
            Self::Shift => 2,
            Self::Two | Self::Across | Self::Along | Self::Aslant => 4,
            Self::Both => 5,
        }
    }
}

/// The places of a colour's marks, in sums about their middle.
#[derive(Debug, Clone)]
pub(super) struct Places<'a> {
    marks: &'a [Point],
    pub middle: Point,
    xx: f64,
    xy: f64,
    yy: f64,
}

/// How the print of a colour lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pose {
    /// Of what stands at the pivot, m.
    pub shift: Point,
    /// About the pivot, anticlockwise, rad.
    pub turn: f64,
    /// Growth along both axes, as shares of the length.
    pub stretch: Point,
    /// The mean offset of the marks, m.
    mean: Point,
    /// From the pivot to the middle of the marks, m.
    to_middle: Point,
}

/// The mean of points; zero of none.
pub(super) fn mean(points: &[Point]) -> Point {
    let n = points.len().max(1) as f64;
    let [x, y] = points.iter().fold([0.0, 0.0], |[a, b], [x, y]| [a + x, b + y]);
    [x / n, y / n]
}

pub(super) fn less([ax, ay]: Point, [bx, by]: Point) -> Point {
    [ax - bx, ay - by]
}

/// `R v - v`, without the difference of near numbers.
fn turned_by(turn: f64, [x, y]: Point) -> Point {
    let (sine, half) = (libm::sin(turn), libm::sin(0.5 * turn));
    let short = -2.0 * half * half;
    [short * x - sine * y, sine * x + short * y]
}

impl<'a> Places<'a> {
    pub fn of(marks: &'a [Point]) -> Self {
        let middle = mean(marks);
        let mut places = Self { marks, middle, xx: 0.0, xy: 0.0, yy: 0.0 };
        for [x, y] in marks.iter().map(|mark| less(*mark, middle)) {
            places.xx += x * x;
            places.xy += x * y;
            places.yy += y * y;
        }
        places
    }

    /// What can be told apart.
    pub fn resolvable(&self) -> Resolvable {
        let count = self.marks.len();
        if count < 2 {
            return Resolvable::Shift;
        }
        // The squares of the lengths along the line through the marks and off it: the eigenvalues of their matrix.
        let long = 0.5 * (self.xx + self.yy + libm::hypot(self.xx - self.yy, 2.0 * self.xy));
        let off = (self.xx * self.yy - self.xy * self.xy) / long;
        let least = ON_A_LINE * ON_A_LINE * long;
        let (across, along) = (self.yy <= least, self.xx <= least);
        if off > least && count > 2 {
            Resolvable::Both
        } else if count == 2 && (across || along) {
            Resolvable::Two
        } else if across {
            Resolvable::Across
        } else if along {
            Resolvable::Along
        } else {
            Resolvable::Aslant
        }
    }

    /// Turn and stretches, from offsets about their mean.
    ///
    /// One stretch: `1 + a = s cos t`, `b = s sin t` is linear (a similarity of four parameters). Both stretches: for each turn the
    /// best stretches are sums; what they leave is a quadratic form in `(cos t, sin t)`, so that the turn is half the angle of its axis.
    fn turn_and_stretch(&self, offsets: &[Point], mean: Point, resolvable: Resolvable) -> (f64, Point) {
        if resolvable == Resolvable::Shift {
            return (0.0, [0.0, 0.0]);
        }
        let [mut x_x, mut x_y, mut y_x, mut y_y] = [0.0; 4];
        for (mark, offset) in self.marks.iter().zip(offsets) {
            let ([x, y], [ox, oy]) = (less(*mark, self.middle), less(*offset, mean));
            x_x += x * ox;
            x_y += x * oy;
            y_x += y * ox;
            y_y += y * oy;
        }
        if resolvable != Resolvable::Both {
            let all = self.xx + self.yy;
            let (a, b) = ((x_x + y_y) / all, (x_y - y_x) / all);
            let scale = libm::hypot(1.0 + a, b);
            let stretch = (a * (2.0 + a) + b * b) / (scale + 1.0);
            let stretches = match resolvable {
                Resolvable::Across => [stretch, 0.0],
                Resolvable::Along => [0.0, stretch],
                _ => [stretch, stretch],
            };
            return (libm::atan2(b, 1.0 + a), stretches);
        }
        let (p, w) = (x_x / self.xx, y_y / self.yy);
        let (q, u) = (self.xy + x_y, self.xy + y_x);
        let both = self.xy * (p - w) + (1.0 + p) * x_y - (1.0 + w) * y_x;
        let apart =
            (1.0 + p) * (1.0 + p) * self.xx + (1.0 + w) * (1.0 + w) * self.yy - q * q / self.xx - u * u / self.yy;
        let mut turn = 0.5 * libm::atan2(2.0 * both, apart);
        // The axis has two ends: the one on which the print is not upside down.
        let upright = (2.0 + p + w) * libm::cos(turn) + (q / self.xx - u / self.yy) * libm::sin(turn);
        if upright < 0.0 {
            turn += if turn > 0.0 { -core::f64::consts::PI } else { core::f64::consts::PI };
        }
        let (sine, half) = (libm::sin(turn), libm::sin(0.5 * turn));
        let short = -2.0 * half * half;
        let across = p + short * (1.0 + p) + sine * q / self.xx;
        let along = w + short * (1.0 + w) - sine * u / self.yy;
        (turn, [across, along])
    }

    /// The least squares of one offset a mark.
    pub fn fit(&self, offsets: &[Point], pivot: Point, resolvable: Resolvable) -> Pose {
        let mean = mean(offsets);
        let (turn, stretch) = self.turn_and_stretch(offsets, mean, resolvable);
        let to_middle = less(self.middle, pivot);
        let mut pose = Pose { shift: [0.0, 0.0], turn, stretch, mean, to_middle };
        if resolvable == Resolvable::Shift {
            pose.to_middle = [0.0, 0.0];
        }
        pose.shift = less(mean, pose.carried(pose.to_middle));
        pose
    }
}

impl Pose {
    /// `R S v - v`: the offset of what stands at `v` from the pivot, the shift aside.
    fn carried(&self, [x, y]: Point) -> Point {
        let [ex, ey] = self.stretch;
        let [tx, ty] = turned_by(self.turn, [x + ex * x, y + ey * y]);
        [ex * x + tx, ey * y + ty]
    }

    /// The offset that the fit gives a mark so far from the pivot.
    pub fn offset(&self, from_pivot: Point) -> Point {
        let [x, y] = self.carried(from_pivot);
        let [sx, sy] = self.shift;
        [sx + x, sy + y]
    }

    /// How far the screen is to be moved before it is turned back about the pivot, so that the mean of the offsets is nothing: without a
    /// stretch, or with the pivot in the middle of the marks, the shift taken back.
    pub fn back(&self) -> Point {
        less(turned_by(self.turn, self.to_middle), self.mean)
    }

    /// What is left of an offset of a mark so far from the pivot, once the screen was moved and turned back.
    pub fn left(&self, from_pivot: Point, offset: Point) -> Point {
        let [bx, by] = self.back();
        let [x, y] = offset;
        let [ox, oy] = [x + bx, y + by];
        let ([px, py], [rx, ry]) = (turned_by(-self.turn, from_pivot), turned_by(-self.turn, [ox, oy]));
        [ox + px + rx, oy + py + ry]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const COMPUTED: &str = include_str!("../../../../tests/published/similarity_fit_computed.csv");
    const GHILANI: &str = include_str!("../../../../tests/published/similarity_fit_ghilani.csv");
    const TURNS: &str = include_str!("../../../../tests/published/register_marks_turn_scipy.csv");

    /// The cells of a table without its head; commas within quotes stay.
    fn rows(text: &str) -> Vec<Vec<String>> {
        let cells = |line: &str| -> Vec<String> {
            let mut quoted = false;
            line.split(|c| {
                quoted ^= c == '"';
                c == ',' && !quoted
            })
            .map(|cell| cell.trim_matches('"').to_owned())
            .collect()
        };
        text.lines().filter(|line| !line.starts_with('#')).skip(1).map(cells).collect()
    }

    fn points(text: &str) -> Vec<Point> {
        let point = |text: &str| {
            let (x, y) = text.split_once(' ').unwrap();
            [x.parse().unwrap(), y.parse().unwrap()]
        };
        text.split(';').map(point).collect()
    }

    fn close(got: f64, wanted: f64, digits: f64, of: &str) {
        assert!((got - wanted).abs() <= digits * wanted.abs(), "{of}: {got} is not {wanted}");
    }

    /// Similarities: shift of the origin, rotation, scale and what is left, to the printed digits.
    #[test]
    fn similarities_of_known_solution() {
        let mut known = 0;
        for row in rows(COMPUTED).iter().filter(|row| row[3] == "similarity") {
            let (from, to) = (points(&row[1]), points(&row[2]));
            let offsets: Vec<Point> = from.iter().zip(&to).map(|(from, to)| less(*to, *from)).collect();
            let pose = Places::of(&from).fit(&offsets, [0.0, 0.0], Resolvable::Two);
            let wanted = |cell: usize| row[cell].parse::<f64>().unwrap();
            let digits = if row[0].starts_with("large offset") { 1e-6 } else { 1e-11 };
            for (got, cell) in
                [(pose.shift[0], 4), (pose.shift[1], 5), (pose.turn.to_degrees(), 6), (1.0 + pose.stretch[0], 7)]
            {
                close(got, wanted(cell), digits, &format!("{} cell {cell}", row[0]));
            }
            let left = from.iter().zip(&offsets).map(|(from, offset)| {
                let [x, y] = less(*offset, pose.offset(*from));
                x * x + y * y
            });
            let rms = (left.sum::<f64>() / from.len() as f64).sqrt();
            let size = offsets.iter().flatten().fold(0.0, |most: f64, offset| most.max(offset.abs()));
            assert!((rms - wanted(8)).abs() <= 1e-10 * wanted(8) + 1e-15 * size, "{}: {rms}", row[0]);
            known += 1;
        }
        assert_eq!(known, 8);
    }

    /// A worked example of a textbook: parameters, residuals and transformed points.
    #[test]
    fn the_similarity_of_ghilani() {
        let rows = rows(GHILANI);
        let number = |row: &Vec<String>, cell: usize| row[cell].parse::<f64>().unwrap();
        let of_kind = |kind: &'static str| rows.iter().filter(move |row| row[0] == kind);
        let from: Vec<Point> = of_kind("control").map(|row| [number(row, 2), number(row, 3)]).collect();
        let to: Vec<Point> = of_kind("control").map(|row| [number(row, 4), number(row, 5)]).collect();
        let offsets: Vec<Point> = from.iter().zip(&to).map(|(from, to)| less(*to, *from)).collect();
        let pose = Places::of(&from).fit(&offsets, [0.0, 0.0], Resolvable::Two);
        let turn = pose.turn.to_degrees().rem_euclid(360.0);
        for (row, got) in of_kind("parameter").zip([pose.shift[0], pose.shift[1], 1.0 + pose.stretch[0], turn]) {
            close(got, number(row, 4), 1e-12, &row[1]);
        }
        let place = |from: Point| {
            let [x, y] = pose.offset(from);
            [from[0] + x, from[1] + y]
        };
        for (row, (from, to)) in of_kind("residual fit - given").zip(from.iter().zip(&to)) {
            let [x, y] = less(place(*from), *to);
            // Eight digits are printed, and of places of 1e6 nine decimals are left.
            assert!((x - number(row, 4)).abs() < 6e-9 && (y - number(row, 5)).abs() < 6e-9, "{row:?}: {x} {y}");
        }
        for row in of_kind("transformed") {
            let [x, y] = place([number(row, 2), number(row, 3)]);
            close(x, number(row, 4), 1e-9, &row[1]);
            close(y, number(row, 5), 1e-8, &row[1]);
        }
    }

    /// Of marks that show one stretch, the turn is that of the rotation that aligns them best, whatever the stretch.
    #[test]
    fn turns_are_those_of_an_alignment() {
        for row in rows(TURNS) {
            let (marks, offsets) = (points(&row[1]), points(&row[2]));
            let places = Places::of(&marks);
            let resolvable = places.resolvable();
            assert_ne!(resolvable, Resolvable::Both, "{row:?}");
            let pose = places.fit(&offsets, places.middle, resolvable);
            close(pose.turn, row[3].parse().unwrap(), 1e-11, &row[0]);
        }
    }

    #[test]
    fn what_can_be_told_apart_hangs_on_the_places() {
        for (marks, resolvable) in [
            (vec![[0.1, 0.2]], Resolvable::Shift),
            (vec![[0.0, 0.0], [0.3, 0.0]], Resolvable::Two),
            (vec![[0.0, 0.0], [0.001, 0.4]], Resolvable::Two),
            (vec![[0.0, 0.0], [0.3, 0.4]], Resolvable::Aslant),
            (vec![[0.0, 0.1], [0.3, 0.1], [0.2, 0.1]], Resolvable::Across),
            (vec![[0.1, 0.0], [0.1, 0.4], [0.1, 0.2]], Resolvable::Along),
            (vec![[0.0, 0.0], [0.1, 0.1], [0.3, 0.3]], Resolvable::Aslant),
            (vec![[0.0, 0.0], [0.3, 0.0], [0.0, 0.4]], Resolvable::Both),
            // Six millimetres off the line of 400 mm count; one does not.
            (vec![[0.0, 0.0], [0.006, 0.2], [0.0, 0.4]], Resolvable::Both),
            (vec![[0.0, 0.0], [0.001, 0.2], [0.0, 0.4]], Resolvable::Along),
        ] {
            assert_eq!(Places::of(&marks).resolvable(), resolvable, "{marks:?}");
        }
    }

    fn place() -> impl Strategy<Value = Point> {
        [-0.5..0.5_f64, -0.5..0.5_f64]
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// Offsets made from the model without noise give its numbers back, wherever the pivot is; and the move and the turn back take
        /// away the mean of the offsets, all of them where nothing is stretched.
        #[test]
        fn what_was_put_in_comes_out(
            corners in prop::collection::vec(place(), 1..5), pivot in place(), shift in [-0.01..0.01_f64, -0.01..0.01_f64],
            turn in prop_oneof![-0.3..0.3_f64, -1e-4..1e-4_f64], stretch in [-0.02..0.02_f64, -0.02..0.02_f64], stretched in any::<bool>(),
        ) {
            let mut marks = vec![[-0.15, -0.2], [0.15, -0.2], [0.1, 0.25]];
            marks.extend(corners);
            let stretch = if stretched { stretch } else { [0.0, 0.0] };
            let put = Pose { shift, turn, stretch, mean: [0.0, 0.0], to_middle: [0.0, 0.0] };
            let from: Vec<Point> = marks.iter().map(|mark| less(*mark, pivot)).collect();
            let offsets: Vec<Point> = from.iter().map(|from| put.offset(*from)).collect();
            let places = Places::of(&marks);
            prop_assert_eq!(places.resolvable(), Resolvable::Both);
            let got = places.fit(&offsets, pivot, Resolvable::Both);
            // Relative to what each does to marks half a metre off.
            let size = shift[0].abs() + shift[1].abs() + turn.abs() + stretch[0].abs() + stretch[1].abs();
            for (got, put) in [
                (got.shift[0], shift[0]), (got.shift[1], shift[1]), (got.turn, turn), (got.stretch[0], stretch[0]), (got.stretch[1], stretch[1]),
            ] {
                prop_assert!((got - put).abs() <= 1e-12 * size, "{} is not {}", got, put);
            }
            let left: Vec<Point> = from.iter().zip(&offsets).map(|(from, offset)| got.left(*from, *offset)).collect();
            let [x, y] = mean(&left);
            prop_assert!(x.abs() + y.abs() <= 1e-12 * size, "{} {}", x, y);
            if !stretched {
                prop_assert!(left.iter().all(|[x, y]| x.abs() + y.abs() <= 1e-12 * size));
            }
        }

        /// No other turn and stretches leave less.
        #[test]
        fn nothing_near_leaves_less(offsets in [place(), place(), place(), place()], by in [-1e-3..1e-3_f64, -1e-3..1e-3_f64, -1e-3..1e-3_f64]) {
            let marks = [[-0.5, -0.5], [0.5, -0.4], [0.4, 0.6], [-0.5, 0.5]];
            let offsets: Vec<Point> = offsets.iter().map(|[x, y]| [0.2 * x, 0.2 * y]).collect();
            let places = Places::of(&marks);
            let best = places.fit(&offsets, places.middle, Resolvable::Both);
            let squares = |pose: &Pose| marks.iter().zip(&offsets).map(|(mark, offset)| {
                let [x, y] = less(*offset, pose.offset(less(*mark, places.middle)));
                x * x + y * y
            }).sum::<f64>();
            let other = Pose { turn: best.turn + by[0], stretch: [best.stretch[0] + by[1], best.stretch[1] + by[2]], ..best };
            prop_assert!(squares(&best) <= squares(&other) * (1.0 + 1e-12));
            assert_relative_eq!(best.shift[0], best.mean[0], epsilon = 0.0, max_relative = 1e-12);
        }
    }
}
