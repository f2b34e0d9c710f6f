//! Learning the linear model from the riders' sentences that the notes carry. Deterministic: the same notes give the same
//! bytes.

use super::linear::{BUCKETS, MAGIC, counts, weighted};

/// Passes over all sentences.
const EPOCHS: usize = 12;
/// Step size of the adaptive gradient.
const STEP: f32 = 0.55;
/// Pull of the weights towards zero.
const DECAY: f32 = 2e-6;
/// Smoothing of the target: this share goes to the other classes.
const SMOOTH: f32 = 0.08;
/// Weights kept; 2 bytes each: the gap to the class before, and the weight.
const KEPT: usize = 1_880_000;

/// The largest gap between classes that one byte holds.
const FARTHEST: usize = 255;

/// A sentence and the position of its class.
pub type Example<'t> = (&'t str, usize);

/// Learns and stores a model for `classes` from `examples`.
#[must_use]
pub fn learn(classes: &[String], examples: &[Example]) -> Vec<u8> {
    let idf = rarity(examples);
    let rows: Vec<(Vec<(usize, f32)>, usize)> = examples.iter().map(|(t, c)| (weighted(t, &idf), *c)).collect();
    let n = classes.len();
    let mut w = vec![0.0f32; BUCKETS * n];
    let mut g2 = vec![1e-4f32; BUCKETS];
    let mut order: Vec<usize> = (0..rows.len()).collect();
    let mut seed = 0x2545_f491_4f6c_dd1du64;
    let mut logits = vec![0.0f32; n];
    for epoch in 0..EPOCHS {
        shuffle(&mut order, &mut seed);
        let step = STEP * (1.0 - epoch as f32 / EPOCHS as f32 * 0.9);
        for r in &order {
            let (row, class) = &rows[*r];
            logits.iter_mut().for_each(|l| *l = 0.0);
            for (b, v) in row {
                for (l, x) in logits.iter_mut().zip(&w[b * n..b * n + n]) {
                    *l += v * x;
                }
            }
            let top = logits.iter().copied().fold(f32::NEG_INFINITY, f32::max);
            let mut total = 0.0f32;
            for l in &mut logits {
                *l = (*l - top).exp();
                total += *l;
            }
            // The gradient of the log-loss: probability less target.
            for (c, l) in logits.iter_mut().enumerate() {
                let target = if c == *class { 1.0 - SMOOTH } else { SMOOTH / n as f32 };
                *l = *l / total - target;
            }
            for (b, v) in row {
                g2[*b] += v * v;
                let rate = step * v * 8.0 / g2[*b].sqrt().max(0.3);
                for (x, g) in w[b * n..b * n + n].iter_mut().zip(&logits) {
                    *x -= rate * g + DECAY * *x;
                }
            }
        }
    }
    store(classes, &idf, &w)
}

fn rarity(examples: &[Example]) -> Vec<f32> {
    let mut df = vec![0u32; BUCKETS];
    for (t, _) in examples {
        for (b, _) in counts(t) {
            df[b] += 1;
        }
    }
    let n = examples.len() as f32;
    // Stored in sixteenths, so that learning and using see the same numbers.
    df.iter().map(|d| (((1.0 + n) / (1.0 + *d as f32)).ln() * 16.0).round().clamp(0.0, 255.0) / 16.0).collect()
}

fn shuffle(order: &mut [usize], seed: &mut u64) {
    for i in (1..order.len()).rev() {
        *seed ^= *seed << 13;
        *seed ^= *seed >> 7;
        *seed ^= *seed << 17;
        order.swap(i, (*seed % (i as u64 + 1)) as usize);
    }
}

fn store(classes: &[String], idf: &[f32], w: &[f32]) -> Vec<u8> {
    let n = classes.len();
    let mut sizes: Vec<f32> = w.iter().map(|x| x.abs()).filter(|x| *x > 0.0).collect();
    sizes.sort_by(|a, b| b.total_cmp(a));
    let least = sizes.get(KEPT).copied().unwrap_or(0.0);
    let most = sizes.first().copied().unwrap_or(1.0);
    let scale = most / 127.0;
    let mut entries: Vec<u8> = Vec::new();
    let mut lengths: Vec<u16> = Vec::with_capacity(BUCKETS);
    let mut total = 0u32;
    for b in 0..BUCKETS {
        let mut count = 0u16;
        let mut next = 0usize;
        for c in 0..n {
            let x = w[b * n + c];
            let q = (x / scale).round() as i8;
            if x.abs() > least && q != 0 {
                while c - next > FARTHEST {
                    entries.extend_from_slice(&[FARTHEST as u8, 0]);
                    count += 1;
                    next += FARTHEST + 1;
                }
                entries.push((c - next) as u8);
                entries.push(q.to_le_bytes()[0]);
                count += 1;
                next = c + 1;
            }
        }
        total += u32::from(count);
        lengths.push(count);
    }
    let mut out = MAGIC.to_vec();
    out.extend_from_slice(&(n as u32).to_le_bytes());
    out.extend_from_slice(&total.to_le_bytes());
    out.extend_from_slice(&scale.to_le_bytes());
    for c in classes {
        out.push(u8::try_from(c.len()).unwrap_or(u8::MAX));
        out.extend(c.bytes().take(255));
    }
    out.extend(idf.iter().map(|i| (i * 16.0).round() as u8));
    for l in lengths {
        out.extend_from_slice(&l.to_le_bytes());
    }
    out.extend(entries);
    out
}

#[cfg(test)]
mod tests {
    use super::super::linear::Linear;
    use super::*;

    #[test]
    fn what_was_learned_is_told_apart_and_stored_alike() {
        let classes = vec!["creak".to_owned(), "squeal".to_owned()];
        let examples = [
            ("the saddle creaks on hills", 0),
            ("creaking from the post", 0),
            ("brake squeals in the wet", 1),
            ("squealing rotor", 1),
        ];
        let bytes = learn(&classes, &examples);
        assert_eq!(bytes, learn(&classes, &examples));
        let model = Linear::from_bytes(&bytes).unwrap();
        let p = model.log_probabilities("my front brake is squealing");
        assert!(p[1] > p[0]);
        assert!((p.iter().map(|l| l.exp()).sum::<f64>() - 1.0).abs() < 1e-6);
        assert!(Linear::from_bytes(&bytes[..40]).is_none());
    }
}
