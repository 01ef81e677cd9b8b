//! A row of a prepared closed form allocates nothing: all that is allocated meanwhile is counted.

use floodbar::prepare;
use peak_alloc::PeakAlloc;
use serde_json::{Value, json};

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// One test, so that nothing else allocates meanwhile.
#[test]
fn a_row_allocates_nothing() {
    let usage = json!({ "mesh": "77-55", "ink": "plastisol", "prints": 100, "printed_area": "250 cm2" });
    let cases: [(&str, Value, Value, &[f64]); 4] = [
        (
            "ink.usage",
            usage,
            json!({ "inputs": ["/printed_area", "/prints"], "outputs": ["/mass_to_mix", "/wet_film"] }),
            &[250.0, 100.0],
        ),
        (
            "exposure.step",
            json!({ "time": "95 s", "solid_step": 6 }),
            json!({ "inputs": ["/time"], "outputs": ["/time", "/factor"] }),
            &[80.0],
        ),
        (
            "mesh.geometry",
            json!({ "mesh": "77-55" }),
            json!({ "inputs": ["/mesh/thread"], "outputs": ["/opening", "/ink_volume"] }),
            &[52.0],
        ),
        // With cautions: an unusual time, a step far away.
        (
            "exposure.step",
            json!({ "time": "95 s", "solid_step": 12 }),
            json!({ "inputs": ["/time"], "outputs": ["/time", "/factor"] }),
            &[0.5],
        ),
    ];
    for (id, request, columns, values) in cases {
        let prepared = prepare(id, &request, &columns).expect("prepared");
        let (mut rows, mut found) = (prepared.rows().expect("rows"), [0.0; 2]);
        // What the first row sets aside is used again.
        let first = rows.row(values, &mut found);
        assert_eq!(first.status, Ok(()), "{id}");
        let before = MEMORY.current_usage();
        MEMORY.reset_peak_usage();
        for _ in 0..1_000 {
            let row = rows.row(values, &mut found);
            assert!(row == first && row.status.is_ok());
        }
        assert_eq!(MEMORY.peak_usage() - before, 0, "{id}");
        assert!(found.iter().all(|value| value.is_finite()));
    }
}
