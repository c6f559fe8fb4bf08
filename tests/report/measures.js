// What the tests measure of a page. Each function returns what is wrong, or the numbers to judge.
window.measures = (() => {
  const numbers = (text) => {
    const found = (text.match(/[0-9.]+/g) || []).map(Number);
    return found.length > 3 ? found : [...found, 1];
  };

  // Relative luminance, WCAG 2.2.
  const luminance = (color) => {
    const [r, g, b] = color
      .slice(0, 3)
      .map((v) => v / 255)
      .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };

  const behind = (element) => {
    for (let e = element; e; e = e.parentElement) {
      const color = numbers(getComputedStyle(e).backgroundColor);
      if (color[3] === 1) return color;
    }
    return [255, 255, 255, 1];
  };

  // Contrast ratio of every piece of text, and whether it counts as large (WCAG 2.2, 1.4.3).
  const contrasts = () => {
    const found = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const text = walk.currentNode.textContent.trim();
      const element = walk.currentNode.parentElement;
      if (!text || element.closest("title, desc, style, defs")) continue;
      const style = getComputedStyle(element);
      const one = luminance(numbers(element.closest("svg") ? style.fill : style.color));
      const other = luminance(behind(element));
      const size = parseFloat(style.fontSize);
      const large = size >= 24 || (size >= 18.66 && parseInt(style.fontWeight, 10) >= 700);
      found.push([(Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05), large, text.slice(0, 60)]);
    }
    return found;
  };

  const beyond = (e) => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1;
  const named = (found) => found.map((e) => e.outerHTML.slice(0, 80));
  const all = () => [...document.querySelectorAll("body *")];

  // Elements that reach past the right edge; boxes that scroll by themselves may hold wider things.
  const stickingOut = () =>
    named(all().filter((e) => e.matches(".wide, .drawing") || !e.closest(".wide, .drawing")).filter(beyond));

  // On paper nothing scrolls: whatever is wider than the page or than its box is lost.
  const cutOff = () => {
    const lost = (e) => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== "visible";
    return named(all().filter((e) => beyond(e) || (!e.closest("svg") && e.clientWidth > 0 && lost(e))));
  };

  return { contrasts, stickingOut, cutOff };
})();
