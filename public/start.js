// Starts the program and shows on the first page whether it came up. The build writes the names of the
// program's files into this text. Everything else is the program's own work.
// A block, since this is no module: its names are no one else's.
{
  // How the user wants the page to look, as kept on this device. Done before anything is drawn, so that
  // nothing flashes, and again by the program when it is changed.
  const dark = matchMedia("(prefers-color-scheme: dark)");
  const forced = matchMedia("(forced-colors: active)");
  const look = () => {
    const { dataset } = document.documentElement;
    for (const key of ["theme", "text", "hand"]) {
      try {
        dataset[key] = localStorage.getItem(key) ?? "";
      } catch {
        // A device that keeps nothing has the usual look.
      }
    }
    // Where the system sets all colours, drawings go with them: the browser then says whether theirs are dark.
    if (forced.matches || !dataset.theme) dataset.theme = dark.matches ? "dark" : "light";
    document.querySelector("[name=theme-color]").content = { dark: "#16202b", sun: "#fff" }[dataset.theme] ?? "#f7f2e4";
  };
  dark.onchange = forced.onchange = look;
  look();

  // The language: the one that was chosen here, else the first of the browser's that there is.
  const languages = { en: "", es: "./WORDS_ES" };
  let language;
  try {
    language = localStorage.getItem("language");
  } catch {
    // As above.
  }
  const read = [language ?? [], navigator.languages].flat();
  const tag = read.find((tag) => tag.slice(0, 2) in languages) ?? "en";
  language = tag.slice(0, 2);
  document.documentElement.lang = language;
  // A table that does not come leaves the program in English.
  const words = !languages[language] ? "" : fetch(languages[language])
    .then((answer) => (answer.ok ? answer.text() : ""), () => "");

  // A tap leaves no button and no heading focused. Where the page takes away what has the focus, the browser lays
  // everything out in the middle of the change, and again after it: a third of what a tap took. Keys, mouse and
  // screen readers keep theirs.
  const blur = ({ pointerType }) => {
    const focused = document.activeElement;
    if (pointerType === "touch" && focused?.matches("button, a, h2")) focused.blur();
  };
  for (const kind of ["pointerup", "click"]) addEventListener(kind, blur, true);

  // What the program is for stands on the page before it has come, where it was never opened: the first page of all.
  const first = language === "en" && !location.hash && !navigator.serviceWorker?.controller;
  document.documentElement.classList.toggle("first", first);

  // A site's file that comes in otherwise than by the file field: dropped, opened with the installed app, or shared
  // with it, when the service worker has put it aside.
  const handed = (take) => {
    const first = (files) => [...files].find((file) => /\.(zip|jsonl|csv)$/i.test(file.name));
    addEventListener("dragover", (event) => event.dataTransfer?.types.includes("Files") && event.preventDefault());
    addEventListener("drop", (event) => {
      const file = first(event.dataTransfer?.files ?? []);
      if (!file) return;
      event.preventDefault();
      take(file);
    });
    globalThis.launchQueue?.setConsumer(async ({ files }) => {
      const opened = await Promise.all(files.map((handle) => handle.getFile()));
      const file = first(opened);
      if (file) take(file);
    });
    const shared = async () => {
      const cache = await caches.open("swingtie received");
      const found = await cache.match("./received");
      if (!found) return;
      const name = decodeURIComponent(found.headers.get("x-name") ?? "received.zip");
      take(new File([await found.blob()], name));
      await cache.delete("./received");
    };
    // Where there is no such cache, nothing can have been put aside.
    shared().catch(() => {});
  };

  // The scripts that are started by their name: these and, where the browser sees to it, no others (Trusted Types).
  const [photos, offline] = ["./PHOTOS", "./sw.js"];
  const ours = [photos, offline].map((path) => new URL(path, document.baseURI).href);
  const createScriptURL = (url) => {
    if (!ours.includes(url)) throw new TypeError(url + " is none of this page's scripts");
    return url;
  };
  const scripts = globalThis.trustedTypes?.createPolicy("swingtie", { createScriptURL }) ?? { createScriptURL };

  // One metre of the plan on the glass, as the signs on the drawing have it that keep their size. A rule of its own, since
  // of a property that all inherit the browser would work out the style of the whole drawing anew. Older ones do.
  const signs = {};
  const scaled = (inverse, within) => {
    try {
      if (!signs[within]) {
        const sheet = new CSSStyleSheet();
        signs[within] = sheet.cssRules[sheet.insertRule(within + " .drawing-plan .upright {}")].style;
        document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
      }
      const size = `calc(${inverse} * var(--big)`;
      signs[within].transform = `scale(${size}), ${size} * -1))`;
    } catch {
      document.querySelector(within + " .drawing-plan")?.style.setProperty("--inv", inverse);
    }
  };

  // When the page was touched last.
  let touched = 0;
  for (const kind of ["pointerdown", "pointerup", "keydown", "wheel"]) {
    addEventListener(kind, () => (touched = performance.now()), { capture: true, passive: true });
  }

  // What it asks of this page: the text of one of this site's own files, what makes pictures small, and when.
  globalThis.swingtie = {
    look,
    scaled,
    // The sign before decimals, as those write it who read this language where this browser is used.
    decimal: (1.5).toLocaleString(navigator.languages.find((other) => other.slice(0, 2) === language) ?? tag)[1],
    script: (url) => scripts.createScriptURL(url),
    offline: () => navigator.serviceWorker.register(scripts.createScriptURL(new URL(offline, document.baseURI).href)),
    text: async (path) => {
      const answer = await fetch(path);
      if (!answer.ok) throw new Error(path + ": " + answer.status);
      return answer.text();
    },
    photos: () => import(photos).then((made) => made.studio()),
    handed,
    // Ends when a connection to the store has to be given up: true when it is a newer version that asks for it, false
    // when the browser closed it or clears everything.
    taken: (connection) =>
      new Promise((done) => {
        connection.onversionchange = (event) => done(event.newVersion !== null);
        connection.onclose = () => done(false);
      }),
    // Nothing was touched for so many milliseconds from now: what takes long, and what nobody waits for, is done then.
    rests: (least) =>
      new Promise((done) => {
        const asked = performance.now();
        const look = () => {
          const left = Math.max(touched, asked) + least - performance.now();
          setTimeout(left > 0 ? look : done, Math.max(left, 0));
        };
        look();
      }),
    // What is on the page now has been drawn. With the screen off nothing is: then soon all the same.
    shown: () =>
      new Promise((done) => {
        setTimeout(done, 100);
        requestAnimationFrame(() => setTimeout(done));
      }),
  };

  // Where the browser offers to put this page on the home screen: the settings pass the offer on.
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    swingtie.offer = event;
  });

  const waiting = () => document.getElementById("start");

  // What this script says itself, in the language of the page where its words have come.
  const say = (english) => {
    const line = swingtie.words?.split("\n").find((line) => line.startsWith(english + "\t"));
    return line?.slice(english.length + 1) ?? english;
  };
  const tell = (text, button, pressed) => {
    const made = (name, fields, ...inside) => {
      const one = Object.assign(document.createElement(name), fields);
      one.append(...inside);
      return one;
    };
    const press = made("button", { type: "button", className: "button", onclick: pressed }, button);
    const banner = made("div", { className: "banner", role: "alert" }, made("span", {}, text), press);
    document.body.prepend(banner);
    return banner;
  };

  // A program that falls over is not to be trusted any further. What it saved is kept, and what is half typed, too: so it is
  // started anew by itself, once in a minute. Where that was not enough it begins at the list of sites, when told to.
  const FELL = "fell";
  let down = false;
  const fell = ({ error, reason }) => {
    if (down || !((error ?? reason) instanceof WebAssembly.RuntimeError)) return;
    down = true;
    let again = true;
    try {
      again = Date.now() - sessionStorage.getItem(FELL) < 60_000;
      sessionStorage.setItem(FELL, Date.now());
    } catch {
      // Where nothing can be noted it might begin anew for ever.
    }
    if (!again) {
      // What is on its way into the store arrives.
      setTimeout(() => location.reload(), 300);
    } else if (!waiting()) {
      tell(say("Swingtie stopped again. What you saved is kept."), say("Load again"), () => {
        history.replaceState(null, "", location.pathname);
        location.reload();
      });
    }
  };
  addEventListener("error", fell);
  addEventListener("unhandledrejection", fell);
  const told = () => {
    try {
      if (Date.now() - sessionStorage.getItem(FELL) > 10_000) return;
    } catch {
      return;
    }
    const text = say("Swingtie stopped and was started again. What you saved is here, and what was half typed, too.");
    const banner = tell(text, say("Close"), () => banner.remove());
  };

  const drawn = new Promise((done) => addEventListener("DOMContentLoaded", done));
  import("./PROGRAM")
    .then(async (program) => {
      await drawn;
      swingtie.words = await words;
      // Who comes for the first time has something to read first.
      if (first) await swingtie.shown();
      return program.default({ module_or_path: new URL("./FIRST", document.baseURI) });
    })
    .then(
      () => {
        waiting().remove();
        told();
        // How the screens look that come after the first.
        document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: "./LATER" }));
      },
      async (reason) => {
        swingtie.words ??= await words;
        const line = waiting().querySelector("[role=status]");
        line.setAttribute("role", "alert");
        line.textContent =
          say("Swingtie could not start. What you recorded is untouched. Try to load the page again; if it still does not start, this browser may be too old.") +
          ` (${reason})`;
        throw reason;
      },
    );
}
