//! The method of the steps, as data: RODAS4P2, linearly implicit.
//!
//! Steinebach, *Improvement of Rosenbrock-Wanner Method RODASP*, in Progress in Differential-Algebraic Equations II (2020);
//! the form in increments and its dense output are those of Hairer and Wanner, Solving Ordinary Differential Equations II,
//! IV.7. Six stages, order 4 with a companion of order 3, stiffly accurate, dense output of order 3. Of all methods of this kind it
//! keeps its order best where the equations are stiff and where the Jacobian is not quite theirs.
//!
//! For `y' = f(y)`, a step of `h` from `y0`, J the Jacobian there:
//!
//! `(1 / (GAMMA h) - J) u_i = f(y0 + sum STAGE_ij u_j) + sum COUPLING_ij u_j / h`
//!
//! `y1 = y0 + sum STAGE_5j u_j + u_5`, and its error `u_5`; a share x into the step, with `d = sum THIRD_j u_j`, `e = sum FOURTH_j u_j`,
//! `y(x) = (1 - x) y0 + x (y1 + (1 - x) (d + x e))`.

/// Stages of a step.
pub(super) const STAGES: usize = 6;
pub(super) const GAMMA: f64 = 0.25;

type Weights = [f64; STAGES - 1];
const FIFTH: Weights = [7.089566927282776, 4.573591406461604, -8.423496976860259, -0.959280113459775, 0.0];

/// How the earlier increments count for where a stage is looked at.
pub(super) const STAGE: [Weights; STAGES] = [
    [0.0; 5],
    [3.0, 0.0, 0.0, 0.0, 0.0],
    [0.906377755268814, -0.189707390391685, 0.0, 0.0, 0.0],
    [3.758617027739064, 1.161741776019525, -0.849258085312803, 0.0, 0.0],
    FIFTH,
    // Stiffly accurate: it starts where the one before ended.
    [FIFTH[0], FIFTH[1], FIFTH[2], FIFTH[3], 1.0],
];

/// How the earlier increments, by time, count in the right side of a stage.
pub(super) const COUPLING: [Weights; STAGES] = [
    [0.0; 5],
    [-12.0, 0.0, 0.0, 0.0, 0.0],
    [-6.354581592719008, 0.338972550544623, 0.0, 0.0, 0.0],
    [-8.575016317114033, -7.606483992117508, 12.224_997_650_124_82, 0.0, 0.0],
    [-5.888_975_457_523_102, -8.157_396_617_841_82, 24.805_546_872_612_92, 12.790_401_512_796_98, 0.0],
    [-4.408651676063871, -6.692003137674639, 24.625568527593117, 16.627_521_966_636_085, -5.714285714285718],
];

pub(super) const THIRD: Weights =
    [-5.323528268423303, -10.042123754867493, 17.175254928256965, -5.079931171878093, -0.016185991706112];
pub(super) const FOURTH: Weights =
    [6.984505741529879, 6.914061169603662, -0.849178943070653, 18.104410789349338, -3.516963011559032];
