//! A practised thumb: it knows where the keys are, taps fast, and counts.

use serde_json::json;
use std::cell::{Cell, RefCell};
use swingtie_browser::{Outcome, Phone};

/// Two frames and what was to be done after each.
const FRAMES: &str = "new Promise(done => requestAnimationFrame(() => setTimeout(() => \
    requestAnimationFrame(() => setTimeout(() => done(true))))))";

/// What the thumb needs in the page: where something of this name can be tapped, and what stands there. A
/// name is what a screen reader says. What has to be scrolled to costs a tap more, since it costs a swipe.
const HELP: &str = r"
window.thumb = {
    frame: () => new Promise(done => requestAnimationFrame(() => done())),
    all: () => [...document.querySelectorAll('button, a')].filter(one => one.getClientRects().length),
    name: one => one.getAttribute('aria-label') ?? one.textContent.trim(),
    middle: one => { const b = one.getBoundingClientRect(); return [b.left + b.width / 2, b.top + b.height / 2]; },
    free: (one, [x, y]) => { const top = document.elementFromPoint(x, y); return !!top && (one === top || one.contains(top)); },
    async until(what, wish) {
        for (const start = performance.now(); performance.now() - start < 8000; await this.frame()) {
            const found = what();
            if (found) return found;
        }
        throw new Error('waited for ' + wish);
    },
    async find(name) {
        // A key may explain itself behind its name: `Walk the walls, lengths and turns`.
        const fits = one => this.name(one) === name || this.name(one).startsWith(name + ', ');
        const find = () => this.all().find(one => fits(one) && one.getAttribute('aria-disabled') !== 'true');
        const one = await this.until(find, 'a key named ' + name);
        let scrolled = false;
        for (let last = '', tries = 0; tries < 120; tries++, await this.frame()) {
            const now = find();
            if (!now) continue;
            const at = this.middle(now);
            if (!this.free(now, at) && tries > 3) {
                now.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
                scrolled = true;
            } else if (this.free(now, at) && String(at) === last) return [...at, scrolled, this.last()];
            last = String(at);
        }
        throw new Error('something lies over ' + name);
    },
    async place(label) {
        const find = () => [...document.querySelectorAll('[role=button]')].find(one => this.name(one).startsWith('Point ' + label + ','));
        await this.frame();
        await this.frame();
        const chip = this.all().find(one => this.name(one) === label);
        if (chip && this.free(chip, this.middle(chip))) return this.middle(chip);
        for (let last = ''; find(); await this.frame()) {
            const at = this.middle(find());
            if (String(at) === last) return document.elementFromPoint(...at)?.closest('svg') ? at : null;
            last = String(at);
        }
        return null;
    },
    async spots(names) {
        await this.find(names[0]);
        const all = this.all();
        return names.map(name => {
            const one = all.find(one => this.name(one) === name), at = this.middle(one);
            if (!this.free(one, at)) throw new Error('something lies over ' + name);
            return at;
        });
    },
    last: () => document.querySelector('.last')?.textContent ?? '',
    row: () => thumb.all().filter(one => one.closest('[role=group].steps')).map(thumb.name),
    look: () => [thumb.row(), thumb.parts(), !!document.querySelector('.pad')],
    parts: () => thumb.all().filter(one => one.closest('.slots')).map(one => [thumb.name(one), one.getAttribute('aria-pressed') === 'true']),
};
// A phone shows its keyboard for what takes text.
addEventListener('focusin', event => { if (event.target.matches('input, textarea, select, [contenteditable]')) thumb.keyboard = true; });
";

/// The keys of the row, the parts and which is in focus, whether the pad is there.
type Seen = (Vec<String>, Vec<(String, bool)>, bool);

/// A thumb on a phone.
pub struct Thumb<'a> {
    phone: &'a Phone,
    taps: Cell<usize>,
    questioned: Cell<usize>,
    before: RefCell<String>,
    seen: RefCell<Option<Seen>>,
}

impl<'a> Thumb<'a> {
    /// Lays it on.
    pub async fn on(phone: &'a Phone) -> Outcome<Self> {
        phone.evaluate(HELP).await?;
        Ok(Self {
            phone,
            taps: Cell::new(0),
            questioned: Cell::new(0),
            before: RefCell::default(),
            seen: RefCell::default(),
        })
    }

    /// The taps since last asked.
    pub fn taken(&self) -> usize {
        self.taps.take()
    }

    /// How often the phone asked whether a number is meant.
    pub fn questioned(&self) -> usize {
        self.questioned.get()
    }

    /// Taps what has this name.
    pub async fn tap(&self, name: &str) -> Outcome {
        let found = self.phone.evaluate(&format!("thumb.find({})", json!(name))).await?;
        let (x, y, scrolled, last): (f64, f64, bool, String) = serde_json::from_value(found)?;
        self.before.replace(last);
        self.touch(x, y).await?;
        self.taps.set(self.taps.get() + usize::from(scrolled));
        Ok(())
    }

    /// Taps a point: in the list where it shows there, else on the drawing; where several lie under the thumb,
    /// the phone asks which was meant.
    pub async fn point(&self, label: &str) -> Outcome {
        let found = self.phone.evaluate(&format!("thumb.place({})", json!(label))).await?;
        // Not placed yet, or under a key of the drawing: then from the list.
        let Some((x, y)) = serde_json::from_value::<Option<(f64, f64)>>(found)? else {
            return self.tap(label).await;
        };
        self.touch(x, y).await?;
        let this = format!("This one: {label}");
        let asked =
            format!("thumb.frame().then(() => thumb.all().some(one => thumb.name(one) === {}))", json!(this));
        if self.phone.evaluate(&asked).await? == true {
            self.tap(&this).await?;
        }
        Ok(())
    }

