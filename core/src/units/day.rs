//! Days in words.

/// A day as people write it, `9 May 2026`, where it was given as `2026-05-09`, with or without an hour; anything else as it is.
#[must_use]
pub fn day(said: &str) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let number = |text: &str, digits: usize| {
        let plain = text.len() == digits && text.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| text.parse::<usize>().ok()).flatten()
    };
    let read = || {
        let (date, rest) = said.trim().split_once(' ').unwrap_or((said.trim(), ""));
        let mut parts = date.split('-');
        let (year, month, date) = (parts.next()?, parts.next()?, parts.next()?);
        let (month, date) = (number(month, 2)?, number(date, 2).filter(|date| (1..=31).contains(date))?);
        number(year, 4).filter(|_| parts.next().is_none())?;
        let words = say!("{date} {} {year} {rest}", *MONTHS.get(month.checked_sub(1)?)?);
        Some(words.trim_end().to_owned())
    };
    read().unwrap_or_else(|| said.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_said_as_people_write_it_and_anything_else_is_left_alone() {
        let cases = [
            ("2026-05-09", "9 May 2026"),
            (" 2026-12-31 15:20", "31 December 2026 15:20"),
            ("last Tuesday", "last Tuesday"),
            ("2026-13-01", "2026-13-01"),
            ("", ""),
        ];
        for (said, words) in cases {
            assert_eq!(day(said), words);
        }
    }
}
