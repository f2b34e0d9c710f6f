//! Temporary: held-out evaluation.
use shakedown::belief::*;
use shakedown::hearing::*;
use shakedown::library::*;
use std::collections::HashMap;
fn main() {
    let (mut lib, _) = Library::load(embedded_files());
    let classes: Vec<String> = lib.causes.iter().map(|c| c.id.clone()).collect();
    let mut held: Vec<(String, usize)> = vec![];
    for (i, c) in lib.causes.iter_mut().enumerate() {
        let mut keep = vec![];
        for (k, s) in c.says.iter().enumerate() {
            if k % 6 == 3 { held.push((s.clone(), i)); } else { keep.push(s.clone()); }
        }
        c.says = keep;
        for s in &mut c.sections { if s.heading == "Riders say" { s.markdown = String::new(); } }
    }
    let mut ex: Vec<(&str, usize)> = vec![];
    for (i, c) in lib.causes.iter().enumerate() {
        for s in &c.says { ex.push((s, i)); }
        ex.push((&c.title, i));
        for s in &c.also { ex.push((s, i)); }
    }
    let t = std::time::Instant::now();
    let bytes = learn(&classes, &ex);
    eprintln!("learn {:?} {} examples {} bytes", t.elapsed(), ex.len(), bytes.len());
    let lin = Linear::from_bytes(&bytes).unwrap();
    let index = Index::build(&lib).unwrap();
    let ears = Ears::new(&lib);
    let model = Model::new(&lib.causes, &lib.findings);
    // complaints
    let text = std::fs::read_to_string(std::env::args().nth(1).unwrap_or("/tmp/spec/first.jsonl".into())).unwrap();
    let mut sets: Vec<(&str, Vec<(String, Vec<usize>)>)> = vec![];
    let mut cs = vec![];
    for l in text.lines() {
        let v: serde_json::Value = serde_json::from_str(l).unwrap();
        let e: Vec<usize> = v["expect"].as_array().unwrap().iter().filter_map(|x| lib.cause(x.as_str().unwrap()).map(|c| c.0)).collect();
        if !e.is_empty() { cs.push((v["utterance"].as_str().unwrap().to_owned(), e)); }
    }
    sets.push(("complaints", cs));
    sets.push(("held", held.into_iter().map(|(s, i)| (s, vec![i])).collect()));
    for (name, set) in &sets {
        struct Row { bm: HashMap<usize, f64>, best: f64, words: f64, lin: Vec<f64>, heard: Heard, want: Vec<usize> }
        let rows: Vec<Row> = set.iter().map(|(s, w)| {
            let sp = ears.spelled(s);
            let hits = index.search(&sp, 80, true);
            let best = hits.first().map(|h| h.score as f64).unwrap_or(1.0);
            let bm = hits.iter().filter_map(|h| if let NoteRef::Cause(c) = h.note { Some((c.0, h.score as f64)) } else { None }).collect();
            Row { bm, best, words: index.words(&sp).len() as f64, lin: lin.log_probabilities(s), heard: ears.hear(s), want: w.clone() }
        }).collect();
        let eval = |l1: f64, l2: f64, eh: f64, prior: f64| -> (f64, f64, f64, f64) {
            let mut r = [0.0; 3]; let mut ll = 0.0;
            for row in &rows {
                let mut log: Vec<f64> = model.prior.iter().map(|p| prior * p.ln()).collect();
                let ev: Vec<Evidence> = row.heard.answers.iter().map(|h| {
                    let what = if h.denied { What::IsNot(h.finding, h.answer) } else if h.others.is_empty() { What::Is(h.finding, h.answer) } else {
                        let all: Vec<_> = std::iter::once(h.answer).chain(h.others.iter().copied()).collect(); let s = 1.0 / all.len() as f64;
                        What::Among(h.finding, all.into_iter().map(|a| (a, s)).collect()) };
                    Evidence { what, reliability: h.reliability, origin: Origin::Said }
                }).collect();
                let b = Belief::new(&model, &ev);
                for c in 0..log.len() { log[c] += eh * (b.p[c].ln() - model.prior[c].ln()); }
                let sc = l1 * (row.words / 7.0).min(1.0);
                for (c, s) in &row.bm { log[*c] += sc * s / row.best; }
                for (c, l) in row.lin.iter().enumerate() { log[c] += l2 * l.max(-12.0); }
                let leak = log.len() - 1; log[leak] += l2 * -7.0;
                let top = log.iter().cloned().fold(f64::NEG_INFINITY, f64::max);
                let tot: f64 = log.iter().map(|l| (l - top).exp()).sum();
                let pw: f64 = row.want.iter().map(|w| (log[*w] - top).exp() / tot).sum();
                ll += pw.max(1e-6).ln();
                let best = row.want.iter().map(|w| log[*w]).fold(f64::NEG_INFINITY, f64::max);
                let rank = log[..leak].iter().filter(|l| **l > best).count();
                for (k, lim) in [1, 3, 10].iter().enumerate() { if rank < *lim { r[k] += 1.0; } }
            }
            let n = rows.len() as f64;
            (100.0 * r[0] / n, 100.0 * r[1] / n, 100.0 * r[2] / n, ll / n)
        };
        println!("== {name} {}", rows.len());
        for (l1, l2, eh, pr) in [(3.2, 0.0, 1.0, 1.0), (0.0, 1.0, 0.0, 0.0), (0.0, 1.0, 0.0, 1.0), (6.0, 0.0, 0.0, 0.0), (0.0, 0.0, 1.0, 1.0), (3.0, 0.5, 0.7, 0.7), (3.0, 0.8, 0.5, 0.5), (3.0, 1.0, 0.5, 0.5), (3.0, 1.0, 0.7, 0.7), (4.0, 0.6, 0.5, 0.5), (4.0, 1.0, 0.5, 0.3), (2.0, 1.0, 0.6, 0.6), (2.0, 0.7, 0.6, 0.6), (5.0, 1.0, 0.8, 0.5), (3.0, 1.0, 0.35, 0.3), (5.0, 1.0, 0.5, 0.3)] {
            let e = eval(l1, l2, eh, pr);
            println!("bm {l1} lin {l2} heard {eh} prior {pr}: {:.0} / {:.0} / {:.0}  ll {:.3}", e.0, e.1, e.2, e.3);
        }
    }
}
