// A drawing of the pack on the page: parsed, its fonts taken to the page, its own styles and anything active left out.

const known = new Set();

/** Return the drawing as an element. Fonts in it are loaded once for the whole page. */
export function drawn(svg) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  for (const style of parsed.querySelectorAll("style")) {
    for (const [, weight, source] of style.textContent.matchAll(/font-weight:(\d+);src:url\((data:font\/woff;base64,[^)]*)\)/g)) {
      if (known.has(source)) continue;
      known.add(source);
      const face = new FontFace("Sheet Sans", `url(${source})`, { weight });
      document.fonts.add(face);
      face.load();
    }
    style.remove();
  }
  for (const active of parsed.querySelectorAll("script, foreignObject")) active.remove();
  parsed.setAttribute("role", "img");
  const title = parsed.querySelector("title");
  if (title) parsed.setAttribute("aria-label", title.textContent);
  return document.importNode(parsed, true);
}
