//! The leg at the bottom of the stroke, with the bend of the knee and the band it should lie in.
//!
//! Owns this drawing. The bend and its band are drawn to scale; segment lengths that are not on the record follow the
//! shares of stature of Drillis & Contini 1966 as given by Winter, for a stature of 1.75 m (a prior, for the drawing only).

use super::Picture;
use super::axis::{Axis, number};
use super::chart;
use super::ink::{At, Hang, Ink, Pen, WIDTH, fitting, tight};
use super::place::{Entry, figure, legend, value};
use crate::dialogue::Record;

const HEIGHT: f64 = 250.0;

/// The leg, when the knee's bend is on the record.
pub(in crate::report) fn leg(r: &Record) -> Option<Picture> {
    let knee = figure(r, "knee-bend")?;
    let bend = knee.si;
    let band = knee.lo.zip(knee.hi).filter(|(lo, hi)| lo <= hi && (0.0..=1.6).contains(lo) && (0.0..=2.0).contains(hi));
    let (thigh, shank) = (value(r, "thigh").unwrap_or(0.245 * 1.75), value(r, "shank").unwrap_or(0.246 * 1.75));
    let title = "Leg at the bottom of the stroke".to_owned();
    let verdict = verdict(bend, band);
    let shown = if knee.shown.is_empty() { degrees(bend) } else { knee.shown.clone() };
    let said = format!("Knee bend {shown}, 0 is a straight leg. {verdict}").trim_end().to_owned();
    let legend = legend(r, &["knee-bend", "thigh", "shank"]);
    let lines: Vec<String> = legend.iter().map(Entry::line).collect();
    let desc = format!("{said} {}.", lines.join("; "));

    let mut ink = Ink::new("leg", HEIGHT);
    draw(&mut ink, r, (thigh, shank), bend, band, &shown);
    let mut chart = Vec::new();
    chart::words(&mut chart, &said);
    chart.extend(scale_line(bend, band));
    lines.iter().skip(1).for_each(|l| chart::words(&mut chart, l));
    Some(Picture { svg: ink.finish(&title, &desc), title, caption: verdict, chart, legend, height: HEIGHT })
}

/// Degrees to a tenth: finer than any knee is measured.
fn whole(rad: f64) -> f64 {
    (rad.to_degrees() * 10.0).round() / 10.0
}

fn degrees(rad: f64) -> String {
    format!("{} degrees", number(whole(rad)))
}

fn verdict(bend: f64, band: Option<(f64, f64)>) -> String {
    let Some((lo, hi)) = band else { return String::new() };
    let between = format!("{} to {}", number(whole(lo)), degrees(hi));
    // A band's ends belong to it, whatever the last binary digit says.
    if bend < lo - 1e-9 {
        format!("Straighter than the band of {between} by {}.", degrees(lo - bend))
    } else if bend > hi + 1e-9 {
        format!("More bent than the band of {between} by {}.", degrees(bend - hi))
    } else {
        format!("Inside the band of {between}.")
    }
}

