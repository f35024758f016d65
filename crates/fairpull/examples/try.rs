//! try
fn main() {
    let dir = std::env::args().nth(1).unwrap();
    let text = std::fs::read_to_string(format!("{dir}/job.toml")).unwrap();
    let job = fairpull::reduction::Job::parse(&text, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let t = std::time::Instant::now();
    let out = fairpull::reduction::reduce(
        &job,
        &fairpull::builtin(),
        &mut |f| std::fs::read(format!("{dir}/{f}")).map_err(|e| e.to_string()),
        &mut |_, _| true,
    )
    .unwrap_or_else(|e| panic!("{e}"));
    println!("{:?}", t.elapsed());
    println!("{:?} band {:?} {}", out.drive, out.band, out.loss_model);
    for s in &out.states {
        println!(
            "{} peak {:?} torque {:?} rep {:?} soak {:?} mc {:?}",
            s.name, s.peak_power, s.peak_torque, s.repeatability, s.soak, s.monte_carlo
        );
        for p in &s.pulls {
            println!(
                "  {} {:.1}..{:.1}s {:?} f {:.4} peak {:?} level {:.4} loss {:.0} coast {} rep {:?} flags {:?}",
                p.name,
                p.start,
                p.start + p.seconds,
                p.reach,
                p.factor,
                p.peak,
                p.level,
                p.loss,
                p.coast,
                p.repairs,
                p.flags
            );
        }
        for b in &s.budget {
            println!("    {} {} {:.4}", b.source, b.input, b.relative * 100.0);
        }
        for c in &s.channels {
            println!("    {:?} {:?}", c.role, c.mean);
        }
    }
    for c in &out.comparisons {
        println!(
            "{:?} {:?} within {} sdc {} {:?} {:?}",
            c.mean, c.verdict, c.within, c.smallest_detectable, c.remarks, c.peak
        );
        for x in &c.curve {
            println!("{} {:.2} {:.2} {:.2}", x.0, x.1.value * 100.0, x.1.low * 100.0, x.1.high * 100.0);
        }
    }
    println!("{:?}", out.notices);
    println!("{:?}", out.worked);
    let model = fairpull::present(&job, &out, &fairpull::builtin());
    std::fs::write("/tmp/report.html", fairpull::report::to_html(&model)).unwrap();
    println!("{}", fairpull::report::summary_text(&model, 100, false));
}
