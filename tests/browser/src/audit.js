// Measures the page as it stands: what is too small to hit, too faint to read, or runs off the side.
// Stands behind `contrast.js`; the ratio of letters is WCAG 2.1's success criterion 1.4.6.
const findings = [];
const name = (e) => `${e.tagName.toLowerCase()}.${e.className?.baseVal ?? e.className} "${(e.getAttribute("aria-label") ?? e.textContent).trim().slice(0, 40)}"`;
const shown = (e) => {
  const b = e.getBoundingClientRect();
  return b.width > 1 && b.height > 1 && e.checkVisibility({ opacityProperty: true, visibilityProperty: true });
};

for (const e of document.querySelectorAll("button, a[href], select, textarea, summary, input, [role=button]")) {
  // A point of the drawing is taken from anywhere near it; where several are near, a list asks which.
  if (!shown(e) || e.closest("svg")) continue;
  // A field inside its label is hit anywhere on the label.
  const label = e.matches("input[type=file], input[type=checkbox], input[type=radio]") ? e.closest("label") : null;
  const b = (label ?? e).getBoundingClientRect();
  if (b.width < 47.5 || b.height < 47.5) findings.push(`small: ${name(e)} is ${b.width.toFixed(0)} x ${b.height.toFixed(0)}`);
}

const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
for (let node = texts.nextNode(); node; node = texts.nextNode()) {
  const e = node.parentElement;
  // What is hidden from screen readers is decoration: the words beside it say the same.
  if (!node.textContent.trim() || !shown(e) || e.closest("svg, option, script, noscript, [aria-hidden=true]")) continue;
  const ratio = contrast(e, getComputedStyle(e).color);
  if (ratio < 7) findings.push(`faint: ${name(e)} has contrast ${ratio.toFixed(1)}`);
}

for (const page of document.querySelectorAll("html, .site-main, .slip")) {
  const wide = page.scrollWidth - page.clientWidth;
  if (wide > 0) findings.push(`wide: ${page.tagName.toLowerCase()}.${page.className} runs ${wide} px off the side`);
}
return [...new Set(findings)];
