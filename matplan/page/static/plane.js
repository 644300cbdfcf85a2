// The plane of a wall on its drawing: millimetres from the wall's left edge and up from its zero, and the paper's own.

import { shape } from "/static/hands.js";
import { boxOf } from "/static/sums.js";

export function planeOf(svg) {
  const edge = svg.querySelector("#wall");
  const [, , wide, high] = boxOf(edge);
  const { x, y, width, height } = edge.getBBox();
  const perMm = width / wide;
  const zero = y + height;
  const paper = ([across, up]) => [x + across * perMm, zero - up * perMm];
  return {
    svg,
    perMm,
    wide,
    high,
    paper,
    real: ([px, py]) => [(px - x) / perMm, (zero - py) / perMm],
    mmPerPixel: () => 1 / (svg.getScreenCTM().a * perMm),
    rect: ([left, bottom, across, up], classes) => {
      const [rx, ry] = paper([left, bottom + up]);
      return shape("rect", { x: rx, y: ry, width: Math.max(across, 0) * perMm, height: Math.max(up, 0) * perMm }, classes);
    },
  };
}

/** Return a value drawn to the nearest mark that is near enough. */
export function nearest(value, marks, near) {
  const best = marks.reduce((one, mark) => (Math.abs(mark - value) < Math.abs(one - value) ? mark : one), Infinity);
  return Math.abs(best - value) <= near ? best : value;
}

/** Return where a box may stand along an axis: edge to edge, middle to middle, and `gap` beside others. */
export function marksOf(axis, long, others, gap = 0) {
  return others.flatMap((box) => {
    const [from, size] = [box[axis], box[axis + 2]];
    return [from, from + size - long, from + (size - long) / 2, from + size + gap, from - gap - long];
  });
}

export const overlap = (a, b) => a[0] < b[0] + b[2] && b[0] < a[0] + a[2] && a[1] < b[1] + b[3] && b[1] < a[1] + a[3];
