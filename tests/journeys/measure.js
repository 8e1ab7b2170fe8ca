// What the ruler finds on a page: too wide, no or many first headings, small words, and on a phone small targets.
(phone) => {
  const found = [];
  const root = document.documentElement;
  const seen = (e) => e.checkVisibility({ opacityProperty: true, visibilityProperty: true }) && e.getClientRects().length;
  const words = (e) => e.textContent.trim().replace(/\s+/g, " ");
  const name = (e) => `${e.tagName.toLowerCase()}.${e.getAttribute("class") ?? ""} “${words(e).slice(0, 30)}”`;

  if (root.scrollWidth > root.clientWidth) {
    const beyond = (e) => seen(e) && e.getBoundingClientRect().right > root.clientWidth + 1 && !e.closest(".scroll");
    const widest = [...document.querySelectorAll("main *")].find(beyond);
    found.push(`wider than the screen by ${root.scrollWidth - root.clientWidth}: ${widest ? name(widest) : ""}`);
  }

  const headings = document.querySelectorAll("h1").length;
  if (headings !== 1) found.push(`${headings} first headings`);

  const drawn = "svg, .hidden-words, sup, sub, option, script, #swagger-ui";
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !seen(e) || e.closest(drawn)) continue;
    if (parseFloat(getComputedStyle(e).fontSize) < 15) found.push(`small words: ${name(e)}`);
  }

  for (const e of phone ? document.querySelectorAll("a[href], button, input, select, textarea, summary") : []) {
    if (!seen(e) || e.type === "hidden" || e.closest(".skip, #swagger-ui")) continue;
    // A link within a sentence is as high as its line.
    if (e.matches("p > a, li > a, dd > a") && words(e.parentElement) !== words(e)) continue;
    // A label is pressed as a whole, and so is a row over which its link is spread.
    const spread = getComputedStyle(e, "::after").position === "absolute" ? e.closest("li") : null;
    const box = (spread ?? e.closest("label") ?? e).getBoundingClientRect();
    if (box.height < 43.5 || box.width < 24)
      found.push(`small target ${Math.round(box.width)}×${Math.round(box.height)}: ${name(e)}`);
  }
  return found;
}
