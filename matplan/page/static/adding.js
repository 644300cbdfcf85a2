// Buttons of the form: pieces, frames, papers, boards and walls are added, and taken away after a question.

import { question } from "/static/disk.js";
import { keyOf } from "/static/findings.js";
import { choose, edit, job, on, settled } from "/static/job.js";
import { button, focusOn } from "/static/rows.js";
import { freeName } from "/static/seeds.js";
import { namesIn, namesOfList, quoted, rowsOf } from "/static/values.js";

const SIZES = { frame: ["takes", "30x40 cm", "11x14 in"], paper: ["size", "A4", "8.5x11 in"], board: ["ply", 4, 4] };

export function addingBar() {
  const bar = document.createElement("div");
  bar.className = "adding";
  bar.setAttribute("role", "group");
  bar.setAttribute("aria-label", "Add and take away");
  const inches = () => job.plan?.units === "in";
  const away = button("Take this piece away", "Take this piece away", "away piece", ask);
  on("answer", () => (away.hidden = !job.pieces.length));
  bar.append(
    button("Add a piece", "Add a piece", "add piece", () => {
      const name = freeName(namesOfList("piece"), "Piece");
      edit([{ key: `piece[${rowsOf("piece").length + 1}]`, value: { name, aspect: "3:2", image: { width: inches() ? "8 in" : "20 cm" }, border: inches() ? "2 in" : "50 mm" } }]).then(() => lookAt(name));
    }),
    ...Object.keys(SIZES).map((kind) => button(`Add a ${kind}`, `Add a ${kind}`, `add ${kind}`, () => named(kind))),
    button("Add a wall", "Add a wall", "add wall", () => {
      const at = `wall[${rowsOf("wall").length + 1}]`;
      focusOn(`${at}.size`);
      edit([{ key: at, value: { name: freeName(namesOfList("wall"), "Wall"), size: inches() ? "144 x 96 in" : "3600 x 2400 mm" } }]);
    }),
    away,
  );
  return bar;

  /** Ask for the name of a new table, which is its heading in the text. */
  function named(kind) {
    const [key, metric, imperial] = SIZES[kind];
    question(`What is the ${kind} to be called?`, [
      ["Add it", (name) => {
        if (!name) return;
        const at = namesIn(kind).includes(name) ? null : `${kind}.${quoted(name)}`;
        if (at) {
          focusOn(`${at}.${key}`);
          edit([{ key: at, value: { [key]: inches() ? imperial : metric } }]);
        } else question(`There is a ${kind} of that name already.`, [["Close", () => {}]]);
      }],
      ["Leave it", () => {}],
    ], `Name of the ${kind}`);
  }

  function ask() {
    const piece = job.pieces.find(({ file }) => file === job.chosen.piece);
    if (!piece) return;
    question(`Take the piece ${piece.name} away? Undo brings it back.`, [
      ["Take it away", () => settled().then(() => edit([{ key: keyOf(piece), value: null }, ...offWalls(piece.name)]))],
      ["Leave it", () => {}],
    ]);
  }
}

/** Return the button that takes a wall, a frame or another table of the job away. */
export const awayButton = ({ id, title }) =>
  button("Take away", `Take away: ${title}`, `away ${id}`, () =>
    question(`Take away: ${title}? Undo brings it back.`, [
      ["Take it away", () => edit([{ key: id, value: null }])],
      ["Leave it", () => {}],
    ]));

/** Look at a new piece as soon as its answer is here. */
function lookAt(name) {
  const look = () => {
    const piece = job.pieces.find((each) => each.name === name);
    if (!piece) return setTimeout(look, 50);
    return choose({ piece: piece.file, document: null });
  };
  look();
}

/** Return the edits that take a piece off the walls that name it: their lists, and the places where it was put. */
function offWalls(name) {
  const pairs = Object.entries(job.values).filter(([key, value]) => /\.(near|apart)$/.test(key) && [value].flat(2).includes(name));
  const without = (list) => list.filter((one) => one !== name).map((one) => (Array.isArray(one) ? without(one) : one)).filter((one) => one.length);
  const lists = Object.entries(job.values).filter(([key, value]) => /^wall\[\d+\](\.group\[\d+\])?\.pieces$/.test(key) && Array.isArray(value));
  return [
    ...pairs.map(([key, value]) => [key, value.filter((pair) => !pair.includes(name))]).map(([key, left]) => ({ key, value: left.length ? left : null })),
    ...lists.map(([key, value]) => ({ key, value: without(value) })),
    ...job.walls.map((_, at) => ({ key: `wall[${at + 1}].at.${quoted(name)}`, value: null })),
  ];
}
