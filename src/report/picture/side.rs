//! Side view of the bike, each figure where it is measured.
//!
//! Owns the drawing of a bike from few figures. Frame and wheels between the measured points follow ordinary proportions
//! (from memory, for the drawing only) and carry no figure.

use super::Picture;
use super::chart;
use super::ink::{At, Hang, Ink, Pen, WIDTH, fitting, tight};
use super::place::{Entry, figure, legend, value};
use crate::dialogue::Record;

/// Places in the order of the list.
const SHOWN: [&str; 14] = [
    "saddle-height",
    "saddle-setback",
    "saddle-to-bar",
    "bar-drop",
    "bar-roll",
    "crank",
    "wheelbase",
    "sag-fork",
    "sag-rear",
    "tyre-front",
    "tyre-rear",
    "seat-angle",
    "head-angle",
    "wheel-radius",
];

/// The points of the bike in metres; the crank axle is the origin, y grows upwards, the bike looks to the right.
struct Bike {
    seat: At,
    up_seat: At,
    nose: At,
    rear: At,
    front: At,
    radius: f64,
    ground: f64,
    head_top: At,
    head_low: At,
    stem: At,
    bar: At,
    crank: f64,
}

fn add(a: At, b: At, times: f64) -> At {
    (a.0 + b.0 * times, a.1 + b.1 * times)
}

impl Bike {
    fn of(r: &Record) -> Bike {
        let get = |id: &str, ordinary: f64| value(r, id).unwrap_or(ordinary);
        let (radius, height) = (get("wheel-radius", 0.35), get("saddle-height", 0.72));
        let (seat_angle, head_angle) = (get("seat-angle", 73f64.to_radians()), get("head-angle", 69f64.to_radians()));
        let axle_rise = 0.05; // the axles stand a little above the crank axle, on big wheels; small wheels below it
        let rise = if radius < 0.28 { radius - 0.28 } else { axle_rise };
        let rear = (-(0.435f64.powi(2) - rise * rise).sqrt(), rise);
        let front = (rear.0 + get("wheelbase", 1.09), rise);
        let up_seat = (-seat_angle.cos(), seat_angle.sin());
        let along = add((0.0, 0.0), up_seat, height);
        let nose_x = value(r, "saddle-setback").map_or(along.0 + 0.14, |back| -back);
        let seat = (nose_x - 0.14, along.1);
        let (up, ahead) = ((-head_angle.cos(), head_angle.sin()), (head_angle.sin(), head_angle.cos()));
        let axis = add(front, ahead, -0.045);
        let head_low = add(axis, up, radius + 0.13);
        let drop = value(r, "bar-drop");
        let plain = add(add(head_low, up, 0.14), ahead, 0.06);
        let bar_y = drop.map_or(plain.1, |d| seat.1 - d);
        let spacers = ((bar_y - ahead.1 * 0.06 - head_low.1) / up.1).clamp(0.12, 0.30);
        let stem = add(head_low, up, spacers);
        let bar_x = value(r, "saddle-to-bar").map_or(add(stem, ahead, 0.06).0, |reach| nose_x + reach);
        Bike {
            seat,
            up_seat,
            nose: (nose_x, seat.1),
            rear,
            front,
            radius,
            ground: rise - radius,
            head_top: add(head_low, up, 0.11),
            head_low,
            stem,
            bar: (bar_x, bar_y),
            crank: get("crank", 0.17),
        }
    }
}

/// The side view, when at least one of its figures is on the record.
pub(in crate::report) fn side(r: &Record) -> Option<Picture> {
    // The frame's own measures alone are no reason for a picture.
    let own = ["crank", "wheelbase", "seat-angle", "head-angle", "wheel-radius"];
    SHOWN.iter().filter(|id| !own.contains(id)).find_map(|id| figure(r, id))?;
    let legend = legend(r, &SHOWN);
    let lines: Vec<String> = legend.iter().map(Entry::line).collect();
    let b = Bike::of(r);
    let left = b.rear.0 - b.radius;
    let span = (b.front.0 + b.radius).max(b.bar.0 + 0.1) - left;
    let scale = (WIDTH - 16.0) / span;
    let top = b.seat.1.max(b.bar.1) + above(r);
    let base = (top - b.ground) * scale + 6.0;
    let to = |p: At| (8.0 + (p.0 - left) * scale, base - (p.1 - b.ground) * scale);
    let height = base + 24.0;
    let mut ink = Ink::new("side", height);
    draw(&mut ink, r, &b, &to, scale);
    measure(&mut ink, r, &b, &to, scale);
    scale_bar(&mut ink, r, base, scale);
    let title = "Bike from the side".to_owned();
    let desc = format!("Side view, bike facing right. {}.", lines.join("; "));
    let mut chart = Vec::new();
    for l in &lines {
        chart::words(&mut chart, l);
    }
    let caption =
        "Measured points are to scale. Frame and wheels between them only follow ordinary proportions.".to_owned();
    Some(Picture { svg: ink.finish(&title, &desc), title, caption, chart, legend, height })
}

