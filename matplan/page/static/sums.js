// The sum of a number: which of a piece's sums a dimension shows, and what its terms are on the drawing.

const NEAR = 0.0006;
/** What a side's number may be, the likeliest first, by the class of the drawing's part that it measures to. */
const LIKELY = ["visible border", "opening", "sight", "outer", "cut border", "print margin", "image", "blank", "rabbet"];
const PARTS = {
  opening: "back-opening", "seen width": "back-opening", "seen height": "back-opening", image: "image", blank: "blank", sight: "sight",
  outer: "frame-outer", rail: "frame-outer", rabbet: "blank", lip: "sight", paper: "paper", "under the lip": "sight", "cut border": "back-opening",
}; // prettier-ignore

/** Return the sum of a dimension, null where none is known. */
export function sumAt(dimension, sums) {
  const box = boxOf(dimension);
  if (!box) return null;
  const [, , wide, high] = box;
  const along = wide >= high ? 0 : 1;
  const value = Math.max(wide, high);
  const words = along === 0 ? /width|left|right|across/ : /height|top|bottom|down/;
  const all = sums.filter((sum) => Math.abs(sum.value - value) < NEAR && words.test(sum.what));
  if (!all.length) return null;
  const side = sideOf(dimension, box, along);
  const rank = (sum) => {
    const at = LIKELY.findIndex((name) => sum.what.startsWith(name));
    const sides = /left|right|top|bottom/.exec(sum.what)?.[0];
    return (at < 0 ? LIKELY.length : at) + (sides && sides !== side ? 20 : 0) + (!sides && side ? 5 : 0);
  };
  return all.sort((one, other) => rank(one) - rank(other))[0];
}

/** Return which side a dimension measures, null where it runs over the middle of the blank. */
function sideOf(dimension, box, along) {
  const blank = boxOf(dimension.ownerSVGElement.querySelector(".blank, #blank"));
  if (!blank) return null;
  const middle = blank[along] + blank[along + 2] / 2;
  const [from, to] = [box[along], box[along] + box[along + 2]];
  if (to <= middle) return along === 0 ? "left" : "top";
  if (from >= middle) return along === 0 ? "right" : "bottom";
  return null;
}

/** Return the parts of a drawing that a sum's terms name. */
export function termBoxes(svg, sum) {
  const names = [sum.what, ...sum.terms];
  const classes = new Set();
  for (const name of names) for (const [word, part] of Object.entries(PARTS)) if (name.startsWith(word)) classes.add(part);
  const sides = names.map((name) => /^(?:cut border |visible border )?(left|right|top|bottom)$/.exec(name)?.[1]).filter(Boolean);
  return [
    ...[...classes].flatMap((name) => [...svg.querySelectorAll(`.${name}, #${name}`)]),
    ...[...svg.querySelectorAll(".dimension")].filter((part) => {
      const box = boxOf(part);
      return box && sides.includes(sideOf(part, box, box[2] >= box[3] ? 0 : 1));
    }),
  ];
}

export const boxOf = (part) => part?.dataset.box?.split(" ").map(Number) ?? null;
