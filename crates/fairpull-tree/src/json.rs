//! JSON (RFC 8259) to tree. Own code, because a place is wanted for every value and the parsers at hand give none.

use crate::{Data, Fault, Key, Node};

/// Lists and tables inside one another, at most.
const DEPTH: usize = 128;

/// Reads JSON.
///
/// # Errors
/// [`Fault`] where the text is no JSON, or a key stands twice in one object.
pub fn json(text: &str) -> Result<Node, Fault> {
    let mut reader = Reader { text, at: 0 };
    let node = reader.value(0)?;
    reader.space();
    match reader.peek() {
        None => Ok(node),
        Some(_) => Err(reader.fault("trailing characters")),
    }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn space(&mut self) {
        while let Some(b' ' | b'\t' | b'\r' | b'\n') = self.peek() {
            self.at += 1;
        }
    }

    /// Passes over a sign if it stands here.
    fn take(&mut self, sign: u8) -> bool {
        self.space();
        let here = self.peek() == Some(sign);
        self.at += usize::from(here);
        here
    }

    fn fault(&self, message: &str) -> Fault {
        let ended = self.at >= self.text.len();
        let message = if ended { "the text ends before the value is complete" } else { message };
        Fault::new(message.to_owned(), Some(self.at..self.at))
    }

    fn value(&mut self, depth: usize) -> Result<Node, Fault> {
        self.space();
        let start = self.at;
        let data = match self.peek() {
            Some(b'{' | b'[') if depth >= DEPTH => return Err(self.fault("nested too deeply")),
            Some(b'{') => self.table(depth)?,
            Some(b'[') => self.list(depth)?,
            Some(b'"') => Data::Text(self.string()?),
            Some(b'-' | b'0'..=b'9') => self.number()?,
            _ => self.word()?,
        };
        Ok(Node { data, span: start..self.at })
    }

    fn word(&mut self) -> Result<Data, Fault> {
        let rest = self.text.get(self.at..).unwrap_or("");
        let words = [("null", Data::Null), ("true", Data::Truth(true)), ("false", Data::Truth(false))];
        for (word, data) in words {
            if rest.starts_with(word) {
                self.at += word.len();
                return Ok(data);
            }
        }
        Err(self.fault("expected a value"))
    }

    fn list(&mut self, depth: usize) -> Result<Data, Fault> {
        self.at += 1;
        let mut items = Vec::new();
        if self.take(b']') {
            return Ok(Data::List(items));
        }
        loop {
            items.push(self.value(depth + 1)?);
            if self.take(b']') {
                return Ok(Data::List(items));
            }
            if !self.take(b',') {
                return Err(self.fault("expected `,` or `]`"));
            }
        }
    }

    fn table(&mut self, depth: usize) -> Result<Data, Fault> {
        self.at += 1;
        let mut entries: Vec<(Key, Node)> = Vec::new();
        if self.take(b'}') {
            return Ok(Data::Table(entries));
        }
        loop {
            self.space();
            let start = self.at;
            if self.peek() != Some(b'"') {
                return Err(self.fault("expected a key in double quotes"));
            }
            let key = Key { name: self.string()?, span: start..self.at };
            if entries.iter().any(|(k, _)| k.name == key.name) {
                let message = format!("duplicate field `{}`", key.name);
                return Err(Fault::new(message, Some(key.span)));
            }
            if !self.take(b':') {
                return Err(self.fault("expected `:`"));
            }
            entries.push((key, self.value(depth + 1)?));
            if self.take(b'}') {
                return Ok(Data::Table(entries));
            }
            if !self.take(b',') {
                return Err(self.fault("expected `,` or `}`"));
            }
        }
    }

    fn digits(&mut self) -> Result<(), Fault> {
        let start = self.at;
        while let Some(b'0'..=b'9') = self.peek() {
            self.at += 1;
        }
        if self.at > start { Ok(()) } else { Err(self.fault("expected a digit")) }
    }

    fn number(&mut self) -> Result<Data, Fault> {
        let start = self.at;
        let mut whole = true;
        self.at += usize::from(self.peek() == Some(b'-'));
        if self.peek() == Some(b'0') {
            self.at += 1;
        } else {
            self.digits()?;
        }
        if self.peek() == Some(b'.') {
            (whole, self.at) = (false, self.at + 1);
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.peek() {
            (whole, self.at) = (false, self.at + 1);
            self.at += usize::from(matches!(self.peek(), Some(b'+' | b'-')));
            self.digits()?;
        }
        let text = self.text.get(start..self.at).unwrap_or("");
        if whole && text != "-0" {
            let read = text.parse().map(Data::Whole).or_else(|_| text.parse().map(Data::Large));
            if let Ok(data) = read {
                return Ok(data);
            }
        }
        match fairpull_units::decimal(text.as_bytes()) {
            Some(x) if x.is_finite() => Ok(Data::Number(x)),
            _ => Err(Fault::new("number out of range".to_owned(), Some(start..self.at))),
        }
    }

    fn string(&mut self) -> Result<String, Fault> {
        self.at += 1;
        let mut out = String::new();
        loop {
            let rest = self.text.get(self.at..).unwrap_or("");
            let plain = rest.bytes().take_while(|b| !matches!(b, b'"' | b'\\' | 0..=31)).count();
            out.push_str(rest.get(..plain).unwrap_or(""));
            self.at += plain;
            match self.peek() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(out);
                }
                Some(b'\\') => out.push(self.escape()?),
                _ => return Err(self.fault("a control character stands in a text")),
            }
        }
    }

    fn escape(&mut self) -> Result<char, Fault> {
        self.at += 1;
        let sign = match self.peek() {
            Some(b'u') => return self.unicode(),
            Some(b @ (b'"' | b'\\' | b'/')) => char::from(b),
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            _ => return Err(self.fault("invalid escape")),
        };
        self.at += 1;
        Ok(sign)
    }

    fn unicode(&mut self) -> Result<char, Fault> {
        let first = self.four()?;
        let code = match first {
            0xd800..=0xdbff if self.text.get(self.at..).is_some_and(|r| r.starts_with("\\u")) => {
                self.at += 1;
                let second = self.four()?;
                if !(0xdc00..=0xdfff).contains(&second) {
                    return Err(self.fault("lone surrogate in a text"));
                }
                0x1_0000 + ((first - 0xd800) << 10) + (second - 0xdc00)
            }
            _ => first,
        };
        char::from_u32(code).ok_or_else(|| self.fault("lone surrogate in a text"))
    }

    /// Four hexadecimal digits after the `u` that stands here.
    fn four(&mut self) -> Result<u32, Fault> {
        let digits = self.text.get(self.at + 1..self.at + 5).unwrap_or("");
        let code = u32::from_str_radix(digits, 16).ok().filter(|_| !digits.starts_with('+'));
        let code = code.ok_or_else(|| self.fault("invalid escape"))?;
        self.at += 5;
        Ok(code)
    }
}