fn draw(ink: &mut Ink, r: &Record, (thigh, shank): (f64, f64), bend: f64, band: Option<(f64, f64)>, shown: &str) {
    // Metres; the pedal axle is the origin, y upwards, the rider looks to the right. Foot: ball over the axle, sole 3 cm
    // above it, ankle 13 cm behind and 7.5 cm above the ball, heel lifted by 15 degrees (assumed, for the drawing only).
    let lift = 15f64.to_radians();
    let ball: At = (0.0, 0.03);
    let turned = |x: f64, y: f64| (ball.0 + x * lift.cos() + y * lift.sin(), ball.1 - x * lift.sin() + y * lift.cos());
    let (ankle, heel, toe) = (turned(-0.13, 0.075), turned(-0.18, 0.0), (0.075, 0.026));
    // Law of cosines: how far hip and ankle are apart at this bend.
    let apart = (thigh * thigh + shank * shank + 2.0 * thigh * shank * bend.cos()).sqrt();
    let tilt = 100f64.to_radians();
    let hip = (ankle.0 + apart * tilt.cos(), ankle.1 + apart * tilt.sin());
    // The angle at the hip between thigh and the line to the ankle.
    let at_hip = (shank * bend.sin()).atan2(thigh + shank * bend.cos());
    let along = tilt + std::f64::consts::PI + at_hip;
    let knee = (hip.0 + thigh * along.cos(), hip.1 + thigh * along.sin());

    let scale = (HEIGHT - 26.0) / (hip.1 + 0.09);
    let to = |p: At| (120.0 + (p.0 - (hip.0 + ankle.0) / 2.0) * scale, 2.0 + (hip.1 + 0.06 - p.1) * scale);
    let k = to(knee);
    // Directions on the drawing: the thigh's own line below the knee, turned back by a bend.
    let below = |bend: f64, long: f64| {
        let a = along - bend;
        (k.0 + long * a.cos(), k.1 - long * a.sin())
    };
    let long = shank * scale;
    if let Some((lo, hi)) = band {
        let arc = |r: f64| (0..=12).map(move |i| lo + (hi - lo) * f64::from(i) / 12.0).map(move |b| below(b, r));
        let mut wedge: Vec<At> = arc(long * 0.98).collect();
        wedge.push(k);
        ink.shape(&wedge, Pen::Hatch);
    }
    ink.line(k, below(0.0, long * 1.08), Pen::Dash);
    let crank = value(r, "crank").unwrap_or(0.17);
    let up: At = (-(73f64.to_radians()).cos(), 73f64.to_radians().sin());
    let axle = (up.0 * crank, up.1 * crank);
    ink.line(to((0.0, 0.0)), to(axle), Pen::Line);
    ink.circle(to(axle), 4.5, Pen::White);
    let seat = (hip.0, hip.1 - 0.08);
    ink.shape(
        &[
            to((seat.0 - 0.14, seat.1)),
            to((seat.0 + 0.14, seat.1)),
            to((seat.0 + 0.12, seat.1 - 0.02)),
            to((seat.0 - 0.1, seat.1 - 0.045)),
        ],
        Pen::White,
    );
    ink.line(to((seat.0, seat.1 - 0.04)), to((seat.0 + 0.06, seat.1 - 0.24)), Pen::Line);
    ink.chain(&[to(heel), to(ankle), to(toe), to(heel)], Pen::Line);
    ink.block((to((0.0, 0.0)).0 - 9.0, to((0.0, 0.0)).1 - 2.5), 18.0, 5.0, Pen::White);
    ink.line(to(hip), k, Pen::Bold);
    ink.line(k, to(ankle), Pen::Bold);
    for joint in [to(hip), k, to(ankle)] {
        ink.circle(joint, 4.5, Pen::White);
    }
    labels(ink, k, shown, band, &below, long);
}

fn labels(ink: &mut Ink, k: At, shown: &str, band: Option<(f64, f64)>, below: &dyn Fn(f64, f64) -> At, long: f64) {
    let text = fitting(&format!("knee bend {}", tight(shown)), WIDTH - k.0 - 20.0);
    ink.label((k.0 + 12.0, k.1 - 2.0), Hang::Start, &text);
    let straight = below(0.0, long * 1.08);
    ink.small((straight.0 + 5.0, straight.1 + 4.0), Hang::Start, "0 = straight");
    if let Some((lo, hi)) = band {
        let text = format!("hatched: {} to {}", number(whole(lo)), tight(&degrees(hi)));
        let p = below(0.0, long * 0.45);
        ink.label((p.0 + 12.0, p.1 + 4.0), Hang::Start, &fitting(&text, WIDTH - p.0 - 16.0));
    }
}

/// The bend on a scale of degrees: `O` the bend, `=` the band.
fn scale_line(bend: f64, band: Option<(f64, f64)>) -> Vec<String> {
    const CELLS: usize = 55;
    let (lo, hi) = band.unwrap_or((bend, bend));
    let all = [bend, lo, hi, 0.0].map(f64::to_degrees);
    let Some(axis) = Axis::over(all, 0.0, (CELLS - 1) as f64) else { return Vec::new() };
    let cell = |v: f64| (axis.at(v.to_degrees()).round().max(0.0) as usize).min(CELLS - 1);
    let mut cells = vec!['.'; CELLS];
    if band.is_some() {
        cells[cell(lo)..=cell(hi)].fill('=');
    }
    cells[cell(bend)] = 'O';
    let mut out = vec![format!("straight |{}| bent", cells.into_iter().collect::<String>())];
    if band.is_some() {
        out.push(format!("{:>10}O: knee bend, =: band of {} to {}", "", number(whole(lo)), degrees(hi)));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn says_on_which_side_of_the_band_the_knee_is() {
        let d = f64::to_radians;
        let band = Some((d(30.0), d(40.0)));
        assert_eq!(verdict(d(35.0), band), "Inside the band of 30 to 40 degrees.");
        assert_eq!(verdict(d(30.0), band), "Inside the band of 30 to 40 degrees.");
        assert_eq!(verdict(d(27.5), band), "Straighter than the band of 30 to 40 degrees by 2.5 degrees.");
        assert_eq!(verdict(d(45.0), band), "More bent than the band of 30 to 40 degrees by 5 degrees.");
        assert_eq!(verdict(d(45.0), None), "");
    }
}
