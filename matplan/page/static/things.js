// What stands and hangs on a wall besides frames, by hand: things kept clear, furniture, labels, zones, the floor's points.

import { ghost, grip, hand, shape } from "/static/hands.js";
import { job } from "/static/job.js";
import { asLength, mmOf } from "/static/lengths.js";
import { marksOf, nearest } from "/static/plane.js";
import { boxOf } from "/static/sums.js";

const NEAR = 12; // pixels within which a thing goes to what is near
const SMALL = 40; // pixels under which a thing's grip stands off it
const OFF = 9;
const APART = 16; // pixels between the grips of zones whose corners are one
const MOVES = "drag it, or move it with the arrow keys";

/** Make all of it hands: `over` is the part of the drawing that grips go to. */
export function thingsByHand({ plane, wall, at, told, over }) {
  const { step, units } = job.plan;
  const says = (key) => mmOf(job.values[key], units);
  const length = (mm) => asLength(Math.max(0, Math.round(mm / step) * step), step, units);
  const near = () => NEAR * plane.mmPerPixel();
  const boxes = (part) => [[0, 0, plane.wide, plane.high], ...[...plane.svg.querySelectorAll(".hung, .keep-clear, .furniture")].filter((one) => one !== part).map(boxOf)];
  const common = { told, perPixel: plane.mmPerPixel, hide: () => ghost(plane.svg) };
  const boxed = (box) => ghost(plane.svg, plane.rect(box, "outlined"));

  for (const [list, name, flat] of [["keep_clear", ".keep-clear", false], ["furniture", ".furniture", true]]) {
    for (const [number, part] of [...plane.svg.querySelectorAll(name)].entries()) thing(part, `${at}.${list}[${number + 1}]`, flat);
  }
  for (const part of plane.svg.querySelectorAll(".wall-label")) label(part);
  zones();
  for (const key of ["floor", "outline"]) line(key);

  /** A thing: its place by the whole of it, its size by the corner. */
  function thing(part, key, flat) {
    const drawn = boxOf(part);
    const name = part.dataset.name;
    const figure = (side, otherwise) => says(`${key}.${side}`) ?? otherwise;
    const box = () => [figure("left", drawn[0]), flat ? drawn[1] : figure("bottom", drawn[1]), figure("width", drawn[2]), figure("height", drawn[3])];
    const others = boxes(part);
    const write = (names) => (figures, _drop, by) =>
      names.flatMap((side, axis) => (side && by[axis] ? [{ key: `${key}.${side}`, value: length(figures[axis]) }] : []));
    hand({
      ...common,
      part,
      id: key,
      label: `${name}: ${MOVES}`,
      read: () => box().slice(0, 2),
      place: ([left, bottom]) => [nearest(left, marksOf(0, box()[2], others), near()), flat ? box()[1] : nearest(bottom, marksOf(1, box()[3], others), near())],
      say: ([left, bottom]) => `${name}: ${length(left)} from the left${flat ? "" : `, ${length(bottom)} up`}`,
      show: (figures) => boxed([...figures, ...box().slice(2)]),
      write: write(["left", flat ? null : "bottom"]),
    });
    const [left, bottom, wide, high] = box();
    const off = Math.min(wide, high) / plane.mmPerPixel() < SMALL ? OFF * plane.mmPerPixel() : 0; // beside a small thing
    over.append(
      hand({
        ...common,
        part: grip(plane.paper([left + wide + off, bottom + high + off]), true),
        id: `${key} size`,
        label: `Size of ${name}: ${MOVES}`,
        read: () => box().slice(2),
        place: (figures) => figures.map((figure, axis) => Math.max(step, nearest(box()[axis] + figure, others.flatMap((one) => [one[axis], one[axis] + one[axis + 2]]), near()) - box()[axis])),
        say: ([across, up]) => `${name}: ${length(across)} wide, ${length(up)} high`,
        show: (figures) => boxed([...box().slice(0, 2), ...figures]),
        write: write(["width", "height"]),
      }),
    );
  }

  /** A label stands for all of the wall: its side, its gap and how high it hangs. */
  function label(part) {
    const key = `${at}.labels`;
    const frame = wall.frames.find(({ piece, copy }) => piece === part.dataset.piece && String(copy) === part.dataset.copy);
    if (!frame?.label) return;
    const [, , wide, high] = frame.label;
    const sideOf = ([left, bottom]) => (bottom + high <= frame.bottom ? "below" : left + wide / 2 < frame.left + frame.width / 2 ? "left" : "right");
    const gapOf = ([left, bottom], side) => ({ below: frame.bottom - bottom - high, left: frame.left - left - wide, right: left - frame.left - frame.width })[side];
    hand({
      ...common,
      part,
      id: `${key} ${frame.piece} ${frame.copy}`,
      label: `Label of ${frame.piece}: ${MOVES}; the labels of all frames go with it, right of them, left or below`,
      read: () => {
        const { side, gap, up } = { side: job.values[`${key}.side`] ?? "right", gap: says(`${key}.gap`), up: says(`${key}.up`) ?? 0 };
        if (gap === null) return frame.label.slice(0, 2);
        if (side === "below") return [frame.left, frame.bottom - gap - high];
        return [side === "left" ? frame.left - gap - wide : frame.left + frame.width + gap, frame.bottom + up];
      },
      place: ([left, bottom]) => [left, nearest(bottom, [0, (frame.height - high) / 2, frame.height - high].map((up) => frame.bottom + up), near())],
      say: (figures) => {
        const side = sideOf(figures);
        const beside = side === "below" ? "below their frames" : `at the ${side} of their frames, ${length(figures[1] - frame.bottom)} up`;
        return `Labels: ${beside}, ${length(gapOf(figures, side))} from them`;
      },
      show: (figures) => boxed([...figures, wide, high]),
      write: (figures) => {
        const side = sideOf(figures);
        const up = Math.max(0, figures[1] - frame.bottom); // none below
        const edits = [{ key: `${key}.side`, value: side }, { key: `${key}.gap`, value: length(gapOf(figures, side)) }];
        if (up || job.values[`${key}.up`] !== undefined) edits.push({ key: `${key}.up`, value: up ? length(up) : null });
        return edits.filter((one) => job.values[one.key] !== one.value);
      },
    });
  }

  /** The zones of groups: each moves by its edge, its upper right corner makes it larger or smaller. */
  function zones() {
    const corners = [];
    for (const [number, group] of wall.groups.entries()) {
      const own = job.values[`${at}.group[1].pieces`] ? `${at}.group[${number + 1}]` : at;
      const side = (name) => says(`${own}.zone.${name}`) ?? group.zone[name];
      const box = () => [side("left"), side("bottom"), side("right") - side("left"), side("top") - side("bottom")];
      const named = wall.groups.length > 1 ? `Zone of group ${number + 1}` : "Zone where frames may hang";
      const others = boxes(null);
      const [left, bottom, wide, high] = box();
      const put = (sides) => sides.map(([name, value]) => ({ key: `${own}.zone.${name}`, value: length(value) }));
      const say = ([from, low, across, up]) => `${named}: ${length(from)} to ${length(from + across)} from the left, ${length(low)} to ${length(low + up)} up`;
      if (wide < plane.wide || high < plane.high) {
        over.append(
          hand({
            ...common,
            part: plane.rect(box(), "zone-edge"),
            id: `${own}.zone`,
            label: `${named}: ${MOVES}`,
            read: () => box().slice(0, 2),
            place: (figures) => figures.map((figure, axis) => Math.max(0, nearest(figure, marksOf(axis, box()[axis + 2], others), near()))),
            say: (figures) => say([...figures, ...box().slice(2)]),
            show: (figures) => boxed([...figures, ...box().slice(2)]),
            write: (figures, _drop, by) => {
              const [, , across, up] = box();
              const sides = [["left", figures[0]], ["right", figures[0] + across], ["bottom", figures[1]], ["top", figures[1] + up]];
              return put(sides.filter((_, at_) => by[at_ < 2 ? 0 : 1]));
            },
          }),
        );
      }
      const corner = [left + wide, bottom + high];
      const before = corners.filter((one) => one[0] === corner[0] && one[1] === corner[1]).length;
      corners.push(corner);
      const [x, y] = plane.paper(corner);
      over.append(
        hand({
          ...common,
          part: grip([x - before * APART * plane.mmPerPixel() * plane.perMm, y], true),
          id: `${own}.zone size`,
          label: `Right side and top of ${named.replace(/^./, (letter) => letter.toLowerCase())}: ${MOVES}`,
          read: () => [side("right"), side("top")],
          place: (figures) => figures.map((figure, axis) => nearest(figure, others.flatMap((one) => [one[axis], one[axis] + one[axis + 2]]), near())),
          say: ([right, top]) => say([side("left"), side("bottom"), right - side("left"), top - side("bottom")]),
          show: ([right, top]) => boxed([side("left"), side("bottom"), right - side("left"), top - side("bottom")]),
          write: ([right, top], _drop, by) => put([["right", right], ["top", top]].filter((_, axis) => by[axis])),
        }),
      );
    }
  }

  /** The points of the floor, or of the top edge; the first and the last stay at the wall's sides. */
  function line(name) {
    const list = job.values[`${at}.${name}`];
    if (!Array.isArray(list)) return;
    const points = () => (job.values[`${at}.${name}`] ?? list).map((point) => point.map((part) => mmOf(part, units)));
    const called = name === "floor" ? "floor" : "top edge";
    if (points().some((point) => point.includes(null))) return;
    for (const [number, point] of points().entries()) {
      const end = number === 0 || number === list.length - 1;
      const held = ([x, y]) => [end ? points()[number][0] : Math.min(Math.max(x, points()[number - 1][0]), points()[number + 1][0]), Math.max(0, y)];
      over.append(
        hand({
          ...common,
          part: grip(plane.paper(point)),
          id: `${at}.${name}[${number + 1}]`,
          label: `Point ${number + 1} of the ${called}: ${MOVES}`,
          read: () => points()[number],
          place: ([x, y]) => held([nearest(x, boxes(null).flatMap((one) => [one[0], one[0] + one[2]]), near()), nearest(y, points().filter((_, other) => other !== number).map(([, high]) => high), near())]),
          say: ([x, y]) => `Point ${number + 1} of the ${called}: ${length(x)} from the left, ${length(y)} up`,
          show: (figures) => {
            const all = points().with(number, figures).map((one) => plane.paper(one).join(","));
            ghost(plane.svg, shape("polyline", { points: all.join(" ") }, "outlined"));
          },
          write: (figures, _drop, by) => {
            const kept = held(figures);
            return [0, 1].flatMap((axis) => (by[axis] && !(end && axis === 0) ? [{ key: `${at}.${name}[${number + 1}][${axis + 1}]`, value: length(kept[axis]) }] : []));
          },
        }),
      );
    }
  }
}
