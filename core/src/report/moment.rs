//! A time as people read it. Core has no clock: the time is the one an entry was given.

/// `2026-05-09 10:01 UTC`, of milliseconds since 1970. None where no time was given, or one of another age.
///
/// The calendar by whole eras of 400 years, 146 097 days each, counted from the first of March, so that the leap day is
/// a year's last (the proleptic Gregorian calendar, ISO 8601).
pub(super) fn moment(at_ms: i64) -> Option<String> {
    const DAY: i64 = 86_400_000;
    if at_ms <= 0 {
        return None;
    }
    let (days, of_day) = (at_ms.div_euclid(DAY), at_ms.rem_euclid(DAY) / 60_000);
    // From the first of March of the year 0.
    let days = days.checked_add(719_468)?;
    let (era, of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let march_month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * march_month + 2) / 5 + 1;
    let month = if march_month < 10 { march_month + 3 } else { march_month - 9 };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    (year < 10_000)
        .then(|| format!("{year:04}-{month:02}-{day:02} {:02}:{:02} UTC", of_day / 60, of_day % 60))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By `date -u -d @SECONDS` of GNU coreutils.
    #[test]
    fn days_as_another_program_counts_them() {
        for (seconds, said) in [
            (60, "1970-01-01 00:01 UTC"),
            (951_782_400, "2000-02-29 00:00 UTC"),
            (951_868_799, "2000-02-29 23:59 UTC"),
            (1_078_012_800, "2004-02-29 00:00 UTC"),
            (4_107_542_400, "2100-03-01 00:00 UTC"),
            (1_798_761_599, "2026-12-31 23:59 UTC"),
        ] {
            assert_eq!(moment(seconds * 1000).as_deref(), Some(said));
        }
        assert_eq!(moment(0), None);
        assert_eq!(moment(i64::MAX), None);
        assert_eq!(moment(i64::MIN), None);
    }
}
