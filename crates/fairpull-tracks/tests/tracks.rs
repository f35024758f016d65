//! Invented tracks whose speed is known.
use fairpull_tracks::{TrackError, is_track, read};

/// A sentence with its checksum (exclusive or of everything between `$` and `*`).
fn sentence(body: &str) -> String {
    let sum = body.bytes().fold(0, |a, b| a ^ b);
    format!("${body}*{sum:02X}\r\n")
}

/// 10 Hz, 36 km/h growing by 3.6 km/h a second.
fn nmea() -> String {
    let mut out = String::new();
    for i in 0..60 {
        let t = f64::from(i) * 0.1;
        let knots = (10.0 + t) / (1852.0 / 3600.0);
        out += &sentence(&format!(
            "GPGGA,1015{:05.2},5230.0000,N,01320.0000,E,1,09,0.9,{:.1},M,45.0,M,,",
            t,
            35.0 + t
        ));
        out +=
            &sentence(&format!("GPRMC,1015{:05.2},A,5230.0000,N,01320.0000,E,{knots:.4},90.0,110526,,,A", t));
    }
    out
}

#[test]
fn nmea_speed_time_and_height() {
    let track = read(nmea().as_bytes(), "run.nmea").unwrap();
    assert_eq!((track.log.time_s.len(), track.left_out, track.from_positions), (60, 0, false));
    for (t, v) in track.log.time_s.iter().zip(&track.log.speed_kmh) {
        assert!((v - 3.6 * (10.0 + t)).abs() < 1e-3, "{t} {v}");
    }
    assert!((track.log.height_m[10] - 36.0).abs() < 1e-4);
    let csv = track.to_csv();
    assert!(csv.starts_with("Time [s],Road speed [km/h],Height [m]\n0,") && csv.lines().count() == 61);
    assert!(is_track(nmea().as_bytes()) && !is_track(csv.as_bytes()));
}

#[test]
fn rows_without_a_fix_are_counted() {
    let text = nmea() + &sentence("GPRMC,101507.00,V,,,,,,,110526,,,N");
    assert_eq!(read(text.as_bytes(), "run.nmea").unwrap().left_out, 1);
}

#[test]
fn gpx_speed_from_positions() {
    let mut points = String::new();
    for i in 0..20 {
        // 20 m/s to the north: 1e-5 degrees of latitude are 1.11195 m on the sphere used
        let lat = 50.0 + f64::from(i) * 20.0 / 111_195.08;
        points += &format!(
            "<trkpt lat=\"{lat:.9}\" lon=\"8.0\"><ele>{}</ele><time>2026-05-11T10:15:{:02}Z</time></trkpt>",
            100 + i,
            i
        );
    }
    let text = format!(
        "<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"invented\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>{points}</trkseg></trk></gpx>"
    );
    let track = read(text.as_bytes(), "run.gpx").unwrap();
    assert!(track.from_positions);
    assert_eq!(track.left_out, 1); // the first point has none before it
    for v in &track.log.speed_kmh {
        assert!((v - 72.0).abs() < 0.01, "{v}");
    }
}

#[test]
fn refusals_say_what_is_wrong() {
    assert_eq!(read(b"hello", "x").unwrap_err(), TrackError::Unknown { file: "x".into() });
    assert!(matches!(read(b"<gpx version=\"1.1\"><trk>", "x").unwrap_err(), TrackError::Gpx { .. }));
    assert!(matches!(read(b"$GPRMC,broken", "x").unwrap_err(), TrackError::TooFew { rows: 0, .. }));
    for n in 0..400 {
        let bytes: Vec<u8> = (0..n).map(|i| (i * 37 % 251) as u8).collect();
        let _ = read(&bytes, "noise");
    }
}