    /// Types a length as it was written down, `14'-5 3/4"`: feet of none and inches of none are left out. The
    /// keys lie still, so the thumb looks for them once and at what it typed after the last.
    pub async fn number(&self, written: &str) -> Outcome {
        let (sign, length) = written.strip_prefix('-').map_or(("", written), |rest| ("-", rest));
        let (feet, inches) = length.trim_end_matches('"').split_once("'-").ok_or("no feet")?;
        let (feet, inches) = (if feet == "0" { "" } else { feet }, if inches == "0" { "" } else { inches });
        let mut keys: Vec<&str> = if sign.is_empty() { Vec::new() } else { vec!["minus"] };
        keys.extend(feet.split("").filter(|figure| !figure.is_empty()));
        if !feet.is_empty() {
            keys.push("feet");
        }
        let inches: Vec<&str> = inches.split(' ').filter(|word| !word.is_empty() && *word != "0").collect();
        for word in &inches {
            match swingtie_browser::fraction(word) {
                Some(key) => keys.push(key),
                None => keys.extend(word.split("").filter(|figure| !figure.is_empty())),
            }
        }
        // After feet the pad takes figures for inches, and a fraction is always one of an inch.
        if feet.is_empty() && !inches.iter().any(|word| word.contains('/')) {
            keys.push("inches");
        }
        let spots: Vec<(f64, f64)> =
            serde_json::from_value(self.phone.evaluate(&format!("thumb.spots({})", json!(keys))).await?)?;
        for (x, y) in spots {
            self.touch(x, y).await?;
        }
        let mut shown = if feet.is_empty() { sign.to_owned() } else { format!("{sign}{feet}'") };
        if !inches.is_empty() {
            let gap = if feet.is_empty() { "" } else { " " };
            shown = format!("{shown}{gap}{}\"", inches.join(" "));
        }
        let wish = format!(
            "thumb.until(() => document.querySelector('.pad-figures').textContent === {0}, {0})",
            json!(shown)
        );
        self.phone.evaluate(&wish).await?;
        Ok(())
    }

    /// Taps this key and waits until what is said last names it.
    pub async fn save(&self, key: &str, words: &str) -> Outcome {
        self.tap(key).await?;
        self.saved(words).await
    }

    /// Waits until the last thing said is another, with these words in it; what is asked is kept.
    pub async fn saved(&self, words: &str) -> Outcome {
        let before = self.before.take();
        let wish = format!(
            "thumb.until(() => thumb.all().map(thumb.name).find(name => name.startsWith('Keep ')) ?? \
             (thumb.last() !== {} && thumb.last().includes({}) && 'saved'), {})",
            json!(before),
            json!(words),
            json!(format!("{words} to be saved")),
        );
        let seen = self.phone.evaluate(&wish).await?;
        self.seen.replace(None);
        let seen = seen.as_str().ok_or("nothing seen")?;
        // It is said before the work: the keys that follow from it stand there two frames later.
        self.phone.evaluate(FRAMES).await?;
        if seen != "saved" {
            self.questioned.set(self.questioned.get() + 1);
            self.tap(seen).await?;
            self.before.replace(before);
            return Box::pin(self.saved(words)).await;
        }
        Ok(())
    }

    /// What stands over the pad, looked at once after each tap.
    async fn see(&self) -> Outcome<Seen> {
        if let Some(seen) = self.seen.borrow().clone() {
            return Ok(seen);
        }
        // What a tap changes stands there a frame later.
        let seen = self.phone.evaluate("thumb.frame().then(thumb.look)").await?;
        let seen: Seen = serde_json::from_value(seen)?;
        self.seen.replace(Some(seen.clone()));
        Ok(seen)
    }

    async fn touch(&self, x: f64, y: f64) -> Outcome {
        self.seen.replace(None);
        self.phone.tap_at(x, y).await?;
        self.taps.set(self.taps.get() + 1);
        Ok(())
    }

    /// The keys of the row over the pad.
    pub async fn row(&self) -> Outcome<Vec<String>> {
        Ok(self.see().await?.0)
    }

    /// The parts of what is under way, `from: H3`, and whether each is in focus.
    pub async fn parts(&self) -> Outcome<Vec<(String, bool)>> {
        Ok(self.see().await?.1)
    }

    /// Whether a number is asked.
    pub async fn on_pad(&self) -> Outcome<bool> {
        Ok(self.see().await?.2)
    }

    /// What stands in one part.
    pub async fn part(&self, part: &str) -> Outcome<String> {
        let start = format!("{part}: ");
        let parts = self.parts().await?;
        let found = parts.iter().find_map(|(name, _)| name.strip_prefix(&start));
        Ok(found.ok_or_else(|| format!("no part {part}"))?.to_owned())
    }

    /// The line about what was said last.
    pub async fn last(&self) -> Outcome<String> {
        Ok(self.phone.evaluate("thumb.last()").await?.as_str().unwrap_or_default().to_owned())
    }

    /// Fails when the phone's keyboard was asked for.
    pub async fn no_keyboard(&self) -> Outcome {
        swingtie_browser::check(
            self.phone.evaluate("!thumb.keyboard").await? == true,
            "the keyboard was needed",
        )
    }
}
