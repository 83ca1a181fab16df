"""Measurements common to the tests of all pages."""

import math

MM = 96 / 25.4  # CSS pixels
MARGIN = 14  # of the printed page, mm; as in the style sheet
PAPERS = {"A4": (210, 297), "Letter": (215.9, 279.4)}

# Texts with a contrast below 4.5 to 1 to their background (WCAG 2.1, success criterion 1.4.3).
CONTRAST = """
const light = (c) => { const v = c / 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
const parse = (text) => (text.match(/[\\d.]+/g) || []).map(Number);
const luminance = ([r, g, b]) => 0.2126 * light(r) + 0.7152 * light(g) + 0.0722 * light(b);
const behind = (e) => {
  for (; e; e = e.parentElement) {
    const c = parse(getComputedStyle(e).backgroundColor);
    if (c.length === 3 || c[3] === 1) return c;
  }
  return [255, 255, 255];
};
const poor = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
while (walker.nextNode()) {
  const e = walker.currentNode.parentElement;
  if (!walker.currentNode.data.trim() || e.closest("svg, script, style, [hidden]") || !e.getClientRects().length) continue;
  const style = getComputedStyle(e), [a, b] = [luminance(parse(style.color)), luminance(behind(e))];
  const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  if (ratio < 4.5) poor.push(`${ratio.toFixed(2)} ${e.tagName} ${walker.currentNode.data.trim().slice(0, 40)}`);
}
return poor;
"""


def figure(value):
    """Three significant figures, as the page has them."""
    if value == 0:
        return "0"
    digits = 2 - math.floor(math.log10(abs(float(f"{value:.2e}"))))
    return f"{value:.{max(digits, 0)}f}" if digits >= 0 else str(int(round(value, digits)))