/// Room for the level measures above saddle and bar.
fn above(r: &Record) -> f64 {
    match (figure(r, "saddle-to-bar"), figure(r, "saddle-setback")) {
        (Some(_), _) => 0.19,
        (None, Some(_)) => 0.12,
        (None, None) => 0.06,
    }
}

fn draw(ink: &mut Ink, r: &Record, b: &Bike, to: &dyn Fn(At) -> At, scale: f64) {
    let ground = to((0.0, b.ground)).1;
    ink.line((4.0, ground), (WIDTH - 4.0, ground), Pen::Thin);
    for hub in [b.rear, b.front] {
        ink.circle(to(hub), b.radius * scale, Pen::Line);
        ink.circle(to(hub), (b.radius - 0.045) * scale, Pen::Thin);
        ink.circle(to(hub), 2.5, Pen::Solid);
    }
    let origin = (0.0, 0.0);
    let cluster = add(origin, b.up_seat, (b.seat.1 / b.up_seat.1 - 0.16).min(0.50));
    let frame = [(origin, cluster), (cluster, b.head_top), (origin, b.head_low), (origin, b.rear), (cluster, b.rear)];
    for (from, end) in frame {
        ink.line(to(from), to(end), Pen::Line);
    }
    if figure(r, "sag-rear").is_some() {
        shock(ink, to(add(cluster, b.up_seat, -0.05)), to(add(origin, b.head_low, 0.42)));
    }
    ink.line(to(b.head_low), to(b.stem), Pen::Bold);
    ink.line(to(b.head_low), to(b.front), if figure(r, "sag-fork").is_some() { Pen::Bold } else { Pen::Line });
    ink.line(to(b.stem), to(b.bar), Pen::Bold);
    // The bar's end with the grip seen along the bar, and a lever before it.
    ink.line(to(b.bar), to((b.bar.0 + 0.06, b.bar.1 - 0.055)), Pen::Line);
    ink.circle(to(b.bar), 4.0, Pen::White);
    let under = (b.seat.0 + 0.01, b.seat.1 - 0.05);
    ink.line(to(cluster), to(under), Pen::Line);
    let (back, nose) = ((b.seat.0 - 0.12, b.seat.1 + 0.008), b.nose);
    ink.shape(
        &[
            to(back),
            to((b.seat.0, b.seat.1)),
            to(nose),
            to((nose.0 - 0.01, nose.1 - 0.022)),
            to((b.seat.0 - 0.02, b.seat.1 - 0.05)),
            to((back.0 + 0.01, back.1 - 0.045)),
        ],
        Pen::White,
    );
    let pedal = add(origin, b.up_seat, -b.crank);
    ink.line(to(origin), to(pedal), Pen::Bold);
    ink.circle(to(origin), 5.0, Pen::White);
    ink.circle(to(origin), 1.6, Pen::Solid);
    let p = to(pedal);
    ink.block((p.0 - 8.0, p.1 - 2.0), 16.0, 4.0, Pen::White);
}

/// The shock between two points of the frame: a hatched can on a thin shaft.
fn shock(ink: &mut Ink, a: At, b: At) {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let long = dx.hypot(dy).max(1e-9);
    let (ux, uy) = (dx / long, dy / long);
    let corner = |t: f64, side: f64| (a.0 + dx * t - uy * side, a.1 + dy * t + ux * side);
    ink.line(a, b, Pen::Line);
    ink.shape(&[corner(0.35, 4.0), corner(0.9, 4.0), corner(0.9, -4.0), corner(0.35, -4.0)], Pen::Hatch);
}

