//! A whole order from outside the workspace, typed, on the packaged crate: each step refuses a wrong value and takes the right one.

use floodbar::job::{Order, PLAN, Placement, ScreenOrder, Shop, SizeOrder};
use floodbar::quantity::units::{CM2, DEG_C, G, M_PER_MIN, MIN, MM, N_PER_CM, PER_CM, PER_IN, S, UM};
use floodbar::{Code, Error, cure, dryer, exposure, flash, ink, mesh, press, register, stencil, stock, tension, wash};

/// A wrong value must be refused with this code at this field.
fn refused<T>(answer: Result<T, Error>, code: Code, field: &str) -> Result<(), String> {
    match answer {
        Err(error) if error.code == code && error.field == field => Ok(()),
        Err(error) => Err(format!("wanted {code:?} at {field}, got {error:?}")),
        Ok(_) => Err(format!("{field} was taken")),
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let cloth = stock::cloth("cotton-jersey-180-dark")?;
    let white = stock::ink("plastisol-white")?;

    let cotton = mesh::Mesh::new(PER_CM.of(55.0), UM.of(64.0))?;
    refused(mesh::Mesh::new(PER_CM.of(55.0), UM.of(264.0)), Code::Impossible, "/thread")?;
    let detail = mesh::DetailRequest::new().mesh(cotton.clone());
    refused(mesh::DETAIL.answer(&detail.clone().ruling(PER_IN.of(-55.0))), Code::OutOfRange, "/ruling")?;
    println!("finest line {:.0} um", UM.value(mesh::DETAIL.answer(&detail)?.finest_line));

    let gauge = stencil::ThicknessRequest::new().mesh(cotton.clone());
    refused(
        stencil::THICKNESS.answer(&gauge.clone().coated_thickness(UM.of(f64::NAN))),
        Code::OutOfRange,
        "/coated_thickness",
    )?;
    println!("stencil {}", stencil::THICKNESS.answer(&gauge.coated_thickness(UM.of(115.0)))?.verdict.text());

    let scale = exposure::StepRequest::new().time(S.of(95.0));
    refused(exposure::STEP_SCALE.answer(&scale), Code::MissingField, "/solid_step")?;
    println!("expose {:.0} s", S.value(exposure::STEP_SCALE.answer(&scale.solid_step(6.0))?.time));

    let usage =
        ink::UsageRequest::new().mesh(cotton.clone()).ink(white.clone()).printed_area(CM2.of(460.0)).prints(240);
    refused(ink::USAGE.answer(&usage.clone().waste_fraction(-3.0)), Code::OutOfRange, "/waste_fraction")?;
    println!("mix {:.0} g", G.value(ink::USAGE.answer(&usage)?.mass_to_mix));

    let readings =
        |newtons: f64| tension::ScreenReadings::new().name("base").readings([N_PER_CM.of(newtons), N_PER_CM.of(25.5)]);
    let set = tension::SetRequest::new();
    refused(tension::ASSESS.answer(&set.clone().screens([readings(-1.0)])), Code::OutOfRange, "/screens/0/readings/0")?;
    println!("screens {}", tension::ASSESS.answer(&set.screens([readings(25.0)]))?.verdict.text());

    let budget = register::BudgetRequest::new().sources([stock::cause("shirt-creep")?]).colours(3).trap(MM.of(0.5));
    refused(register::BUDGET.answer(&budget.clone().wanted_probability(1.5)), Code::OutOfRange, "/wanted_probability")?;
    println!("trap {:.2} mm", MM.value(register::BUDGET.answer(&budget)?.trap_needed));

    let blanks = press::OversRequest::new().pieces(240).spoilage_fraction(0.025);
    refused(press::OVERS.answer(&blanks), Code::MissingField, "/confidence")?;
    println!("start with {}", press::OVERS.answer(&blanks.confidence(0.9))?.start_with);

    let dwell = flash::FlashDwellRequest::new()
        .flash(stock::flash("panel-flash")?)
        .ink(white.clone())
        .cloth(cloth.clone())
        .platen(stock::platen("rubber-topped")?);
    refused(flash::DWELL_TIME.answer(&dwell.clone().film(MM.of(50.0))), Code::OutOfRange, "/film")?;
    println!("flash {:.1?} s", flash::DWELL_TIME.answer(&dwell)?.recommended.map(|dwell| S.value(dwell)));

    let window =
        dryer::WindowRequest::new().dryer(stock::dryer("air-dryer-2m")?).ink(white.clone()).cloth(cloth.clone());
    let changed = stock::ink("plastisol-white")?.never_above(DEG_C.of(5_000.0));
    refused(dryer::WINDOW.answer(&window.clone().ink(changed)), Code::OutOfRange, "/ink/never_above")?;
    println!("belt {:.2} m/min", M_PER_MIN.value(dryer::WINDOW.answer(&window)?.recommended));

    let held = cure::Held::new().temperature(DEG_C.of(160.0)).hold(S.of(60.0));
    let same = cure::EquivalentRequest::new().from(held).to(cure::HeldTo::new().temperature(DEG_C.of(150.0)));
    refused(cure::EQUIVALENT.answer(&same), Code::MissingField, "")?;

    let samples = wash::SamplesRequest::new().reliability_fraction(0.9).confidence(0.9);
    refused(wash::SAMPLES.answer(&samples.clone().confidence(2.0)), Code::OutOfRange, "/confidence")?;
    println!("wash {} prints", wash::SAMPLES.answer(&samples)?.samples);

    let base = ScreenOrder::new().name("base white").ink(white).mesh(cotton).coverage_fraction(0.38).flash(true);
    let red = ScreenOrder::new().name("pennant red").ink(stock::ink("plastisol")?).mesh("77-55".parse::<mesh::Mesh>()?);
    let front = |red: ScreenOrder| {
        Placement::new().name("front").width(MM.of(320.0)).height(MM.of(380.0)).screens([base.clone(), red])
    };
    let order = Order::new()
        .title("Regatta crew tees")
        .pieces(240)
        .cloth(cloth)
        .sizes([SizeOrder::new().size("M").pieces(140), SizeOrder::new().size("L").pieces(100)])
        .shop(Shop::in_stock("starter-shop")?.setup_per_screen(MIN.of(9.0)));
    let wrong = order.clone().placements([front(red.clone().coverage_fraction(7.0))]);
    refused(PLAN.answer(&wrong), Code::OutOfRange, "/placements/0/screens/1/coverage_fraction")?;
    let plan = PLAN.answer(&order.placements([front(red.coverage_fraction(0.16))]))?;
    let own = plan.basis().iter().find(|basis| basis.of.to_string() == "starter-shop.setup_per_screen");
    assert_eq!(own.map(|basis| basis.source.kind), Some(floodbar::source::SourceKind::User), "a changed value says so");
    println!(
        "{} screens, belt limits {} and {}",
        plan.screens.len(),
        plan.dryer.limits.slowest.text(),
        plan.dryer.limits.fastest.text()
    );
    // SAFETY: the texts are C strings, the place is that of a pointer, and what is put there is freed once.
    let answer = unsafe {
        let mut text = std::ptr::null_mut();
        let status = floodbar_ffi::floodbar_calculate(
            c"mesh.geometry".as_ptr(),
            c"{\"mesh\": \"55-64\"}".as_ptr(),
            &raw mut text,
        );
        let answer = std::ffi::CStr::from_ptr(text).to_str()?.to_owned();
        floodbar_ffi::floodbar_free(text);
        (status, answer)
    };
    let same = floodbar::calculate_text("mesh.geometry", br#"{"mesh": "55-64"}"#)?;
    if answer != (floodbar_ffi::FLOODBAR_SUCCESS, same) {
        return Err(format!("the C layer answers {answer:?}").into());
    }
    Ok(())
}
