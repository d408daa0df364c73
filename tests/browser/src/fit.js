// Whether large text fits: what runs off the side, what is cut off, what lies over something else, what runs
// out of its own button. Geometry only, as the browser laid it out.
(() => {
  const findings = [];
  const name = (e) => `${e.tagName.toLowerCase()}.${e.className?.baseVal ?? e.className} "${(e.getAttribute("aria-label") ?? e.textContent).trim().slice(0, 40)}"`;
  // A phone shows a page that is too wide smaller, so that it is as wide as its window again.
  const width = Math.min(innerWidth, screen.width);
  const wide = document.documentElement.scrollWidth - width;
  if (wide > 0) findings.push(`wide: the page runs ${wide} px off the side`);

  // Read by ear alone, or drawn to scale: not laid out as text.
  const aside = "svg, option, script, noscript, .unseen, .drawing";
  const texts = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const e = node.parentElement;
    if (!node.textContent.trim() || e.closest(aside) || !e.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) if (box.width > 1 && box.height > 1) texts.push({ e, box });
  }

  for (const { e, box } of texts) {
    const scrolls = (of) => /auto|scroll/.test(getComputedStyle(of).overflowX) && of.scrollWidth > of.clientWidth;
    let within = false;
    for (let at = e; at; at = at.parentElement) within ||= scrolls(at) && at !== document.documentElement;
    if (!within && (box.left < -1 || box.right > width + 1)) findings.push(`off the side: ${name(e)}`);
    const key = e.closest("button, .button, .chip, .tab, .card-link");
    if (key) {
      const b = key.getBoundingClientRect();
      if (box.left < b.left - 2 || box.right > b.right + 2 || box.top < b.top - 2 || box.bottom > b.bottom + 2)
        findings.push(`out of its key: ${name(key)}`);
    }
  }

  const right = (e) => e.getBoundingClientRect().right;
  const widest = (of) => [...of.querySelectorAll("*")].filter((e) => !e.closest(".unseen, svg")).reduce((a, b) => (right(b) >= right(a) ? b : a));
  for (const e of document.querySelectorAll("body *")) {
    if (e.closest(aside) || !e.checkVisibility() || !e.textContent.trim()) continue;
    // Over the pad one line is all there is room for: the finger pushes it on, and the part in focus comes by itself.
    // A table of figures is pushed on as well (WCAG 1.4.10 excepts it).
    if (e.matches(".steps, .slip:has(.pad) .slots, .level-book")) continue;
    const style = getComputedStyle(e);
    if (style.overflowX === "hidden" && e.scrollWidth > e.clientWidth + 1) findings.push(`cut off: ${name(e)}`);
    else if (style.overflowY === "hidden" && e.scrollHeight > e.clientHeight + 1) findings.push(`cut off: ${name(e)}`);
    else if (/auto|scroll/.test(style.overflowX) && e.scrollWidth > e.clientWidth + 1) findings.push(`scrolls sideways: ${name(e)}, as far as ${name(widest(e))}`);
  }

  // Bars that stay put have what scrolls run under them; notices lie over everything for four seconds.
  const still = (e) => {
    for (let at = e; at; at = at.parentElement) if (/fixed|sticky/.test(getComputedStyle(at).position)) return true;
    return false;
  };
  // What is scrolled out of its frame is not there to overlap.
  const shown = ({ e, box }) => {
    let { top, bottom, left, right } = box;
    for (let at = e; at; at = at.parentElement)
      if (/auto|scroll|hidden/.test(getComputedStyle(at).overflowY) && at !== document.body) {
        const b = at.getBoundingClientRect();
        [top, bottom] = [Math.max(top, b.top), Math.min(bottom, b.bottom)];
        [left, right] = [Math.max(left, b.left), Math.min(right, b.right)];
      }
    return { e, top: Math.max(top, 0), bottom: Math.min(bottom, innerHeight), left, right };
  };
  const seen = texts.filter(({ e }) => !still(e)).map(shown).filter((one) => one.bottom - one.top > 3);
  seen.forEach((a, i) => {
    for (const b of seen.slice(i + 1)) {
      if (a.e === b.e || a.e.contains(b.e) || b.e.contains(a.e)) continue;
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      // Lines of text stand close: a line's box is a little higher than its letters.
      if (across > 3 && down > 6) findings.push(`overlap: ${name(a.e)} and ${name(b.e)}`);
    }
  });
  return [...new Set(findings)];
})()
