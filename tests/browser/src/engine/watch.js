// Stands before the app's start-up script in the tests' copy of the build: notes down whatever goes wrong in the
// page, from its first line on and over every reload, where a browser's driver cannot tell of its console.
{
  const KEY = "tests: complaints";
  const note = (what) => {
    const all = JSON.parse(sessionStorage.getItem(KEY) ?? "[]");
    sessionStorage.setItem(KEY, JSON.stringify([...all, String(what)]));
  };
  // Not let rise by the browser: what could not be fetched tells only who listens on the way down.
  addEventListener("error", (event) => note(event.message ? `${event.message}\n${event.error?.stack}` : `could not load ${event.target.src ?? event.target.href}`), true);
  addEventListener("unhandledrejection", (event) => note(`nobody caught: ${event.reason}`));
  document.addEventListener("securitypolicyviolation", (event) => note(`against ${event.violatedDirective}: ${event.blockedURI}`));
  for (const how of ["error", "warn", "assert"]) {
    const say = console[how];
    console[how] = (...words) => {
      if (how !== "assert" || !words[0]) note(`console.${how}: ${words.join(" ")}`);
      say.apply(console, words);
    };
  }
}
