//! A linear model over word and character n-grams: how much a text sounds like the riders' sentences of each note.
//!
//! Weak evidence beside phrases, never instead of asking; the program works without it, and notes of the user's own
//! folder need no training. Learned by `learn`, stored sparsely.

/// Buckets that n-grams are hashed into.
pub(super) const BUCKETS: usize = 1 << 15;
/// First bytes of a stored model.
pub(super) const MAGIC: &[u8; 8] = b"shkdlin2";

/// A learned model: for each bucket the classes it speaks for or against.
#[derive(Clone, Debug, Default)]
pub struct Linear {
    /// Ids of the notes, in the order of classes.
    pub classes: Vec<String>,
    /// Weight of one step of the stored bytes.
    scale: f32,
    idf: Vec<f32>,
    starts: Vec<u32>,
    entries: Vec<(u16, i8)>,
}

impl Linear {
    /// Reads a stored model; `None` if the bytes are not one.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let mut at = Reader { bytes, at: 0 };
        if at.take(8)? != MAGIC {
            return None;
        }
        let classes = at.u32()? as usize;
        let total = at.u32()? as usize;
        let scale = f32::from_le_bytes(at.take(4)?.try_into().ok()?);
        let mut names = Vec::with_capacity(classes.min(10_000));
        for _ in 0..classes {
            let n = usize::from(at.take(1)?[0]);
            names.push(String::from_utf8(at.take(n)?.to_vec()).ok()?);
        }
        let mut idf = Vec::with_capacity(BUCKETS);
        for _ in 0..BUCKETS {
            idf.push(f32::from(at.take(1)?[0]) / 16.0);
        }
        let mut lengths = Vec::with_capacity(BUCKETS);
        for _ in 0..BUCKETS {
            lengths.push(u16::from_le_bytes(at.take(2)?.try_into().ok()?));
        }
        if lengths.iter().map(|l| usize::from(*l)).sum::<usize>() != total {
            return None;
        }
        let mut starts = Vec::with_capacity(BUCKETS + 1);
        let mut entries = Vec::with_capacity(total);
        for length in lengths {
            starts.push(u32::try_from(entries.len()).ok()?);
            let mut class = 0usize;
            for _ in 0..length {
                let b = at.take(2)?;
                class += usize::from(b[0]);
                let weight = i8::from_le_bytes([b[1]]);
                // A weight of nothing only bridges a gap between classes.
                if weight != 0 {
                    if class >= classes {
                        return None;
                    }
                    entries.push((u16::try_from(class).ok()?, weight));
                }
                class += 1;
            }
        }
        starts.push(u32::try_from(entries.len()).ok()?);
        Some(Self { classes: names, scale, idf, starts, entries })
    }

    /// Log-probability of each class for a text (natural logarithm; sums to 1 when exponentiated).
    #[must_use]
    pub fn log_probabilities(&self, text: &str) -> Vec<f64> {
        let mut logits = vec![0.0f32; self.classes.len()];
        for (b, v) in weighted(text, &self.idf) {
            let range = self.starts[b] as usize..self.starts[b + 1] as usize;
            for (class, w) in &self.entries[range] {
                logits[usize::from(*class)] += v * f32::from(*w) * self.scale;
            }
        }
        let top = logits.iter().copied().fold(f32::NEG_INFINITY, f32::max);
        let total: f64 = logits.iter().map(|l| f64::from(l - top).exp()).sum();
        logits.iter().map(|l| f64::from(l - top) - total.ln()).collect()
    }
}

struct Reader<'b> {
    bytes: &'b [u8],
    at: usize,
}

impl<'b> Reader<'b> {
    fn take(&mut self, n: usize) -> Option<&'b [u8]> {
        let out = self.bytes.get(self.at..self.at + n)?;
        self.at += n;
        Some(out)
    }

    fn u32(&mut self) -> Option<u32> {
        Some(u32::from_le_bytes(self.take(4)?.try_into().ok()?))
    }
}

/// The n-grams of a text as sorted buckets with counts: words, pairs of words, and 3 to 5 letters within a word.
pub(super) fn counts(text: &str) -> Vec<(usize, f32)> {
    let lower: String = text.to_lowercase().chars().filter(|c| !matches!(c, '\'' | '’')).collect();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).take(300).collect();
    let mut out = Vec::new();
    for (i, w) in words.iter().enumerate() {
        out.push(bucket("w", w));
        if let Some(next) = words.get(i + 1) {
            out.push(bucket("p", &format!("{w} {next}")));
        }
        let letters: Vec<char> = std::iter::once('<').chain(w.chars()).chain(['>']).collect();
        for n in 3..=5 {
            for gram in letters.windows(n) {
                out.push(bucket("c", &gram.iter().collect::<String>()));
            }
        }
    }
    out.sort_unstable();
    let mut counted: Vec<(usize, f32)> = Vec::new();
    for b in out {
        match counted.last_mut() {
            Some((last, n)) if *last == b => *n += 1.0,
            _ => counted.push((b, 1.0)),
        }
    }
    counted
}

/// Buckets with their weights: log count times rarity, of length 1.
pub(super) fn weighted(text: &str, idf: &[f32]) -> Vec<(usize, f32)> {
    let mut out: Vec<(usize, f32)> = counts(text).into_iter().map(|(b, n)| (b, (1.0 + n.ln()) * idf[b])).collect();
    let length = out.iter().map(|(_, v)| v * v).sum::<f32>().sqrt();
    if length > 0.0 {
        for (_, v) in &mut out {
            *v /= length;
        }
    }
    out
}

/// Fowler-Noll-Vo 1a, folded into the buckets.
fn bucket(kind: &str, gram: &str) -> usize {
    let mut h: u32 = 0x811c_9dc5;
    for b in kind.bytes().chain(gram.bytes()) {
        h = (h ^ u32::from(b)).wrapping_mul(0x0100_0193);
    }
    ((h ^ (h >> 15)) as usize) & (BUCKETS - 1)
}
