//! The same log in pieces of a few bytes and as a whole, by the same door.

use std::io::Cursor;

use crate::feed::Feed;
use crate::read::recording;
use crate::{Column, Encoding, Layout, Role, read, read_from};

/// Longer than the head, so that most of it comes in pieces.
fn log(end: &str, quote: &str) -> String {
    let mut text = format!("t [s];n [rpm];{quote}v [km/h]{quote};note{end}");
    for i in 0..60_000 {
        let (t, n, v) = (f64::from(i) / 50.0, 2000 + i % 3000, 40 + i % 90);
        text += &format!("{t:.2};{n};{quote}{v}.5{quote};row {i}{end}");
        match i {
            50_000 => text += &format!("# a comment{end}"),
            55_000 => text += &format!("{t:.2};12;3{end}{end}words;only;here;x{end}"),
            _ => {}
        }
    }
    text + "9999.0;2000"
}

fn layout() -> Layout {
    let of = |role, name| Column::new(role, name);
    Layout::of(vec![of(Role::Time, "t"), of(Role::EngineSpeed, "n"), of(Role::RollerSpeed, "v")])
}

fn same(bytes: &[u8], stated: Option<Encoding>, size: usize) {
    let layout = layout();
    let whole = format!("{:?}", read(bytes, "log.csv", &layout));
    let mut cursor = Cursor::new(bytes);
    let mut feed = Feed::open(&mut cursor, "log.csv", stated).unwrap().sized(size);
    let pieces = format!("{:?}", recording(&mut feed, "log.csv", &layout));
    assert!(whole.starts_with("Ok("), "{whole:.300}");
    assert!(whole == pieces, "{whole:.300}\n{pieces:.300}");
}

#[test]
fn pieces_change_nothing() {
    for (end, quote) in [("\n", ""), ("\r\n", ""), ("\r", ""), ("\n", "\""), ("\r\n", "\"")] {
        same(log(end, quote).as_bytes(), None, 500);
    }
}

#[test]
fn wide_characters_are_not_cut() {
    let text = log("\n", "").replace("row 5", "r\u{1D11E}w 5");
    let mut little = vec![0xFF, 0xFE];
    let mut big = vec![0xFE, 0xFF];
    for unit in text.encode_utf16() {
        little.extend(unit.to_le_bytes());
        big.extend(unit.to_be_bytes());
    }
    same(&little, None, 333);
    same(&big, None, 333);
    same(text.as_bytes(), None, 333);
}

#[test]
fn text_that_turns_out_not_to_be_utf8_is_read_again() {
    let mut bytes = log("\n", "").into_bytes();
    let late = bytes.len() - 5000;
    let at = bytes.iter().skip(late).position(|b| *b == b'w').map_or(late, |n| late + n);
    bytes[at] = 0xE9;
    same(&bytes, Some(Encoding::Latin1), 500);
    let stated = Layout { encoding: Some(Encoding::Utf8), ..layout() };
    let line = 1 + bytes[..at].iter().filter(|b| **b == b'\n').count();
    let e = read(&bytes, "log.csv", &stated).unwrap_err().to_string();
    assert!(e.starts_with(&format!("log.csv:{line}: not utf-8 text")), "{e}");
}

#[test]
fn a_refused_cell_far_down_is_shown() {
    let text = log("\n", "").replace(";2000;", ";no;").replace("\n1100.00;3000;", "\n1100.00;oops;");
    let layout =
        Layout::of(vec![Column::new(Role::Time, "t"), Column::new(Role::EngineSpeed, "note").unit("rpm")]);
    let e = read(text.as_bytes(), "log.csv", &layout).unwrap_err().to_string();
    assert!(e.contains("log.csv:2:") && e.contains("row 0"), "{e}");
}

#[test]
fn what_cannot_be_read_is_said() {
    struct Torn(Cursor<Vec<u8>>);
    impl std::io::Read for Torn {
        fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
            match self.0.position() {
                0..2_000_000 => self.0.read(into),
                _ => Err(std::io::Error::other("the disk is gone")),
            }
        }
    }
    impl std::io::Seek for Torn {
        fn seek(&mut self, to: std::io::SeekFrom) -> std::io::Result<u64> {
            self.0.seek(to)
        }
    }
    let text = log("\n", "") + &" ".repeat(1_500_000);
    let e = read_from(&mut Torn(Cursor::new(text.into_bytes())), "log.csv", &layout()).unwrap_err();
    assert_eq!(e.to_string(), "log.csv: the disk is gone");
}
