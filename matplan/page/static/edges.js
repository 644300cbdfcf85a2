// The edges of a front view that can be pulled, each with the key of the job behind it.

import { keyOf } from "/static/findings.js";
import { job } from "/static/job.js";
import { asLength } from "/static/lengths.js";
import { boxOf } from "/static/sums.js";

const SVG = "http://www.w3.org/2000/svg";
const SIDES = [
  { side: "left", axis: 0, outward: -1 },
  { side: "right", axis: 0, outward: 1 },
  { side: "top", axis: 1, outward: -1 },
  { side: "bottom", axis: 1, outward: 1 },
];
const UNIT = { mm: 1, cm: 10, m: 1000, in: 25.4 };

/** Return the edges: { key, side, axis, line, value, by, size, paperPerMm }; `by` is what the key gains per mm outward. */
export function edgesOf(svg) {
  const piece = job.pieces.find((each) => each.file === job.chosen.piece);
  const blank = svg.querySelector(".blank, #blank");
  if (!piece || !blank || !boxOf(blank)) return [];
  const scale = { paperPerMm: Number(blank.getAttribute("width")) / boxOf(blank)[2] };
  const onPaper = (box) => {
    const [x, y] = boxOf(blank);
    const place = (value, from, at) => Number(blank.getAttribute(at)) + (value - from) * scale.paperPerMm;
    return [place(box[0], x, "x"), place(box[1], y, "y"), box[2] * scale.paperPerMm, box[3] * scale.paperPerMm];
  };
  const found = [];
  const add = (box, side, about) => found.push({ ...side, ...scale, ...about, line: lineOf(onPaper(box), side, about.key, about.what) });
  for (const [number, aperture] of piece.apertures.entries()) {
    const openings = piece.layers.at(-1)?.openings.find((each) => each.aperture === aperture.name);
    const box = openings?.back ?? aperture.opening;
    for (const side of SIDES) {
      const about = behind(piece, aperture, number, side);
      if (about) add(box, side, { what: "the window", ...about });
    }
  }
  for (const [at, layer] of piece.layers.slice(0, -1).entries()) {
    const key = `${keyOf(piece)}.mat[${at + 2}].reveal`;
    if (job.values[key] === undefined || layer.openings.length !== 1) continue;
    const value = piece.layers[at + 1].openings[0].back[0] - layer.openings[0].back[0];
    for (const side of SIDES) add(layer.openings[0].back, side, { key, value, by: 1, what: "the mat" });
  }
  const frame = behindFrame(piece);
  const outer = svg.querySelector(".frame-outer, #frame-outer");
  if (frame && outer) for (const side of SIDES) add(boxOf(outer), side, { ...frame, what: "the frame", along: side.axis });
  return found;
}

/** What a window's edge stands for: a side of the image, an opening that is given, or a border. */
function behind(piece, aperture, number, { side, axis }) {
  const key = keyOf(piece);
  const own = piece.apertures.length > 1 ? `${key}.aperture[${number + 1}]` : key;
  const says = (name) => job.values[name] !== undefined;
  const [wide, high] = aperture.image;
  if (says(`${own}.image.width`)) return { key: `${own}.image.width`, value: wide, by: 2 * (axis === 0 ? 1 : wide / high) };
  if (says(`${own}.image.height`)) return { key: `${own}.image.height`, value: high, by: 2 * (axis === 1 ? 1 : high / wide) };
  for (const name of ["image", "opening"]) {
    const size = typeof job.values[`${own}.${name}`] === "string" && sizeIn(job.values[`${own}.${name}`]);
    if (size) return { key: `${own}.${name}`, size, along: axis, value: size.sides[axis], by: 2 };
  }
  if (piece.apertures.length > 1) return null;
  if (says(`${key}.border.${side}`)) return { key: `${key}.border.${side}`, value: aperture.visible_borders[side], by: -1 };
  if (says(`${key}.border`)) return { key: `${key}.border`, value: aperture.visible_borders.left, by: -1 };
  return null;
}

/** What the frame's edge stands for: its size, where the job says one. */
function behindFrame(piece) {
  const name = job.values[`${keyOf(piece)}.frame`];
  const quoted = /^[A-Za-z0-9_-]+$/.test(name ?? "") ? name : `"${name}"`;
  for (const key of [`frame.${quoted}.rabbet`, `frame.${quoted}.takes`, `frame.${quoted}.sight`]) {
    const size = typeof job.values[key] === "string" && sizeIn(job.values[key]);
    if (!size) continue;
    const turned = job.values[`${keyOf(piece)}.turn`] === true;
    return { key, size: turned ? { ...size, turned } : size, value: null, by: 2 };
  }
  return null;
}

/** Read a size like `403 x 503 mm`; null for a name or a fraction. */
function sizeIn(text) {
  const found = /^\s*([\d.]+)\s*[x×]\s*([\d.]+)\s*(mm|cm|m|in)?\s*$/.exec(text);
  if (!found) return null;
  const unit = found[3] ?? job.plan.units;
  return { sides: [Number(found[1]) * UNIT[unit], Number(found[2]) * UNIT[unit]], unit };
}

/** Return what the key says when its edge has moved by so many mm to the right or down; null where nothing is left. */
export function pulled(edge, by, step, units) {
  const along = edge.size?.turned ? 1 - edge.along : edge.along;
  const value = (edge.size ? edge.size.sides[along] : edge.value) + by * edge.outward * edge.by;
  const whole = Math.round(value / step) * step;
  if (whole < step) return null;
  if (!edge.size) return asLength(whole, step, units);
  const sides = edge.size.sides.map((side, axis) => (axis === along ? whole : side));
  const factor = UNIT[edge.size.unit];
  return `${sides.map((side) => Number((side / factor).toFixed(4))).join(" x ")} ${edge.size.unit}`;
}

function lineOf([x, y, wide, high], { side, axis }, key, what) {
  const line = document.createElementNS(SVG, "line");
  const ends = { left: [x, y, x, y + high], right: [x + wide, y, x + wide, y + high], top: [x, y, x + wide, y], bottom: [x, y + high, x + wide, y + high] }[side];
  ["x1", "y1", "x2", "y2"].forEach((name, at) => line.setAttribute(name, ends[at]));
  line.dataset.role = "handle";
  line.dataset.key = key;
  line.dataset.side = side;
  line.tabIndex = 0;
  line.setAttribute("role", "slider");
  line.setAttribute("aria-orientation", axis ? "vertical" : "horizontal");
  line.setAttribute("aria-label", `${side} edge of ${what}: ${key}`);
  line.setAttribute("aria-valuetext", String(job.values[key]));
  line.setAttribute("aria-valuenow", "0");
  line.classList.add("handle", axis ? "upright" : "sideways");
  return line;
}
