//! Sums: `129+19.8-2*3`, as expected numbers are written beside what they are expected of.

/// `None` for `*`, which expects nothing.
pub fn value(sum: &str) -> Option<f64> {
    if sum == "*" {
        return None;
    }
    let mut total = 0.0;
    let mut rest = sum;
    while !rest.is_empty() {
        let negative = rest.starts_with('-');
        rest = rest.trim_start_matches(['+', '-']);
        let end = rest.find(['+', '-']).unwrap_or(rest.len());
        let term = product(&rest[..end]);
        total += if negative { -term } else { term };
        rest = &rest[end..];
    }
    Some(total)
}

fn product(term: &str) -> f64 {
    let number = |text: &str| text.parse::<f64>().unwrap_or_else(|_| panic!("`{text}` is not a number"));
    let mut value = 1.0;
    for factor in term.split('*') {
        let mut parts = factor.split('/').map(number);
        value *= parts.next().unwrap_or(1.0);
        value = parts.fold(value, |value, divisor| value / divisor);
    }
    value
}
