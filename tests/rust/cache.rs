//! The cache of heat: answers never depend on it, it is bounded, and threads share it.

use floodbar::{Cache, calculate, calculate_many, sweep};
use floodbar_tests::vectors::vectors;
use serde_json::{Value, json};

/// Every vector twice through one cache, and once through one that is always full: the same text as without.
#[test]
fn answers_do_not_depend_on_it() {
    let (large, small) = (Cache::new(10_000), Cache::new(1));
    let mut asked = 0;
    for vector in vectors().iter().filter(|vector| vector.get("request").is_some()) {
        let (id, request) = (vector["calculation"].as_str().expect("a name"), &vector["request"]);
        if !["job", "flash", "dryer"].iter().any(|step| id.starts_with(step)) {
            continue;
        }
        let told = |done: Result<Value, floodbar::Error>| done.unwrap_or_else(|error| error.to_json()).to_string();
        let alone = told(calculate(id, request));
        for cache in [&large, &large, &small] {
            assert_eq!(told(cache.calculate(id, request)), alone, "{id} {request}");
        }
        asked += 1;
    }
    let (hits, misses) = large.counts();
    assert!(asked > 100 && hits > 60 && hits >= misses, "{asked} {hits} {misses}");
    let (few, many) = small.counts();
    assert!(many > few, "{few} {many}");
}

fn window(air: f64) -> Value {
    json!({ "dryer": { "from": "air-dryer-2m", "air": { "value": air, "unit": "degC" } }, "ink": "plastisol", "cloth": "cotton-jersey-180" })
}

/// What differs in the last bit is another run; what only words differ by is the same one.
#[test]
fn all_that_a_run_hangs_on_tells_it_apart() {
    let cache = Cache::new(10);
    let ask = |request: Value| cache.calculate("dryer.window", &request).unwrap();
    ask(window(180.0));
    let mut us = window(180.0);
    us["units"] = json!("us");
    us["explain"] = json!(false);
    ask(us);
    assert_eq!(cache.counts(), (1, 1));
    ask(window(180.0 + 1e-12 * 180.0));
    assert_eq!(cache.counts(), (1, 2));
    let mut fitted = window(180.0);
    fitted["dryer"]["fitted"] = json!(true);
    assert_ne!(ask(fitted)["recommended"], ask(window(180.0))["recommended"]);
    assert_eq!(cache.counts(), (2, 3));
}

#[test]
fn it_is_bounded_and_what_was_asked_for_last_stays() {
    let cache = Cache::new(2);
    for air in [180.0, 181.0, 180.0, 182.0, 180.0, 181.0] {
        cache.calculate("dryer.window", &window(air)).unwrap();
    }
    // 181 had to go for 182.
    assert_eq!(cache.counts(), (2, 4));
    let none = Cache::new(0);
    for _ in 0..2 {
        none.calculate("dryer.window", &window(180.0)).unwrap();
    }
    assert_eq!(none.counts(), (0, 2));
}

#[test]
fn every_operator_takes_it() {
    let cache = Cache::new(100);
    let request = window(180.0);
    let spec = json!({ "vary": "/start", "from": "20 degC", "to": "30 degC", "points": 3, "want": ["/fastest"] });
    let alone = sweep("dryer.window", &request, &spec).unwrap();
    for _ in 0..2 {
        assert_eq!(cache.sweep("dryer.window", &request, &spec).unwrap(), alone);
    }
    assert_eq!(cache.counts(), (3, 3));
    let many = json!([request, request, {}]);
    assert_eq!(cache.calculate_many("dryer.window", &many).unwrap(), calculate_many("dryer.window", &many).unwrap());
    let columns = json!({ "inputs": ["/start"], "outputs": ["/fastest"] });
    let prepared = cache.prepare("dryer.window", &request, &columns).unwrap();
    let (_, misses) = cache.counts();
    let mut found = [0.0];
    prepared.rows().unwrap().row(&[20.0], &mut found);
    assert_eq!(cache.counts().1, misses);
    assert_eq!(json!(found[0]), alone["columns"][0]["values"][0]);
    // A doubt asks beside what was asked already.
    let mut doubted = request.clone();
    doubted["film"] = json!("40 +/- 4 um");
    assert_eq!(cache.calculate("dryer.window", &doubted).unwrap(), calculate("dryer.window", &doubted).unwrap());
}

#[test]
fn threads_share_one() {
    let cache = Cache::new(100);
    let alone: Vec<Value> =
        (0..4).map(|air| calculate("dryer.window", &window(180.0 + f64::from(air))).unwrap()).collect();
    std::thread::scope(|scope| {
        for _ in 0..8 {
            scope.spawn(|| {
                for (air, alone) in alone.iter().enumerate() {
                    assert_eq!(&cache.calculate("dryer.window", &window(180.0 + air as f64)).unwrap(), alone);
                }
            });
        }
    });
    let (hits, misses) = cache.counts();
    assert_eq!(hits + misses, 32);
    assert!(misses >= 4);
}
