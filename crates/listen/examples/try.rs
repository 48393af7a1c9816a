#[path="../tests/made/mod.rs"] mod made;
use made::*; use made::voices::*; use listen::*; use rand::RngExt;
fn hear(f:&str)->Heard{ let mut ear=None; decode(std::fs::File::open(f).unwrap(), |x,rate|{ ear.get_or_insert_with(||Ear::new(rate)).hear(x); std::ops::ControlFlow::Continue(())}).unwrap(); ear.unwrap().finish() }
fn main(){ 
 let truth:serde_json::Value=serde_json::from_str(&std::fs::read_to_string("/work/shared/outside/recordings/truth.json").unwrap()).unwrap();
 let a:Vec<String>=std::env::args().skip(1).collect();
 if a[0]=="blows" { return blows(a[1].parse().unwrap(), a[2].parse().unwrap(), &a[3]); }
 for f in a{ println!("{f}"); let h=hear(&f); let name=f.rsplit('/').next().unwrap(); let t=&truth[name]; let on:Vec<f64>=t["onsets_s"].as_array().unwrap().iter().map(|x|x.as_f64().unwrap()).collect();
  println!("  truth {} full {} ± {} diff {}",on.len(),t["full_period_s"],t["full_period_spread_s"],t["tick_tock_difference_ms"]);
  let pr=|got:Vec<f64>|{for (i,g) in got.iter().enumerate(){ let d=on.iter().map(|o|g-o).min_by(|a,b|a.abs().total_cmp(&b.abs())).unwrap(); print!("{}{:.3}:{:+.0} ",if i%12==0{"  "}else{""},g,1000.0*d);} println!();};
  println!("beats {} of {}",h.beats.len(),h.foretold); pr(h.beats.iter().map(|b|b.at_s).collect()); for s in &h.strikes{println!("strike {}",s.blow_times_s.len()); pr(s.blow_times_s.clone());} println!("chimes {:?}",h.chimes);
 } }
// one strike in 30 s, noise at db
fn blows(n:u64, db:f64, what:&str){ let rate=16000.0; let mut right=0; let mut t=0; 
 let only=std::env::var("ONLY").ok().map(|x|x.parse::<u64>().unwrap()); for seed in 0..n { if only.is_some_and(|o|o!=seed){continue;} let d=&mut dice(seed); let bell=match what {"tuned"=>Struck::tuned(d),"bell"=>Struck::bell(d),_=>Struck::rod(d)};
  let hours=[3usize,12,1,7,2,9]; let mut s=Sound::silent(30.0*hours.len() as f64,rate);
  let pace=between(d,0.8,2.0); let mut truth=vec![];
  for (k,h) in hours.iter().enumerate(){ let mut at=30.0*k as f64+between(d,3.0,5.0); for _ in 0..*h { s.add(&bell.blow(6.0,rate,d),at,0.1*between(d,0.8,1.2)); truth.push(at); 
     let p:Sound={let mut p=Sound::silent(0.01,rate); p.hiss(0.05,d); p}; s.add(&p.x,at-between(d,0.1,0.2),1.0);
     at+=pace*between(d,0.96,1.04);} }
  if only.is_some(){println!("seed {truth:.2?}");} let level=s.rms_between(truth[0],truth[2]+1.0);
  let noise=level*10f64.powf(-db/20.0)/1.41; s.room(noise,d); s.speech(noise,d); 
  let mut ear=Ear::new(rate as u32); ear.hear(&s.x); let h=ear.finish();
  let got:Vec<usize>=(0..hours.len()).map(|k|h.strikes.iter().filter(|s|(s.blow_times_s[0]/30.0) as usize==k).map(|s|s.blow_times_s.len()).sum()).collect();
  let mut err:Vec<f64>=h.strikes.iter().flat_map(|s|s.blow_times_s.clone()).filter_map(|b|truth.iter().map(|t|b-t).min_by(|a,b|a.abs().total_cmp(&b.abs()))).collect(); err.sort_by(f64::total_cmp); if !err.is_empty() {println!("err {:.3} {:.3} {:.3}",err[err.len()/20],err[err.len()/2],err[err.len()*19/20]);}
  t+=1; if got==hours.to_vec(){right+=1}else{println!("seed {seed} pace {pace:.2} base {:.0} t60 {:.1}: {got:?} beats {}",bell.base_hz,bell.partials[0].2,h.beats.len());}
 } println!("{right} of {t}"); let _=0; }
