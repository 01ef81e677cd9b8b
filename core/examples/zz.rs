#![allow(missing_docs, clippy::all, clippy::pedantic, clippy::unwrap_used, clippy::indexing_slicing, clippy::arithmetic_side_effects)]
use serde_json::{Value,json};
fn order(n: usize) -> Value {
  let inks=["plastisol","plastisol-white","plastisol-low-cure","water-based"];
  let meshes=["43-80","55-64","77-55","90-48","120-34"];
  let colours=1+n%6;
  let dark=n%2==0;
  let screens:Vec<Value>=(0..colours).map(|k| {
     let base = dark && k==0;
     json!({"name":format!("colour {k}"),"colour":format!("c{}",(n*7+k)%30),"ink": if base {"plastisol-white"} else {"plastisol"},"mesh": if base {"55-64"} else {meshes[2+(n/6+k)%2]},"coverage_fraction":0.05+0.01*((n+k)%10) as f64,"flash":base})}).collect();
  let _=inks;
  let pieces = 24+ (n*37)%400;
  let s=pieces/3;
  json!({"title":format!("order {n}"),"pieces":pieces,"cloth": if dark {"cotton-jersey-180-dark"} else {"cotton-jersey-180"},
   "sizes":[{"size":"M","pieces":s},{"size":"L","pieces":pieces-2*s},{"size":"2XL","pieces":s}],
   "placements":[{"name":"front","width":"300 mm","height":"340 mm","screens":screens}],
   "currency":"EUR","rates":{"from":"starter-rates","blank_by_size":[{"size":"2XL","each":"5.90 EUR"}]},"price":{"margin_fraction":0.3,"tax_fraction":0.19},"explain":false})
}
fn main(){
  let orders:Vec<Value>=(0..120).map(order).collect();
  let texts:Vec<String>=orders.iter().map(|o|format!("[{o}]")).collect();
  let cache=floodbar::Cache::new(10000);
  let t=std::time::Instant::now();
  for x in &texts { let a=cache.calculate_many_text("job.quote",x.as_bytes()).unwrap(); assert!(!a.contains("\"error\""),"{a}"); }
  println!("quotes first pass {:?} each",t.elapsed()/120);
  let n: u32 = std::env::args().nth(1).map_or(20,|a|a.parse().unwrap());
  let t=std::time::Instant::now();
  for _ in 0..n { for x in &texts { cache.calculate_many_text("job.quote",x.as_bytes()).unwrap(); } }
  let q=t.elapsed()/120/n; println!("warm {:?}",q);
  if n>1 && n<70 {
  let t=std::time::Instant::now();
  for o in &orders { let mut e=o.clone(); for k in ["currency","rates","price"] {e.as_object_mut().unwrap().remove(k);} floodbar::calculate_text("job.plan",e.to_string().as_bytes()).unwrap(); }
  let p=t.elapsed()/120; println!("plan cold {:?} ratio {}",p,p.as_secs_f64()/q.as_secs_f64());
  println!("{:?}",cache.counts());}
}
