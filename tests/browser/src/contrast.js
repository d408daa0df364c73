// How well something tells from the ground it stands on, as the page is: the ratio of contrast of WCAG 2.1, by its formula
// for relative luminance. What is given as no colour is none.
const colour = (text) => {
  const [r, g, b, a = 1] = (text.match(/[\d.]+/g) ?? [0, 0, 0, 0]).map(Number);
  return { r, g, b, a };
};
const over = (top, under) => ({
  r: top.r * top.a + under.r * (1 - top.a), g: top.g * top.a + under.g * (1 - top.a), b: top.b * top.a + under.b * (1 - top.a), a: 1,
});
const behind = (e) => {
  const layers = [];
  for (let at = e; at; at = at.parentElement) {
    const c = colour(getComputedStyle(at).backgroundColor);
    layers.push(c);
    if (c.a === 1) break;
  }
  return layers.reverse().reduce((under, top) => over(top, under), { r: 255, g: 255, b: 255, a: 1 });
};
const luminance = ({ r, g, b }) => {
  const [x, y, z] = [r, g, b].map((v) => (v / 255 <= 0.03928 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4));
  return 0.2126 * x + 0.7152 * y + 0.0722 * z;
};
const contrast = (e, ink) => {
  const ground = behind(e);
  const [a, b] = [luminance(over(colour(ink), ground)), luminance(ground)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
};
