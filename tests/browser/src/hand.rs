//! A hand on the phone that knows where things are, and asks the page when they were done.

use crate::{Outcome, Phone};
use serde_json::{Value, json};
use std::{
    collections::BTreeMap,
    time::{Duration, Instant},
};
use tokio::time::sleep;

const WATCH: &str = include_str!("watch.js");
const PATIENCE: Duration = Duration::from_secs(40);
/// From one tap to the next: somebody quick, reading figures off a tape.
const PACE: Duration = Duration::from_millis(250);
/// Taps that are named.
const SLOWEST: usize = 12;

/// A hand on a phone.
#[derive(Debug)]
pub struct Hand<'a> {
    /// The phone.
    pub phone: &'a Phone,
    taps: usize,
}

impl<'a> Hand<'a> {
    /// Lays it on the page that is open; it stays through reloads.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn on(phone: &'a Phone) -> Outcome<Self> {
        phone.ask("Page.enable", json!({})).await?;
        phone.ask("Page.addScriptToEvaluateOnNewDocument", json!({ "source": WATCH })).await?;
        phone.evaluate(&format!("{WATCH}; 0")).await?;
        Ok(Self { phone, taps: 0 })
    }

    /// Waits until an expression is something, and gives it.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn wait(&self, expression: &str) -> Outcome<Value> {
        let start = Instant::now();
        loop {
            // While a page loads there is nobody to answer.
            match self.phone.evaluate(expression).await {
                Ok(Value::Null | Value::Bool(false)) | Err(_) if start.elapsed() < PATIENCE => {
                    sleep(Duration::from_millis(10)).await;
                }
                Ok(Value::Null | Value::Bool(false)) => return Err(format!("waited for {expression}").into()),
                answer => return answer,
            }
        }
    }

    async fn touch(&mut self, place: &str) -> Outcome {
        // Twice the same: it holds still.
        let mut last = Value::Null;
        let (x, y) = loop {
            let at = self.wait(place).await?;
            if at == last {
                break serde_json::from_value(at)?;
            }
            last = at;
        };
        self.phone.tap_at(x, y).await?;
        self.taps += 1;
        Ok(())
    }

    /// Taps what has this name, and takes a breath.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn tap(&mut self, name: &str) -> Outcome {
        self.touch(&format!("watch.named({})", json!(name))).await?;
        sleep(PACE).await;
        Ok(())
    }

    /// Taps the first thing of a selector, and takes a breath.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn tap_first(&mut self, selector: &str) -> Outcome {
        self.touch(&format!("watch.selected({})", json!(selector))).await?;
        sleep(PACE).await;
        Ok(())
    }

    /// Taps a point on the drawing that a finger reaches, another with each turn, and takes a breath.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn tap_point(&mut self, turn: usize) -> Outcome {
        self.touch(&format!("watch.point({turn})")).await?;
        sleep(PACE).await;
        Ok(())
    }

    /// Taps what has this name; gives the milliseconds until an expression is another, and on the glass.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn timed(&mut self, name: &str, so: &str) -> Outcome<f64> {
        self.timed_at(&format!("watch.named({})", json!(name)), so).await
    }

    /// As [`timed`](Self::timed), of the first thing of a selector.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn timed_first(&mut self, selector: &str, so: &str) -> Outcome<f64> {
        self.timed_at(&format!("watch.selected({})", json!(selector)), so).await
    }

    async fn timed_at(&mut self, place: &str, so: &str) -> Outcome<f64> {
        self.phone.evaluate(&format!("watch.until(() => {so}); 0")).await?;
        self.touch(place).await?;
        let answer = self.wait("watch.answer").await?;
        sleep(PACE).await;
        Ok(answer.as_f64().ok_or("no time")?)
    }

    /// Names a known point in the measurement under way.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn point(&mut self, label: &str) -> Outcome {
        self.wait("watch.focus('Label')").await?;
        self.phone.ask("Input.insertText", json!({ "text": label })).await?;
        self.tap(&format!("Use {label}")).await
    }

    /// Types metres on the pad.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn metres(&mut self, metres: f64) -> Outcome {
        for sign in format!("{metres:.2}").chars() {
            let digit = sign.to_string();
            self.tap(if sign == '.' { "point" } else { &digit }).await?;
        }
        Ok(())
    }

    /// A finger or two on the drawing, moved in steps of a frame; gives the frames a second and the longest frame in
    /// milliseconds. Each step says where the fingers are.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn move_fingers(&self, steps: &[Vec<(f64, f64)>]) -> Outcome<(f64, f64)> {
        let places = |step: &[(f64, f64)]| -> Vec<Value> {
            step.iter().enumerate().map(|(id, (x, y))| json!({ "x": x, "y": y, "id": id })).collect()
        };
        let touch = async |kind: &str, points: Vec<Value>| {
            self.phone.ask("Input.dispatchTouchEvent", json!({ "type": kind, "touchPoints": points })).await
        };
        let first = steps.first().ok_or("no steps")?;
        touch("touchStart", places(first)).await?;
        self.phone.evaluate("watch.count(); 0").await?;
        let start = Instant::now();
        for (step, frame) in steps.iter().zip(1_u32..) {
            touch("touchMove", places(step)).await?;
            sleep((Duration::from_micros(16_667) * frame).saturating_sub(start.elapsed())).await;
        }
        self.phone.evaluate("watch.counting = false; 0").await?;
        touch("touchEnd", Vec::new()).await?;
        let frames: Vec<f64> = serde_json::from_value(self.phone.evaluate("watch.frames").await?)?;
        let between: Vec<f64> = frames.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let all: f64 = between.iter().sum();
        #[expect(clippy::cast_precision_loss, reason = "some hundred frames")]
        let rate = 1000.0 * between.len() as f64 / all.max(1.0);
        Ok((rate, between.into_iter().fold(0.0, f64::max)))
    }

    /// The times of all taps since last asked, in milliseconds: what took less than a frame counts as one. The slowest
    /// are printed with what they were on.
    ///
    /// # Errors
    /// When it does not come about in time.
    pub async fn tap_times(&mut self) -> Outcome<Vec<f64>> {
        sleep(Duration::from_millis(500)).await;
        let events = self.phone.evaluate("watch.events.splice(0)").await?;
        let events: Vec<(u64, String, f64)> = serde_json::from_value(events)?;
        let mut longest = BTreeMap::<u64, (f64, String)>::new();
        for (id, name, duration) in events {
            let most = longest.entry(id).or_default();
            if duration > most.0 {
                *most = (duration, name);
            }
        }
        let mut named: Vec<(f64, String)> = longest.into_values().collect();
        named.sort_by(|a, b| b.0.total_cmp(&a.0));
        let slowest: Vec<String> =
            named.iter().take(SLOWEST).map(|(ms, on)| format!("{on} {ms:.0}")).collect();
        println!("the slowest: {}", slowest.join("; "));
        let mut times: Vec<f64> = named.into_iter().map(|(ms, _)| ms).collect();
        times.resize(times.len().max(self.taps), 16.0);
        self.taps = 0;
        Ok(times)
    }
}
