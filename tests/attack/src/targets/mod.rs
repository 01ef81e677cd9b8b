//! What is attacked: for each door a function of bytes that panics where something is not as promised.

mod c;
mod decode;
mod measure;
mod operators;
mod prepared;
mod quantity;
mod text;

/// A target: it panics where what it attacks is at fault.
pub type Target = fn(&[u8]);

/// All of them, by name.
pub const TARGETS: [(&str, Target); 10] = [
    ("text", text::closed),
    ("heat", text::heat),
    ("quote", text::quote),
    ("quantity", quantity::quantity),
    ("prepare", prepared::prepared),
    ("sweep", operators::sweep),
    ("solve", operators::solve),
    ("measure", measure::measure),
    ("decode", decode::decode),
    ("c", c::c),
];

/// Runs a target by its name.
///
/// # Panics
/// Where the target is at fault, or there is none of that name.
pub fn run(name: &str, data: &[u8]) {
    let (_, target) = TARGETS.iter().find(|(known, _)| *known == name).expect("a target");
    target(data);
}
