//! Time and chance, which core is never allowed to know by itself.

use leptos::prelude::window;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// The wall clock, milliseconds since 1970.
#[must_use]
pub fn now_ms() -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "milliseconds since 1970 are far below 2^53")]
    let now = js_sys::Date::now() as i64;
    now
}

/// Today's date where the phone is, `YYYY-MM-DD`.
#[must_use]
pub fn today() -> String {
    let now = js_sys::Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// The day and minute where the phone is, `YYYY-MM-DD HH:MM`.
#[must_use]
pub fn this_minute() -> String {
    let now = js_sys::Date::new_0();
    format!("{} {:02}:{:02}", today(), now.get_hours(), now.get_minutes())
}

/// The day and second where the phone is: `YYYY-MM-DD` and `HH:MM:SS`.
#[must_use]
pub fn this_second() -> (String, String) {
    let now = js_sys::Date::new_0();
    (today(), format!("{:02}:{:02}:{:02}", now.get_hours(), now.get_minutes(), now.get_seconds()))
}

/// How many minutes the phone's time zone is east of Greenwich now.
#[must_use]
pub fn minutes_east_now() -> i32 {
    minutes_east(&js_sys::Date::new_0())
}

#[allow(clippy::cast_possible_truncation, reason = "a zone is less than a day off")]
fn minutes_east(at: &js_sys::Date) -> i32 {
    -at.get_timezone_offset() as i32
}

/// The instant of a day and a time by the phone's zone, milliseconds since 1970, and how many minutes that zone is east
/// of Greenwich then; none where there is no such day or time.
#[must_use]
pub fn instant(day: &str, time: &str) -> Option<(i64, i32)> {
    let ((year, month, date), (hour, minute, second)) = (day_of(day)?, time_of(time)?);
    let at = js_sys::Date::new_with_year_month_day_hr_min_sec(year, month - 1, date, hour, minute, second);
    // 31 April would become 1 May.
    let there = i32::try_from(at.get_date()).ok()? == date;
    #[allow(clippy::cast_possible_truncation, reason = "milliseconds since 1970 are far below 2^53")]
    there.then(|| (at.get_time() as i64, minutes_east(&at)))
}

/// `2026-05-09`; years of four digits.
fn day_of(text: &str) -> Option<(u32, i32, i32)> {
    let mut parts = text.trim().splitn(3, '-');
    let (year, month, date) = (parts.next()?, parts.next()?, parts.next()?);
    let year = year.parse().ok().filter(|year| (1000..=9999).contains(year))?;
    let month = month.parse().ok().filter(|month| (1..=12).contains(month))?;
    Some((year, month, date.parse().ok().filter(|date| (1..=31).contains(date))?))
}

/// `15:20`, `9.05` or `15:20:30`.
fn time_of(text: &str) -> Option<(i32, i32, i32)> {
    let mut parts = text.trim().split([':', '.']);
    let hour = parts.next()?.parse().ok().filter(|hour| (0..24).contains(hour))?;
    let sixtieth = |part: &str| part.parse().ok().filter(|n| (0..60).contains(n));
    let minute = sixtieth(parts.next()?)?;
    let second = match parts.next() {
        Some(second) => sixtieth(second)?,
        None => 0,
    };
    parts.next().is_none().then_some((hour, minute, second))
}

fn date(ms: i64) -> js_sys::Date {
    #[allow(clippy::cast_precision_loss, reason = "milliseconds since 1970 are far below 2^53")]
    js_sys::Date::new(&JsValue::from_f64(ms as f64))
}

/// A moment in the phone's time, with these parts (`Intl.DateTimeFormat`'s options) and in the browser's own language;
/// with none of them, the day and the time to the second.
fn written(ms: i64, parts: &[(&str, &str)]) -> String {
    let options = js_sys::Object::new();
    for (part, style) in parts {
        // A plain object takes any field.
        let _ = js_sys::Reflect::set(&options, &(*part).into(), &(*style).into());
    }
    String::from(date(ms).to_locale_string("default", &options))
}

/// A time as people here write it, without seconds: `Nov 26, 2026, 1:48 PM`.
pub fn local_minute(ms: i64) -> String {
    written(ms, &[("dateStyle", "medium"), ("timeStyle", "short")])
}

/// When the day of a moment began where the phone is, milliseconds since 1970.
#[must_use]
pub fn morning(ms: i64) -> i64 {
    let at = date(ms);
    at.set_hours(0);
    at.set_minutes(0);
    at.set_seconds(0);
    at.set_milliseconds(0);
    #[allow(clippy::cast_possible_truncation, reason = "milliseconds since 1970 are far below 2^53")]
    let began = at.get_time() as i64;
    began
}

/// The day of a moment as people here write it, without the year: `24 Nov`.
#[must_use]
pub fn day_and_month(ms: i64) -> String {
    written(ms, &[("day", "numeric"), ("month", "short")])
}

/// The day of a moment as the phone's user writes it, in the phone's time.
#[must_use]
pub fn local_day(ms: i64) -> String {
    written(ms, &[("dateStyle", "medium")])
}

/// A moment as the phone's user writes it, in the phone's time.
#[must_use]
pub fn local_time(ms: i64) -> String {
    written(ms, &[])
}

/// Digits and letters without those that are mistaken for each other.
const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";

/// A fresh id of 100 random bits, from the browser's cryptographic source.
#[must_use]
pub fn random_id() -> String {
    let mut bytes = [0_u8; 20];
    if let Ok(crypto) = window().crypto() {
        // Fails only for more than 65536 bytes.
        let _ = crypto.get_random_values_with_u8_array(&mut bytes);
    }
    id_from(&bytes)
}

/// Five bits of each byte as one sign.
fn id_from(bytes: &[u8]) -> String {
    bytes.iter().filter_map(|byte| ALPHABET.get(usize::from(byte & 31)).copied()).map(char::from).collect()
}

/// Waits.
pub async fn sleep(ms: i32) {
    let promise = js_sys::Promise::new(&mut |resolve, _| {
        let _ = window().set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms);
    });
    let _: Result<JsValue, JsValue> = JsFuture::from(promise).await;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_times_are_read_as_people_type_them() {
        for (text, read) in [
            ("2026-05-09", Some((2026, 5, 9))),
            (" 2026-5-9 ", Some((2026, 5, 9))),
            ("2026-13-01", None),
            ("2026-00-01", None),
            ("26-05-09", None),
            ("2026-05-32", None),
            ("today", None),
            ("", None),
        ] {
            assert_eq!(day_of(text), read, "{text}");
        }
        for (text, read) in [
            ("15:20", Some((15, 20, 0))),
            ("9.05", Some((9, 5, 0))),
            ("15:20:30", Some((15, 20, 30))),
            ("24:00", None),
            ("15:60", None),
            ("15:20:30:1", None),
            ("15", None),
            ("noon", None),
        ] {
            assert_eq!(time_of(text), read, "{text}");
        }
    }

    #[test]
    fn an_id_has_a_sign_for_every_byte() {
        assert_eq!(id_from(&[0, 31, 32, 255, 10]), "0z0za");
    }
}
