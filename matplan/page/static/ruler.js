// The ruler: from edge to edge of any drawing, in the job's units at the drawing's scale. A drag measures; with the keys,
// arrows go from edge to edge, Enter puts an end down, Escape takes the ruler away.

import { job, on } from "/static/job.js";
import { asLength } from "/static/lengths.js";

const SVG = "http://www.w3.org/2000/svg";
const NEAR = 8; // pixels within which an end goes to an edge

export function rulerRoom({ button, figures, sum, told }) {
  let down = null; // the end that is put down, in the paper's mm
  let here = null; // the end that moves
  let drawing = null;
  const isOn = () => button.getAttribute("aria-pressed") === "true";

  function turn(way) {
    button.setAttribute("aria-pressed", String(way));
    for (const figure of figures) {
      figure.classList.toggle("ruling", way);
      if (way) figure.tabIndex = 0;
      else figure.removeAttribute("tabindex");
    }
    clear();
    told.textContent = way ? "Ruler: drag between two points of a drawing. Arrow keys go from edge to edge, Enter puts an end down, Escape ends." : "";
  }

  function clear() {
    drawing?.querySelector(".ruler")?.remove();
    down = here = drawing = null;
    delete sum.dataset.length;
  }

  button.addEventListener("click", () => turn(!isOn()));
  on("chosen", () => isOn() && clear());
  document.addEventListener("keydown", (event) => event.key === "Escape" && isOn() && turn(false));

  for (const figure of figures) {
    figure.addEventListener("pointerdown", (event) => isOn() && !event.button && drag(event), true);
    for (const name of ["pointerover", "click"]) figure.addEventListener(name, (event) => isOn() && event.stopPropagation(), true);
    figure.addEventListener("keydown", (event) => isOn() && event.target === figure && step(event, figure));
  }

  function drag(event) {
    const svg = event.target.closest("svg");
    if (!svg) return;
    event.preventDefault();
    event.stopPropagation();
    clear();
    if (!svg.dataset.scale) {
      told.textContent = "This drawing is not to scale: the ruler cannot measure it.";
      return;
    }
    drawing = svg;
    const edges = edgesOf(svg);
    const near = NEAR / svg.getScreenCTM().a;
    const from = pointOf(svg, event);
    down = snapped(from, edges, near);
    const move = (moving) => {
      if (!svg.isConnected || !down) return;
      const to = pointOf(svg, moving);
      const end = snapped(to, edges, near);
      const far = to.map((value, axis) => Math.abs(value - from[axis]));
      here = end.map((value, axis) => (far[axis] <= near && far[1 - axis] > near ? down[axis] : value)); // level or upright
      show();
    };
    const end = () => {
      window.removeEventListener("pointermove", move);
      window.removeEventListener("pointerup", end);
      window.removeEventListener("pointercancel", end);
    };
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", end);
    window.addEventListener("pointercancel", end);
  }

  function step(event, figure) {
    const way = { ArrowRight: [0, 1], ArrowLeft: [0, -1], ArrowDown: [1, 1], ArrowUp: [1, -1] }[event.key];
    const svg = figure.querySelector("svg");
    if ((!way && event.key !== "Enter") || !svg?.dataset.scale) return;
    event.preventDefault();
    const edges = edgesOf(svg);
    if (drawing !== svg || !here) {
      clear();
      drawing = svg;
      here = [Math.min(...edges[0]), Math.min(...edges[1])];
    }
    if (way) here = here.with(way[0], nextTo(here[way[0]], edges[way[0]], way[1]));
    else down = here;
    show();
  }

  /** Draw the ruler, and say how long it is. */
  function show() {
    const scale = scaleOf(drawing);
    const from = down ?? here;
    const [across, along] = [Math.abs(here[0] - from[0]) / scale, Math.abs(here[1] - from[1]) / scale];
    const { step: fine, units } = job.plan;
    const said = (mm) => asLength(units === "in" ? mm : Math.round(mm * 10) / 10, fine, units);
    const text = said(Math.hypot(across, along));
    drawing.querySelector(".ruler")?.remove();
    drawing.append(rulerOf(from, here, down ? text : "", drawing.getScreenCTM().a));
    if (!down) return;
    sum.dataset.length = text;
    sum.textContent = across && along ? `Ruler: ${text} (${said(across)} across, ${said(along)} down)` : `Ruler: ${text}`;
  }
}

function scaleOf(svg) {
  const [paper, real] = svg.dataset.scale.split(":").map(Number);
  return paper / real;
}

function pointOf(svg, { clientX, clientY }) {
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(svg.getScreenCTM().inverse());
  return [x, y];
}

/** Return where the edges of a drawing's parts stand on its paper: those across, those down. */
function edgesOf(svg) {
  const parts = [...svg.querySelectorAll("[data-box]:not(.dimension, .dimension *)")].filter((part) => part.tagName !== "g");
  const boxes = parts.map((part) => part.getBBox());
  return [boxes.flatMap(({ x, width }) => [x, x + width]), boxes.flatMap(({ y, height }) => [y, y + height])];
}

function snapped(point, edges, near) {
  return point.map((value, axis) => {
    const best = edges[axis].reduce((one, edge) => (Math.abs(edge - value) < Math.abs(one - value) ? edge : one), Infinity);
    return Math.abs(best - value) <= near ? best : value;
  });
}

const nextTo = (value, edges, way) => {
  const ahead = edges.map((edge) => (edge - value) * way).filter((far) => far > 0.001);
  return ahead.length ? value + Math.min(...ahead) * way : value;
};

function rulerOf([x1, y1], [x2, y2], text, pixels) {
  const group = document.createElementNS(SVG, "g");
  group.classList.add("ruler");
  const add = (name, about, inner = "") => {
    const part = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(about)) part.setAttribute(key, value);
    part.textContent = inner;
    group.append(part);
  };
  add("line", { x1, y1, x2, y2, "stroke-width": 2 / pixels });
  for (const [cx, cy] of [[x1, y1], [x2, y2]]) add("circle", { cx, cy, r: 4 / pixels, "stroke-width": 1.5 / pixels });
  const upright = Math.abs(x2 - x1) < Math.abs(y2 - y1);
  const at = { x: (x1 + x2) / 2 + (upright ? 8 / pixels : 0), y: (y1 + y2) / 2 + (upright ? 5 : -8) / pixels };
  if (text) add("text", { ...at, "font-size": 15 / pixels, "text-anchor": upright ? "start" : "middle", "stroke-width": 4 / pixels }, text);
  return group;
}
