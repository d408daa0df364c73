// What is on the screen, in reading order, as a screen reader would be told: for browsers that have no way of
// their own to say it all at once. Roles and names are worked out as ARIA in HTML and the Accessible Name and
// Description Computation 1.2 have it, as far as this app needs it; what is touched is compared with what the
// browser itself calls it. Roles have the names that Chromium gives them.
const ROLES = {
  BUTTON: "button", TEXTAREA: "textbox", SUMMARY: "DisclosureTriangle", H1: "heading", H2: "heading", H3: "heading",
  H4: "heading", UL: "list", OL: "list", LI: "listitem", P: "paragraph", NAV: "navigation", MAIN: "main", OUTPUT: "status",
  FIELDSET: "group", DETAILS: "group", OPTION: "option", DIALOG: "dialog", TABLE: "table", IMG: "image",
};
const INPUTS = { checkbox: "checkbox", radio: "radio", number: "spinbutton", search: "searchbox", range: "slider", file: "button" };
const FROM_CONTENT = new Set(["button", "link", "heading", "DisclosureTriangle", "option", "tab", "checkbox", "radio", "switch"]);

const tidy = (text) => text.replace(/\s+/g, " ").trim();
const hidden = (element) => element.closest("[aria-hidden=true], [inert], script, style, noscript, head, title, desc");

function role(element) {
  const said = element.getAttribute("role");
  if (said) return said === "img" ? "image" : said;
  if (element.tagName === "A" && element.hasAttribute("href")) return "link";
  if (element.tagName === "INPUT") return INPUTS[element.type] ?? "textbox";
  if (element.tagName === "SELECT") return element.multiple ? "listbox" : "combobox";
  return ROLES[element.tagName] ?? "generic";
}

function content(node, skip) {
  if (node.nodeType === Node.TEXT_NODE) return node.data;
  if (node.nodeType !== Node.ELEMENT_NODE || node === skip || node.getAttribute("aria-hidden") === "true") return "";
  const inside = node.getAttribute("aria-label") ?? [...node.childNodes].map((child) => content(child, skip)).join("");
  return getComputedStyle(node).display.startsWith("inline") ? inside : ` ${inside} `;
}

function name(element) {
  const by = element.getAttribute("aria-labelledby");
  if (by) return tidy(by.split(" ").map((id) => document.getElementById(id)?.textContent ?? "").join(" "));
  const said = element.getAttribute("aria-label");
  if (said) return tidy(said);
  if (element.labels?.length) return tidy([...element.labels].map((label) => content(label, element)).join(" "));
  if (element.tagName === "IMG") return tidy(element.alt);
  if (element.tagName === "FIELDSET") return tidy(element.querySelector("legend")?.textContent ?? "");
  if (FROM_CONTENT.has(role(element))) return tidy([...element.childNodes].map((child) => content(child)).join(""));
  return tidy(element.getAttribute("title") ?? "");
}

function value(element) {
  if (element.tagName === "SELECT") return element.selectedOptions[0]?.text.trim() ?? "";
  const has = ["INPUT", "TEXTAREA"].includes(element.tagName) && !["checkbox", "radio", "file"].includes(element.type);
  return has ? element.value : (element.getAttribute("aria-valuetext") ?? "");
}

// Each element keeps its number, so that what was seen earlier can still be touched.
window.swingtieSeen ??= { elements: [], numbers: new WeakMap() };
function number(element) {
  const { elements, numbers } = window.swingtieSeen;
  if (!numbers.has(element)) numbers.set(element, elements.push(element) - 1);
  return numbers.get(element);
}

const shown = new Map();
const isShown = (element) => {
  if (!shown.has(element)) shown.set(element, element.checkVisibility({ visibilityProperty: true }) && !hidden(element));
  return shown.get(element);
};
const nodes = [];
const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
for (let node = walk.nextNode(); node; node = walk.nextNode()) {
  const element = node.nodeType === Node.TEXT_NODE ? node.parentElement : node;
  if (!isShown(element)) continue;
  if (node !== element) {
    if (node.data.trim()) nodes.push({ role: "StaticText", name: tidy(node.data), value: "", element: number(element) });
    continue;
  }
  const seen = { role: role(element), name: name(element), value: value(element), element: number(element) };
  if (seen.role === "generic" && !seen.name) continue;
  seen.disabled = element.matches(":disabled") || element.getAttribute("aria-disabled") === "true";
  seen.on = element.checked === true || ["aria-pressed", "aria-checked", "aria-selected"].some((state) => element.getAttribute(state) === "true");
  nodes.push(seen);
}
return nodes;
