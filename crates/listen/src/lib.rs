//! Sound to onsets to beats and blows.
pub mod bands;
mod contour;
pub mod follow;
mod line;
mod pulse;
mod shape;
pub mod sound;
mod wave;
pub use sound::{Ended, NotSound, decode};
pub fn probe(f:&str)->Vec<f64>{
    let mut bands=None; let mut out=bands::Octaves::default(); let mut n=0; let mut r=0;
    let e=decode(std::fs::File::open(f).unwrap(), |x,rate|{ bands.get_or_insert_with(||bands::Bands::new(rate)).hear(x,&mut out); n+=x.len(); r=rate; std::ops::ControlFlow::Continue(())});
    let mut b=bands.unwrap(); b.finish(&mut out);
    let len=n as f64/r as f64;
    let mut f=follow::Follower::default();
    f.hear(&follow::Stretch{power:&out.power,rate:b.frames_a_second(),begins_s:0.0,told_s:(0.0,len+1.0),struck:&[]});
    let pts:Vec<_>=f.beats.iter().map(|b|line::Point{n:b.n,at_s:b.at_s,sd_s:b.sd_s as f64}).collect();
    println!("{:?} heard {} of {}",line::Line::through(&pts),f.beats.len(),f.foretold);
    f.beats.iter().map(|b|b.at_s).collect()
}
