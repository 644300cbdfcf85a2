// A drawing of the pack on the page: its fonts are taken to the page, its own styles and anything active left out.

const STYLE = /<style[^>]*>[\s\S]*?<\/style>/g;
const FACE = /font-weight:(\d+);src:url\((data:font\/woff;base64,[^)]*)\)/g;
const known = new Set();
let made = 0;

/** Return the drawing as an element. Fonts in it are loaded once for the whole page. */
export function drawn(svg) {
  for (const [style] of svg.matchAll(STYLE)) {
    for (const [, weight, source] of style.matchAll(FACE)) {
      if (known.has(source)) continue;
      known.add(source);
      const face = new FontFace("Sheet Sans", `url(${source})`, { weight });
      document.fonts.add(face);
      face.load();
    }
  }
  made += 1;
  const parsed = new DOMParser().parseFromString(svg.replace(STYLE, ""), "image/svg+xml").documentElement;
  for (const clip of parsed.querySelectorAll("clipPath")) clip.id += `-${made}`; // several drawings stand on the page
  for (const part of parsed.querySelectorAll("[clip-path]")) part.setAttribute("clip-path", part.getAttribute("clip-path").replace(")", `-${made})`));
  for (const active of parsed.querySelectorAll("script, foreignObject")) active.remove();
  parsed.setAttribute("role", "img");
  const title = parsed.querySelector("title");
  if (title) parsed.setAttribute("aria-label", title.textContent);
  return document.importNode(parsed, true);
}
