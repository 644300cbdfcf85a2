// The photograph of a wall: its four corners are set by hand, and the frames follow.

import { ghost, grip, hand, shape } from "/static/hands.js";
import { job } from "/static/job.js";

const CORNERS = ["upper left", "upper right", "lower right", "lower left"];

/** Make the corners of a photograph hands; `at` is the key of its wall, `over` the part of the drawing that grips go to. */
export function cornersByHand({ svg, at, told, over }) {
  const key = `${at}.photo.corners`;
  const corners = () => job.values[key];
  const whole = corners();
  if (!Array.isArray(whole) || whole.length !== 4 || whole.flat().some((part) => typeof part !== "number")) return;
  const { width, height } = svg.viewBox.baseVal;
  const within = ([x, y]) => [Math.min(Math.max(Math.round(x), 0), width), Math.min(Math.max(Math.round(y), 0), height)];
  const outline = (points) => shape("polygon", { points: points.map((point) => point.join(",")).join(" ") }, "outlined");
  over.append(outline(whole));
  for (const [number, point] of whole.entries()) {
    over.append(
      hand({
        part: grip(point),
        told,
        id: `${key}[${number + 1}]`,
        label: `Corner ${number + 1} of 4, ${CORNERS[number]}: drag it, or move it with the arrow keys`,
        upward: -1,
        step: 1,
        read: () => corners()[number],
        perPixel: () => 1 / svg.getScreenCTM().a,
        place: within,
        say: (figures) => `Corner ${number + 1}, ${CORNERS[number]}: pixel ${within(figures).join(", ")}`,
        show: (figures) => ghost(svg, outline(corners().with(number, figures))),
        hide: () => ghost(svg),
        write: (figures) => [{ key: `${key}[${number + 1}]`, value: within(figures) }],
      }),
    );
  }
}

/** Say which rectangle of the wall the corners are those of. */
export function cornersSaid(at) {
  const side = (name) => job.values[`${at}.photo.of.${name}`];
  const said = [["left", "from the left"], ["bottom", "up"], ["width", "wide"], ["height", "high"]].filter(([name]) => side(name) !== undefined);
  const of = said.length ? `a rectangle on it (${said.map(([name, words]) => `${side(name)} ${words}`).join(", ")})` : "the whole wall";
  return `Put the four corners where the corners of ${of} are in the photograph; the frames follow. The corners of a smaller rectangle, a door or a poster, serve as well: its place on the wall stands in photo.of.`;
}

/** Return the edits that give a wall a photograph of so many pixels: corners that do not lie in it begin near its own. */
export function photographed(at, { photo, pixels }) {
  const [wide, high] = pixels;
  const [x, y] = pixels.map((side) => Math.round(side / 10));
  const known = job.values[`${at}.photo.corners`];
  if (Array.isArray(known) && known.every(([across, down]) => across <= wide && down <= high)) return [{ key: `${at}.photo.file`, value: photo }];
  const corners = [[x, y], [wide - x, y], [wide - x, high - y], [x, high - y]];
  return [{ key: `${at}.photo.file`, value: photo }, { key: `${at}.photo.corners`, value: corners }];
}
