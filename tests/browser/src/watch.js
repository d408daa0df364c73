// What the bench needs in the page: where things are, and when they were done. Times are performance.now().
(() => {
  if (globalThis.watch) return;
  const pause = (ms) => new Promise((done) => setTimeout(done, ms));
  // The next frame is on the glass: a task after it was drawn.
  const painted = () =>
    new Promise((done) =>
      requestAnimationFrame(() => {
        const after = new MessageChannel();
        after.port1.onmessage = () => done(performance.now());
        after.port2.postMessage(0);
      }),
    );
  const watch = { events: [], names: {}, pressed: 0, frames: [], answer: null };

  // Events that took more than a frame, as the browser times them: from the touch to the next paint.
  new PerformanceObserver((list) => {
    for (const { name, interactionId, duration, startTime } of list.getEntries()) {
      if (interactionId) watch.events.push([interactionId, watch.names[startTime] ?? name, duration]);
    }
  }).observe({ type: "event", durationThreshold: 16, buffered: true });
  addEventListener("pointerup", (event) => (watch.pressed = event.timeStamp), { capture: true });
  // What each tap was on: its element may be gone when its time is known.
  for (const kind of ["pointerdown", "pointerup", "click"]) {
    const noted = ({ target, timeStamp }) => {
      const one = target.closest("button, a, summary, .drawing-glass") ?? target;
      watch.names[timeStamp] = (one.getAttribute("aria-label") ?? one.textContent.trim()).slice(0, 24) || one.className;
    };
    addEventListener(kind, noted, { capture: true });
  }

  const own = (one) => {
    const said = [...one.childNodes].filter((part) => part.ariaHidden !== "true").map((part) => part.textContent);
    return (one.getAttribute("aria-label") ?? said.join("")).trim();
  };
  const spot = (one) => {
    if (!one || one.getAttribute("aria-disabled") === "true") return null;
    let box = one.getBoundingClientRect();
    const seen = () => {
      const at = [box.left + box.width / 2, box.top + box.height / 2];
      const top = document.elementFromPoint(...at);
      return top && (one === top || one.contains(top)) ? at : null;
    };
    const at = seen();
    if (at) return at;
    one.scrollIntoView({ block: "center", behavior: "instant" });
    box = one.getBoundingClientRect();
    return seen();
  };
  const shown = (selector) => [...document.querySelectorAll(selector)].filter((one) => one.getClientRects().length);
  // What has just this name before what goes on after it.
  watch.named = (name) => {
    const all = shown("button, a, summary").map((one) => [own(one), one]);
    const found = all.find(([own]) => own === name) ?? all.find(([own]) => own.startsWith(name + ", "));
    return spot(found?.[1]);
  };
  watch.selected = (selector) => spot(shown(selector)[0]);
  // A point of the drawing that a finger reaches, other ones in turn.
  watch.point = (turn) => {
    const within = document.querySelector(".drawing")?.getBoundingClientRect();
    const reached = [];
    for (const one of shown(".point")) {
      const box = one.querySelector(".halo").getBoundingClientRect();
      const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
      const inside = x > within.left && x < within.right && y > within.top && y < within.bottom;
      if (inside && one.contains(document.elementFromPoint(x, y))) reached.push([x, y]);
    }
    return reached[(turn * 7) % reached.length] ?? null;
  };
  watch.focus = (name) => {
    const field = document.querySelector(`input[aria-label="${name}"]`);
    field?.focus();
    field?.select();
    return !!field;
  };

  // From the next touch until this is so and on the glass, in milliseconds; `watch.answer` tells.
  watch.until = (so) => {
    watch.answer = null;
    watch.pressed = 0;
    const before = so();
    (async () => {
      for (;;) {
        await new Promise((done) => requestAnimationFrame(done));
        if (watch.pressed && so() && so() !== before) break;
      }
      // This very frame shows it; what the page does after it does not count.
      const after = new MessageChannel();
      after.port1.onmessage = () => (watch.answer = performance.now() - watch.pressed);
      after.port2.postMessage(0);
    })();
  };

  // Frames while fingers move.
  watch.count = () => {
    watch.frames = [];
    watch.counting = true;
    const frame = (at) => {
      watch.frames.push(at);
      if (watch.counting) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  };

  const opened = () =>
    new Promise((done) => {
      const opening = indexedDB.open("swingtie");
      opening.onsuccess = () => done(opening.result);
    });
  const done = (writing) => new Promise((fine, wrong) => ([writing.oncomplete, writing.onabort] = [fine, wrong]));

  // Pictures of their own, in the stores; gives their names.
  watch.photos = async (count) => {
    const store = await opened();
    const names = [];
    for (let n = 0; n < count; n++) {
      const canvas = Object.assign(document.createElement("canvas"), { width: 640, height: 480 });
      const pen = canvas.getContext("2d");
      for (let i = 0; i < 300; i++) {
        pen.fillStyle = `hsl(${(n * 37 + i * 11) % 360} 60% 50%)`;
        pen.fillRect((i * 97 + n * 13) % 640, (i * 61) % 480, 40, 30);
      }
      const blob = await new Promise((made) => canvas.toBlob(made, "image/jpeg", 0.9));
      const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await blob.arrayBuffer()));
      const name = [...sum].map((byte) => byte.toString(16).padStart(2, "0")).join("");
      const writing = store.transaction(["photos", "thumbnails"], "readwrite");
      for (const kind of ["photos", "thumbnails"]) writing.objectStore(kind).put(blob, name);
      await done(writing);
      names.push(name);
    }
    store.close();
    return names;
  };

  // Entries of the open site, as another window writes them.
  watch.feed = async (lines) => {
    const site = location.hash.split("/")[2];
    const store = await opened();
    const writing = store.transaction("entries", "readwrite");
    for (const line of lines) writing.objectStore("entries").put(line, [site, JSON.parse(line).id]);
    await done(writing);
    store.close();
    const channel = new BroadcastChannel("swingtie-written");
    channel.postMessage(site);
    await pause(50);
    channel.close();
    await painted();
    return true;
  };

  // When the first screen is there: the points of a plan, or the cards of the list.
  watch.first = null;
  const look = new MutationObserver(() => {
    if (!document.querySelector(".points .point, .cards .card")) return;
    look.disconnect();
    painted().then((at) => (watch.first = at));
  });
  addEventListener("DOMContentLoaded", () => look.observe(document.body, { subtree: true, childList: true }));

  // The program's own memory.
  for (const name of ["instantiate", "instantiateStreaming"]) {
    const usual = WebAssembly[name];
    WebAssembly[name] = async (...given) => {
      const made = await usual.apply(WebAssembly, given);
      watch.memory ??= (made.instance ?? made).exports.memory;
      return made;
    };
  }

  globalThis.watch = watch;
})();
