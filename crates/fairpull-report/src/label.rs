//! Room for texts in a chart: estimates of their width, and places where they do not lie on one another.

/// Width a text takes at a font size, by character class; generous, since the reader's font is unknown.
pub(crate) fn width_of(text: &str, px: f64) -> f64 {
    let em: f64 = text
        .chars()
        .map(|c| match c {
            'i' | 'l' | 'j' | '.' | ',' | ':' | ';' | '|' | '\'' | ' ' => 0.33,
            'm' | 'w' | 'M' | 'W' | '%' => 0.92,
            'A'..='Z' => 0.7,
            c if c as u32 >= 0x2e80 => 1.05,
            _ => 0.58,
        })
        .sum();
    em * px
}

/// `text` broken at blanks into at most `most` lines of about `room` characters; what does not fit ends in `…`.
pub(crate) fn wrap(text: &str, room: usize, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut current = String::new();
    for word in text.split_whitespace() {
        if !current.is_empty() && current.chars().count() + 1 + word.chars().count() > room {
            lines.push(std::mem::take(&mut current));
        }
        if !current.is_empty() {
            current.push(' ');
        }
        current.push_str(word);
    }
    lines.push(current);
    let cut = lines.len() > most;
    lines.truncate(most);
    let last = lines.len().saturating_sub(1);
    for (i, l) in lines.iter_mut().enumerate() {
        if l.chars().count() > room || (cut && i == last) {
            *l = l.chars().take(room.saturating_sub(1)).collect::<String>().trim_end().to_owned() + "…";
        }
    }
    lines
}

/// Centres for boxes of given wanted centre and height, in the given order of the input, moved apart so
/// that they do not overlap and stay between `top` and `bottom` as far as they fit.
pub(crate) fn spread(wanted: &[(f64, f64)], top: f64, bottom: f64) -> Vec<f64> {
    let want = |i: usize| wanted.get(i).copied().unwrap_or((0.0, 0.0));
    let mut order: Vec<usize> = Vec::new();
    for i in 0..wanted.len() {
        let above = |other: &usize| want(*other).0.total_cmp(&want(i).0).is_gt();
        order.insert(order.iter().position(above).unwrap_or(order.len()), i);
    }
    let mut centres: Vec<f64> = wanted.iter().map(|w| w.0).collect();
    let mut edge = top;
    for &i in &order {
        if let Some(c) = centres.get_mut(i) {
            *c = c.max(edge + want(i).1 / 2.0);
            edge = *c + want(i).1 / 2.0;
        }
    }
    edge = bottom;
    for &i in order.iter().rev() {
        if let Some(c) = centres.get_mut(i) {
            *c = c.min(edge - want(i).1 / 2.0);
            edge = *c - want(i).1 / 2.0;
        }
    }
    centres
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Box2 {
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
}

/// Finds a place for each label in turn.
pub(crate) struct Placer {
    area: Box2,
    taken: Vec<Box2>,
    points: Vec<(f64, f64)>,
}

impl Placer {
    pub(crate) fn new(left: f64, right: f64, top: f64, bottom: f64) -> Self {
        Self { area: Box2 { left, right, top, bottom }, taken: Vec::new(), points: Vec::new() }
    }

    /// A point of a line that labels should not cover.
    pub(crate) fn keep_clear(&mut self, x: f64, y: f64) {
        self.points.push((x, y));
    }

    /// The place with the least overlap among a fan of places around a point, above it first or below it first.
    pub(crate) fn place(&mut self, x: f64, y: f64, width: f64, height: f64, below: bool) -> Box2 {
        let turn = if below { -1.0 } else { 1.0 };
        let mut best = (f64::INFINITY, self.at(x, y - height, width, height));
        for (ring, dy) in [-1.0, 1.0, -2.1, 2.1, -3.2, 3.2, -4.3, 4.3, 5.4, 6.5].into_iter().enumerate() {
            for (side, dx) in [0.0, -0.55, 0.55].into_iter().enumerate() {
                let spot = self.at(x + dx * width, y + turn * dy * (height + 2.0), width, height);
                let cost = self.cost(spot) + ring as f64 * 0.6 + side as f64 * 0.2;
                if cost < best.0 {
                    best = (cost, spot);
                }
            }
        }
        self.taken.push(best.1);
        best.1
    }

    fn at(&self, x: f64, y: f64, width: f64, height: f64) -> Box2 {
        let a = self.area;
        let left = (x - width / 2.0).min(a.right - width).max(a.left);
        let top = (y - height / 2.0).min(a.bottom - height).max(a.top);
        Box2 { left, right: left + width, top, bottom: top + height }
    }

    fn cost(&self, b: Box2) -> f64 {
        let over = |o: &&Box2| b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom;
        let near = |p: &&(f64, f64)| {
            p.0 > b.left - 3.0 && p.0 < b.right + 3.0 && p.1 > b.top - 3.0 && p.1 < b.bottom + 3.0
        };
        let labels = self.taken.iter().filter(over).count() as f64;
        let points = self.points.iter().filter(near).count() as f64;
        labels * 50.0 + points
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_are_moved_apart_and_stay_inside() {
        let c = spread(&[(50.0, 20.0), (52.0, 20.0), (5.0, 20.0)], 0.0, 100.0);
        assert_eq!(c, [50.0, 70.0, 10.0]);
        let c = spread(&[(95.0, 20.0), (98.0, 20.0)], 0.0, 100.0);
        assert_eq!(c, [70.0, 90.0]);
    }

    #[test]
    fn long_names_are_wrapped_and_cut_visibly() {
        assert_eq!(wrap("larger turbine housing", 12, 3), ["larger", "turbine", "housing"]);
        assert_eq!(wrap("a b c d", 1, 2), ["a", "…"]);
        assert_eq!(wrap("Donaudampfschiff", 8, 3), ["Donauda…"]);
    }
}