fn measure(ink: &mut Ink, r: &Record, b: &Bike, to: &dyn Fn(At) -> At, scale: f64) {
    let shown = |id: &str| figure(r, id).map(|f| tight(&f.shown));
    let top = b.seat.1.max(b.bar.1);
    if let Some(text) = shown("saddle-height") {
        let off = (-b.up_seat.1 * 0.19, b.up_seat.0 * 0.19);
        let end = add((0.0, 0.0), b.up_seat, b.seat.1 / b.up_seat.1);
        ink.line(to((0.0, 0.0)), to(add((0.0, 0.0), off, 1.12)), Pen::Dash);
        ink.line(to(end), to(add(end, off, 1.12)), Pen::Dash);
        ink.measure(to(off), to(add(end, off, 1.0)));
        let middle = to(add(off, end, 0.56));
        ink.tag((middle.0, middle.1 + 4.0), &fitting(&text, 90.0));
    }
    if let Some(text) = shown("saddle-setback") {
        let y = b.seat.1 + 0.07;
        ink.line(to((0.0, 0.0)), to((0.0, y + 0.02)), Pen::Dash);
        ink.line(to(b.nose), to((b.nose.0, y + 0.02)), Pen::Dash);
        ink.measure(to((b.nose.0, y)), to((0.0, y)));
        let p = to((b.nose.0.min(0.0), y));
        ink.label((p.0 - 6.0, p.1 + 4.0), Hang::End, &fitting(&text, 80.0));
    }
    if let Some(text) = shown("saddle-to-bar") {
        let y = top + 0.12;
        ink.line(to(b.nose), to((b.nose.0, y + 0.02)), Pen::Dash);
        ink.line(to(b.bar), to((b.bar.0, y + 0.02)), Pen::Dash);
        ink.measure(to((b.nose.0, y)), to((b.bar.0, y)));
        let p = to(((b.nose.0 + b.bar.0) / 2.0, y));
        ink.label((p.0, p.1 - 4.0), Hang::Middle, &fitting(&text, 110.0));
    }
    let x = b.bar.0 + 0.11;
    let beside = to((x, b.bar.1));
    let room = WIDTH - beside.0 - 10.0;
    let mut below = beside.1 + 4.0;
    if let Some(text) = shown("bar-drop") {
        ink.line(to((b.seat.0, b.seat.1)), to((x + 0.02, b.seat.1)), Pen::Dash);
        ink.line(to(b.bar), to((x + 0.02, b.bar.1)), Pen::Dash);
        ink.measure(to((x, b.seat.1)), to((x, b.bar.1)));
        let p = to((x, (b.seat.1 + b.bar.1) / 2.0));
        let long = (b.seat.1 - b.bar.1).abs() * scale >= 14.0;
        let y = if long { p.1 + 4.0 } else { p.1.max(beside.1) + 16.0 };
        ink.label((p.0 + 7.0, y), Hang::Start, &fitting(&text, room));
        below = y + 16.0;
    }
    if let Some(text) = shown("bar-roll") {
        ink.label((beside.0 + 7.0, below.max(beside.1 + 16.0)), Hang::Start, &fitting(&format!("roll {text}"), room));
    }
    inside(ink, r, b, to);
}

/// Labels that stand in the wheels, the frame and below the cranks.
fn inside(ink: &mut Ink, r: &Record, b: &Bike, to: &dyn Fn(At) -> At) {
    let shown = |id: &str| figure(r, id).map(|f| tight(&f.shown));
    for (id, hub) in [("tyre-rear", b.rear), ("tyre-front", b.front)] {
        if let Some(text) = shown(id) {
            let p = to((hub.0, hub.1 - b.radius * 0.5));
            ink.label(p, Hang::Middle, &fitting(&text, 90.0));
        }
    }
    if let Some(text) = shown("sag-fork") {
        let p = to(add(b.front, add(b.head_low, b.front, -1.0), 0.45));
        ink.label((p.0 + 8.0, p.1), Hang::Start, &fitting(&format!("sag {text}"), 90.0));
    }
    if let Some(text) = shown("sag-rear") {
        // In the upper right of the front triangle, beside the shock.
        let p = to((b.head_low.0 * 0.47, b.head_low.1 * 0.86));
        ink.label(p, Hang::Middle, &fitting(&format!("sag {text}"), 90.0));
    }
    if let Some(text) = shown("crank") {
        let p = to(add((0.0, 0.0), b.up_seat, -b.crank * 0.5));
        ink.label((p.0 + 9.0, p.1 + 4.0), Hang::Start, &fitting(&text, 70.0));
    }
    if let Some(text) = shown("wheelbase") {
        let y = to((0.0, b.ground)).1 + 14.0;
        ink.measure((to(b.rear).0, y), (to(b.front).0, y));
        ink.tag(((to(b.rear).0 + to(b.front).0) / 2.0, y + 4.0), &fitting(&text, 120.0));
    }
}

/// A bar by which the drawing's scale can be read; beside the wheelbase it would be one measure too many.
fn scale_bar(ink: &mut Ink, r: &Record, base: f64, scale: f64) {
    if figure(r, "wheelbase").is_some() {
        return;
    }
    let inches = SHOWN.iter().filter_map(|id| figure(r, id)).any(|f| f.unit == "in");
    let (long, text) = if inches { (0.2032, "8 in") } else { (0.2, "20 cm") };
    let y = base + 14.0;
    ink.measure((10.0, y), (10.0 + long * scale, y));
    ink.small((16.0 + long * scale, y + 4.0), Hang::Start, text);
}
