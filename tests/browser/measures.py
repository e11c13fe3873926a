"""What is measured on a page that stands on a screen: letters, what a finger must hit, the foot."""

from __future__ import annotations

LEAST_LETTERS = {"desk": 10.5, "tablet": 9.0, "phone": 10.95}
"""[px] 11 px on a telephone; at the desk the drawings, made for paper, are a little smaller."""
LEAST_TARGET = {"desk": 24.0, "phone": 44.0}
"""[px] WCAG 2.2: 2.5.8 (level AA) at the desk, 2.5.5 (AAA) for a thumb."""
SLACK = 0.5
"""[px] Boxes lie between pixels."""

LETTERS = """least => {
  const found = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const text = walk.currentNode.textContent.trim();
    const box = walk.currentNode.parentElement;
    if (!text || !box.checkVisibility({ visibilityProperty: true })) continue;
    if (/^(script|style|title|desc|option)$/i.test(box.tagName)) continue;
    let size = parseFloat(getComputedStyle(box).fontSize);
    if (box.getScreenCTM) {
      const { a, b } = box.getScreenCTM();
      size *= Math.hypot(a, b);
    }
    if (size < least) found.push(`${size.toFixed(2)} px: ${text.slice(0, 40)}`);
  }
  return found;
}"""
"""Texts in letters that are smaller on the screen; those of a drawing by its scale."""

TARGETS = """least => {
  const found = [];
  const touched = "a[href], button, input, select, textarea, summary, [role=slider]";
  // A link within a sentence is as tall as its line (2.5.8, exception "inline").
  const inline = (each) => each.tagName === "A" && getComputedStyle(each).display === "inline"
    && each.parentElement.textContent.trim() !== each.textContent.trim();
  for (const each of document.querySelectorAll(touched)) {
    if (each.type === "hidden" || each.disabled || inline(each)) continue;
    if (!each.checkVisibility({ visibilityProperty: true })) continue;
    // A mark of a drawing is taken hold of by its largest part, a tick box by its whole label.
    const held = each.closest("label") ?? each.querySelector(".hold") ?? each;
    const { width, height } = held.getBoundingClientRect();
    if (Math.min(width, height) < least) {
      const words = each.getAttribute("aria-label") ?? each.id ?? each.textContent;
      found.push(`${each.tagName} ${words}: ${width.toFixed(1)} by ${height.toFixed(1)} px`);
    }
  }
  return found;
}"""
"""What can be touched and is smaller."""

FOOT = """() => {
  const foot = document.querySelector("footer.title-block");
  const last = [...document.querySelectorAll("main, footer.title-block")]
    .reduce((low, each) => Math.max(low, each.getBoundingClientRect().bottom), 0);
  return { cells: [...foot.querySelectorAll("dt")].map((each) => each.textContent),
           below: last - foot.getBoundingClientRect().bottom };
}"""
"""Cells of the title block, and how far the sheet goes on below it."""

PAPERS = {"Letter": 1056 - 76, "A4": 1123 - 76}
"""[px] Width between the margins, as print.css sets them: across, 10 mm on both sides."""
OFF = (
    "main button:visible, nav:visible, input[type=file]:visible, header.bar:visible, .ghost:visible"
)
WIDER = """() => [...document.querySelectorAll("main *")]
  .filter((each) => each.checkVisibility() && !each.closest("svg svg, .u-wrap"))
  .map((each) => [each.getBoundingClientRect().right, each.outerHTML.slice(0, 80)])
  .filter(([right]) => right > document.documentElement.clientWidth + 1)"""
"""What reaches over the paper's edge."""
