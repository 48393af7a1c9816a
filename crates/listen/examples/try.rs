fn main(){ 
 let truth:serde_json::Value=serde_json::from_str(&std::fs::read_to_string("/work/shared/outside/recordings/truth.json").unwrap()).unwrap();
 for f in std::env::args().skip(1){ println!("{f}"); let got=listen::probe(&f); let name=f.rsplit('/').next().unwrap(); let t=&truth[name]; let on:Vec<f64>=t["onsets_s"].as_array().unwrap().iter().map(|x|x.as_f64().unwrap()).collect();
  println!("  truth {} full {} ± {} diff {}",on.len(),t["full_period_s"],t["full_period_spread_s"],t["tick_tock_difference_ms"]);
  for (i,g) in got.iter().enumerate(){ let d=on.iter().map(|o|g-o).min_by(|a,b|a.abs().total_cmp(&b.abs())).unwrap(); print!("{}{:.3}:{:+.0} ",if i%12==0{"  "}else{""},g,1000.0*d);} println!();
 } }
