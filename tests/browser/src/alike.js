// What cannot be told apart where the system has set the colours: letters on the ground they stand on (WCAG 2.2, success
// criterion 1.4.3), and a pressed key beside one that is not. Stands behind `contrast.js`.
const shown = [...document.querySelectorAll("body *")].filter((e) => e.checkVisibility({ visibilityProperty: true }));
const words = shown.filter((e) => [...e.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.data.trim())
  && !e.closest(":disabled, [aria-disabled=true], option, .unseen"));
const faint = words.filter((e) => contrast(e, getComputedStyle(e)[e instanceof SVGElement ? "fill" : "color"]) < 4.5);
const keys = (on) => shown.filter((e) => e.getAttribute("aria-pressed") === on && e.tagName === "BUTTON");
const grounds = new Set(keys("false").map((e) => getComputedStyle(e).backgroundColor));
const same = keys("true").filter((e) => grounds.has(getComputedStyle(e).backgroundColor));
return [
  ...faint.map((e) => `faint: ${e.tagName} ${e.textContent.trim().slice(0, 30)}`),
  ...same.map((e) => `pressed, and looks as if it were not: ${e.textContent.trim()}`),
];
