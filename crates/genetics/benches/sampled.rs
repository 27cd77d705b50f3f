use genetics::posterior::*;
fn main(){
 let args: Vec<String>=std::env::args().skip(1).collect();
 let get=|k:&str,d:f64| args.iter().find_map(|a| a.strip_prefix(k)).map_or(d,|x| x.parse().unwrap());
 for f in args.iter().filter(|a| a.ends_with("txt")) {
    let text=std::fs::read_to_string(f).unwrap();
    let mut lines=text.lines();
    let head: Vec<usize> = lines.next().unwrap().split(' ').map(|x| x.parse().unwrap()).collect();
    let mut origins=vec![]; let mut known=vec![];
    for l in lines { let f: Vec<f64>=l.split(' ').map(|x| x.parse().unwrap()).collect();
      let founder=f[0]<0.0;
      origins.push(if founder {genetics::Origin::Founder} else {genetics::Origin::Parents{sire:f[0] as usize,dam:f[1] as usize}});
      let mut own: Vec<Vec<f64>>=vec![];
      if founder {own.push(f[3..].to_vec())}
      if f[2]>=0.0 { own.push(head[1..].iter().map(|l| f64::from(u8::from(*l==f[2] as usize))).collect()) }
      known.push(own);
    }
    let p=genetics::Pedigree::new(origins).unwrap();
    let g=genetics::LinkageGroup::autosomal(head[0]).unwrap();
    let mut e=genetics::Evidence::flat(p.len(), g.n_states());
    for (a,o) in known.iter().enumerate(){ for w in o { e.see(a,w);} }
    let s=Sampling{target_error:get("err=",0.002), most_sweeps:get("sweeps=",20000.0) as u32, seed: get("seed=",1.0) as u64};
    let b=Budget{table_entries:get("budget=",4096.0) as usize, sampling:Some(s)};
    let t=std::time::Instant::now();
    let r=posteriors(&p,&g,&e,&b).unwrap();
    println!("{f}: {:?} in {:.3} s", r.accuracy(), t.elapsed().as_secs_f64());
    if get("exact=",0.0)>0.0 {
      let x=posteriors(&p,&g,&e,&Budget{table_entries:1<<26,sampling:None}).unwrap();
      let (mut worst,mut z2,mut zn,mut over,mut bad)=(0.0f64,0.0,0,0,0.0f64);
      for a in 0..p.len() { 
        let d=r.of(a).iter().zip(x.of(a)).map(|(a,b)|(a-b).abs()).fold(0.0,f64::max);
        worst=worst.max(d); let s=r.error_of(a);
        if s>1e-9 { zn+=1; z2+=(d/s).powi(2); if d>2.0*s {over+=1} bad=bad.max(d/s); } else { assert!(d<1e-9, "{a} {d} {s}") }
      }
      println!("  true worst error {worst:.5}; sampled animals {zn}, rms z {:.3}, over 2 se {:.4}, worst z {bad:.2}", (z2/zn as f64).sqrt(), over as f64/zn as f64);
    }
 }
}
